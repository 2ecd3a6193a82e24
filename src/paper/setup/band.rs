//! One side at the press: its drawing, and its figures beside it.

use glam::DVec2;

use super::press_view::{self, Room};
use super::{BAND, SMALL, figures, words};
use crate::layout::{Layout, Standing};
use crate::paper::marking::short_name;
use crate::paper::measure::text_width;
use crate::paper::prose::Column;
use crate::paper::{Sheet, Weight};
use crate::units::Lengths;

/// Width of the figures beside a drawing, mm.
const FIGURES: f64 = 54.0;
/// Height of the depth stop's figure, mm.
const LARGE: f64 = 7.0;

/// One side: the drawing, and its figures beside it, as large as the band allows.
pub(super) fn band(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    column: &Column,
    lengths: Lengths,
) {
    let room = Room {
        corner: DVec2::new(column.left, column.top - BAND + 1.0),
        size: DVec2::new(column.width - FIGURES, BAND - 1.0),
    };
    press_view::draw(sheet, layout, standing, room, lengths);
    let place = Column {
        left: column.left + column.width - FIGURES + 3.0,
        width: FIGURES - 3.0,
        top: column.top - 1.0,
        height: SMALL,
    };
    let mut size = 1.0;
    loop {
        let mut tried = sheet.clone();
        let left = beside(&mut tried, layout, standing, place, lengths, size);
        if left.top >= column.top - BAND || size < 0.7 {
            *sheet = tried;
            return;
        }
        size -= 0.05;
    }
}

/// The figures of one side, their text scaled by `size`.
fn beside(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    mut column: Column,
    lengths: Lengths,
    size: f64,
) -> Column {
    let side = standing.side;
    let nut_at_left = standing.nut_at_left();
    let stop = layout.stop(side);
    let text = SMALL * size;
    // The figure read most often: as large as it stands on one line.
    let figure = lengths.show(stop.figure);
    let fitting = LARGE * column.width / text_width(&figure, LARGE, Weight::Strong);
    let large = fitting.min(LARGE * size);
    let wedge = figures::wedge(layout, nut_at_left).map_or_else(
        || "Wedge: none, the sides are parallel.".to_owned(),
        |wedge| format!("Wedge: {wedge}."),
    );
    let shim = figures::shim(standing.block, lengths)
        .map_or_else(|| "Shim: none.".to_owned(), |shim| format!("Shim: {shim}."));
    let guides: Vec<String> = standing
        .guides
        .iter()
        .map(|(bore, hole)| format!("{hole}→{}", short_name(side, *bore)))
        .collect();
    let mut lines = vec![
        (
            3.2 * size,
            Weight::Strong,
            words::nut_way(side, nut_at_left),
        ),
        (
            text,
            Weight::Plain,
            "Depth stop, block's top to tip:".into(),
        ),
        (large, Weight::Strong, figure),
    ];
    let parts = figures::stop_parts(layout, side, lengths);
    lines.extend(parts.into_iter().map(|line| (text, Weight::Plain, line)));
    let deeper = figures::deeper(layout, side, lengths);
    lines.extend(deeper.into_iter().map(|line| (text, Weight::Plain, line)));
    lines.extend([
        (text, Weight::Plain, wedge),
        (text, Weight::Plain, shim),
        (
            text,
            Weight::Plain,
            format!("Hole → bore: {}.", guides.join(", ")),
        ),
        (
            text,
            Weight::Plain,
            format!(
                "Axis {} from the upright's face.",
                lengths.show(standing.block.axis_height)
            ),
        ),
    ]);
    for (height, weight, line) in lines {
        column.height = height;
        column.paragraph(sheet, weight, &line);
    }
    column
}
