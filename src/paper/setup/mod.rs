//! The setup sheet: what someone at the drill press needs of one job, on two sides of one paper.
//! First page: both sides as they stand, figures, steps. Second page: before and after, cautions.

mod figures;
mod press_view;
mod words;

use glam::{DVec2, DVec3};

use super::prose::Column;
use super::{Anchor, Layer, Sheet, SheetOptions, Weight};
use crate::check::Report;
use crate::input::Side;
use crate::layout::{Layout, Standing};
use crate::units::Lengths;
use press_view::Room;

/// Margin of the paper, mm.
const MARGIN: f64 = 11.0;
/// Height of running text, mm.
const TEXT: f64 = 2.6;
/// Height of one side's band, mm.
const BAND: f64 = 74.0;
/// Width of the figures beside a drawing, mm.
const FIGURES: f64 = 54.0;

/// The setup sheet of a design.
#[must_use]
pub fn setup_sheets(layout: &Layout, report: &Report, options: SheetOptions) -> Vec<Sheet> {
    vec![
        at_the_press(layout, report, options),
        before_and_after(layout, report, options),
    ]
}

/// An empty page with its title, and the column below it.
fn page(layout: &Layout, options: SheetOptions, title: &str, number: usize) -> (Sheet, Column) {
    let (width, height) = options.paper.sides();
    let design = &layout.design;
    let mut sheet = Sheet::new(format!("Setup sheet: {}", design.title), width, height);
    let mut column = Column {
        left: MARGIN,
        width: width - 2.0 * MARGIN,
        top: height - MARGIN,
        height: TEXT,
    };
    let job = &design.job;
    let mut right = Vec::new();
    for (word, text) in [
        ("job", &job.number),
        ("rev.", &job.revision),
        ("", &job.date),
    ] {
        if !text.is_empty() {
            right.push(format!("{word} {text}").trim().to_owned());
        }
    }
    right.push(format!("page {number} of 2"));
    let at = DVec2::new(column.left, column.top - 5.0);
    let heading = super::prose::wrap(
        &format!("{}: {title}", design.title),
        5.0,
        Weight::Strong,
        column.width - 50.0,
    );
    let heading = match heading.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [one, ..] => format!("{one} …"),
    };
    sheet.strong(Layer::Notes, at, 5.0, Anchor::Start, heading);
    let at = DVec2::new(column.left + column.width, column.top - 5.0);
    sheet.text(Layer::Notes, at, TEXT, Anchor::End, right.join(", "));
    column.space(9.0);
    (sheet, column)
}

fn at_the_press(layout: &Layout, report: &Report, options: SheetOptions) -> Sheet {
    let (mut sheet, mut column) = page(layout, options, "at the press", 1);
    for side in Side::BOTH {
        if let Some(standing) = layout.standing(side) {
            band(&mut sheet, layout, &standing, &column, options.lengths);
            column.space(BAND);
        }
    }
    let lengths = options.lengths;
    let mut lines = vec![
        ("Bit".to_owned(), figures::bit(layout, lengths)),
        ("Speed".to_owned(), figures::speed(layout)),
    ];
    let press = figures::press(report, lengths);
    if press.is_empty() {
        lines.push((
            "This press".to_owned(),
            format!(
                "not described: it must have {} of quill travel, the bit as much of flutes",
                lengths.show(layout.longest_stop())
            ),
        ));
    }
    lines.extend(
        press
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text)),
    );
    let indent = 24.0;
    for (name, text) in &lines {
        column.hung(&mut sheet, name, indent, text);
    }
    column.space(1.0);
    column.heading(&mut sheet, "Steps, for each side");
    column.steps(&mut sheet, 1, &words::steps(layout, lengths));
    column.paragraph(&mut sheet, Weight::Plain, words::tip(layout));
    sheet
}

/// One side: the drawing, and its figures beside it.
fn band(
    sheet: &mut Sheet,
    layout: &Layout,
    standing: &Standing<'_>,
    column: &Column,
    lengths: Lengths,
) {
    let side = standing.side;
    let room = Room {
        corner: DVec2::new(column.left, column.top - BAND + 2.0),
        size: DVec2::new(column.width - FIGURES, BAND - 3.0),
    };
    press_view::draw(sheet, layout, standing, room);
    let first = standing.frame.local(DVec3::ZERO).x;
    let nut_at_left = first < standing.block.length / 2.0;
    let mut beside = Column {
        left: column.left + column.width - FIGURES + 3.0,
        width: FIGURES - 3.0,
        top: column.top - 1.0,
        height: 3.2,
    };
    beside.paragraph(sheet, Weight::Strong, &words::nut_way(side, nut_at_left));
    beside.height = TEXT;
    beside.paragraph(sheet, Weight::Plain, "Depth stop, block's top to tip:");
    beside.height = if lengths.inches { 4.5 } else { 7.0 };
    let stop = layout.stop(side);
    beside.paragraph(sheet, Weight::Strong, &lengths.show(stop.figure));
    beside.height = TEXT;
    beside.paragraph(
        sheet,
        Weight::Plain,
        &format!("= {} mm", figures::stop_parts(layout, side)),
    );
    let wedge = figures::wedge(layout, nut_at_left).map_or_else(
        || "Wedge: none, the sides are parallel.".to_owned(),
        |wedge| format!("Wedge: {wedge}."),
    );
    beside.paragraph(sheet, Weight::Plain, &wedge);
    let shim = figures::shim(standing.block, lengths)
        .map_or_else(|| "Shim: none.".to_owned(), |shim| format!("Shim: {shim}."));
    beside.paragraph(sheet, Weight::Plain, &shim);
    let guides: Vec<String> = standing
        .guides
        .iter()
        .map(|(bore, hole)| format!("{hole}→{bore}"))
        .collect();
    beside.paragraph(
        sheet,
        Weight::Plain,
        &format!("Hole → {} bore: {}.", side.name(), guides.join(", ")),
    );
    let height = format!(
        "Axis {} above the upright.",
        lengths.show(standing.block.axis_height)
    );
    beside.paragraph(sheet, Weight::Plain, &height);
}

fn before_and_after(layout: &Layout, report: &Report, options: SheetOptions) -> Sheet {
    let lengths = options.lengths;
    let (mut sheet, mut column) = page(layout, options, "before and after", 2);
    column.heading(&mut sheet, "Have ready");
    for line in words::have_ready(layout, lengths) {
        column.hung(&mut sheet, "–", 4.0, &line);
    }
    column.space(2.0);
    column.heading(&mut sheet, "Order of work, and why");
    column.steps(&mut sheet, 1, &words::order_of_work(layout, lengths));
    column.space(2.0);
    column.heading(&mut sheet, "What the checks ask you to know");
    let cautions = words::from_checks(report, lengths);
    if cautions.is_empty() {
        column.paragraph(
            &mut sheet,
            Weight::Plain,
            "No check of this design speaks up.",
        );
    }
    for line in cautions {
        column.hung(&mut sheet, "!", 4.0, &line);
    }
    column.space(2.0);
    column.heading(&mut sheet, "Before you switch on");
    for line in words::PEOPLE {
        column.hung(&mut sheet, "–", 4.0, line);
    }
    column.height = 2.0;
    column.space(1.0);
    for line in words::publications() {
        column.paragraph(&mut sheet, Weight::Plain, &line);
    }
    sheet
}
