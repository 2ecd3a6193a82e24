//! The head as it stands at the press, in two views: onto the upright from the front, where one
//! looks at the head's back; and from the right.
//!
//! Both are drawn in the block's own frame: x to the right, y up, z towards the person.

mod captions;
mod end_view;
mod labels;
mod surroundings;

use glam::DVec2;

use crate::layout::{Layout, Outline, Standing};
use crate::paper::cut::inside;
use crate::paper::dimension::Style;
use crate::paper::marking::short_name;
use crate::paper::{Fill, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;
use crate::units::Lengths;

/// Grey of the upright behind.
const UPRIGHT: Fill = Fill::Grey(0.93);
/// Grey of the block.
const BLOCK: Fill = Fill::Grey(0.82);
/// Grey of the wedge.
const WEDGE: Fill = Fill::Grey(0.72);
/// White.
const PAPER: Fill = Fill::Grey(1.0);
/// Paper left for the nut's arrow beside the head, mm.
const NUT_ROOM: f64 = 18.0;
/// Paper left at the crest for the upright's edge and the depth stop's dimension, mm.
const CREST_ROOM: f64 = 11.0;
/// From the front view's right edge to its dimension or break, mm; the end view stands past it.
const BETWEEN: f64 = 5.0;
/// Upright, words and slack of the end view besides the depth of block and head, mm.
const END_ROOM: f64 = 10.0;
/// Least paper between the captions of the two views, mm.
const CAPTIONS_APART: f64 = 3.0;
/// The upright behind goes past head and block by this much, mm of paper.
const PAST: f64 = 2.0;
/// Paper above the block for the holes' numbers, mm.
const ABOVE: f64 = 9.0;
/// Paper below the table, mm.
const BELOW: f64 = 5.0;
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
    lengths: Lengths,
    /// Left edge of the paper given to both views.
    margin: f64,
}

impl Stand {
    fn at(&self, p: DVec2) -> DVec2 {
        self.origin + (p - DVec2::X * self.left) * self.scale
    }
}

/// Draws both views into `room`.
pub(super) fn draw(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    room: Room,
    lengths: Lengths,
) {
    let seen = seen_from_behind(&layout.outline, standing);
    // A block on the shelf may be longer than this head.
    let left = (-seen.reach(DVec2::NEG_X)).min(0.0);
    let right = seen.reach(DVec2::X).max(standing.block.length);
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
        lengths,
        margin: room.corner.x,
    };
    front_view(sheet, layout, standing, &stand, &seen);
    let end_left = room.corner.x + NUT_ROOM + CREST_ROOM + BETWEEN + (right - left) * scale;
    // A short head's view is narrower than its caption.
    let least = captions::end(layout, &stand) + CAPTIONS_APART;
    let end_left = end_left.max(least - end_view::caption_start(standing, &stand));
    end_view::draw(sheet, layout, standing, &stand, end_left, low);
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

/// A piece of the plan in the block's frame, which shows it mirrored.
fn turned(piece: Piece, standing: &Standing<'_>) -> Piece {
    let local = |p: DVec2| standing.frame.local(p.extend(0.0)).truncate();
    piece.mirrored(local, 1.0)
}

/// The same piece on paper.
fn on_paper(piece: Piece, stand: &Stand) -> Piece {
    piece.placed(|point| stand.at(point), stand.scale, 0.0)
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
    surroundings::wedge(sheet, layout, standing, stand);
    surroundings::neck(sheet, layout, standing, stand);
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
    bores(sheet, layout, standing, stand, &head);
    captions::draw(sheet, layout, standing, stand, &head);
}

/// How far down the head goes on paper, straight below a place in it.
fn lower_edge(head: &Region, from: DVec2) -> f64 {
    const FAR: f64 = 1000.0;
    let down = Piece::Line {
        a: from,
        b: from - DVec2::Y * FAR,
    };
    let first = inside(&down, head).first().copied();
    first.map_or(f64::NEG_INFINITY, |[_, to]| from.y - to * FAR)
}

/// Each bore hidden in the wood, its hole in the block, its line on the block's front and its mark
/// on the head's back edge; hole numbers above, bore numbers below.
fn bores(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    stand: &Stand,
    head: &Region,
) {
    let block = standing.block;
    let side = layout.sides.get(standing.side);
    let at = |x: f64, y: f64| stand.at(DVec2::new(x, y));
    let hidden = |sheet: &mut Sheet, a: DVec2, b: DVec2| {
        sheet.line(Layer::Bores, LineKind::Hidden, a, b);
    };
    let mut labels: Vec<labels::Labels> = Vec::new();
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
        let below = at(x, -tip);
        labels.push(labels::Labels {
            above: (above, hole.number.to_string()),
            below: (below, short_name(standing.side, bore.number)),
            edge: lower_edge(head, below),
        });
    }
    labels::draw(sheet, &labels);
}
