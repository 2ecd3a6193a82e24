//! `screw-slot`, `screw-bore`: screw pilots against slots and ramps, and against bores, surfaces and
//! each other.
//!
//! A pilot is a flat-ended cylinder square to its side. Bores and pilots of one side are parallel
//! and start in the same plane, so the distance between two of them is that of their axes less the
//! radii. Against a bore or pilot of the other side, which is not parallel, the larger of the
//! distance in plan and the distance by height counts: that much wood is certainly there.

use crate::input::defaults::SHORTEST;
use crate::layout::{Layout, Pilot, SideLayout};

use super::at::{Word, words};
use super::core_wood::to_surfaces;
use super::measure::{Measure, guard};
use super::shapes::{Distance, bore_plan, pilot_plan, to_ramp};

const KEYS: &[&str] = &["machines.screws"];
/// Below this a pilot is no hole (an allowance may take it away in the printed copy).
const LEAST_DIAMETER: f64 = SHORTEST;

/// Pilot to its own and to the opposite slot and ramp.
pub(super) fn slot(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        for pilot in &side.pilots {
            let plan = pilot_plan(side, pilot);
            for beside in layout.each_side() {
                let Some(slot) = &beside.slot else { continue };
                let to = if beside.side == side.side {
                    "its"
                } else {
                    "the opposite"
                };
                let mut add = |value: f64, what: &'static str| {
                    list.push(Measure::new(
                        value,
                        words!(pilot, " to ", to, " ", what),
                        KEYS,
                    ));
                };
                add(plan.distance(&slot.region()), "slot");
                if let Some(value) = to_ramp(&plan, slot, |floor| over(floor, pilot)) {
                    add(value, "ramp");
                }
            }
        }
    }
    list
}

fn over(plane: Distance, pilot: &Pilot) -> f64 {
    plane.over_cylinder(
        pilot.entry,
        pilot.direction,
        pilot.diameter / 2.0,
        pilot.depth,
    )
}

/// Pilot to bores, other pilots, face, back and far side.
pub(super) fn bore(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        let other = layout.sides.get(side.side.other());
        for (index, pilot) in side.pilots.iter().enumerate() {
            let radius = pilot.diameter / 2.0;
            let mut add = |value: f64, to: Word| {
                list.push(Measure::new(value, words!(pilot, " to ", to), KEYS));
            };
            let beside =
                |s: f64, z: f64, r: f64| (pilot.s - s).hypot(pilot.entry.z - z) - radius - r;
            for bore in &side.bores {
                add(beside(bore.s, bore.entry.z, bore.radius()), bore.into());
            }
            for next in &side.pilots[index + 1..] {
                add(
                    beside(next.s, next.entry.z, next.diameter / 2.0),
                    next.into(),
                );
            }
            across(side, pilot, other, &mut add);
            list.extend(to_surfaces(
                layout,
                |plane| over(plane, pilot),
                |name| words!(pilot, " to ", name),
                KEYS,
            ));
            guard(
                &mut list,
                Measure::new(pilot.diameter, words!(pilot, ", its own diameter"), KEYS)
                    .stop_below(LEAST_DIAMETER),
            );
        }
    }
    list
}

/// Against everything of the other side.
fn across(side: &SideLayout, pilot: &Pilot, other: &SideLayout, add: &mut impl FnMut(f64, Word)) {
    let plan = pilot_plan(side, pilot);
    let by_height = |z: f64, r: f64| (pilot.entry.z - z).abs() - pilot.diameter / 2.0 - r;
    for bore in &other.bores {
        let apart = plan.distance(&bore_plan(bore));
        add(
            apart.max(by_height(bore.entry.z, bore.radius())),
            bore.into(),
        );
    }
    // Each pair of pilots once.
    if side.side == crate::input::Side::Treble {
        for next in &other.pilots {
            let apart = plan.distance(&pilot_plan(other, next));
            add(
                apart.max(by_height(next.entry.z, next.diameter / 2.0)),
                next.into(),
            );
        }
    }
    let line = &other.line;
    add(
        -plan.reach(-line.inward) - line.origin.dot(line.inward),
        "the far side".into(),
    );
}
