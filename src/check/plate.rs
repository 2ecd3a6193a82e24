//! `plate-thickness`, `plate-even`, `plate-side`, `edge-radius`: the machines' plate on its side.
//!
//! Across the thickness, distances are measured in the side's own surface, square to the face, with
//! the veneers as finished.

use crate::layout::{Layout, SideLayout};

use super::at::{Words, words};
use super::measure::Measure;

const ACROSS: &[&str] = &[
    "machines.plate_width",
    "head.thickness",
    "placement.axis_below_face",
    "machines.axis_offset",
];

/// Where the plate's edges lie against face and back at its two ends.
fn margins(side: &SideLayout) -> [(f64, Words); 3] {
    let plate = &side.plate;
    let name = side.side;
    let [nut, _, crest] = plate.to_back;
    [
        (plate.to_face, words!(name, " plate to the face")),
        (nut, words!(name, " plate to the back, nut end")),
        (crest, words!(name, " plate to the back, crest end")),
    ]
}

/// Plate's edge to face and to back, at the worse end.
pub(super) fn thickness(layout: &Layout) -> Vec<Measure> {
    layout
        .each_side()
        .flat_map(margins)
        .map(|(value, at)| Measure::new(value, at, ACROSS))
        .collect()
}

/// Difference of the two at the plate's middle.
pub(super) fn even(layout: &Layout) -> Vec<Measure> {
    layout
        .each_side()
        .map(|side| {
            let (face, back) = (side.plate.to_face, side.plate.to_back[1]);
            let nearer = if (face - back).abs() <= crate::tolerance::NOISE {
                ""
            } else if face < back {
                ", nearer the face"
            } else {
                ", nearer the back"
            };
            Measure::new(
                (face - back).abs(),
                words!(side.side, " plate", nearer),
                &[
                    "placement.axis_below_face",
                    "machines.axis_offset",
                    "head.thickness",
                ],
            )
        })
        .collect()
}

/// Plate's ends to the ends of the straight side; below zero past it.
pub(super) fn side(layout: &Layout) -> Vec<Measure> {
    layout
        .each_side()
        .flat_map(|side| {
            let name = side.side;
            [
                (side.plate.to_side_start, words!(name, " plate, nut end")),
                (side.plate.to_side_end, words!(name, " plate, crest end")),
            ]
        })
        .map(|(value, at)| {
            Measure::new(
                value,
                at,
                &[
                    "placement.first_barrel",
                    "machines.overhang",
                    "head.side_end",
                ],
            )
        })
        .collect()
}

/// Plate's edge to where the rounding of the side's edges ends: a rounding of radius R reaches R
/// down the side. Absent without rounding.
pub(super) fn edge_radius(layout: &Layout) -> Vec<Measure> {
    let radius = layout.design.head.edge_radius;
    if radius <= 0.0 {
        return Vec::new();
    }
    layout
        .each_side()
        .flat_map(margins)
        .map(|(value, at)| Measure::new(value - radius, at, &["head.edge_radius"]))
        .collect()
}
