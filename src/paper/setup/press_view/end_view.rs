//! The view along the head: how it lies against the upright.

use glam::DVec2;

use super::{BLOCK, LABEL, PAPER, Stand, UPRIGHT, WEDGE, rectangle};
use crate::layout::{Layout, Standing};
use crate::paper::dimension::put;
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Fill, Layer, LineKind, Sheet};
use crate::tolerance::NOISE;

/// Which end of the head is seen.
fn caption(stand: &Stand) -> &'static str {
    if stand.nut_at_left {
        "crest end"
    } else {
        "nut end"
    }
}

/// Where the caption begins, from the view's left edge, mm of paper: below zero left of it.
pub(super) fn caption_start(standing: &Standing<'_>, stand: &Stand) -> f64 {
    let front = standing.back.max(standing.block.height);
    // The table goes 1 mm past the front and 6 mm past the upright's surface; see below.
    let middle = ((front - standing.upright) * stand.scale + 6.0 - 1.0) / 2.0;
    middle - text_width(caption(stand), LABEL.text, LABEL.weight) / 2.0
}

/// From the right: the upright at the right, the head's face against it.
pub(super) fn draw(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    stand: &Stand,
    left: f64,
    low: f64,
) {
    let block = standing.block;
    let front = standing.back.max(block.height);
    // z towards the person runs to the left.
    let at = |z: f64, y: f64| {
        DVec2::new(
            left + (front - z) * stand.scale,
            stand.origin.y + y * stand.scale,
        )
    };
    let paper = |mm: f64| mm / stand.scale;
    let upright = rectangle(
        at(standing.upright, stand.table),
        at(standing.upright - paper(5.0), block.depth + paper(1.5)),
    );
    sheet.area(Layer::Adjacent, Some(LineKind::Narrow), &upright, UPRIGHT);
    let packing = rectangle(at(standing.face, stand.table), at(standing.back, low));
    sheet.area(Layer::Adjacent, Some(LineKind::Narrow), &packing, WEDGE);
    let head = rectangle(at(standing.face, low), at(standing.back, 0.0));
    sheet.area(Layer::Outline, Some(LineKind::Wide), &head, PAPER);
    let body = rectangle(at(0.0, 0.0), at(block.height, block.depth));
    sheet.area(Layer::Outline, Some(LineKind::Wide), &body, BLOCK);
    // A shim, drawn thick enough to be seen.
    let thick = paper(0.8).max(block.shim.abs());
    if block.shim > NOISE {
        let shim = rectangle(at(-thick, 0.0), at(0.0, block.depth));
        sheet.area(Layer::Adjacent, None, &shim, Fill::Grey(0.0));
    } else if block.shim < -NOISE {
        let shim = rectangle(at(standing.face - thick, low), at(standing.face, 0.0));
        sheet.area(Layer::Adjacent, None, &shim, Fill::Grey(0.0));
    }
    let reach = layout.stop(standing.side);
    let tip = reach.figure - reach.block;
    let axis = block.axis_height;
    sheet.line(
        Layer::Axes,
        LineKind::Axis,
        at(axis, block.depth) + DVec2::Y * 1.5,
        at(axis, -tip) - DVec2::Y * 1.5,
    );
    let table = [
        at(front + paper(1.0), stand.table),
        at(standing.upright - paper(6.0), stand.table),
    ];
    sheet.line(Layer::Adjacent, LineKind::Wide, table[0], table[1]);
    let caption = caption(stand);
    let middle = (table[0] + table[1]) / 2.0 - DVec2::Y * 3.8;
    put(
        sheet,
        Layer::Notes,
        middle,
        0.0,
        Anchor::Middle,
        LABEL,
        caption,
    );
    // Told beside the wood, where the smallest head leaves room.
    let half_way = f64::midpoint(stand.table, block.depth);
    for (place, text) in [
        (
            at(standing.upright, half_way) + DVec2::X * 3.8,
            "face this side",
        ),
        (at(front, low * 0.5) - DVec2::X * 1.2, "back"),
    ] {
        let turn = std::f64::consts::FRAC_PI_2;
        put(
            sheet,
            Layer::Notes,
            place,
            turn,
            Anchor::Middle,
            LABEL,
            text,
        );
    }
}
