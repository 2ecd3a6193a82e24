//! One side of the head, seen from outside and square to it, the face upwards.

use glam::DVec2;

use super::{circle, closed, straight};
use crate::input::Side;
use crate::layout::{Layout, SideLayout};
use crate::paper::{Item, Layer, LineKind};
use crate::plane::Region;

/// Axes stand out past their circles by this much, mm.
const PAST: f64 = 2.0;

/// Places of a side in its own view: across the sheet the distance s along the side line from the nut line,
/// upwards z, zero at the face. Seen from outside the treble side runs to the right (+s) and the bass side to the
/// left (−s), so that neither comes out in mirror image.
#[must_use]
pub fn side_place(side: Side, s: f64, z: f64) -> DVec2 {
    DVec2::new(s * side.sign(), z)
}

/// The flat of the side as a closed loop, its bores, counterbores and pilots as circles, the plate as an
/// adjacent part, axes through every bore.
#[must_use]
pub fn head_side(layout: &Layout, side: Side) -> Vec<Item> {
    let one = layout.sides.get(side);
    let at = |s: f64, z: f64| side_place(side, s, z);
    let mut items = vec![closed(Layer::Outline, LineKind::Wide, &flat(layout, one))];
    let axis = |a: DVec2, b: DVec2| straight(Layer::Axes, LineKind::Axis, a, b);
    for bore in &one.bores {
        let z = bore.entry.z;
        items.push(circle(Layer::Bores, at(bore.s, z), bore.diameter));
        let mut widest = bore.diameter;
        if let Some(mouth) = bore.counterbore {
            items.push(circle(Layer::Counterbores, at(bore.s, z), mouth.diameter));
            widest = mouth.diameter;
        }
        let past = widest / 2.0 + PAST;
        items.push(axis(at(bore.s, z - past), at(bore.s, z + past)));
    }
    for pilot in &one.pilots {
        let center = at(pilot.s, pilot.entry.z);
        items.push(circle(Layer::Pilots, center, pilot.diameter));
    }
    let plate = &one.plate;
    let axis_z = -layout.axis_below_face;
    items.push(axis(
        at(plate.start_s - PAST, axis_z),
        at(plate.end_s + PAST, axis_z),
    ));
    let (top, bottom) = (
        -plate.middle_below_face + plate.width / 2.0,
        -plate.middle_below_face - plate.width / 2.0,
    );
    let edge = Region::polygon(&[
        at(plate.start_s, bottom),
        at(plate.end_s, bottom),
        at(plate.end_s, top),
        at(plate.start_s, top),
    ]);
    items.push(closed(Layer::Adjacent, LineKind::Adjacent, &edge));
    items
}

/// The flat of a side, from its start to its end and from the face to the back edge.
fn flat(layout: &Layout, one: &SideLayout) -> Region {
    let back = |s: f64| -layout.outline.thickness_at(one.line.at(s).y);
    let (start, end) = (layout.straight_from(one.side), one.line.end_s);
    let at = |s: f64, z: f64| side_place(one.side, s, z);
    Region::polygon(&[
        at(start, 0.0),
        at(start, back(start)),
        at(end, back(end)),
        at(end, 0.0),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::flat::tests::layout;

    /// Stations written out: the plate is centred on the straight side, 184/cos θ long.
    #[test]
    fn circles_stand_at_the_stations_and_neither_side_is_mirrored() {
        let layout = layout();
        let length = 184.0_f64.hypot(4.0);
        let first = length / 2.0 - 105.5 / 2.0 + 17.0;
        for (side, sign) in [(Side::Treble, 1.0), (Side::Bass, -1.0)] {
            let items = head_side(&layout, side);
            let circles: Vec<(DVec2, f64)> = items
                .iter()
                .filter_map(|item| match item {
                    Item::Circle { center, radius, .. } => Some((*center, *radius)),
                    _ => None,
                })
                .collect();
            assert_eq!(circles.len(), 3);
            for (index, (center, radius)) in circles.into_iter().enumerate() {
                let s = first + 35.0 * index as f64;
                assert!(center.distance(DVec2::new(sign * s, -10.2)) < 1e-9);
                assert!((radius - 5.25).abs() < 1e-12);
            }
        }
    }
}
