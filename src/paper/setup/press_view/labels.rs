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

/// What stands above a hole and what below its bore.
pub(super) type Labels = [(DVec2, String); 2];

/// The labels that find room beside one another: the first, the last, and of the others as many as
/// keep clear; they stand in order, so that one not shown can be counted.
fn with_room(labels: &[Labels], style: Style) -> Vec<&Labels> {
    let half = |label: &Labels| {
        let widths = label
            .each_ref()
            .map(|(_, text)| text_width(text, style.text, style.weight));
        widths[0].max(widths[1]) / 2.0
    };
    let apart = |one: &Labels, other: &Labels| {
        let between = (one[0].0.x - other[0].0.x).abs();
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
    let smaller = NUMBER_HEIGHTS
        .into_iter()
        .find(|text| with_room(labels, style(*text)).len() == labels.len());
    let style = style(smaller.unwrap_or(LABEL.text));
    for (place, text) in with_room(labels, style).into_iter().flatten() {
        let (layer, anchor) = (Layer::Notes, Anchor::Middle);
        clear_for_text(sheet, layer, *place, 0.0, anchor, style, text);
        put(sheet, layer, *place, 0.0, anchor, style, text);
    }
}
