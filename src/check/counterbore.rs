//! `counterbore`: wood around the wider mouth of a bore.
//!
//! Its wall to the face, to the back, to the next counterbore of its side and to the pilots; its
//! floor to the slot, square to the slot's outer wall at the nearest point of the floor's rim.

use crate::input::defaults::SHORTEST;
use crate::layout::{Bore, Layout, SideLayout};

use super::at::{Word, words};
use super::core_wood::to_surfaces;
use super::measure::{Measure, guard};
use super::shapes::{Distance, counterbore_plan, pilot_plan};

const KEYS: &[&str] = &["bores.counterbore"];
/// A ring or a length below this cannot be made. A file that asks for one is wrong (contract, 3.8); this keeps
/// the end plane of a pair, and designs that no reader saw, from it.
const LEAST_STEP: f64 = SHORTEST;

pub(super) fn counterbore(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        for bore in &side.bores {
            of_bore(layout, side, bore, &mut list);
        }
        for pair in side.bores.windows(2) {
            if let (Some(one), Some(other)) = (pair[0].counterbore, pair[1].counterbore) {
                list.push(Measure::new(
                    pair[1].s - pair[0].s - (one.diameter + other.diameter) / 2.0,
                    words!("between ", &pair[0], " and ", pair[1].number),
                    KEYS,
                ));
            }
        }
    }
    list
}

fn of_bore(layout: &Layout, side: &SideLayout, bore: &Bore, list: &mut Vec<Measure>) {
    let Some(mouth) = bore.counterbore else {
        return;
    };
    let radius = mouth.diameter / 2.0;
    let over =
        |plane: Distance| plane.over_cylinder(bore.entry, bore.direction, radius, mouth.depth);
    list.extend(to_surfaces(
        layout,
        over,
        |name| words!(bore, " to ", name),
        KEYS,
    ));
    let mut add = |value: f64, to: Word| {
        list.push(Measure::new(value, words!(bore, " to ", to), KEYS));
    };
    for pilot in &side.pilots {
        // Both start from the side and run square to it: parallel cylinders.
        let across = (pilot.s - bore.s).hypot(pilot.entry.z - bore.entry.z);
        add(across - radius - pilot.diameter / 2.0, pilot.into());
    }
    if let Some(plan) = counterbore_plan(bore) {
        let other = layout.sides.get(side.side.other());
        for pilot in &other.pilots {
            // In plan, or by height: either distance is certainly there.
            let by_height = (pilot.entry.z - bore.entry.z).abs() - radius - pilot.diameter / 2.0;
            let apart = plan.distance(&pilot_plan(other, pilot)).max(by_height);
            add(apart, pilot.into());
        }
    }
    if let Some(crossing) = bore.slot {
        let (sin, cos) = crossing.skew.sin_cos();
        add(
            (crossing.outer - mouth.depth) * cos - radius * sin.abs(),
            "the slot".into(),
        );
    }
    // Where an end plane leans across the bore, its full diameter ends earlier on one side.
    let lean = bore
        .end_plane
        .map_or(0.0, |_| radius * bore.taper.tan().abs());
    guard(
        list,
        Measure::new(
            bore.length_in_model - lean - mouth.depth,
            words!(bore, ", floor to the bore's end"),
            KEYS,
        )
        .stop_below(LEAST_STEP),
    );
    guard(
        list,
        Measure::new(
            radius - bore.radius(),
            words!(bore, ", width of the ring around the bore"),
            KEYS,
        )
        .stop_below(LEAST_STEP),
    );
}
