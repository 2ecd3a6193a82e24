//! The boards, each with the measures it is cut and bored by.

use glam::DVec2;

use super::{Column, View, board, holes_in, scale_for, scale_words};
use crate::layout::{RigHole, RigLayout};
use crate::paper::dimension::{Style, figure, figure_in, ordinate, spread};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::units::Lengths;

const BOARD: f64 = 0.95;
const LEFT: f64 = 17.0;
const RIGHT: f64 = 24.0;
/// From a part to its first dimension line, mm.
const FIRST: f64 = 6.0;
/// Least distance of neighbouring ordinates' figures, mm.
const STEP: f64 = 4.0;

/// Draws upright, base and wedge, one under the other, in this share of their room, and moves the
/// column below them.
pub(super) fn draw(
    sheet: &mut Sheet,
    column: &mut Column,
    rig: &RigLayout,
    lengths: Lengths,
    share: f64,
) {
    upright(sheet, column, rig, lengths, share);
    base(sheet, column, rig, lengths, share);
    wedge(sheet, column, rig, lengths);
}

fn caption(sheet: &mut Sheet, column: &mut Column, text: &str, notes: &[Option<String>]) {
    let at = DVec2::new(column.left, column.top - 2.5);
    sheet.strong(Layer::Notes, at, 2.5, Anchor::Start, text);
    column.space(4.4);
    let notes: Vec<&str> = notes.iter().flatten().map(String::as_str).collect();
    let at = DVec2::new(column.left, column.top - 2.5);
    sheet.text(Layer::Notes, at, 2.5, Anchor::Start, notes.join("; "));
    column.space(5.0);
}

/// From one dimension line to the next, mm: inches may stand under theirs.
fn row_step(lengths: Lengths) -> f64 {
    if lengths.inches { 7.8 } else { 7.0 }
}

/// Paper above a board for its ordinates, mm.
fn ordinate_room(rig: &RigLayout, lengths: Lengths) -> f64 {
    let longest = figure_in(rig.length(), lengths);
    text_width(&longest, Style::default().text, Weight::Plain) + 8.0
}

/// Places along a board, from its left end, as ordinates above it.
fn ordinates(sheet: &mut Sheet, view: &View, y: f64, left: f64, places: &[f64]) {
    let mut sorted = places.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup_by(|a, b| figure(*a) == figure(*b));
    let on_paper: Vec<f64> = sorted.iter().map(|x| view.at(*x, y).x).collect();
    for (x, to) in sorted.iter().zip(spread(&on_paper, STEP)) {
        let from = view.at(*x, y);
        let knee = DVec2::new(to, from.y + 4.0);
        sheet.line(Layer::Dimensions, LineKind::Narrow, from, knee);
        let text = figure_in(x - left, view.lengths);
        ordinate(sheet, knee, knee + DVec2::Y * 1.5, Style::default(), &text);
    }
}

fn upright(sheet: &mut Sheet, column: &mut Column, rig: &RigLayout, lengths: Lengths, share: f64) {
    let top = rig.upright_height;
    let [x0, x1] = rig.ends;
    let thickness = rig.thickness[1];
    let size = DVec2::new(rig.length(), top + thickness);
    let scale = scale_for(size, DVec2::new(column.width - LEFT - RIGHT, 68.0 * share));
    let words = format!("Upright, its face and from above; {}.", scale_words(scale));
    let notes = [
        Some("measures along it from its left end".to_owned()),
        holes_words(&rig.block_screws, rig.thread.thread, lengths),
    ];
    caption(sheet, column, &words, &notes);
    column.space(ordinate_room(rig, lengths));
    let view = View {
        origin: DVec2::new(column.left + LEFT - x0 / scale, column.top - top / scale),
        scale,
        lengths,
    };
    board(sheet, &view.rectangle(rig.ends, [0.0, top]), BOARD);
    for x in rig.bearing {
        sheet.line(
            Layer::Outline,
            LineKind::Wide,
            view.at(x, 0.0),
            view.at(x, top),
        );
    }
    for hole in &rig.block_screws {
        view.hole(sheet, LineKind::Wide, hole.x, hole.across, hole.diameter);
    }
    let mut places = vec![x0, rig.bearing[0], rig.bearing[1], x1];
    places.extend(rig.block_screws.iter().map(|hole| hole.x));
    ordinates(sheet, &view, top, x0, &places);
    let right = view.at(x1, 0.0).x;
    if let Some(hole) = rig.block_screws.first() {
        let to = view.at(x1, hole.across);
        view.upwards(sheet, view.at(x1, 0.0), to, right + FIRST, hole.across);
    }
    let left = view.at(x0, 0.0).x;
    view.upwards(sheet, view.at(x0, 0.0), view.at(x0, top), left - FIRST, top);
    column.top = view.origin.y - 5.0;

    // From above: the relief.
    let view = View {
        origin: DVec2::new(view.origin.x, column.top - thickness / scale),
        scale,
        lengths,
    };
    let z = |depth: f64| thickness - depth;
    let [b0, b1] = rig.bearing;
    let profile = [
        (x0, z(rig.relief)),
        (b0, z(rig.relief)),
        (b0, z(0.0)),
        (b1, z(0.0)),
        (b1, z(rig.relief)),
        (x1, z(rig.relief)),
        (x1, 0.0),
        (x0, 0.0),
    ];
    // Seen from above, the face lies towards the reader, below.
    let turned: Vec<(f64, f64)> = profile.iter().map(|(x, y)| (*x, thickness - y)).collect();
    board(sheet, &view.polygon(&turned), BOARD);
    let at = |x: f64, y: f64| view.at(x, y);
    // From the back edge down, so that a figure without room stands below.
    view.upwards(
        sheet,
        at(x1, rig.relief),
        at(x1, 0.0),
        right + FIRST,
        rig.relief,
    );
    view.upwards(
        sheet,
        at(x1, thickness),
        at(x1, 0.0),
        right + FIRST + row_step(lengths),
        thickness,
    );
    column.top = view.origin.y - 14.0;
}

/// How many holes, for what.
fn holes_words(holes: &[RigHole], thread: &str, lengths: Lengths) -> Option<String> {
    holes.first()?;
    Some(format!("{} for {thread}", holes_in(holes, lengths)))
}

fn base(sheet: &mut Sheet, column: &mut Column, rig: &RigLayout, lengths: Lengths, share: f64) {
    let [back, front] = rig.base_z;
    let deep = front - back;
    let [x0, x1] = rig.ends;
    let size = DVec2::new(rig.length(), deep);
    let scale = scale_for(size, DVec2::new(column.width - LEFT - RIGHT, 60.0 * share));
    let words = format!("Base from above, front edge below; {}.", scale_words(scale));
    let notes = [
        Some("dashed: where upright and braces stand".to_owned()),
        holes_words(&rig.base_screws, rig.thread.thread, lengths)
            .map(|words| words + ", heads sunk from below"),
    ];
    caption(sheet, column, &words, &notes);
    column.space(ordinate_room(rig, lengths));
    // Seen from above, z runs down the paper.
    let view = View {
        origin: DVec2::new(column.left + LEFT - x0 / scale, column.top + back / scale),
        scale,
        lengths,
    };
    board(sheet, &view.rectangle(rig.ends, [-front, -back]), BOARD);
    let mut stands = |x: [f64; 2], z: [f64; 2]| {
        let region = view.rectangle(x, [-z[1], -z[0]]);
        sheet.region(Layer::Outline, LineKind::Hidden, &region);
    };
    let thickness = rig.thickness[1];
    stands(rig.ends, [-thickness, 0.0]);
    for x in rig.brace_x {
        let half = rig.brace[2] / 2.0;
        stands([x - half, x + half], [back, -thickness]);
    }
    for hole in &rig.base_screws {
        view.hole(sheet, LineKind::Wide, hole.x, -hole.across, hole.diameter);
    }
    let mut places = vec![x0, x1];
    places.extend(rig.base_screws.iter().map(|hole| hole.x));
    ordinates(sheet, &view, -back, x0, &places);
    let right = view.at(x1, 0.0).x;
    let at = |z: f64| view.at(x1, -z);
    view.upwards(sheet, at(front), at(0.0), right + FIRST, front);
    view.upwards(
        sheet,
        at(0.0),
        at(-thickness),
        right + FIRST + row_step(lengths),
        thickness,
    );
    view.upwards(
        sheet,
        at(front),
        at(back),
        right + FIRST + 2.0 * row_step(lengths),
        deep,
    );
    let left = view.at(x0, 0.0).x;
    let mut rows: Vec<f64> = rig.base_screws.iter().map(|hole| hole.across).collect();
    rows.sort_by(f64::total_cmp);
    rows.dedup_by(|a, b| figure(*a) == figure(*b));
    for (index, z) in rows.iter().enumerate() {
        let (a, b) = (view.at(x0, -back), view.at(x0, -z));
        view.upwards(
            sheet,
            a,
            b,
            left - FIRST - row_step(lengths) * index as f64,
            z - back,
        );
    }
    column.top = view.at(0.0, -front).y - 6.0;
}

fn wedge(sheet: &mut Sheet, column: &mut Column, rig: &RigLayout, lengths: Lengths) {
    let Some(wedge) = rig.wedge else { return };
    let size = DVec2::new(wedge.length, wedge.thick);
    let scale = scale_for(size, DVec2::new(column.width - LEFT - RIGHT, 40.0));
    let words = format!("Wedge from the side, {}.", scale_words(scale));
    let wide = Some(format!("{} wide", figure_in(wedge.width, lengths)));
    caption(sheet, column, &words, &[wide]);
    // The figure of the thin end stands above it; with inches it is longer.
    column.space(if lengths.inches { 9.0 } else { 4.0 });
    let view = View {
        origin: DVec2::new(column.left + LEFT, column.top - 2.0 - wedge.thick / scale),
        scale,
        lengths,
    };
    let shape = [
        (0.0, 0.0),
        (wedge.length, 0.0),
        (wedge.length, wedge.thick),
        (0.0, wedge.thin),
    ];
    board(sheet, &view.polygon(&shape), 0.6);
    let left = view.at(0.0, 0.0).x;
    view.upwards(
        sheet,
        view.at(0.0, 0.0),
        view.at(0.0, wedge.thin),
        left - FIRST,
        wedge.thin,
    );
    let (low, high) = (
        view.at(wedge.length, 0.0),
        view.at(wedge.length, wedge.thick),
    );
    view.upwards(sheet, low, high, low.x + 6.0, wedge.thick);
    view.across(sheet, view.at(0.0, 0.0), low, low.y - 6.0, wedge.length);
    column.top = low.y - 12.0;
}
