//! `cheek`, `rib`, `end-wood`, `slot-end`, `ramp-depth`: wood around the slots.

use glam::DVec2;

use crate::input::Lie;
use crate::input::defaults::SHORTEST;
use crate::layout::Layout;
use crate::plane::Region;

use super::at::words;
use super::measure::{Measure, guard};
use super::shapes::{drilled, to_crest};

/// Slot walls with their corners, the ramp left out, to the unbounded plane of a side. The own
/// side's is what the maker calls the cheek; the other side's is there for a slot laid so deep that
/// it comes out across the head.
pub(super) fn cheek(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        for wall in layout.each_side() {
            let line = &wall.line;
            let value = -slot.region().reach(-line.inward) - line.origin.dot(line.inward);
            list.push(Measure::new(
                value,
                words!(side.side, " slot to the ", wall.side, " side"),
                &["slots.cheek", "slots.rib", "slots.width"],
            ));
        }
    }
    list
}

/// Between the walls of the two slots.
pub(super) fn rib(layout: &Layout) -> Vec<Measure> {
    let (Some(treble), Some(bass)) = (&layout.sides.treble.slot, &layout.sides.bass.slot) else {
        return Vec::new();
    };
    vec![Measure::new(
        treble.region().distance(&bass.region()),
        "between the two slots",
        &["slots.rib", "slots.cheek", "slots.width"],
    )]
}

/// Slot or ramp mouth to the nut line, slot to the crest's real curve; and whatever is drilled
/// (bores as built, counterbores, pilots) to both.
pub(super) fn end_wood(layout: &Layout) -> Vec<Measure> {
    let lowest = |region: &Region| -region.reach(-DVec2::Y);
    let mut list = Vec::new();
    for side in layout.each_side() {
        let name = side.side;
        if let Some(slot) = &side.slot {
            let mouth = if slot.ramp.is_some() {
                "ramp mouth"
            } else {
                "slot"
            };
            list.push(Measure::new(
                lowest(&slot.opening()),
                words!(name, " ", mouth, " to the nut line"),
                &["slots.ramp", "slots.end_margin", "placement.first_barrel"],
            ));
            list.push(Measure::new(
                to_crest(&layout.outline, &slot.region()),
                words!(name, " slot to the crest"),
                &["slots.end_margin", "head.length", "placement.first_barrel"],
            ));
        }
        for (what, plan) in drilled(side) {
            list.push(Measure::new(
                lowest(&plan),
                what.and(" to the nut line"),
                &["placement.first_barrel", "placement.bass.first_barrel"],
            ));
            list.push(Measure::new(
                to_crest(&layout.outline, &plan),
                what.and(" to the crest"),
                &[
                    "placement.first_barrel",
                    "placement.bass.first_barrel",
                    "head.side_end",
                ],
            ));
        }
    }
    list
}

/// A bore's section on each wall of its slot to the ends of that wall's straight part. A bore
/// leaning by the angle s from square to the wall leaves an ellipse there, r/cos s long each way.
pub(super) fn slot_end(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        let [start, end] = slot.straight();
        for bore in &side.bores {
            let Some(crossing) = bore.slot else { continue };
            let half = bore.radius() / crossing.skew.cos();
            for (depth, wall) in [(crossing.outer, "outer"), (crossing.inner, "inner")] {
                let (tau, _) = slot.coordinates(bore.axis_at(depth).truncate());
                for (value, which) in [(tau - half - start, "nut"), (end - tau - half, "crest")] {
                    list.push(Measure::new(
                        value,
                        words!(bore, " on the ", wall, " wall, ", which, " end"),
                        &["slots.end_margin", "slots.corner_radius"],
                    ));
                }
            }
        }
    }
    list
}

/// Wood left under the ramp's floor where the slot's straight walls begin, at both walls,
/// measured like the thickness, square to the face.
pub(super) fn ramp_depth(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        let Some(depth) = slot.ramp_depth() else {
            continue;
        };
        let [begin, _] = slot.straight();
        for (q, wall) in [(slot.width / 2.0, "outer"), (-slot.width / 2.0, "inner")] {
            let point = slot.at(begin, q);
            list.push(Measure::new(
                layout.outline.thickness.at(point) - depth.at(point),
                words!(side.side, " ramp at the ", wall, " wall"),
                &["slots.ramp", "head.thickness"],
            ));
        }
    }
    list
}

/// `bearing` and `rim`.
///
/// Bearing: how far the barrel's end goes past the slot's inner wall, measured along the axis.
pub(super) fn bearing(layout: &Layout) -> Vec<Measure> {
    let length = layout.design.machines.barrel_length;
    layout
        .bores()
        .filter_map(|bore| {
            let crossing = bore.slot?;
            Some(Measure::new(
                length - crossing.inner,
                bore,
                match layout.design.slots.as_ref().map(|slots| slots.lie) {
                    Some(Lie::Cheek(_)) => {
                        &["slots.cheek", "slots.width", "machines.barrel_length"]
                    }
                    _ => &["slots.rib", "machines.barrel_length"],
                },
            ))
        })
        .collect()
}

/// Rim: how far the whole rim of the full diameter, at D, is past that wall, square to it. The
/// end plane of a pair must lie past the wall too.
pub(super) fn rim(layout: &Layout) -> Vec<Measure> {
    let keys = &[
        "bores.beyond_barrel",
        "bores.beyond_centre",
        "slots.rib",
        "slots.cheek",
    ];
    let mut list = Vec::new();
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        for bore in &side.bores {
            let Some(crossing) = bore.slot else { continue };
            let (sin, cos) = crossing.skew.sin_cos();
            list.push(Measure::new(
                (bore.depth - crossing.inner) * cos - bore.radius() * sin.abs(),
                bore,
                keys,
            ));
            if let Some((w, _)) = bore.end_plane {
                guard(
                    &mut list,
                    end_past_wall(slot, bore, w).stop_below(END_PAST_WALL),
                );
            }
        }
    }
    list
}

/// A bore that its end plane cuts off short of this past the wall does not pass wholly through its slot (contract,
/// 3.3).
const END_PAST_WALL: f64 = SHORTEST;

/// How far the end plane of a bore is past the inner wall, over the width of the bore.
fn end_past_wall(slot: &crate::layout::Slot, bore: &crate::layout::Bore, w: f64) -> Measure {
    let centre = bore.axis_at(bore.depth_at_plane(w)).truncate();
    let half = DVec2::new(0.0, bore.radius() / bore.taper.cos());
    let value = [centre - half, centre + half]
        .into_iter()
        .map(|point| -slot.coordinates(point).1 - slot.width / 2.0)
        .fold(f64::INFINITY, f64::min);
    Measure::new(
        value,
        words!(bore, " where it ends near the centre line"),
        &["slots.cheek", "slots.rib"],
    )
}
