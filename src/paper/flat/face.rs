//! The head seen square to its front face: x to the treble side, y to the crest.

use glam::DVec2;

use super::{closed, straight};
use crate::layout::Layout;
use crate::paper::{Item, Layer, LineKind};

/// Outline, slots and what the ramps take from the face as closed loops; the bores' and pilots'
/// axes, from the side to their full depth, and the centre line. Origin where nut line and centre
/// line meet.
#[must_use]
pub fn head_face(layout: &Layout) -> Vec<Item> {
    let mut items = vec![closed(
        Layer::Outline,
        LineKind::Wide,
        &layout.outline.region(),
    )];
    for slot in layout.each_side().filter_map(|side| side.slot.as_ref()) {
        items.push(closed(Layer::Slots, LineKind::Wide, &slot.region()));
        if let Some(ramp) = slot.ramp_region() {
            items.push(closed(Layer::Ramps, LineKind::Wide, &ramp));
        }
    }
    let axis = |a: DVec2, b: DVec2| straight(Layer::Axes, LineKind::Axis, a, b);
    for bore in layout.bores() {
        items.push(axis(
            bore.axis_at(0.0).truncate(),
            bore.axis_at(bore.depth).truncate(),
        ));
    }
    for pilot in layout.each_side().flat_map(|side| &side.pilots) {
        let end = pilot.entry + pilot.direction * pilot.depth;
        items.push(axis(pilot.entry.truncate(), end.truncate()));
    }
    let crest = DVec2::new(0.0, layout.outline.length);
    items.push(axis(DVec2::ZERO, crest));
    items
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::flat::tests::layout;
    use crate::plane::{Piece, Region};

    fn loops(items: &[Item], layer: Layer) -> Vec<Region> {
        items
            .iter()
            .filter_map(|item| match item {
                Item::Path(path) if path.layer == layer => Some(Region {
                    boundary: path.pieces.clone(),
                }),
                _ => None,
            })
            .collect()
    }

    /// Slots written out: 15 wide beside a rib of 14, from 18 before the first bore's crossing to
    /// 18 after the last; areas of obround and ramp from their formulas.
    #[test]
    fn loops_have_the_numbers_of_the_design() {
        let layout = layout();
        let items = head_face(&layout);
        let slots = loops(&items, Layer::Slots);
        let sin = (4.0_f64 / 184.0).atan().tan();
        let bores = &layout.sides.treble.bores;
        // The axis climbs by tan θ on its way from the side to the mid-line at x = 14.5.
        let crossing = |i: usize| bores[i].entry.y + (bores[i].entry.x - 14.5) * sin;
        for (slot, sign) in slots.iter().zip([1.0, -1.0]) {
            let reach = |x: f64, y: f64| slot.reach(DVec2::new(x, y));
            assert!((reach(sign, 0.0) - 22.0).abs() < 1e-9);
            assert!((reach(-sign, 0.0) + 7.0).abs() < 1e-9);
            assert!((reach(0.0, -1.0) + crossing(0) - 18.0).abs() < 1e-9);
            assert!((reach(0.0, 1.0) - crossing(2) - 18.0).abs() < 1e-9);
        }
        assert_eq!((slots.len(), loops(&items, Layer::Ramps).len()), (2, 2));
        let outline = &loops(&items, Layer::Outline)[0];
        assert!((outline.reach(DVec2::Y) - 196.0).abs() < 1e-9);
        let axes = loops(&items, Layer::Axes);
        let ends = bores.iter().map(|bore| bore.entry + bore.direction * 32.5);
        for (axis, end) in axes.iter().zip(ends) {
            let Piece::Line { b, .. } = axis.boundary[0] else {
                panic!("an axis is straight");
            };
            assert!(b.distance(end.truncate()) < 1e-9);
        }
        assert_eq!(axes.len(), 7);
    }
}
