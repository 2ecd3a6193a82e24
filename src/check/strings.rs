//! `hole-in-slot`, `string-face`, `string-edge`, `side-pull`, `nut-break`: where the strings run.

use crate::layout::{Layout, Slot, StringPath};

use super::measure::Measure;

const ACROSS: &[&str] = &[
    "slots.rib",
    "slots.cheek",
    "slots.width",
    "machines.string_hole",
];
const NUT: &[&str] = &["nut.strings", "nut.string_span", "placement.first_barrel"];

/// String-hole centre to the nearer wall of its slot, below zero outside the slot.
pub(super) fn hole_in_slot(layout: &Layout) -> Vec<Measure> {
    let hole = layout.design.machines.string_hole;
    let mut list = Vec::new();
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        for bore in &side.bores {
            let (_, q) = slot.coordinates(bore.axis_at(hole).truncate());
            list.push(Measure::new(slot.width / 2.0 - q.abs(), bore, ACROSS));
        }
    }
    list
}

/// Where a string meets the face, in the frame of its slot (along it from the slot's nut end, and
/// across it from the mid-line), for each string that does meet it before its barrel.
fn at_face(layout: &Layout) -> impl Iterator<Item = (&StringPath, &Slot, f64, f64)> {
    layout.strings.iter().filter_map(|string| {
        let slot = layout.sides.get(string.side).slot.as_ref()?;
        let (tau, q) = slot.coordinates(string.at_face?);
        Some((string, slot, tau, q))
    })
}

/// How far inside the opening a string meets the face: along the slot, from the ramp's mouth or,
/// without a ramp, from the slot's end.
pub(super) fn face(layout: &Layout) -> Vec<Measure> {
    at_face(layout)
        .map(|(string, slot, tau, _)| {
            let mouth = slot.ramp.map_or(0.0, |ramp| -ramp.mouth);
            Measure::new(
                tau - mouth,
                string,
                &["slots.ramp", "slots.end_margin", "nut.string_height"],
            )
        })
        .collect()
}

/// The same point to the nearer wall of the slot, prolonged; below zero over the wood.
pub(super) fn edge(layout: &Layout) -> Vec<Measure> {
    at_face(layout)
        .map(|(string, slot, _, q)| Measure::new(slot.width / 2.0 - q.abs(), string, ACROSS))
        .collect()
}

/// Sideways angle of each string at the nut, degrees.
pub(super) fn side_pull(layout: &Layout) -> Vec<Measure> {
    layout
        .strings
        .iter()
        .map(|string| Measure::new(string.side_pull.to_degrees(), string, NUT))
        .collect()
}

/// Break angle of each string over the nut in side view, degrees.
pub(super) fn nut_break(layout: &Layout) -> Vec<Measure> {
    layout
        .strings
        .iter()
        .map(|string| {
            Measure::new(
                string.nut_break.to_degrees(),
                string,
                &["head.angle", "nut.string_height", "placement.first_barrel"],
            )
        })
        .collect()
}
