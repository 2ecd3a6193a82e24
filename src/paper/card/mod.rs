//! The measuring card: one page to take to the bench before there is any parameter file. Every
//! number has its letter on a drawing, how it is taken, boxes to write in, and its key.

mod drawings;

use glam::DVec2;

use super::measure::text_width;
use super::prose::{Column, wrap};
use super::{Anchor, Layer, LineKind, Paper, Sheet, Weight};
use crate::input::measured;
use crate::plane::Region;

/// Margin round everything, mm.
const MARGIN: f64 = 10.0;
/// Height of the drawings' part, mm.
const DRAWINGS: f64 = 92.0;
/// Height of capitals in the table, mm.
const TEXT: f64 = 2.0;
/// Widths of letter, boxes and key, mm; the words take the rest.
const LETTER: f64 = 7.0;
const BOX: f64 = 19.0;
const KEY: f64 = 39.0;

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
    drawings::draw(&mut sheet, DVec2::new(left, top - 8.0 - DRAWINGS));

    let mut column = Column {
        left,
        width: width - 2.0 * MARGIN,
        top: top - 10.0 - DRAWINGS,
        height: TEXT,
    };
    let rows = row_height(&column);
    head_of_table(&mut sheet, &mut column, rows);
    for item in measured::ALL {
        let letter = item.letter.to_string();
        let words = [letter.as_str(), item.name, item.how, item.key];
        row(&mut sheet, &mut column, words, rows);
        if item.letter == 'D' {
            for check in SECOND_READING {
                row(&mut sheet, &mut column, check, rows);
            }
        }
        if measured::asked().last() == Some(item) {
            column.space(BREAK);
        }
    }
    column.space(1.0);
    column.paragraph(&mut sheet, Weight::Plain, CLOSING);
    sheet
}

/// The doubled reading that catches a slip of the calipers: letter, name, how, what it is for.
const SECOND_READING: [[&str; 4]; 3] = [
    [
        "d",
        "Between the outer barrels",
        "D again, but inside to inside.",
        "a check, not in the file",
    ],
    [
        "",
        "(D + d) / 2",
        "All pitches together: the distance of the outer axes.",
        "a check, not in the file",
    ],
    [
        "",
        "(D − d) / 2",
        "The barrel's diameter. If it is not, one reading slipped.",
        "must be A",
    ],
];

/// Where the numbers go.
const CLOSING: &str = "A to J are what `barrelhead start --ask` asks for, in this order. The other numbers stand in the \
file it writes, marked as assumed, until you put in your own. Lengths in millimetres, or with their unit: \
\"13/32 in\". On an old set measure every gap (W), on both plates, and write them on the back: what differs on the \
bass plate goes under [machines.bass].";

/// Space between what is asked for and what has starting values, mm.
const BREAK: f64 = 2.0;

/// Height of a row so that everything fits the paper.
fn row_height(column: &Column) -> f64 {
    // One more for the heading; the closing words take 9 mm.
    let rows = (measured::ALL.len() + SECOND_READING.len() + 1) as f64;
    (column.top - MARGIN - BREAK - 9.0) / rows
}

/// Where the boxes of a row start.
fn boxes_at(column: &Column) -> f64 {
    column.left + column.width - KEY - 2.0 * BOX
}

/// What stands over the boxes and keys.
fn head_of_table(sheet: &mut Sheet, column: &mut Column, high: f64) {
    let (boxes, y) = (boxes_at(column), column.top - high * 0.7);
    for (x, words) in [
        (boxes + 1.0, "mm"),
        (boxes + BOX + 1.0, "in"),
        (boxes + 2.0 * BOX + 1.5, "key in the file"),
    ] {
        sheet.text(Layer::Notes, DVec2::new(x, y), TEXT, Anchor::Start, words);
    }
    column.space(high);
}

/// One number: its letter, name and how it is taken, boxes to write in, its key.
fn row(sheet: &mut Sheet, column: &mut Column, [letter, name, how, key]: [&str; 4], height: f64) {
    let (left, width, boxes) = (column.left, column.width, boxes_at(column));
    let (high, low) = (column.top, column.top - height);
    let center = (high + low) / 2.0;
    let middle = center - TEXT / 2.0;
    sheet.line(
        Layer::Frame,
        LineKind::Narrow,
        DVec2::new(left, low),
        DVec2::new(left + width, low),
    );
    let at = DVec2::new(left + 1.0, center - 1.6);
    if !letter.is_empty() {
        sheet.strong(Layer::Notes, at, 3.2, Anchor::Start, letter);
    }
    let at = DVec2::new(left + LETTER, middle);
    sheet.strong(Layer::Notes, at, TEXT, Anchor::Start, name);
    let after = left + LETTER + text_width(name, TEXT, Weight::Strong) + 2.0;
    let small = 1.7;
    let lines = wrap(how, small, Weight::Plain, boxes - after - 1.0);
    let step = small * 1.35;
    let first = center - small / 2.0 + (lines.len() as f64 - 1.0) * step / 2.0;
    for (index, line) in lines.iter().enumerate() {
        let at = DVec2::new(after, first - index as f64 * step);
        sheet.text(Layer::Notes, at, small, Anchor::Start, line.as_str());
    }
    // An angle has neither millimetres nor inches: one box for it.
    let cells = if key == "head.angle" { 1 } else { 2 };
    let wide = 2.0 * BOX / f64::from(cells);
    for index in 0..cells {
        let x = boxes + f64::from(index) * wide;
        let cell = Region::polygon(&[
            DVec2::new(x, low + 0.5),
            DVec2::new(x + wide - 1.0, low + 0.5),
            DVec2::new(x + wide - 1.0, high - 0.5),
            DVec2::new(x, high - 0.5),
        ]);
        sheet.region(Layer::Frame, LineKind::Narrow, &cell);
    }
    let at = DVec2::new(boxes + 2.0 * BOX + 1.5, middle);
    sheet.text(Layer::Notes, at, TEXT, Anchor::Start, key);
    column.space(height);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::overlaps::overlaps;
    use crate::paper::place::extent;
    use crate::paper::{Item, Text};

    fn texts(sheet: &Sheet) -> Vec<&Text> {
        let items = sheet.items.iter();
        items
            .filter_map(|item| match item {
                Item::Text(text) => Some(text),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn the_table_has_the_letters_names_and_keys_in_measuring_order() {
        let sheet = measuring_card(Paper::A4);
        let of_keys = texts(&sheet).into_iter().filter(|text| {
            let parts = text.text.split_once('.');
            parts.is_some_and(|(_, name)| !name.is_empty() && !text.text.contains(' '))
        });
        let keys: Vec<&str> = of_keys.map(|text| text.text.as_str()).collect();
        let wanted: Vec<&str> = measured::ALL.iter().map(|item| item.key).collect();
        assert_eq!(keys, wanted);
        for item in measured::ALL {
            // The row that carries the name carries the letter, left of it.
            let texts = texts(&sheet);
            let name = texts.iter().find(|text| text.text == item.name).unwrap();
            let letter = texts
                .iter()
                .find(|text| {
                    (text.at.x - MARGIN - 1.0).abs() < 1e-9 && (text.at.y - name.at.y).abs() < 1.0
                })
                .unwrap();
            assert_eq!(letter.text, item.letter.to_string(), "{}", item.name);
        }
    }

    #[test]
    fn every_letter_is_on_a_drawing_too() {
        let sheet = measuring_card(Paper::A4);
        let band = sheet.height - MARGIN - 8.0 - DRAWINGS;
        let drawn: Vec<&str> = texts(&sheet)
            .into_iter()
            .filter(|text| text.at.y > band)
            .map(|text| text.text.as_str())
            .collect();
        for item in measured::ALL {
            let letter = item.letter.to_string();
            assert!(
                drawn.contains(&letter.as_str()),
                "{letter} is on no drawing"
            );
        }
        assert!(drawn.contains(&"d, between"));
    }

    #[test]
    fn the_second_reading_has_boxes_of_its_own_right_under_d() {
        let sheet = measuring_card(Paper::A4);
        let names: Vec<&str> = texts(&sheet)
            .into_iter()
            .filter(|text| (text.at.x - MARGIN - LETTER).abs() < 1e-9 && text.height == TEXT)
            .map(|text| text.text.as_str())
            .collect();
        let d = names
            .iter()
            .position(|name| *name == "Over the outer barrels");
        let after = &names[d.unwrap() + 1..d.unwrap() + 4];
        let wanted = ["Between the outer barrels", "(D + d) / 2", "(D − d) / 2"];
        assert_eq!(after, wanted);
        let boxes = sheet.items.iter().filter(
            |item| matches!(item, Item::Path(path) if path.layer == Layer::Frame && path.closed),
        );
        // Two for each number and check, one for the angle.
        let rows = measured::ALL.len() + SECOND_READING.len();
        assert_eq!(boxes.count(), 2 * rows - 1);
    }

    #[test]
    fn all_stays_on_the_paper_and_no_two_texts_meet() {
        for paper in [Paper::A4, Paper::Letter] {
            let sheet = measuring_card(paper);
            let all = extent(&sheet).unwrap();
            let (width, height) = paper.sides();
            assert!(all.min.x >= 5.0 && all.min.y >= 5.0, "{:?}", all.min);
            assert!(all.max.x <= width - 5.0 && all.max.y <= height - 5.0);
            assert_eq!(overlaps(&sheet, 0.1), [""; 0], "{paper:?}");
        }
    }
}
