//! Operation cards for a shop: one a clamping, with its origin, axes and turns, and its features as
//! a table in that origin.

mod pictures;
mod tables;
mod words;

use glam::DVec2;

use super::prose::Column;
use super::{Anchor, Layer, Sheet, SheetOptions, Weight};
use crate::check::{Report, Verdict};
use crate::layout::{Clamping, Layout, Operation};
use crate::units::Lengths;

/// Margin of the paper, mm.
const MARGIN: f64 = 11.0;
/// Height of running text, mm.
const TEXT: f64 = 2.4;
/// Width of the picture's column, mm.
const PICTURE: f64 = 66.0;

/// The three cards of a design: face up, treble side up, bass side up.
#[must_use]
pub fn operation_cards(layout: &Layout, report: &Report, options: SheetOptions) -> Vec<Sheet> {
    let operations = layout.operations();
    let count = operations.len();
    operations
        .iter()
        .enumerate()
        .map(|(index, operation)| card(layout, report, operation, [index + 1, count], options))
        .collect()
}

fn card(
    layout: &Layout,
    report: &Report,
    operation: &Operation,
    [number, count]: [usize; 2],
    options: SheetOptions,
) -> Sheet {
    let (width, height) = options.paper.sides();
    let design = &layout.design;
    let name = operation.clamping.name();
    let mut sheet = Sheet::new(
        format!(
            "Operation card {number} of {count}, {name}: {}",
            design.title
        ),
        width,
        height,
    );
    let mut text = Column {
        left: MARGIN + PICTURE,
        width: width - 2.0 * MARGIN - PICTURE,
        top: height - MARGIN - 17.0,
        height: TEXT,
    };
    title(&mut sheet, layout, name, [number, count]);
    pictures::draw(
        &mut sheet,
        layout,
        operation,
        DVec2::new(MARGIN, MARGIN + 8.0),
        DVec2::new(PICTURE - 6.0, height - 2.0 * MARGIN - 28.0),
    );
    text.heading(&mut sheet, "Origin, axes, rotation");
    for (word, line) in words::frame(layout, operation, options.lengths) {
        text.hung(&mut sheet, word, 19.0, &line);
    }
    text.space(1.5);
    text.heading(&mut sheet, "Features in this origin");
    for table in tables::features(operation, Lengths { inches: false }) {
        tables::place(&mut sheet, &mut text, &table);
    }
    if options.lengths.inches {
        text.heading(&mut sheet, "The same in inches");
        for table in tables::features(operation, Lengths { inches: true }) {
            tables::place(&mut sheet, &mut text, &table);
        }
    }
    text.space(1.5);
    text.heading(&mut sheet, "Notes");
    for line in words::notes(layout, operation) {
        text.hung(&mut sheet, "–", 4.0, &line);
    }
    let cautions = report
        .findings
        .iter()
        .filter(|finding| finding.verdict != Verdict::Clear)
        .count();
    if cautions > 0 && operation.clamping == Clamping::FaceUp {
        let line = format!(
            "The checks of this design gave {cautions} caution{}: see report.json.",
            if cautions == 1 { "" } else { "s" }
        );
        text.hung(&mut sheet, "!", 4.0, &line);
    }
    sheet
}

/// Title of the card over the whole width.
fn title(sheet: &mut Sheet, layout: &Layout, name: &str, [number, count]: [usize; 2]) {
    let design = &layout.design;
    let (left, right) = (MARGIN, sheet.width - MARGIN);
    let top = sheet.height - MARGIN;
    let heading = format!("Operation card {number} of {count}: {name}");
    let at = DVec2::new(left, top - 5.0);
    sheet.strong(Layer::Notes, at, 5.0, Anchor::Start, heading);
    let job = &design.job;
    let mut parts = vec![design.title.clone()];
    for (word, text) in [
        ("job", &job.number),
        ("rev.", &job.revision),
        ("", &job.date),
        ("", &job.material),
    ] {
        if !text.is_empty() {
            parts.push(format!("{word} {text}").trim().to_owned());
        }
    }
    let line = super::prose::wrap(&parts.join(", "), TEXT, Weight::Plain, right - left);
    let at = DVec2::new(left, top - 10.5);
    if let Some(first) = line.first() {
        sheet.text(Layer::Notes, at, TEXT, Anchor::Start, first.clone());
    }
}
