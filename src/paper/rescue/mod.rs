//! The rescue sheet: one page a side for the bench on a head whose bores are not where the design has them.
//! What is found, to scale, and what to do about it.

mod side_view;
#[cfg(test)]
mod tests;

use glam::DVec2;

use super::heading;
use super::measure::text_width;
use super::prose::Column;
use super::setup::PEOPLE;
use super::table::{Lean, Table};
use super::{Anchor, Layer, Sheet, SheetOptions, Weight};
use crate::layout::Layout;
use crate::study::drilled::words::{off, said};
use crate::study::drilled::{Plug, Remedy, Rescue, rescues, steps};
use crate::units::{Lengths, show_degrees, show_inches, show_mm};

/// Margin of the paper, mm.
const MARGIN: f64 = 11.0;
/// Heights of running text that are tried, largest first, in tenths of a millimetre.
const HEIGHTS: std::ops::RangeInclusive<u8> = 16..=32;

/// A page for each side that the file has records of, its text as large as the page allows.
#[must_use]
pub fn rescue_sheets(layout: &Layout, options: SheetOptions) -> Vec<Sheet> {
    let found = rescues(layout);
    found
        .iter()
        .map(|rescue| largest(layout, rescue, options))
        .collect()
}

fn largest(layout: &Layout, rescue: &Rescue, options: SheetOptions) -> Sheet {
    let mut tenths = *HEIGHTS.end();
    loop {
        let (sheet, column) = page(layout, rescue, options, f64::from(tenths) / 10.0);
        if column.top >= MARGIN || tenths <= *HEIGHTS.start() {
            return sheet;
        }
        tenths -= 1;
    }
}

fn page(layout: &Layout, rescue: &Rescue, options: SheetOptions, height: f64) -> (Sheet, Column) {
    let (width, tall) = options.paper.sides();
    let title = &layout.design.title;
    let side = rescue.side.name();
    let mut sheet = Sheet::new(format!("Rescue sheet: {title}, {side} side"), width, tall);
    let mut column = Column {
        left: MARGIN,
        width: width - 2.0 * MARGIN,
        top: tall - MARGIN,
        height,
    };
    let kind = format!(": {side} bores as they are");
    let heading = heading::fitted("", title, &kind, column.width);
    let at = DVec2::new(column.left, column.top - heading::HEIGHT);
    sheet.strong(Layer::Notes, at, heading::HEIGHT, Anchor::Start, heading);
    column.space(9.0);
    one_side(&mut sheet, &mut column, layout, rescue, options.lengths);
    column.heading(&mut sheet, "Before you switch on");
    let dash = text_width("– ", height, Weight::Strong);
    for line in PEOPLE {
        column.hung(&mut sheet, "–", dash, line);
    }
    (sheet, column)
}

fn one_side(
    sheet: &mut Sheet,
    column: &mut Column,
    layout: &Layout,
    rescue: &Rescue,
    lengths: Lengths,
) {
    let what = match rescue.remedy {
        Remedy::Nothing => "goes in as it is",
        Remedy::Ream => "ream",
        Remedy::Plug => "plug and drill anew",
        Remedy::Neither => "neither reaming nor plugs will do",
    };
    let name = rescue.side.name();
    column.heading(sheet, &format!("The {name} side: {what}"));
    column.space(1.0);
    side_view::draw(sheet, column, layout, rescue);
    let table = table(rescue, lengths, column);
    let corner = DVec2::new(column.left, column.top);
    let size = table.draw(sheet, Layer::Notes, corner);
    column.space(size.y + 2.5);
    let said = said(rescue, lengths);
    let widest = said
        .iter()
        .map(|(word, _)| text_width(word, column.height, Weight::Strong))
        .fold(0.0, f64::max);
    let indent = widest + text_width("00", column.height, Weight::Strong);
    // What to do stands first on a paper for the bench.
    let (last, rest) = said
        .split_last()
        .map_or((None, &said[..]), |(l, r)| (Some(l), r));
    for (word, text) in last.into_iter().chain(rest) {
        column.hung(sheet, word, indent, text);
    }
    column.space(1.5);
    column.heading(sheet, "Steps");
    column.steps(sheet, 1, &steps(layout, rescue, lengths));
    column.space(1.5);
}

/// The bores in figures, as large as the width allows; inches on a line of their own under each bore's,
/// for beside them they would leave no size to read.
fn table(rescue: &Rescue, lengths: Lengths, column: &Column) -> Table {
    let mut height = column.height.min(2.6);
    loop {
        let made = table_of(rescue, lengths, height);
        if made.size().x <= column.width || height < 1.5 {
            return made;
        }
        height -= 0.1;
    }
}

fn table_of(rescue: &Rescue, lengths: Lengths, height: f64) -> Table {
    let mut table = Table::new(
        height,
        &[
            ("Bore", Lean::Right),
            ("As it is", Lean::Right),
            ("From nut line", Lean::Right),
            ("Off, + to crest", Lean::Right),
            ("Off, + to face", Lean::Right),
            ("Leans along, across", Lean::Right),
            ("Becomes", Lean::Left),
        ],
    )
    .strong(6);
    for bore in &rescue.bores {
        let off = off(bore);
        let row = |first: String, lean: String, becomes: String, show: fn(f64) -> String| {
            let diameter = format!("Ø {}", show(bore.diameter));
            let places = [bore.centre.x, off.x, off.y].map(show);
            let figures = [first, diameter].into_iter().chain(places);
            figures.chain([lean, becomes]).collect::<Vec<_>>()
        };
        let lean = [bore.slope.x, bore.slope.y].map(|slope| show_degrees(slope.atan()));
        table.row(row(
            bore.number.to_string(),
            lean.join(", "),
            becomes(rescue, bore.number),
            show_mm,
        ));
        if lengths.inches {
            let new = new_bore(rescue, bore.number);
            let new = new.map_or_else(String::new, |plug| place_words(plug, show_inches));
            table.row(row(String::new(), String::new(), new, show_inches));
        }
    }
    table
}

/// The plug of a bore that is drilled anew.
fn new_bore(rescue: &Rescue, number: usize) -> Option<&Plug> {
    let mut plugs = rescue.plugs.iter();
    let plug = plugs.find(|plug| plug.old.number == number);
    plug.filter(|_| rescue.remedy == Remedy::Plug)
}

/// `new Ø 10.50 mm at 92.01 mm`.
fn place_words(plug: &Plug, show: fn(f64) -> String) -> String {
    format!("new Ø {} at {}", show(plug.new_diameter), show(plug.new.x))
}

fn becomes(rescue: &Rescue, number: usize) -> String {
    if let Some(plug) = new_bore(rescue, number) {
        return format!("plug {}, {}", plug.size.name, place_words(plug, show_mm));
    }
    let plug = rescue.plugs.iter().find(|plug| plug.old.number == number);
    match (rescue.remedy, &rescue.reaming, plug) {
        (Remedy::Ream, Some(reaming), _) if reaming.numbers.contains(&number) => {
            format!("reamed, bit {}", reaming.bit.name)
        }
        (Remedy::Neither, _, Some(_)) => "may not stay".to_owned(),
        _ => "stays".to_owned(),
    }
}
