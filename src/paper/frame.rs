//! Frame and title block of a drawing sheet.
//!
//! Frame after ISO 5457 (from memory): drawing space 20 mm inside the left edge for filing and
//! 10 mm inside the others, centring marks at the middle of each side. Title block 180 mm wide (from memory)
//! with the fields of ISO 7200, filled from `[job]`; what it leaves empty is a box to write in. Symbol and arrangement
//! of the views: first angle.

use glam::DVec2;

use super::measure::{shortened, text_width};
use super::{Anchor, Layer, LineKind, Paper, Sheet, Weight};
use crate::input::Job;
use crate::plane::Region;

/// Filing margin at the left, mm.
const FILING: f64 = 20.0;
/// Margin at the other sides, mm.
const MARGIN: f64 = 10.0;
/// Centring marks go on this far inside the frame, mm.
const CENTRING: f64 = 5.0;
/// Width of the title block, mm.
pub const BLOCK_WIDTH: f64 = 180.0;
/// Heights of its rows from the top, mm.
const ROWS: [f64; 4] = [9.0, 9.0, 13.0, 11.0];
/// Height of the title block, mm.
pub const BLOCK_HEIGHT: f64 = ROWS[0] + ROWS[1] + ROWS[2] + ROWS[3];
/// Height of a field's name, mm.
const NAME: f64 = 1.8;
/// Height of a field's content, mm.
const CONTENT: f64 = 2.5;
/// No content is printed smaller, mm.
const LEAST: f64 = 1.6;

/// What a sheet's title block says beyond `[job]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Titles<'a> {
    /// Title of the design.
    pub title: &'a str,
    /// Supplementary title: what is on this sheet.
    pub part: &'a str,
    /// Kind of document.
    pub kind: &'a str,
    /// Scale as written: `1:1`.
    pub scale: &'a str,
    /// Material of the part; empty where the file says none.
    pub material: &'a str,
    /// Units as written.
    pub units: &'a str,
    /// Number of this sheet.
    pub sheet: usize,
    /// Number of sheets.
    pub of: usize,
}

/// The rectangle inside the frame: lower left and upper right corner, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Space {
    /// Lower left corner.
    pub low: DVec2,
    /// Upper right corner.
    pub high: DVec2,
}

/// An empty sheet of this paper lying on its long side, with its frame and title block.
#[must_use]
pub fn framed(paper: Paper, titles: &Titles<'_>, job: &Job) -> (Sheet, Space) {
    let (short, long) = paper.sides();
    let name = format!("{}, {}", titles.title, titles.part);
    let mut sheet = Sheet::new(name, long, short);
    let space = Space {
        low: DVec2::new(FILING, MARGIN),
        high: DVec2::new(long - MARGIN, short - MARGIN),
    };
    let (low, high) = (space.low, space.high);
    rectangle(&mut sheet, LineKind::Wide, low, high);
    let middle = (low + high) / 2.0;
    for (edge, inner) in [
        (
            DVec2::new(0.0, middle.y),
            DVec2::new(low.x + CENTRING, middle.y),
        ),
        (
            DVec2::new(long, middle.y),
            DVec2::new(high.x - CENTRING, middle.y),
        ),
        (
            DVec2::new(middle.x, 0.0),
            DVec2::new(middle.x, low.y + CENTRING),
        ),
        (
            DVec2::new(middle.x, short),
            DVec2::new(middle.x, high.y - CENTRING),
        ),
    ] {
        sheet.line(Layer::Frame, LineKind::Wide, edge, inner);
    }
    let corner = DVec2::new(high.x - BLOCK_WIDTH, low.y + BLOCK_HEIGHT);
    title_block(&mut sheet, corner, paper, titles, job);
    (sheet, space)
}

fn title_block(sheet: &mut Sheet, corner: DVec2, paper: Paper, titles: &Titles<'_>, job: &Job) {
    // White under it, should a view reach so far.
    let low = corner - DVec2::new(0.0, BLOCK_HEIGHT);
    rectangle(
        sheet,
        LineKind::Wide,
        low,
        corner + DVec2::new(BLOCK_WIDTH, 0.0),
    );
    let of = format!("{}/{}", titles.sheet, titles.of);
    let size = super::paper_size::SIZES
        .iter()
        .find(|row| row.paper == paper)
        .map_or("", |row| row.name);
    let rows: [&[(f64, &str, &str)]; 4] = [
        &[
            (60.0, "Legal owner", &job.owner),
            (50.0, "Contact", &job.contact),
            (35.0, "Created by", &job.creator),
            (35.0, "Approved by", &job.approver),
        ],
        &[
            (85.0, "Material", titles.material),
            (20.0, "Quantity", &job.quantity),
            (45.0, "General tolerances", "ISO 2768-m"),
            (30.0, "Units", titles.units),
        ],
        &[(50.0, "Document type", titles.kind), (130.0, "Title", "")],
        &[
            (30.0, "Projection: first angle", ""),
            (18.0, "Scale", titles.scale),
            (12.0, "Size", size),
            (55.0, "Identification number", &job.number),
            (15.0, "Revision", &job.revision),
            (30.0, "Date of issue", &job.date),
            (20.0, "Sheet", &of),
        ],
    ];
    let mut top = corner.y;
    for (fields, height) in rows.iter().zip(ROWS) {
        let mut left = corner.x;
        for (width, name, content) in *fields {
            let (low, high) = (
                DVec2::new(left, top - height),
                DVec2::new(left + width, top),
            );
            rectangle(sheet, LineKind::Narrow, low, high);
            let at = DVec2::new(left + 1.0, top - 1.0 - NAME);
            sheet.text(Layer::Frame, at, NAME, Anchor::Start, *name);
            let at = DVec2::new(left + 1.5, low.y + 1.6);
            fitted(sheet, at, width - 3.0, CONTENT, Weight::Plain, content);
            left += width;
        }
        top -= height;
    }
    let title = corner + DVec2::new(50.0, -ROWS[0] - ROWS[1]);
    let width = 130.0 - 3.0;
    let at = title + DVec2::new(1.5, -ROWS[2] + 5.4);
    fitted(sheet, at, width, 3.5, Weight::Strong, titles.title);
    let at = title + DVec2::new(1.5, -ROWS[2] + 1.6);
    fitted(sheet, at, width, CONTENT, Weight::Plain, titles.part);
    first_angle(sheet, low + DVec2::new(6.0, ROWS[3] / 2.0 - 1.2));
}

/// The symbol of first-angle projection: a truncated cone with its small end to the left, and to its
/// right the view from that end, in which both circles are seen.
fn first_angle(sheet: &mut Sheet, left: DVec2) {
    let (large, small, length) = (2.6, 1.3, 5.2);
    let cone = [
        left + DVec2::new(0.0, small),
        left + DVec2::new(length, large),
        left + DVec2::new(length, -large),
        left + DVec2::new(0.0, -small),
    ];
    sheet.region(Layer::Frame, LineKind::Wide, &Region::polygon(&cone));
    let centre = left + DVec2::new(length + 6.5, 0.0);
    sheet.circle(Layer::Frame, LineKind::Wide, centre, large);
    sheet.circle(Layer::Frame, LineKind::Wide, centre, small);
    let past = 1.0;
    for (a, b) in [
        (left - DVec2::X * past, left + DVec2::X * (length + past)),
        (
            centre - DVec2::X * (large + past),
            centre + DVec2::X * (large + past),
        ),
        (
            centre - DVec2::Y * (large + past),
            centre + DVec2::Y * (large + past),
        ),
    ] {
        sheet.line(Layer::Frame, LineKind::Axis, a, b);
    }
}

/// A text made smaller until it fits, and at last cut with an ellipsis that shows it.
fn fitted(sheet: &mut Sheet, at: DVec2, width: f64, height: f64, weight: Weight, text: &str) {
    let wide = text_width(text, height, weight);
    let size = if wide > width {
        (height * width / wide).max(LEAST)
    } else {
        height
    };
    let shown = shortened(text, size, weight, width);
    if shown.is_empty() {
        return;
    }
    match weight {
        Weight::Plain => sheet.text(Layer::Frame, at, size, Anchor::Start, shown),
        Weight::Strong => sheet.strong(Layer::Frame, at, size, Anchor::Start, shown),
    }
}

fn rectangle(sheet: &mut Sheet, line: LineKind, low: DVec2, high: DVec2) {
    let region = Region::polygon(&[
        low,
        DVec2::new(high.x, low.y),
        high,
        DVec2::new(low.x, high.y),
    ]);
    sheet.region(Layer::Frame, line, &region);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::Item;

    fn sheet(job: &Job, title: &str) -> (Sheet, Space) {
        let titles = Titles {
            title,
            part: "head",
            kind: "drawing",
            scale: "1:1",
            material: &job.material,
            units: "mm",
            sheet: 2,
            of: 3,
        };
        framed(Paper::A3, &titles, job)
    }

    #[test]
    fn every_field_of_the_job_is_there_and_stays_in_its_box() {
        let job = Job {
            number: "WS-01".into(),
            revision: "B".into(),
            date: "2026-03-14".into(),
            material: "a very long name of a wood ".repeat(12),
            quantity: "3".into(),
            contact: "bench 1".into(),
            owner: "the workshop".into(),
            creator: "bench 2".into(),
            approver: "bench 3".into(),
        };
        let (sheet, space) = sheet(&job, &"Sandpiper ".repeat(30));
        let texts: Vec<&crate::paper::Text> = sheet
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text(text) => Some(text),
                _ => None,
            })
            .collect();
        for wanted in [
            "WS-01",
            "B",
            "2026-03-14",
            "3",
            "bench 1",
            "the workshop",
            "bench 2",
            "bench 3",
            "2/3",
            "1:1",
            "A3",
            "ISO 2768-m",
        ] {
            assert!(texts.iter().any(|text| text.text == wanted), "{wanted}");
        }
        for text in &texts {
            let right = text.at.x + text_width(&text.text, text.height, text.weight);
            assert!(right <= space.high.x && text.at.x >= space.high.x - BLOCK_WIDTH);
        }
        assert_eq!(
            texts.iter().filter(|text| text.text.ends_with('…')).count(),
            2
        );
    }

    /// A3 drawing space 390 by 277 (from memory; the arithmetic closes).
    #[test]
    fn drawing_space_of_a3() {
        let (_, space) = sheet(&Job::default(), "t");
        assert!((space.high - space.low - DVec2::new(390.0, 277.0)).length() < 1e-12);
    }
}
