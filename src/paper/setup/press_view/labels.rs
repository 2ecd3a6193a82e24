//! The labels above the holes and below the bores, as large as they stand clear of one another.

use glam::DVec2;

use super::{LABEL, NUMBER};
use crate::paper::dimension::{Style, clear_for_text, put};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, Sheet};

/// Heights of the labels that are tried, mm.
const NUMBER_HEIGHTS: [f64; 4] = [NUMBER.text, 3.5, 3.0, LABEL.text];
/// Least paper between two labels, mm.
const LABEL_GAP: f64 = 1.5;

/// From the tip down to a bore's name, mm: past the end of its axis, and where the edge is near.
const DROPS: [f64; 2] = [3.0, 2.1];
/// Least paper between a label and the head's lower edge, mm: the white paper under it, and a little.
const OFF_EDGE: f64 = 1.0;

/// What stands above a hole and what below its bore.
pub(super) struct Labels {
    /// The hole's number, on this base line.
    pub above: (DVec2, String),
    /// The bore's name, hung below this place, the bore's tip.
    pub below: (DVec2, String),
    /// The head's lower edge under it, which it must not break.
    pub edge: f64,
}

impl Labels {
    /// Whether the bore's name, so far below the tip, finds room above the head's edge.
    fn hangs_clear(&self, style: Style, drop: f64) -> bool {
        self.below.0.y - drop - style.text - OFF_EDGE >= self.edge
    }
}

/// The labels that find room beside one another: the first, the last, and of the others as many as
/// keep clear; they stand in order, so that one not shown can be counted.
fn with_room(labels: &[Labels], style: Style) -> Vec<&Labels> {
    let half = |label: &Labels| {
        let width = |text: &str| text_width(text, style.text, style.weight);
        width(&label.above.1).max(width(&label.below.1)) / 2.0
    };
    let apart = |one: &Labels, other: &Labels| {
        let between = (one.above.0.x - other.above.0.x).abs();
        between >= half(one) + half(other) + LABEL_GAP
    };
    let Some((last, others)) = labels.split_last() else {
        return Vec::new();
    };
    let mut shown: Vec<&Labels> = Vec::new();
    for label in others {
        let clear = |before: &&Labels| apart(label, before);
        if shown.is_empty() || (shown.last().is_none_or(clear) && apart(label, last)) {
            shown.push(label);
        }
    }
    shown.push(last);
    shown
}

/// Draws the labels over white paper.
pub(super) fn draw(sheet: &mut Sheet, labels: &[Labels]) {
    let style = |text: f64| Style { text, ..NUMBER };
    // Smaller labels before missing ones.
    let tries = NUMBER_HEIGHTS
        .into_iter()
        .flat_map(|text| DROPS.map(|drop| (text, drop)));
    let smaller = tries.into_iter().find(|&(text, drop)| {
        let style = style(text);
        with_room(labels, style).len() == labels.len()
            && labels.iter().all(|label| label.hangs_clear(style, drop))
    });
    let [_, least] = DROPS;
    let (text, drop) = smaller.unwrap_or((LABEL.text, least));
    let style = style(text);
    let (layer, anchor) = (Layer::Notes, Anchor::Middle);
    let mut write = |place: DVec2, text: &str| {
        clear_for_text(sheet, layer, place, 0.0, anchor, style, text);
        put(sheet, layer, place, 0.0, anchor, style, text);
    };
    for label in with_room(labels, style) {
        write(label.above.0, &label.above.1);
        // Which hole is which bore stands beside the drawing as well.
        if label.hangs_clear(style, drop) {
            let base = label.below.0 - DVec2::Y * (drop + style.text);
            write(base, &label.below.1);
        }
    }
}
