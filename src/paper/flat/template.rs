//! Routing template of the slots, for a bit that is steered by a guide bush or a bearing running
//! along the inside of the template's openings.
//!
//! A bush of diameter b with the bit of diameter c in its middle keeps the bit's edge (b − c)/2 inside
//! whatever the bush touches. So the opening is the slot, moved outward by that much (inward for a bearing smaller
//! than its bit). A corner of radius r of the slot becomes one of r + (b − c)/2; the bush gets into it where
//! that is at least b/2, which is to say where the bit gets into the slot's own corner, r ≥ c/2. Sharper corners than
//! the bit's are rounded to it in the template: the bit leaves c/2, and the rest is squared by hand.

use glam::DVec2;

use super::{closed, straight};
use crate::input::Template;
use crate::layout::{Layout, Slot};
use crate::paper::{Item, Layer, LineKind};
use crate::plane::Region;
use crate::tolerance::NOISE;

/// Room for the router's base and for clamps round the head, mm.
const MARGIN: f64 = 40.0;

/// A template and what to say about it.
#[derive(Debug, Clone, PartialEq)]
pub struct SlotTemplate {
    /// Its contents in the head's frame, seen from the front: the openings on the layer of slots, the
    /// plate's edge on that of outlines.
    pub items: Vec<Item>,
    /// How far the openings lie outside the slots; below zero inside, mm.
    pub offset: f64,
    /// Corner radius the bit leaves in the slots, mm.
    pub corner_left: f64,
    /// Whether that is more than the design's corners, so that they are finished by hand.
    pub corners_by_hand: bool,
}

/// The template for both slots; `None` for a head without slots.
///
/// The plate's edge at y = 0 goes against the nut line (or the end of the fingerboard); its centre line and the head's
/// outline are there to lay it by.
#[must_use]
pub fn slot_template(layout: &Layout, template: &Template) -> Option<SlotTemplate> {
    let slots: Vec<&Slot> = layout
        .each_side()
        .filter_map(|side| side.slot.as_ref())
        .collect();
    let first = slots.first()?;
    let offset = (template.bush - template.cutter) / 2.0;
    let corner_left = first.corner_radius.max(template.cutter / 2.0);
    let outline = layout.outline.region();
    let half = outline.reach(DVec2::X).max(outline.reach(-DVec2::X)) + MARGIN;
    let far = layout.outline.length + MARGIN;
    let plate = Region::polygon(&[
        DVec2::new(-half, 0.0),
        DVec2::new(half, 0.0),
        DVec2::new(half, far),
        DVec2::new(-half, far),
    ]);
    let mut items = vec![closed(Layer::Outline, LineKind::Wide, &plate)];
    for slot in &slots {
        items.push(closed(
            Layer::Slots,
            LineKind::Wide,
            &opening(slot, offset, corner_left),
        ));
    }
    items.push(closed(Layer::Adjacent, LineKind::Adjacent, &outline));
    items.push(straight(
        Layer::Axes,
        LineKind::Axis,
        DVec2::ZERO,
        DVec2::new(0.0, far),
    ));
    Some(SlotTemplate {
        items,
        offset,
        corner_left,
        corners_by_hand: corner_left > first.corner_radius + NOISE,
    })
}

/// What the maker must know where the bit leaves wider corners than the design has; `None` where it does not.
#[must_use]
pub fn corners_note(layout: &Layout) -> Option<String> {
    let slots = layout.design.slots.as_ref()?;
    let made = slot_template(layout, layout.design.template.as_ref()?)?;
    made.corners_by_hand.then(|| {
        format!(
            "the bit leaves corners of R{:.2} mm where the slots have R{:.2} mm: finish them by hand",
            made.corner_left, slots.corner_radius
        )
    })
}

/// The slot with corners of `corner`, moved outward by `offset`.
fn opening(slot: &Slot, offset: f64, corner: f64) -> Region {
    let grown = Slot {
        origin: slot.at(-offset, 0.0),
        length: slot.length + 2.0 * offset,
        width: slot.width + 2.0 * offset,
        // Half-round ends come out so exactly, not to within rounding.
        corner_radius: (corner + offset).min(slot.width / 2.0 + offset),
        ..slot.clone()
    };
    grown.region()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;
    use crate::paper::flat::tests::assert_closed;
    use crate::plane::Piece;

    fn made(corner_radius: f64, cutter: f64, bush: f64) -> (Slot, SlotTemplate) {
        let mut design = six_string();
        if let Some(slots) = &mut design.slots {
            slots.corner_radius = corner_radius;
        }
        let layout = Layout::new(&design, Copy::Finished);
        let template = slot_template(&layout, &Template { cutter, bush }).unwrap();
        assert_closed(&template.items);
        (layout.sides.treble.slot.unwrap(), template)
    }

    fn first_opening(template: &SlotTemplate) -> Region {
        let found = template.items.iter().find_map(|item| match item {
            Item::Path(path) if path.layer == Layer::Slots => Some(path.pieces.clone()),
            _ => None,
        });
        Region {
            boundary: found.unwrap(),
        }
    }

    /// Distance of a point to a boundary, piece by piece; shares nothing with the offset.
    fn to_boundary(region: &Region, point: DVec2) -> f64 {
        let to_piece = |piece: &Piece| match *piece {
            Piece::Line { a, b } => {
                let t = (point - a).dot(b - a) / (b - a).length_squared();
                point.distance(a.lerp(b, t.clamp(0.0, 1.0)))
            }
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => {
                let turn = (point - center).to_angle() - from;
                let along = (turn * sweep.signum()).rem_euclid(std::f64::consts::TAU);
                if along <= sweep.abs() {
                    (point.distance(center) - radius).abs()
                } else {
                    point
                        .distance(piece.start())
                        .min(point.distance(piece.end()))
                }
            }
        };
        let each = region.boundary.iter().map(to_piece);
        each.fold(f64::INFINITY, f64::min)
    }

    /// The bush in every place it fits: its centre runs a bush's radius inside the opening. What the bit sweeps
    /// from there must be the slot. Tried by brute force: centres on a grid as fine as 0.1 mm; each point of the slot's
    /// boundary (rounded as the bit leaves it) is reached, and no centre brings the bit outside it.
    #[test]
    fn the_bit_sweeps_the_slot_and_nothing_else() {
        for (corner, cutter, bush) in [
            (7.5, 12.0, 16.0),
            (7.5, 12.0, 12.0),
            (6.0, 12.0, 10.0),
            (0.0, 10.0, 17.0),
            (2.0, 8.0, 30.0),
        ] {
            let (slot, template) = made(corner, cutter, bush);
            let opening = first_opening(&template);
            let wanted = Slot {
                corner_radius: corner.max(cutter / 2.0),
                ..slot
            }
            .region();
            let low = DVec2::new(-opening.reach(-DVec2::X), -opening.reach(-DVec2::Y));
            // The nut end of the slot: corners, both walls, the end.
            let fits = |centre: DVec2| {
                opening.contains(centre) && to_boundary(&opening, centre) >= bush / 2.0 - 0.01
            };
            let width = opening.reach(DVec2::X) - low.x;
            let mut centres = Vec::new();
            let step = 0.1;
            let (across, along) = (
                (width / step) as usize,
                ((bush / 2.0 + 4.0) / step) as usize,
            );
            for i in 0..=across {
                for j in 0..=along {
                    let centre = low + DVec2::new(i as f64, j as f64) * step;
                    if fits(centre) {
                        centres.push(centre);
                        // Never outside the slot by more than the allowance above.
                        assert!(wanted.contains(centre));
                        assert!(to_boundary(&wanted, centre) >= cutter / 2.0 - 0.03);
                    }
                }
            }
            assert!(!centres.is_empty());
            let near_end = low.y + (bush - cutter) / 2.0 + 3.0;
            let nut_end = wanted
                .boundary
                .iter()
                .flat_map(|piece| (0..=100).map(move |i| piece.at(f64::from(i) / 100.0)))
                .filter(|on| on.y < near_end);
            for on in nut_end {
                let short = centres
                    .iter()
                    .map(|centre| centre.distance(on))
                    .fold(f64::INFINITY, f64::min)
                    - cutter / 2.0;
                assert!(
                    short < 0.15,
                    "{corner} {cutter} {bush}: {on} missed by {short}"
                );
            }
        }
    }

    #[test]
    fn no_inner_corner_is_tighter_than_the_bush_and_hand_work_is_said() {
        for (corner, cutter, bush, by_hand) in [
            (7.5, 12.0, 16.0, false),
            (6.0, 12.0, 16.0, false),
            (3.0, 12.0, 16.0, true),
            (0.0, 15.0, 19.0, true),
        ] {
            let (_, template) = made(corner, cutter, bush);
            assert_eq!(template.corners_by_hand, by_hand);
            let mut design = six_string();
            design.template = Some(Template { cutter, bush });
            if let Some(slots) = &mut design.slots {
                slots.corner_radius = corner;
            }
            let note = corners_note(&Layout::new(&design, Copy::Finished));
            assert_eq!(note.is_some(), by_hand, "{note:?}");
            if let Some(note) = note {
                assert!(
                    note.contains(&format!("R{:.2} mm where", cutter / 2.0)),
                    "{note}"
                );
                assert!(note.contains(&format!("have R{corner:.2} mm")), "{note}");
            }
            assert!((template.offset - (bush - cutter) / 2.0).abs() < 1e-12);
            for piece in first_opening(&template).boundary {
                if let Piece::Arc { radius, .. } = piece {
                    assert!(radius >= bush / 2.0 - 1e-9);
                }
            }
        }
    }

    #[test]
    fn a_bass_opening_mirrors_the_treble_one() {
        let (_, template) = made(7.5, 12.0, 16.0);
        let reach = |x: f64| {
            let mut all = template.items.iter().filter_map(|item| match item {
                Item::Path(path) if path.layer == Layer::Slots => Some(Region {
                    boundary: path.pieces.clone(),
                }),
                _ => None,
            });
            let treble = all.next().unwrap();
            let bass = all.next().unwrap();
            (treble.reach(DVec2::X * x), bass.reach(DVec2::X * -x))
        };
        let (outer, mirrored) = reach(1.0);
        assert!((outer - mirrored).abs() < 1e-9 && (outer - 24.0).abs() < 1e-9);
    }
}
