//! What a string passes on its way: barrels with their windings, and other strings. Surface to
//! surface.

use glam::{DVec2, DVec3};

use crate::input::Side;
use crate::layout::{Bore, Layout};
use crate::plane::Region;

use super::StringPath;
use super::segment::{Even, Part, Segment, least_root};

/// What a string comes near to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Near {
    /// The slot's wall towards the side, with its edge.
    OuterWall,
    /// The slot's wall towards the rib, with its edge.
    InnerWall,
    /// The face before the opening, up to its edge: the ramp's mouth, or the slot's end.
    Mouth,
    /// The ramp's floor.
    RampFloor,
    /// The rounded corners of the slot's nut end.
    Corner,
    /// A bare barrel.
    Barrel(Side, usize),
    /// A barrel's winding.
    Winding(Side, usize),
    /// Another string.
    String(usize),
}

impl Near {
    /// In words, to stand after "to".
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Near::OuterWall => "the slot's outer wall".to_owned(),
            Near::InnerWall => "the slot's inner wall".to_owned(),
            Near::Mouth => "the edge where the opening begins".to_owned(),
            Near::RampFloor => "the ramp's floor".to_owned(),
            Near::Corner => "the rounded end of the slot".to_owned(),
            Near::Barrel(side, number) => format!("{} barrel {number}", side.name()),
            Near::Winding(side, number) => {
                format!("the winding on {} barrel {number}", side.name())
            }
            Near::String(number) => format!("string {number}"),
        }
    }
}

/// How close a string comes to something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clearance {
    /// What it comes near to.
    pub to: Near,
    /// Least distance between the surfaces, mm; below zero where they would overlap, at most by what
    /// the surfaces reach past the centre lines.
    pub distance: f64,
    /// Where on the string's centre line.
    pub at: DVec3,
}

impl Clearance {
    /// The closest of several; the first of equals.
    #[must_use]
    pub fn least(list: &[Clearance]) -> Option<Clearance> {
        list.iter().copied().reduce(|best, next| {
            if next.distance < best.distance {
                next
            } else {
                best
            }
        })
    }
}

/// Least distance of a run to a round bar between two depths of a bore's axis, and where on the run.
fn to_bar(run: &Segment, bore: &Bore, radius: f64, ends: [f64; 2]) -> (f64, DVec3) {
    let apart = |point: DVec3| {
        let out = point - bore.entry;
        let depth = out.dot(bore.direction);
        let past = (ends[0] - depth).max(depth - ends[1]).max(0.0);
        (out - bore.direction * depth, past)
    };
    let [from, to] = [run.from, run.to].map(|point| apart(point).0);
    let each = |axis| Part::Whole(Even::between(from[axis], to[axis]));
    let (share, off) = least_root(&[each(0), each(1), each(2)]);
    // Nearest to the axis and beside the bar: nowhere can it be nearer.
    if apart(run.at(share)).1 <= 0.0 {
        return ((off - radius).max(0.0), run.at(share));
    }
    run.least(|point| {
        let (off, past) = apart(point);
        DVec2::new((off.length() - radius).max(0.0), past).length()
    })
}

impl Layout {
    /// A string's least distance to every other barrel, bare (whole, from the side to its end), and
    /// to that barrel's winding. Empty without `[strings]`.
    #[must_use]
    pub fn string_to_barrels(&self, string: &StringPath) -> Vec<Clearance> {
        let Some(strung) = &string.strung else {
            return Vec::new();
        };
        let run = string.run();
        let machines = &self.design.machines;
        let mut list = Vec::new();
        let clearance = |to, (distance, at): (f64, DVec3)| Clearance {
            to,
            distance: distance - strung.radius(),
            at,
        };
        let others = |other: &&StringPath| other.number != string.number;
        for other in self.strings.iter().filter(others) {
            let bores = &self.sides.get(other.side).bores;
            let Some(bore) = bores.get(other.barrel - 1) else {
                continue;
            };
            let radius = machines.barrel_diameter / 2.0;
            let ends = [0.0, machines.barrel_length];
            let bare = to_bar(&run, bore, radius, ends);
            list.push(clearance(Near::Barrel(other.side, other.barrel), bare));
            if let Some(wound) = other.strung.as_ref().filter(|wound| wound.turns > 0.0) {
                let (radius, ends) = (wound.winding_radius, wound.winding);
                let wound = to_bar(&run, bore, radius, ends);
                list.push(clearance(Near::Winding(other.side, other.barrel), wound));
            }
        }
        list
    }

    /// A string's least distance to every other string. Empty without `[strings]`.
    #[must_use]
    pub fn string_to_strings(&self, string: &StringPath) -> Vec<Clearance> {
        let Some(strung) = &string.strung else {
            return Vec::new();
        };
        let run = string.run();
        self.strings
            .iter()
            .filter(|other| other.number != string.number)
            .filter_map(|other| {
                let (distance, at) = run.gap_to(&other.run());
                Some(Clearance {
                    to: Near::String(other.number),
                    distance: distance - strung.radius() - other.strung.as_ref()?.radius(),
                    at,
                })
            })
            .collect()
    }

    /// A string's winding as it shows from the front; `None` without `[strings]` and without turns.
    #[must_use]
    pub fn winding_in_plan(&self, string: &StringPath) -> Option<Region> {
        let wound = string.strung.as_ref().filter(|wound| wound.turns > 0.0)?;
        let bore = self.sides.get(string.side).bores.get(string.barrel - 1)?;
        let across = bore.direction.truncate().perp() * wound.winding_radius;
        let [from, to] = wound.winding.map(|depth| bore.axis_at(depth).truncate());
        Some(Region::polygon(&[
            from - across,
            to - across,
            to + across,
            from + across,
        ]))
    }

    /// Whether two strings are of one course: closer at the nut than two thirds of the widest gap
    /// between neighbours there (our assumption).
    #[must_use]
    pub fn one_course(&self, a: &StringPath, b: &StringPath) -> bool {
        let widest = self
            .strings
            .windows(2)
            .map(|pair| pair[1].at_nut.x - pair[0].at_nut.x)
            .fold(0.0, f64::max);
        a.number.abs_diff(b.number) == 1 && (a.at_nut.x - b.at_nut.x).abs() < widest * 2.0 / 3.0
    }
}
