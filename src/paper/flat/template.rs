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
use crate::tolerance::{MERGE, NOISE};

/// Room for the router's base and for clamps round the head, mm.
const MARGIN: f64 = 40.0;

/// Less template than this between two openings, or between one and the plate's edge, bends or breaks
/// under the bush, mm (our assumption).
const SOUND_WEB: f64 = 2.0;

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
    /// Least of the template left between the openings, with what stands there in words; 0 where they run
    /// into one another, mm.
    pub web: (f64, Web),
}

/// Which part of the template is the narrowest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Web {
    /// Between the two openings.
    Rib,
    /// Between an opening and the plate's edge.
    Edge,
}

impl Web {
    fn words(self) -> &'static str {
        match self {
            Web::Rib => "the two openings",
            Web::Edge => "the openings and the plate's edge at the nut line",
        }
    }
}

impl SlotTemplate {
    /// Whether the bush is steered wherever it goes. Where openings run into one another it is not, and the
    /// bit takes the wood between them.
    #[must_use]
    pub fn steers(&self) -> bool {
        self.web.0 > MERGE
    }
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
    let openings: Vec<Region> = slots
        .iter()
        .map(|slot| opening(slot, offset, corner_left))
        .collect();
    let mut items = vec![closed(Layer::Outline, LineKind::Wide, &plate)];
    for opening in &openings {
        items.push(closed(Layer::Slots, LineKind::Wide, opening));
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
        web: least_web(&openings, &plate),
    })
}

/// The narrowest part of a plate with these openings. An opening past the plate's edge at the nut leaves
/// none: the other edges lie [`MARGIN`] from the head.
fn least_web(openings: &[Region], plate: &Region) -> (f64, Web) {
    let nut_edge = -plate.reach(DVec2::NEG_Y);
    let edge = openings
        .iter()
        .map(|opening| (-opening.reach(DVec2::NEG_Y) - nut_edge).max(0.0))
        .fold(f64::INFINITY, f64::min);
    let rib = match openings {
        [one, other] => one.distance(other),
        _ => f64::INFINITY,
    };
    if rib <= edge {
        (rib, Web::Rib)
    } else {
        (edge, Web::Edge)
    }
}

/// What the maker must know of the template, or why there is none; empty where there is nothing to say.
#[must_use]
pub fn template_notes(layout: &Layout) -> Vec<String> {
    let design = &layout.design;
    let (Some(slots), Some(template)) = (&design.slots, &design.template) else {
        return Vec::new();
    };
    let Some(made) = slot_template(layout, template) else {
        return Vec::new();
    };
    let guided = format!(
        "a bush or bearing of {:.2} mm on a bit of {:.2} mm",
        template.bush, template.cutter
    );
    let (web, between) = made.web;
    if !made.steers() {
        let (run, lost) = match between {
            Web::Rib => (
                "the two openings run into one another",
                "the rib between the slots",
            ),
            Web::Edge => (
                "an opening runs through the plate's edge",
                "the wood before its end",
            ),
        };
        return vec![format!(
            "not written: for {guided} {run}, so nothing would steer the bush there and the bit would take \
             {lost}. Take a bush nearer the bit's own diameter"
        )];
    }
    let mut notes = Vec::new();
    if made.corners_by_hand {
        notes.push(format!(
            "the bit leaves corners of R{:.2} mm where the slots have R{:.2} mm: finish them by hand",
            made.corner_left, slots.corner_radius
        ));
    }
    if web < SOUND_WEB - NOISE {
        notes.push(format!(
            "for {guided} only {web:.2} mm of template is left between {}, and less than {SOUND_WEB:.2} mm \
             may bend or break under the bush (our assumption)",
            between.words()
        ));
    }
    notes
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
            let notes = template_notes(&Layout::new(&design, Copy::Finished));
            assert_eq!(notes.len(), usize::from(by_hand), "{notes:?}");
            if let Some(note) = notes.first() {
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

    /// The sample's slots run with the centre line, 14 mm of rib between them and far from the nut line: the
    /// openings come nearer one another by bush less cutter.
    #[test]
    fn a_template_that_would_not_steer_over_the_rib_is_none_and_a_thin_one_is_named() {
        let rib = match six_string().slots.unwrap().lie {
            crate::input::Lie::Rib(rib) => rib,
            crate::input::Lie::Cheek(_) => panic!("the sample has a rib"),
        };
        let notes = |cutter: f64, bush: f64| {
            let mut design = six_string();
            design.template = Some(Template { cutter, bush });
            template_notes(&Layout::new(&design, Copy::Finished))
        };
        for (web, steers, said) in [
            (2.0, true, None),
            (
                1.99,
                true,
                Some("only 1.99 mm of template is left between the two"),
            ),
            (0.01, true, Some("only 0.01 mm")),
            (
                0.0,
                false,
                Some("not written: for a bush or bearing of 26.00 mm"),
            ),
            (-4.0, false, Some("the rib between the slots")),
        ] {
            let bush = 12.0 + rib - web;
            let (_, template) = made(7.5, 12.0, bush);
            assert_eq!(template.steers(), steers, "{web}");
            assert!((template.web.0 - web.max(0.0)).abs() < 1e-9, "{web}");
            let notes = notes(12.0, bush);
            assert_eq!(notes.len(), usize::from(said.is_some()), "{notes:?}");
            assert!(
                notes.iter().all(|note| note.contains(said.unwrap())),
                "{notes:?}"
            );
        }
    }

    #[test]
    fn an_opening_through_the_edge_at_the_nut_line_is_withheld_too() {
        let plate = Region::polygon(&[
            DVec2::new(-90.0, 0.0),
            DVec2::new(90.0, 0.0),
            DVec2::new(90.0, 240.0),
            DVec2::new(-90.0, 240.0),
        ]);
        let square = |x: f64, y: f64| {
            let corners = [(x, y), (x + 15.0, y), (x + 15.0, 100.0), (x, 100.0)];
            Region::polygon(&corners.map(|(x, y)| DVec2::new(x, y)))
        };
        let web = |y: f64| least_web(&[square(7.0, 40.0), square(-22.0, y)], &plate);
        assert_eq!(web(3.0), (3.0, Web::Edge));
        assert_eq!(web(-0.5), (0.0, Web::Edge));
        assert_eq!(web(30.0), (14.0, Web::Rib));
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
