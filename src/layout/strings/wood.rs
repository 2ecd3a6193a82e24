//! A string's distance to the wood round its slot and ramp, radius included. The wood is taken apart
//! into convex bodies, each as an exact distance of a point: the quarter spaces behind the two walls,
//! the wood before the opening, the wedge under the ramp's floor. The rounded corners of the slot's
//! nut end are lines going down from their upper edge. Bores are left out: the walls count as whole.

use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3};

use crate::layout::{Layout, RampLayout, Slot};

use super::StringPath;
use super::near::{Clearance, Near};
use super::segment::{Even, Part, Segment, least_root, valley};

/// Places tried along a corner's arc before the best is narrowed down.
const TRIED: u32 = 24;
/// Golden-section steps that narrow it down: from 0.13 rad to a ten-billionth of a millimetre along the
/// largest corner.
const NARROWED: usize = 48;

impl Layout {
    /// A string's least distance to each part of the wood round its slot; empty without `[strings]`
    /// or without slots.
    #[must_use]
    pub fn string_to_wood(&self, string: &StringPath) -> Vec<Clearance> {
        let (Some(strung), Some(slot)) = (&string.strung, &self.sides.get(string.side).slot) else {
            return Vec::new();
        };
        let run = in_slot(slot, &string.run());
        let mut list = walls(slot, &run);
        if let Some(ramp) = slot.ramp {
            let (least, at) = run.least(|point| to_floor(ramp, point));
            list.push((Near::RampFloor, least, at));
        }
        if let Some((least, at)) = corners(slot, &run) {
            list.push((Near::Corner, least, at));
        }
        list.into_iter()
            .map(|(to, distance, at)| Clearance {
                to,
                distance: distance - strung.radius(),
                at: slot.at(at.x, at.y).extend(at.z),
            })
            .collect()
    }
}

/// The run in the slot's own frame: along, across, z.
fn in_slot(slot: &Slot, run: &Segment) -> Segment {
    let own = |point: DVec3| {
        let (tau, q) = slot.coordinates(point.truncate());
        DVec3::new(tau, q, point.z)
    };
    Segment {
        from: own(run.from),
        to: own(run.to),
    }
}

/// Least distance to what lies below the face and past a straight edge: the wood before the opening and
/// behind the two walls.
fn walls(slot: &Slot, run: &Segment) -> Vec<(Near, f64, DVec3)> {
    let half = slot.width / 2.0;
    let begins = slot.ramp.map_or(0.0, |ramp| -ramp.mouth);
    let over_face = Part::Above(Even::between(run.from.z, run.to.z));
    let quarter = |to: Near, short: &dyn Fn(DVec3) -> f64| {
        let short = Part::Above(Even::between(short(run.from), short(run.to)));
        let (share, least) = least_root(&[short, over_face]);
        (to, least, run.at(share))
    };
    vec![
        quarter(Near::Mouth, &|p| p.x - begins),
        quarter(Near::OuterWall, &|p| half - p.y),
        quarter(Near::InnerWall, &|p| half + p.y),
    ]
}

/// Distance of a point to the floor's strip from the mouth to the slot's end, with the wood under it: in
/// side view a half plane cut off upright at both ends.
fn to_floor(ramp: RampLayout, p: DVec3) -> f64 {
    let (sin, cos) = ramp.angle.sin_cos();
    let (x, z) = (p.x + ramp.mouth, p.z);
    let above = x * sin + z * cos;
    if above <= 0.0 {
        // Below the floor, or beside what lies below it.
        let beside = (-x).max(x - ramp.mouth).max(0.0);
        return if x < 0.0 {
            DVec2::new(beside, z.max(0.0)).length()
        } else {
            beside
        };
    }
    let foot = x * cos - z * sin;
    if foot < 0.0 {
        DVec2::new(x, z).length()
    } else if foot * cos > ramp.mouth {
        DVec2::new(x - ramp.mouth, z + ramp.mouth * ramp.angle.tan()).length()
    } else {
        above
    }
}

/// Least distance to the rounded corners of the slot's nut end.
fn corners(slot: &Slot, run: &Segment) -> Option<(f64, DVec3)> {
    let (radius, half) = (slot.corner_radius, slot.width / 2.0);
    if radius <= 0.0 {
        return None;
    }
    let steep = slot.ramp.map_or(0.0, |ramp| ramp.angle.tan());
    let mouth = slot.ramp.map_or(0.0, |ramp| ramp.mouth);
    let to_line = |side: f64, turn: f64| {
        let (sin, cos) = turn.sin_cos();
        let (tau, q) = (radius * (1.0 - cos), side * (half - radius + radius * sin));
        let top = (-(tau + mouth) * steep).min(0.0);
        least_root(&[
            Part::Whole(Even::between(run.from.x - tau, run.to.x - tau)),
            Part::Whole(Even::between(run.from.y - q, run.to.y - q)),
            Part::Above(Even::between(run.from.z - top, run.to.z - top)),
        ])
    };
    let step = FRAC_PI_2 / f64::from(TRIED);
    let tried = [1.0, -1.0].map(|side| {
        let (turn, least) = (0..=TRIED)
            .map(|index| f64::from(index) * step)
            .map(|turn| (turn, to_line(side, turn).1))
            .reduce(|best, next| if next.1 < best.1 { next } else { best })
            .unwrap_or((0.0, f64::INFINITY));
        (side, turn, least)
    });
    let nearest = tried[0].2.min(tried[1].2);
    // From one place tried to the next a corner's line moves by no more than this, and its upper end no
    // more up or down than the ramp's floor there.
    let between = radius * step * (1.0 + steep);
    tried
        .into_iter()
        .filter(|(_, _, least)| *least <= nearest + between)
        .map(|(side, turn, _)| {
            let (low, high) = ((turn - step).max(0.0), (turn + step).min(FRAC_PI_2));
            let (turn, _) = valley(low, high, NARROWED, |turn| to_line(side, turn).1);
            let (share, least) = to_line(side, turn);
            (least, run.at(share))
        })
        .reduce(|best, next| if next.0 < best.0 { next } else { best })
}
