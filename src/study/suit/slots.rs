//! Rib or cheek, slot width, and the slots' place over the string holes.

use crate::check;
use crate::input::{Assumed, Design, Lie, Slots};
use crate::layout::{Copy, Layout};
use crate::tolerance::NOISE;

use super::{Movable, Number, assume_length, rib};

/// Narrowest rib, cheek or slot searched, mm.
const NARROWEST: f64 = 0.1;
/// Steps of an assumed rib, mm.
const STEP: f64 = 0.1;

/// Least and greatest place of the string holes across their slots, from the mid-line, + to the side.
fn holes(layout: &Layout) -> Option<[f64; 2]> {
    let hole = layout.design.machines.string_hole;
    let places = layout.each_side().filter_map(|side| {
        let slot = side.slot.as_ref()?;
        Some(side.bores.iter().map(|bore| {
            let (_, across) = slot.coordinates(bore.axis_at(hole).truncate());
            across
        }))
    });
    places.flatten().fold(None, |range, across| {
        let [low, high] = range.unwrap_or([across; 2]);
        Some([low.min(across), high.max(across)])
    })
}

/// The slots with another width and their middle over the string holes.
fn over_holes(slots: &Slots, [low, high]: [f64; 2], width: f64) -> Slots {
    let mut slots = slots.clone();
    let off = f64::midpoint(low, high);
    let wider = width - slots.width;
    slots.lie = match slots.lie {
        Lie::Rib(rib) => Lie::Rib(rib + 2.0 * off - wider),
        Lie::Cheek(cheek) => Lie::Cheek(cheek - off - wider / 2.0),
    };
    // Half-round ends stay half-round.
    let half_round = slots.corner_radius >= slots.width / 2.0 - NOISE;
    slots.corner_radius = if half_round {
        width / 2.0
    } else {
        slots.corner_radius.min(width / 2.0)
    };
    slots.width = width;
    slots
}

/// Middle of the string holes: from the centre line for slots that run with it, else from the side.
pub(super) fn middle(layout: &Layout) -> Option<f64> {
    let slots = layout.design.slots.as_ref()?;
    let [low, high] = holes(layout)?;
    let off = f64::midpoint(low, high);
    Some(match slots.lie {
        Lie::Rib(rib) => rib / 2.0 + slots.width / 2.0 + off,
        Lie::Cheek(cheek) => cheek + slots.width / 2.0 - off,
    })
}

/// Lays slots whose rib is assumed over the string holes, as near as the rib window lets them.
pub(super) fn lay_over_holes(design: &mut Design, assumed: &mut [Assumed]) {
    if !assumed.iter().any(|own| own.key == "slots.rib") {
        return;
    }
    let layout = Layout::new(design, Copy::Finished);
    let (Some(slots), Some(holes), Some(window)) = (
        &mut design.slots,
        holes(&layout),
        check::rib_window(&layout),
    ) else {
        return;
    };
    let Lie::Rib(wanted) = over_holes(slots, holes, slots.width).lie else {
        return;
    };
    let up = (window.least.max(NARROWEST) / STEP).ceil() * STEP;
    let rounded = (wanted.min(window.greatest) / STEP).floor() * STEP;
    let rib = rounded.max(up);
    // To the tenth that is meant, without the noise of the multiplication.
    let rib = (rib * 10.0).round() / 10.0;
    slots.lie = Lie::Rib(rib);
    assume_length(assumed, "slots.rib", rib);
}

fn span(layout: &Layout) -> [f64; 2] {
    let widest = layout
        .each_side()
        .map(|side| side.bores.iter().map(|bore| bore.half_width()))
        .flat_map(|widths| widths.reduce(f64::max))
        .sum::<f64>();
    [NARROWEST, widest.max(2.0 * NARROWEST)]
}

fn slot_checks() -> Vec<&'static str> {
    vec![
        "rib",
        "bearing",
        "rim",
        "cheek",
        "hole-in-slot",
        "string-edge",
        "counterbore",
        "screw-slot",
        "slot-end",
        "edges",
    ]
}

/// The rib, or the cheek where the slots run with the sides.
pub(super) fn wood(layout: &Layout) -> Option<Movable<'_>> {
    let slots = layout.design.slots.as_ref()?;
    let (number, here) = match slots.lie {
        Lie::Rib(rib) => (Number::Rib, rib),
        Lie::Cheek(cheek) => (Number::Cheek, cheek),
    };
    Some(Movable {
        number,
        here: Some(here),
        span: span(layout),
        checks: slot_checks(),
        change: Box::new(move |value| {
            let mut design = layout.design.clone();
            if let Some(slots) = &mut design.slots {
                slots.lie = if rib(&layout.design).is_some() {
                    Lie::Rib(value)
                } else {
                    Lie::Cheek(value)
                };
            }
            design
        }),
    })
}

/// The slots' width about the middle of the string holes.
pub(super) fn width(layout: &Layout) -> Option<Movable<'_>> {
    let slots = layout.design.slots.as_ref()?;
    let holes = holes(layout)?;
    let [from, to] = span(layout);
    // The slots' middle stays, so the rib or the cheek would be used up at twice its distance.
    let middle = middle(layout)?;
    let widest = (2.0 * middle - NARROWEST).clamp(2.0 * from, to.max(2.0 * from));
    Some(Movable {
        number: Number::SlotWidth,
        here: Some(slots.width),
        span: [from, widest],
        checks: slot_checks(),
        change: Box::new(move |value| {
            let mut design = layout.design.clone();
            design.slots = Some(over_holes(slots, holes, value));
            design
        }),
    })
}
