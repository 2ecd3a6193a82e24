//! The measuring card: one page to take to the bench before there is any parameter file. Every
//! number has its letter on a drawing, how it is taken, boxes to write in, and its key.

mod drawings;

use glam::DVec2;

use super::measure::text_width;
use super::prose::{Column, wrap};
use super::{Anchor, Layer, LineKind, Paper, Sheet, Weight};
use crate::input::measured::{self, Measured};
use crate::plane::Region;

/// Margin round everything, mm.
const MARGIN: f64 = 10.0;
/// Height of the drawings' part, mm.
const DRAWINGS: f64 = 84.0;
/// Height of capitals in the table, mm.
const TEXT: f64 = 2.0;
/// Widths of letter, boxes and key, mm; the words take the rest.
const LETTER: f64 = 7.0;
const BOX: f64 = 21.0;
const KEY: f64 = 47.0;

/// The card, on upright paper.
#[must_use]
pub fn measuring_card(paper: Paper) -> Sheet {
    let (width, height) = paper.sides();
    let mut sheet = Sheet::new("Measuring card", width, height);
    let left = MARGIN;
    let top = height - MARGIN;
    sheet.strong(
        Layer::Notes,
        DVec2::new(left, top - 5.0),
        5.0,
        Anchor::Start,
        "Measuring card",
    );
    let right = DVec2::new(width - MARGIN, top - 5.0);
    let instrument = "instrument and date: ______________________________";
    sheet.text(Layer::Notes, right, 2.5, Anchor::End, instrument);
    drawings::draw(
        &mut sheet,
        DVec2::new(left, top - 8.0 - DRAWINGS),
        width - 2.0 * MARGIN,
    );

    let mut column = Column {
        left,
        width: width - 2.0 * MARGIN,
        top: top - 10.0 - DRAWINGS,
        height: TEXT,
    };
    let asked = measured::asked();
    let rows = row_height(height, &column);
    table(&mut sheet, &mut column, asked, rows, true);
    column.space(1.0);
    column.paragraph(&mut sheet, Weight::Plain, DOUBLED);
    column.space(1.0);
    table(&mut sheet, &mut column, measured::further(), rows, false);
    column.space(1.0);
    column.paragraph(&mut sheet, Weight::Plain, CLOSING);
    sheet
}

/// What catches a slip of the calipers.
const DOUBLED: &str = "D twice: measure over the outer barrels (D) and between them, inside to inside (d). Half of D \
+ d is the distance of the outer axes, all pitches together; half of D − d must be the barrel's diameter A. If it \
is not, one reading slipped. On an old set measure every gap, and both plates: give them as pitches.";

/// Where the numbers go.
const CLOSING: &str = "A to J are what `barrelhead start --ask` asks for, in this order. The other numbers stand in the \
file it writes, marked as assumed, until you put in your own. Lengths in millimetres, or with their unit: \
\"13/32 in\".";

/// Height of a row so that everything fits the paper.
fn row_height(height: f64, column: &Column) -> f64 {
    let rows = measured::ALL.len() as f64 + 2.0;
    let free = column.top - MARGIN - 26.0;
    (free / rows).min(height / 40.0)
}

/// A table of numbers with boxes; `doubled` adds the second reading under D.
fn table(sheet: &mut Sheet, column: &mut Column, list: &[Measured], row: f64, head: bool) {
    let (left, width) = (column.left, column.width);
    let boxes = left + width - KEY - 2.0 * BOX;
    let text = |sheet: &mut Sheet, x: f64, y: f64, words: &str| {
        sheet.text(Layer::Notes, DVec2::new(x, y), TEXT, Anchor::Start, words);
    };
    if head {
        let y = column.top - row * 0.7;
        text(sheet, boxes + 1.0, y, "mm");
        text(sheet, boxes + BOX + 1.0, y, "in");
        text(sheet, boxes + 2.0 * BOX + 1.5, y, "key in the file");
        column.space(row);
    }
    for item in list {
        let (high, low) = (column.top, column.top - row);
        let middle = (high + low) / 2.0 - TEXT / 2.0;
        sheet.line(
            Layer::Frame,
            LineKind::Narrow,
            DVec2::new(left, low),
            DVec2::new(left + width, low),
        );
        let letter = DVec2::new(left + 1.0, (high + low) / 2.0 - 1.6);
        sheet.strong(
            Layer::Notes,
            letter,
            3.2,
            Anchor::Start,
            item.letter.to_string(),
        );
        let name = DVec2::new(left + LETTER, middle);
        sheet.strong(Layer::Notes, name, TEXT, Anchor::Start, item.name);
        let after = left + LETTER + text_width(item.name, TEXT, Weight::Strong) + 2.0;
        let small = 1.7;
        let lines = wrap(item.how, small, Weight::Plain, boxes - after - 1.0);
        let step = small * 1.5;
        let first = (high + low) / 2.0 - small / 2.0 + (lines.len() as f64 - 1.0) * step / 2.0;
        for (index, line) in lines.iter().enumerate() {
            let at = DVec2::new(after, first - index as f64 * step);
            sheet.text(Layer::Notes, at, small, Anchor::Start, line.as_str());
        }
        for index in 0..2 {
            let x = boxes + f64::from(index) * BOX;
            let cell = Region::polygon(&[
                DVec2::new(x, low + 0.6),
                DVec2::new(x + BOX - 1.0, low + 0.6),
                DVec2::new(x + BOX - 1.0, high - 0.6),
                DVec2::new(x, high - 0.6),
            ]);
            sheet.region(Layer::Frame, LineKind::Narrow, &cell);
        }
        text(sheet, boxes + 2.0 * BOX + 1.5, middle, item.key);
        column.space(row);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::Item;

    #[test]
    fn every_letter_and_key_stands_on_the_card_and_inside_the_paper() {
        for paper in [Paper::A4, Paper::Letter] {
            let sheet = measuring_card(paper);
            let texts: Vec<&str> = sheet
                .items
                .iter()
                .filter_map(|item| match item {
                    Item::Text(text) => Some(text.text.as_str()),
                    _ => None,
                })
                .collect();
            for item in measured::ALL {
                let letter = item.letter.to_string();
                assert!(texts.iter().any(|text| *text == letter), "{letter}");
                assert!(texts.contains(&item.key), "{}", item.key);
            }
            for item in measured::asked() {
                // Once in the table, once on a drawing.
                let letter = item.letter.to_string();
                let count = texts.iter().filter(|text| **text == letter).count();
                assert!(count >= 2, "{letter} is on no drawing");
            }
            let extent = crate::paper::place::extent(&sheet).unwrap();
            let (width, height) = paper.sides();
            assert!(
                extent.min.x >= 5.0 && extent.min.y >= 5.0,
                "{:?}",
                extent.min
            );
            assert!(extent.max.x <= width - 5.0 && extent.max.y <= height - 5.0);
        }
    }
}
