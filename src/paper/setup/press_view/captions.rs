//! What the view from the front is captioned with, and the depth that the stop gives.

use glam::DVec2;

use super::{LABEL, PAST, Stand};
use crate::layout::{Layout, Standing};
use crate::paper::cut::inside;
use crate::paper::dimension::{Linear, Style, figure_in, put};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, Sheet, Weight};
use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;

/// The depth stop's dimension.
const DEPTH: Style = Style {
    text: 3.5,
    arrow: 3.0,
    weight: Weight::Strong,
};
/// Least height of its text, mm.
const LEAST: f64 = 1.8;

/// The caption under the view, and its middle: the view's own, but never past the left margin.
fn under_the_view(layout: &Layout, stand: &Stand) -> (DVec2, String) {
    let under = if layout.wedge_angle().abs() > NOISE {
        "wedge on the table"
    } else {
        "table, no wedge"
    };
    let caption = format!("the head's back, from the front; {under}");
    let half = text_width(&caption, LABEL.text, LABEL.weight) / 2.0;
    let place = DVec2::new(f64::midpoint(stand.left, stand.right), stand.table);
    let middle = stand.at(place) - DVec2::Y * 3.8;
    (
        DVec2::new(middle.x.max(stand.margin + half), middle.y),
        caption,
    )
}

/// Where that caption ends, mm of paper: what stands beside it on its line begins past this.
pub(super) fn end(layout: &Layout, stand: &Stand) -> f64 {
    let (middle, caption) = under_the_view(layout, stand);
    middle.x + text_width(&caption, LABEL.text, LABEL.weight) / 2.0
}

/// The captions, and the travel from the block's top to the bit's tip.
pub(super) fn draw(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    stand: &Stand,
    head: &Region,
) {
    let block = standing.block;
    let at = |x: f64, y: f64| stand.at(DVec2::new(x, y));
    let mut label = |at: DVec2, anchor: Anchor, text: &str| {
        put(sheet, Layer::Notes, at, 0.0, anchor, LABEL, text);
    };
    let first = block.holes.first().map_or(0.0, |hole| hole.x);
    let stop = layout.stop(standing.side);
    let reach = stop.figure - stop.block;
    label(
        at(first, block.depth) + DVec2::new(-5.0, 3.6),
        Anchor::End,
        "hole",
    );
    // Where the head's outline, or the neck's beyond it, would run through the word, the names of the bores
    // say it.
    let bore = at(first, -reach) + DVec2::new(-5.0, -6.4);
    let word = Piece::Line {
        a: bore - DVec2::X * (text_width("bore", LABEL.text, LABEL.weight) + 1.0),
        b: bore,
    };
    let within: f64 = inside(&word, head).iter().map(|[from, to]| to - from).sum();
    if within > 1.0 - NOISE {
        label(bore, Anchor::End, "bore");
    }
    let (middle, caption) = under_the_view(layout, stand);
    label(middle, Anchor::Middle, &caption);
    // How deep the tip goes from the block's top, past the head's crest, clear of every outline.
    let (edge, crest_hole, beyond) = if stand.nut_at_left {
        let beyond = at(stand.right, 0.0).x + PAST + 7.0;
        (block.length, block.holes.last(), beyond)
    } else {
        let beyond = at(stand.left, 0.0).x - PAST - 2.0;
        (0.0, block.holes.first(), beyond)
    };
    let from = at(edge, block.depth);
    let to = at(crest_hole.map_or(edge, |hole| hole.x), -reach);
    let figure = figure_in(stop.figure, stand.lengths);
    // Both units between the arrows: on either side of the line stands something else.
    let fitting =
        DEPTH.text * ((from.y - to.y).abs() - 1.5) / text_width(&figure, DEPTH.text, DEPTH.weight);
    let style = Style {
        text: fitting.clamp(LEAST, DEPTH.text),
        ..DEPTH
    };
    Linear::upright(from, to, beyond, figure).draw(sheet, style);
}
