//! `edges`: what opens in a side or in the face keeps clear of the edges of that surface.
//!
//! Mouths of bores, counterbores and pilots to the ends of their straight side; the ramp's mouth
//! corners to the sides and shoulders; each ramp to the other slot's opening. A head with
//! shoulders also keeps slots, ramps and everything drilled clear of them: no other row speaks of
//! the shoulders, and a slot that starts before the straight side may come out through one.

use crate::input::Side;
use crate::input::defaults::SHORTEST;
use crate::layout::{Layout, OutlinePart, SideLayout};
use crate::plane::Piece;

use super::at::{Words, words};
use super::measure::{Measure, guard};
use super::shapes::{drilled, to_shoulder};

const ALONG: &[&str] = &[
    "placement.first_barrel",
    "placement.bass.first_barrel",
    "head.side_end",
    "head.side_start",
];
const RAMP: &[&str] = &["slots.ramp", "slots.end_margin"];
/// A narrower nut end is no edge, and no shorter shoulder.
const NARROWEST: f64 = SHORTEST;

pub(super) fn edges(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for side in layout.each_side() {
        mouths(side, &mut list);
        ramp(layout, side, &mut list);
        shoulders(layout, side, &mut list);
    }
    outline(layout, &mut list);
    list
}

fn mouths(side: &SideLayout, list: &mut Vec<Measure>) {
    let mut add = |what: Words, s: f64, diameter: f64| {
        for (value, end) in [
            (s - diameter / 2.0 - side.line.start_s, "nut"),
            (side.line.end_s - s - diameter / 2.0, "crest"),
        ] {
            list.push(Measure::new(
                value,
                what.and(" to the ").and(end).and(" end of its side"),
                ALONG,
            ));
        }
    };
    for bore in &side.bores {
        add(bore.into(), bore.s, bore.diameter);
        if let Some(mouth) = bore.counterbore {
            add(words!("counterbore of ", bore), bore.s, mouth.diameter);
        }
    }
    for pilot in &side.pilots {
        add(pilot.into(), pilot.s, pilot.diameter);
    }
}

fn ramp(layout: &Layout, side: &SideLayout, list: &mut Vec<Measure>) {
    let Some(slot) = &side.slot else { return };
    let Some(ramp) = slot.ramp else { return };
    let name = side.side;
    let half = slot.width / 2.0;
    for edge in layout.each_side() {
        let Some(piece) = layout.outline.part(OutlinePart::Side(edge.side)) else {
            continue;
        };
        let value = [half, -half]
            .into_iter()
            .map(|q| {
                let corner = slot.at(-ramp.mouth, q);
                let inside = edge.line.depth_of(corner) >= 0.0;
                piece.distance_to_point(corner) * if inside { 1.0 } else { -1.0 }
            })
            .fold(f64::INFINITY, f64::min);
        list.push(Measure::new(
            value,
            words!(name, " ramp's mouth to the ", edge.side, " side"),
            RAMP,
        ));
    }
    let other = layout.sides.get(side.side.other());
    if let (Some(own), Some(slot)) = (slot.ramp_region(), &other.slot) {
        list.push(Measure::new(
            own.distance(&slot.opening()),
            words!(name, " ramp to the opening on the ", other.side, " side"),
            &["slots.rib", "slots.cheek", "slots.ramp"],
        ));
    }
}

fn shoulders(layout: &Layout, side: &SideLayout, list: &mut Vec<Measure>) {
    for shoulder in Side::BOTH {
        let mut add = |what: Words, region| {
            if let Some(value) = to_shoulder(layout, shoulder, &region) {
                list.push(Measure::new(
                    value,
                    what.and(" to the ").and(shoulder).and(" shoulder"),
                    &["head.shoulder_width", "head.side_start", "slots.ramp"],
                ));
            }
        };
        if let Some(slot) = &side.slot {
            add(words!(side.side, " slot with its ramp"), slot.opening());
        }
        for (what, region) in drilled(side) {
            add(what, region);
        }
    }
}

/// Guards of the outline itself: sides prolonged to the nut line must not have crossed by then, and
/// a shoulder must have a length.
fn outline(layout: &Layout, list: &mut Vec<Measure>) {
    if let Some(Piece::Line { a, b }) = layout.outline.part(OutlinePart::Nut) {
        guard(
            list,
            Measure::new(
                b.x - a.x,
                "width of the head at the nut line",
                &["head.side_start", "head.width_at_nut_end"],
            )
            .stop_below(NARROWEST),
        );
    }
    for side in Side::BOTH {
        if let Some(piece) = layout.outline.part(OutlinePart::Shoulder(side)) {
            guard(
                list,
                Measure::new(
                    piece.length(),
                    format!("length of the {} shoulder", side.name()),
                    &["head.side_start"],
                )
                .stop_below(SHORTEST),
            );
        }
    }
}
