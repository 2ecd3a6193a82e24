//! The head as it stands at the press, in two views: onto the upright from the front, where one
//! looks at the head's back; and from the right.
//!
//! Both are drawn in the block's own frame: x to the right, y up, z towards the person.

use glam::DVec2;

use crate::layout::{Layout, Outline, OutlinePart, Standing};
use crate::paper::dimension::{Linear, Style, arrow, clear_for_text, figure, put};
use crate::paper::marking::short_name;
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Fill, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;

/// Grey of the upright behind.
const UPRIGHT: Fill = Fill::Grey(0.93);
/// Grey of the block.
const BLOCK: Fill = Fill::Grey(0.82);
/// Grey of the wedge.
const WEDGE: Fill = Fill::Grey(0.72);
/// White.
const PAPER: Fill = Fill::Grey(1.0);
/// Paper left for the nut's arrow beside the head, mm.
const NUT_ROOM: f64 = 16.0;
/// Paper left at the crest for the upright's edge and the depth stop's dimension, mm.
const CREST_ROOM: f64 = 11.0;
/// From the front view's right edge to its dimension or break, mm; the end view stands past it.
const BETWEEN: f64 = 5.0;
/// Upright, words and slack of the end view besides the depth of block and head, mm.
const END_ROOM: f64 = 10.0;
/// The upright behind goes past head and block by this much, mm of paper.
const PAST: f64 = 2.0;
/// Paper above the block for the holes' numbers, mm.
const ABOVE: f64 = 9.0;
/// Paper below the table, mm.
const BELOW: f64 = 5.0;
/// Least paper between two labels, mm.
const LABEL_GAP: f64 = 1.5;
/// Least thickness the wedge is drawn with, mm of paper.
const THIN_END: f64 = 1.5;

const LABEL: Style = Style {
    text: 2.5,
    arrow: 2.5,
    weight: Weight::Plain,
};
const NUMBER: Style = Style {
    text: 4.0,
    arrow: 2.5,
    weight: Weight::Strong,
};

/// A rectangle of paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    /// Lower left corner.
    pub corner: DVec2,
    /// Width and height.
    pub size: DVec2,
}

/// What both views share: scale, and the heights in the block's frame.
#[derive(Debug, Clone, Copy)]
struct Stand {
    scale: f64,
    /// x of the front view's left edge, in the block's frame.
    left: f64,
    right: f64,
    /// y of the table.
    table: f64,
    /// Paper place of the left edge and of the block's foot.
    origin: DVec2,
    nut_at_left: bool,
}

impl Stand {
    fn at(&self, p: DVec2) -> DVec2 {
        self.origin + (p - DVec2::X * self.left) * self.scale
    }
}

/// Draws both views into `room`.
pub(super) fn draw(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, room: Room) {
    let seen = seen_from_behind(&layout.outline, standing);
    let (left, right) = (-seen.reach(DVec2::NEG_X), seen.reach(DVec2::X));
    let low = -seen.reach(DVec2::NEG_Y);
    let top = standing.block.depth;
    let (front, back) = (standing.back.max(standing.block.height), standing.upright);
    let across = room.size.x - NUT_ROOM - CREST_ROOM - BETWEEN - END_ROOM;
    let wide = across / (right - left + front - back);
    let high = (room.size.y - ABOVE - BELOW - THIN_END) / (top - low);
    let scale = wide.min(high);
    let nut_at_left = standing.nut_at_left();
    let from_left = if nut_at_left { NUT_ROOM } else { CREST_ROOM };
    let table = low - THIN_END / scale;
    let upper_left = room.corner + DVec2::Y * room.size.y;
    let stand = Stand {
        scale,
        left,
        right,
        table,
        origin: upper_left + DVec2::new(from_left, -ABOVE - top * scale),
        nut_at_left,
    };
    front_view(sheet, layout, standing, &stand, &seen);
    let end_left = room.corner.x + NUT_ROOM + CREST_ROOM + BETWEEN + (right - left) * scale;
    end_view(sheet, layout, standing, &stand, end_left, low);
}

/// The head's outline in the block's frame; seen from behind it is mirrored.
fn seen_from_behind(outline: &Outline, standing: &Standing<'_>) -> Region {
    let boundary = outline
        .pieces
        .iter()
        .map(|(_, piece)| turned(*piece, standing))
        .collect();
    Region { boundary }
}

/// A piece of the plan in the block's frame.
fn turned(piece: Piece, standing: &Standing<'_>) -> Piece {
    let local = |p: DVec2| standing.frame.local(p.extend(0.0)).truncate();
    match piece {
        Piece::Line { a, b } => Piece::Line {
            a: local(a),
            b: local(b),
        },
        Piece::Arc {
            center,
            radius,
            sweep,
            ..
        } => {
            let middle = local(center);
            Piece::Arc {
                center: middle,
                radius,
                from: (local(piece.start()) - middle).to_angle(),
                // The view is a mirror image of the plan.
                sweep: -sweep,
            }
        }
    }
}

/// The same piece on paper.
fn on_paper(piece: Piece, stand: &Stand) -> Piece {
    match piece {
        Piece::Line { a, b } => Piece::Line {
            a: stand.at(a),
            b: stand.at(b),
        },
        Piece::Arc {
            center,
            radius,
            from,
            sweep,
        } => Piece::Arc {
            center: stand.at(center),
            radius: radius * stand.scale,
            from,
            sweep,
        },
    }
}

fn rectangle(a: DVec2, b: DVec2) -> Region {
    Region::polygon(&[a, DVec2::new(b.x, a.y), b, DVec2::new(a.x, b.y)])
}

fn front_view(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    stand: &Stand,
    seen: &Region,
) {
    let block = standing.block;
    let at = |x: f64, y: f64| stand.at(DVec2::new(x, y));
    let paper = |mm: f64| mm / stand.scale;
    // Behind everything: the upright, a little past both ends.
    let upright = rectangle(
        at(stand.left - paper(PAST), stand.table),
        at(stand.right + paper(PAST), block.depth + paper(1.5)),
    );
    sheet.area(Layer::Adjacent, None, &upright, UPRIGHT);
    wedge(sheet, layout, standing, stand);
    neck(sheet, layout, standing, stand);
    let pieces: Vec<Piece> = seen
        .boundary
        .iter()
        .map(|piece| on_paper(*piece, stand))
        .collect();
    let head = Region { boundary: pieces };
    sheet.area(Layer::Outline, Some(LineKind::Wide), &head, PAPER);
    let body = rectangle(at(0.0, 0.0), at(block.length, block.depth));
    sheet.area(Layer::Outline, Some(LineKind::Wide), &body, BLOCK);
    let (from, to) = (
        at(stand.left - paper(PAST), stand.table),
        at(stand.right + paper(PAST), stand.table),
    );
    sheet.line(Layer::Adjacent, LineKind::Wide, from, to);
    bores(sheet, layout, standing, stand);
    words(sheet, layout, standing, stand);
}

/// The wedge between the lower side and the table; a plain packing where the sides are parallel.
fn wedge(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, stand: &Stand) {
    let lower = &layout.sides.get(standing.side.other()).line;
    let local = |s: f64| standing.frame.local(lower.at(s).extend(0.0)).truncate();
    let (a, b) = (local(lower.start_s), local(lower.end_s));
    let foot = |p: DVec2| DVec2::new(p.x, stand.table);
    let region = Region::polygon(&[a, b, foot(b), foot(a)].map(|p| stand.at(p)));
    sheet.area(Layer::Adjacent, Some(LineKind::Narrow), &region, WEDGE);
}

/// The neck goes on beyond the nut line, towards the person; an arrow tells the way.
fn neck(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, stand: &Stand) {
    let Some(Piece::Line { a, b }) = layout.outline.part(OutlinePart::Nut) else {
        return;
    };
    let local = |p: DVec2| stand.at(standing.frame.local(p.extend(0.0)).truncate());
    let (a, b) = (local(a), local(b));
    let out = if stand.nut_at_left {
        DVec2::NEG_X
    } else {
        DVec2::X
    };
    // A fifth narrower at the break than at the nut.
    let middle = (a + b) / 2.0;
    let (far_a, far_b) = (
        middle + (a - middle) * 0.85 + out * 9.0,
        middle + (b - middle) * 0.85 + out * 9.0,
    );
    sheet.line(Layer::Adjacent, LineKind::Narrow, a, far_a);
    sheet.line(Layer::Adjacent, LineKind::Narrow, b, far_b);
    // A break line, freehand.
    let step = (far_b - far_a) / 6.0;
    let mut from = far_a;
    for index in 1..=6 {
        let swing = match index {
            6 => 0.0,
            i if i % 2 == 0 => -1.0,
            _ => 1.0,
        };
        let to = far_a + step * f64::from(index) + out * swing;
        sheet.line(Layer::Adjacent, LineKind::Narrow, from, to);
        from = to;
    }
    let tip = middle + out * 13.5;
    sheet.line(
        Layer::Notes,
        LineKind::Wide,
        tip - out * 3.0,
        tip - out * 11.0,
    );
    arrow(sheet, Layer::Notes, tip, -out, 4.0);
    let at = middle + out * 7.0 + DVec2::Y * 2.2;
    clear_for_text(sheet, Layer::Notes, at, 0.0, Anchor::Middle, NUMBER, "NUT");
    put(sheet, Layer::Notes, at, 0.0, Anchor::Middle, NUMBER, "NUT");
}

/// Each bore hidden in the wood, its hole in the block, its line on the block's front and its mark
/// on the head's back edge; hole numbers above, bore numbers below.
fn bores(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, stand: &Stand) {
    let block = standing.block;
    let side = layout.sides.get(standing.side);
    let at = |x: f64, y: f64| stand.at(DVec2::new(x, y));
    let hidden = |sheet: &mut Sheet, a: DVec2, b: DVec2| {
        sheet.line(Layer::Bores, LineKind::Hidden, a, b);
    };
    let mut labels: Vec<Labels> = Vec::new();
    for &(bore, hole) in &standing.guides {
        let (Some(bore), Some(hole)) = (
            bore.checked_sub(1).and_then(|index| side.bores.get(index)),
            hole.checked_sub(1).and_then(|index| block.holes.get(index)),
        ) else {
            continue;
        };
        let (x, r, depth) = (hole.x, bore.radius(), bore.depth);
        let tip = depth + bore.point_height;
        for (radius, from, to) in [(hole.diameter / 2.0, block.depth, 0.0), (r, 0.0, -depth)] {
            for edge in [-radius, radius] {
                hidden(sheet, at(x + edge, from), at(x + edge, to));
            }
        }
        hidden(sheet, at(x - r, -depth), at(x, -tip));
        hidden(sheet, at(x, -tip), at(x + r, -depth));
        if bore.point_height <= NOISE {
            hidden(sheet, at(x - r, -depth), at(x + r, -depth));
        }
        sheet.line(
            Layer::Axes,
            LineKind::Axis,
            at(x, block.depth) + DVec2::Y * 1.5,
            at(x, -tip) - DVec2::Y * 1.5,
        );
        if !block.grooves.is_empty() {
            sheet.line(Layer::Marks, LineKind::Wide, at(x, 0.0), at(x, block.depth));
        }
        // The mark carried round to the back edge, a lip of the back long.
        sheet.line(
            Layer::Marks,
            LineKind::Wide,
            at(x, 0.0),
            at(x, 0.0) - DVec2::Y * 5.0,
        );
        let above = at(x, block.depth) + DVec2::Y * 3.0;
        let below = at(x, -tip) - DVec2::Y * 7.0;
        let name = short_name(standing.side, bore.number);
        labels.push([(above, hole.number.to_string()), (below, name)]);
    }
    for label in with_room(&labels).into_iter().flatten() {
        let (place, text) = label;
        clear_for_text(
            sheet,
            Layer::Notes,
            *place,
            0.0,
            Anchor::Middle,
            NUMBER,
            text,
        );
        put(
            sheet,
            Layer::Notes,
            *place,
            0.0,
            Anchor::Middle,
            NUMBER,
            text,
        );
    }
}

/// What stands above a hole and what below its bore.
type Labels = [(DVec2, String); 2];

/// The labels that find room beside one another: the first, the last, and of the others as many as
/// keep clear; they stand in order, so that one not shown can be counted.
fn with_room(labels: &[Labels]) -> Vec<&Labels> {
    let half = |label: &Labels| {
        let widths = label
            .each_ref()
            .map(|(_, text)| text_width(text, NUMBER.text, NUMBER.weight));
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

fn words(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, stand: &Stand) {
    let block = standing.block;
    let at = |x: f64, y: f64| stand.at(DVec2::new(x, y));
    let mut label = |at: DVec2, anchor: Anchor, text: &str| {
        put(sheet, Layer::Notes, at, 0.0, anchor, LABEL, text);
    };
    let first = block.holes.first().map_or(0.0, |hole| hole.x);
    let stop = layout.stop(standing.side);
    let reach = stop.figure - stop.block;
    label(
        at(first, block.depth) + DVec2::new(-4.0, 3.6),
        Anchor::End,
        "hole",
    );
    label(
        at(first, -reach) + DVec2::new(-4.0, -6.4),
        Anchor::End,
        "bore",
    );
    let under = if layout.wedge_angle().abs() > NOISE {
        "wedge on the table"
    } else {
        "table, no wedge"
    };
    label(
        at(f64::midpoint(stand.left, stand.right), stand.table) - DVec2::Y * 3.8,
        Anchor::Middle,
        &format!("the head's back, from the front; {under}"),
    );
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
    Linear::upright(from, to, beyond, figure(stop.figure)).draw(
        sheet,
        Style {
            text: 3.5,
            arrow: 3.0,
            weight: Weight::Strong,
        },
    );
}

/// From the right: the upright at the right, the head's face against it.
fn end_view(
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
    let end = if stand.nut_at_left { "crest" } else { "nut" };
    let middle = (table[0] + table[1]) / 2.0 - DVec2::Y * 3.8;
    put(
        sheet,
        Layer::Notes,
        middle,
        0.0,
        Anchor::Middle,
        LABEL,
        &format!("{end} end"),
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
