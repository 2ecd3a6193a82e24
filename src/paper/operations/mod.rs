//! Operation cards for a shop: one a clamping, with its origin, axes and turns, and its features as
//! a table in that origin.

mod pictures;
mod tables;
mod words;

use glam::DVec2;

use super::measure::shortened;
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

/// The cards of a design: face up, treble side up, bass side up; a card goes on over further sheets
/// where one cannot hold it.
#[must_use]
pub fn operation_cards(layout: &Layout, report: &Report, options: SheetOptions) -> Vec<Sheet> {
    let operations = layout.operations();
    let count = operations.len();
    operations
        .iter()
        .enumerate()
        .flat_map(|(index, operation)| {
            let mut card = Card::new(layout, operation, [index + 1, count], options);
            card.fill(report);
            card.sheets
        })
        .collect()
}

/// A card being drawn.
struct Card<'a> {
    layout: &'a Layout,
    operation: &'a Operation,
    number: [usize; 2],
    options: SheetOptions,
    /// Sheets begun so far, at least one.
    sheets: Vec<Sheet>,
    /// What is left of the last one.
    text: Column,
}

impl<'a> Card<'a> {
    /// The card with its picture and no text yet.
    fn new(
        layout: &'a Layout,
        operation: &'a Operation,
        number: [usize; 2],
        options: SheetOptions,
    ) -> Card<'a> {
        let (mut sheet, text) = blank(layout, operation, number, options, false);
        let size = DVec2::new(PICTURE - 6.0, sheet.height - 2.0 * MARGIN - 28.0);
        let corner = DVec2::new(MARGIN, MARGIN + 8.0);
        pictures::draw(&mut sheet, layout, operation, corner, size);
        Card {
            layout,
            operation,
            number,
            options,
            sheets: vec![sheet],
            text,
        }
    }

    /// Adds what `draw` draws, on a new sheet where the last one has no room left for it.
    fn add(&mut self, draw: impl Fn(&mut Sheet, &mut Column)) {
        if let Some(last) = self.sheets.last_mut() {
            let (mut sheet, mut text) = (last.clone(), self.text);
            draw(&mut sheet, &mut text);
            if text.top >= MARGIN {
                (*last, self.text) = (sheet, text);
                return;
            }
        }
        let (mut sheet, mut text) =
            blank(self.layout, self.operation, self.number, self.options, true);
        draw(&mut sheet, &mut text);
        self.sheets.push(sheet);
        self.text = text;
    }

    fn fill(&mut self, report: &Report) {
        let (layout, operation, lengths) = (self.layout, self.operation, self.options.lengths);
        self.add(|sheet, text| {
            text.heading(sheet, "Origin, axes, rotation");
            for (word, line) in words::frame(layout, operation, lengths) {
                text.hung(sheet, word, 19.0, &line);
            }
            text.space(1.5);
        });
        let mut heading = Some("Features in this origin");
        for inches in [false, true] {
            if inches && !lengths.inches {
                continue;
            }
            for table in tables::features(operation, Lengths { inches }) {
                self.add(|sheet, text| {
                    if let Some(heading) = heading {
                        text.heading(sheet, heading);
                    }
                    tables::place(sheet, text, &table);
                });
                heading = None;
            }
            heading = Some("The same in inches");
        }
        let mut notes = words::notes(layout, operation);
        let cautions = report
            .findings
            .iter()
            .filter(|finding| finding.verdict != Verdict::Clear)
            .count();
        if cautions > 0 && operation.clamping == Clamping::FaceUp {
            let many = if cautions == 1 { "" } else { "s" };
            notes.push(format!(
                "The checks of this design gave {cautions} caution{many}: see report.json."
            ));
        }
        self.add(|sheet, text| {
            text.space(1.5);
            text.heading(sheet, "Notes");
            for line in &notes {
                text.hung(sheet, "–", 4.0, line);
            }
        });
    }
}

/// A sheet with the card's title, and the column for its text.
fn blank(
    layout: &Layout,
    operation: &Operation,
    [number, count]: [usize; 2],
    options: SheetOptions,
    continued: bool,
) -> (Sheet, Column) {
    let (width, height) = options.paper.sides();
    let name = operation.clamping.name();
    let again = if continued { ", continued" } else { "" };
    let heading = format!("Operation card {number} of {count}: {name}{again}");
    let mut sheet = Sheet::new(format!("{heading}: {}", layout.design.title), width, height);
    title(&mut sheet, layout, heading);
    let text = Column {
        left: MARGIN + PICTURE,
        width: width - 2.0 * MARGIN - PICTURE,
        top: height - MARGIN - 17.0,
        height: TEXT,
    };
    (sheet, text)
}

/// Title of the card over the whole width.
fn title(sheet: &mut Sheet, layout: &Layout, heading: String) {
    let design = &layout.design;
    let (left, right) = (MARGIN, sheet.width - MARGIN);
    let top = sheet.height - MARGIN;
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
    let whole = parts.join(", ");
    let whole = whole.split_whitespace().collect::<Vec<_>>().join(" ");
    let line = shortened(&whole, TEXT, Weight::Plain, right - left);
    let at = DVec2::new(left, top - 10.5);
    if !line.is_empty() {
        sheet.text(Layer::Notes, at, TEXT, Anchor::Start, line);
    }
}
