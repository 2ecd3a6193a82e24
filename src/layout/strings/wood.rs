//! A string's distance to the wood round its slot and ramp, radius included. The wood is taken apart
//! into convex bodies, each as an exact distance of a point: the quarter spaces behind the two walls,
//! the wood before the opening, the wedge under the ramp's floor. The rounded corners of the slot's
//! nut end are lines going down from their upper edge. Bores are left out: the walls count as whole.

use std::f64::consts::FRAC_PI_2;

use glam::DVec3;

use crate::layout::{Layout, Slot};

use super::StringPath;
use super::near::{Clearance, Near};
use super::segment::{Segment, valley};

/// Places tried along a corner's arc before the best is narrowed down.
const TRIED: u32 = 24;

impl Layout {
    /// A string's least distance to each part of the wood round its slot; empty without `[strings]`
    /// or without slots.
    #[must_use]
    pub fn string_to_wood(&self, string: &StringPath) -> Vec<Clearance> {
        let (Some(strung), Some(slot)) = (&string.strung, &self.sides.get(string.side).slot) else {
            return Vec::new();
        };
        let run = in_slot(slot, &string.run());
        let bodies = bodies(slot);
        let mut list: Vec<(Near, f64, DVec3)> = bodies
            .iter()
            .map(|(to, distance)| {
                let (least, at) = run.least(distance);
                (*to, least, at)
            })
            .collect();
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

type Body = (Near, Box<dyn Fn(DVec3) -> f64>);

fn bodies(slot: &Slot) -> Vec<Body> {
    let half = slot.width / 2.0;
    let begins = slot.ramp.map_or(0.0, |ramp| -ramp.mouth);
    // Below the face and past an edge: a quarter space.
    let quarter = |short: f64, point: DVec3| short.max(0.0).hypot(point.z.max(0.0));
    let mut list: Vec<Body> = vec![
        (Near::Mouth, Box::new(move |p| quarter(p.x - begins, p))),
        (Near::OuterWall, Box::new(move |p| quarter(half - p.y, p))),
        (Near::InnerWall, Box::new(move |p| quarter(half + p.y, p))),
    ];
    if let Some(ramp) = slot.ramp {
        // The floor's strip from the mouth to the slot's end, with the wood under it: in side view a
        // half plane cut off upright at both ends.
        let (sin, cos) = ramp.angle.sin_cos();
        let floor = move |p: DVec3| {
            let (x, z) = (p.x + ramp.mouth, p.z);
            let above = x * sin + z * cos;
            if above <= 0.0 {
                // Below the floor, or beside what lies below it.
                let beside = (-x).max(x - ramp.mouth).max(0.0);
                return if x < 0.0 {
                    beside.hypot(z.max(0.0))
                } else {
                    beside
                };
            }
            let foot = x * cos - z * sin;
            let end = ramp.mouth * ramp.angle.tan();
            if foot < 0.0 {
                x.hypot(z)
            } else if foot * cos > ramp.mouth {
                (x - ramp.mouth).hypot(z + end)
            } else {
                above
            }
        };
        list.push((Near::RampFloor, Box::new(floor)));
    }
    list
}

/// Least distance to the rounded corners of the slot's nut end.
fn corners(slot: &Slot, run: &Segment) -> Option<(f64, DVec3)> {
    let (radius, half) = (slot.corner_radius, slot.width / 2.0);
    if radius <= 0.0 {
        return None;
    }
    let top = |tau: f64| {
        slot.ramp.map_or(0.0, |ramp| {
            (-(tau + ramp.mouth) * ramp.angle.tan()).min(0.0)
        })
    };
    let to_line = |side: f64, turn: f64| {
        let (sin, cos) = turn.sin_cos();
        let (tau, q) = (radius * (1.0 - cos), side * (half - radius + radius * sin));
        let top = top(tau);
        run.least(|p| {
            let level = (p.x - tau).hypot(p.y - q);
            level.hypot((p.z - top).max(0.0))
        })
    };
    [1.0, -1.0]
        .into_iter()
        .map(|side| {
            let step = FRAC_PI_2 / f64::from(TRIED);
            let best = (0..=TRIED)
                .map(|index| f64::from(index) * step)
                .map(|turn| (turn, to_line(side, turn).0))
                .reduce(|best, next| if next.1 < best.1 { next } else { best })
                .map_or(0.0, |(turn, _)| turn);
            let (low, high) = ((best - step).max(0.0), (best + step).min(FRAC_PI_2));
            let (turn, _) = valley(low, high, |turn| to_line(side, turn).0);
            to_line(side, turn)
        })
        .reduce(|best, next| if next.0 < best.0 { next } else { best })
}
