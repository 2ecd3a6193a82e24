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
mod tests;
