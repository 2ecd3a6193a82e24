//! What the spindle sees of a clamping: y up the paper, x to the right, the origin marked.

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

use crate::input::Side;
use crate::layout::{Clamping, DrilledHole, HoleKind, Layout, Operation, SideLayout};
use crate::paper::dimension::{Style, arrow, clear_for_text, put};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Fill, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region};

/// Room kept round the picture for the axes' arrows and words, mm.
const ROUND: f64 = 11.0;

const LABEL: Style = Style {
    text: 2.4,
    arrow: 2.5,
    weight: Weight::Plain,
};
const NUMBER: Style = Style {
    text: 3.0,
    arrow: 2.5,
    weight: Weight::Strong,
};

/// Between two numbers side by side, mm.
const NUMBER_GAP: f64 = 1.2;

/// Scale and place of the picture.
struct View {
    scale: f64,
    origin: DVec2,
}

impl View {
    /// Fits the box from `low` to `high` (and the origin) into the room.
    fn fit(low: DVec2, high: DVec2, corner: DVec2, size: DVec2) -> View {
        let (low, high) = (low.min(DVec2::ZERO), high.max(DVec2::ZERO));
        let span = high - low;
        let free = size - DVec2::splat(2.0 * ROUND);
        let scale = (free.x / span.x).min(free.y / span.y).min(1.0);
        let left = corner.x + (size.x - span.x * scale) / 2.0;
        let bottom = corner.y + size.y - ROUND - span.y * scale;
        View {
            scale,
            origin: DVec2::new(left, bottom) - low * scale,
        }
    }

    fn at(&self, p: DVec2) -> DVec2 {
        self.origin + p * self.scale
    }

    fn region(&self, region: &Region) -> Region {
        let place = |piece: &Piece| piece.placed(|point| self.at(point), self.scale, 0.0);
        Region {
            boundary: region.boundary.iter().map(place).collect(),
        }
    }
}

/// Draws the picture of an operation into the room.
pub(super) fn draw(
    sheet: &mut Sheet,
    layout: &Layout,
    operation: &Operation,
    corner: DVec2,
    size: DVec2,
) {
    let view = match operation.clamping {
        Clamping::FaceUp => face(sheet, layout, corner, size),
        Clamping::SideUp(side) => side_view(
            sheet,
            layout,
            operation,
            layout.sides.get(side),
            corner,
            size,
        ),
    };
    axes(sheet, &view);
    let below = view.origin.y - ROUND - 6.0;
    let at = DVec2::new(corner.x + size.x / 2.0, below);
    let words = match operation.clamping {
        Clamping::FaceUp => "front face, seen from the spindle".to_owned(),
        Clamping::SideUp(side) => format!("{} side, seen from the spindle", side.name()),
    };
    put(sheet, Layer::Notes, at, 0.0, Anchor::Middle, LABEL, &words);
}

fn face(sheet: &mut Sheet, layout: &Layout, corner: DVec2, size: DVec2) -> View {
    let outline = layout.outline.region();
    let slots = layout.each_side().filter_map(|side| side.slot.as_ref());
    let regions: Vec<Region> = slots
        .map(|slot| slot.region())
        .chain([outline.clone()])
        .collect();
    let reach = |along: DVec2| {
        let each = regions.iter().map(|region| region.reach(along));
        each.fold(f64::NEG_INFINITY, f64::max)
    };
    let low = -DVec2::new(reach(DVec2::NEG_X), reach(DVec2::NEG_Y));
    let high = DVec2::new(reach(DVec2::X), reach(DVec2::Y));
    let view = View::fit(low, high, corner, size);
    sheet.region(Layer::Outline, LineKind::Wide, &view.region(&outline));
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        if let Some(ramp) = slot.ramp_region() {
            sheet.region(Layer::Ramps, LineKind::Narrow, &view.region(&ramp));
        }
        sheet.region(Layer::Slots, LineKind::Wide, &view.region(&slot.region()));
        let ends = [slot.at(0.0, 0.0), slot.at(slot.length, 0.0)].map(|p| view.at(p));
        sheet.line(Layer::Axes, LineKind::Axis, ends[0], ends[1]);
        let at = view.at(slot.at(slot.length / 2.0, 0.0)) + DVec2::X * 1.2;
        clear_for_text(
            sheet,
            Layer::Notes,
            at,
            FRAC_PI_2,
            Anchor::Middle,
            LABEL,
            side.side.name(),
        );
        put(
            sheet,
            Layer::Notes,
            at,
            FRAC_PI_2,
            Anchor::Middle,
            LABEL,
            side.side.name(),
        );
    }
    let (nut, crest) = (view.at(DVec2::ZERO), view.at(DVec2::new(0.0, high.y)));
    sheet.line(Layer::Axes, LineKind::Axis, nut, crest + DVec2::Y * 3.0);
    let at = crest + DVec2::Y * 5.0;
    put(sheet, Layer::Notes, at, 0.0, Anchor::Middle, LABEL, "crest");
    view
}

fn side_view(
    sheet: &mut Sheet,
    layout: &Layout,
    operation: &Operation,
    side: &SideLayout,
    corner: DVec2,
    size: DVec2,
) -> View {
    let frame = operation.frame;
    let (line, outline) = (&side.line, &layout.outline);
    // The face's edge and the back's, at a place along the side.
    let edges = |s: f64| {
        let on_side = line.at(s);
        let back = on_side.extend(-outline.thickness_at(on_side.y));
        [on_side.extend(0.0), back].map(|p| frame.local(p).truncate())
    };
    let (start, end) = (edges(line.start_s), edges(line.end_s));
    let corners = [start[0], end[0], end[1], start[1]];
    let holes = operation.holes.iter().map(|hole| hole.at.truncate());
    let shown: Vec<DVec2> = corners.iter().copied().chain(holes).collect();
    let low = shown.iter().fold(DVec2::INFINITY, |low, p| low.min(*p));
    let high = shown
        .iter()
        .fold(DVec2::NEG_INFINITY, |high, p| high.max(*p));
    let view = View::fit(low, high, corner, size);
    let body = Region::polygon(&corners.map(|p| view.at(p)));
    sheet.region(Layer::Outline, LineKind::Wide, &body);
    let right = frame.local_direction(glam::DVec3::NEG_Z).x;
    for hole in &operation.holes {
        let at = view.at(hole.at.truncate());
        let radius = hole.diameter / 2.0 * view.scale;
        let layer = match hole.kind {
            HoleKind::Pilot => Layer::Pilots,
            HoleKind::Bore | HoleKind::Counterbore => Layer::Bores,
        };
        sheet.circle(layer, LineKind::Wide, at, radius);
        let reach = radius + 1.5;
        for along in [DVec2::X, DVec2::Y] {
            let (a, b) = (at - along * reach, at + along * reach);
            sheet.line(Layer::Axes, LineKind::Narrow, a, b);
        }
    }
    let numbers = numbers(sheet, operation, &view, right, |y| edges(y)[1].x);
    let middle = (line.start_s + line.end_s) / 2.0;
    let [on_face, on_back] = edges(middle).map(|p| view.at(p));
    let up = |sheet: &mut Sheet, at: DVec2, text: &str| {
        put(
            sheet,
            Layer::Notes,
            at,
            FRAC_PI_2,
            Anchor::Middle,
            LABEL,
            text,
        );
    };
    // Outside the face; at the back past the numbers.
    let outside = if side.side == Side::Treble {
        -1.5
    } else {
        1.5 + LABEL.text
    };
    up(sheet, on_face + DVec2::X * outside, "face");
    let half = text_width("back", LABEL.text, LABEL.weight) / 2.0;
    let beside = numbers
        .iter()
        .filter(|number| (number.y - on_back.y).abs() < half + NUMBER.text)
        .map(|number| (number.to - on_back.x) * right + NUMBER_GAP)
        .fold(9.5 - LABEL.text, f64::max);
    let inside = if side.side == Side::Treble {
        beside + LABEL.text
    } else {
        -beside
    };
    up(sheet, on_back + DVec2::X * inside, "back");
    let top = DVec2::new(
        (view.at(low).x + view.at(high).x) / 2.0,
        view.at(high).y + 2.5,
    );
    put(
        sheet,
        Layer::Notes,
        top,
        0.0,
        Anchor::Middle,
        LABEL,
        "to the crest",
    );
    view
}

/// A number beside the work: its hole, and on paper the middle of its height, and x of its end away from the work.
struct Number {
    hole: DVec2,
    y: f64,
    to: f64,
}

/// The holes' numbers past the back, each at its hole's height; pilots with a letter before theirs. Numbers that would
/// meet stand side by side, in the order in which their holes lie across; those of holes that follow one another
/// along the side, and crowd there, stay where they are.
fn numbers(
    sheet: &mut Sheet,
    operation: &Operation,
    view: &View,
    right: f64,
    back: impl Fn(f64) -> f64,
) -> Vec<Number> {
    let mut holes: Vec<&DrilledHole> = operation
        .holes
        .iter()
        .filter(|hole| hole.kind != HoleKind::Counterbore)
        .collect();
    holes.sort_by(|a, b| (a.at.x * right).total_cmp(&(b.at.x * right)));
    let anchor = if right > 0.0 {
        Anchor::Start
    } else {
        Anchor::End
    };
    let mut placed: Vec<Number> = Vec::new();
    for hole in holes {
        let text = match hole.kind {
            HoleKind::Pilot => format!("p{}", hole.number),
            HoleKind::Bore | HoleKind::Counterbore => hole.number.to_string(),
        };
        let y = view.at(hole.at.truncate()).y;
        let edge = view.at(DVec2::new(back(hole.at.y), 0.0)).x;
        let from = placed
            .iter()
            .filter(|other| {
                let (across, along) = (other.hole.x - hole.at.x, other.hole.y - hole.at.y);
                let meet = (other.y - y).abs() < NUMBER.text + NUMBER_GAP / 2.0;
                meet && across.abs() > along.abs()
            })
            .map(|other| (other.to - edge) * right + NUMBER_GAP)
            .fold(3.0, f64::max);
        let from = edge + right * from;
        let at = DVec2::new(from, y - NUMBER.text / 2.0);
        put(sheet, Layer::Notes, at, 0.0, anchor, NUMBER, &text);
        let to = from + right * text_width(&text, NUMBER.text, NUMBER.weight);
        placed.push(Number {
            hole: hole.at.truncate(),
            y,
            to,
        });
    }
    placed
}

/// The origin with its axes.
fn axes(sheet: &mut Sheet, view: &View) {
    let o = view.origin;
    for (along, name, off) in [
        (DVec2::X, "+x", DVec2::new(1.0, -1.2)),
        (DVec2::Y, "+y", DVec2::new(1.2, -1.5)),
    ] {
        let tip = o + along * 11.0;
        sheet.line(Layer::Axes, LineKind::Wide, o, tip - along * 2.0);
        arrow(sheet, Layer::Axes, tip, -along, 4.5);
        let at = tip + off;
        clear_for_text(sheet, Layer::Notes, at, 0.0, Anchor::Start, NUMBER, name);
        put(sheet, Layer::Notes, at, 0.0, Anchor::Start, NUMBER, name);
    }
    sheet.items.push(crate::paper::Item::Circle {
        layer: Layer::Axes,
        line: LineKind::Wide,
        center: o,
        radius: 1.4,
        fill: Fill::Grey(1.0),
    });
    crate::paper::dimension::dot(sheet, Layer::Axes, o, 0.5);
    let at = o + DVec2::new(0.0, -6.0);
    put(
        sheet,
        Layer::Notes,
        at,
        0.0,
        Anchor::Middle,
        LABEL,
        "0, z to you",
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::input::{Design, Screws};
    use crate::layout::Copy;
    use crate::paper::Item;
    use crate::paper::overlaps::overlaps;

    /// The picture of a side, and its words from left to right.
    fn picture(side: usize, points: &[[f64; 2]]) -> (Sheet, Vec<(String, DVec2)>) {
        let mut design: Design = six_string();
        design.machines.screws = Some(Screws {
            points: points.to_vec(),
            pilot: 1.6,
            depth: 7.0,
        });
        let layout = Layout::new(&design, Copy::Finished);
        let operation = &layout.operations()[side];
        let mut sheet = Sheet::new("picture", 210.0, 297.0);
        let size = DVec2::new(60.0, 240.0);
        draw(&mut sheet, &layout, operation, DVec2::splat(20.0), size);
        let mut words: Vec<(String, DVec2)> = sheet
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text(text) => Some((text.text.clone(), text.at)),
                _ => None,
            })
            .collect();
        words.sort_by(|a, b| a.1.x.total_cmp(&b.1.x));
        (sheet, words)
    }

    /// A screw at each corner of the plate, and two on the line of the middle bore.
    #[test]
    fn numbers_of_holes_at_one_height_stand_side_by_side_as_the_holes_lie() {
        let corners = [
            [-11.0, 5.0],
            [-11.0, -5.0],
            [81.0, 5.0],
            [81.0, -5.0],
            [35.0, 7.5],
            [35.0, -7.5],
        ];
        for (side, wanted) in [(1, ["p1", "p2"]), (2, ["p2", "p1"])] {
            let (sheet, words) = picture(side, &corners);
            assert_eq!(overlaps(&sheet, 0.01), Vec::<String>::new());
            let low = words
                .iter()
                .filter(|(text, _)| wanted.contains(&text.as_str()));
            let low: Vec<_> = low.collect();
            assert_eq!([low[0].0.as_str(), low[1].0.as_str()], wanted);
            assert!((low[0].1.y - low[1].1.y).abs() < 1e-9, "{low:?}");
        }
    }
}
