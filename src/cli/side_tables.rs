//! Tables of the two sides: bores and plates, one set of rows where both sides read alike.

use crate::input::Side;
use crate::layout::{BoreEnd, Layout, SideLayout};
use crate::units;

use super::style::{Lengths, number};
use super::table::{Lean, Table};
use super::verdicts;

/// A length in a cell: millimetres, and inches beside them where wanted.
fn cell(mm: f64, lengths: Lengths) -> String {
    if lengths.inches {
        let inches = units::show_inches(mm);
        format!("{} ({})", number(mm), inches.trim_end_matches(" in"))
    } else {
        number(mm)
    }
}

/// Rows of both sides; one set marked "both" where the two read alike.
fn both_or_each(
    layout: &Layout,
    rows: impl Fn(&SideLayout) -> Vec<Vec<String>>,
) -> Vec<Vec<String>> {
    let named = |name: &str, rows: Vec<Vec<String>>| {
        let name = name.to_owned();
        rows.into_iter().map(move |mut row| {
            row.insert(0, name.clone());
            row
        })
    };
    let (treble, bass) = (rows(&layout.sides.treble), rows(&layout.sides.bass));
    if treble == bass {
        named("both", treble).collect()
    } else {
        named(Side::Treble.name(), treble)
            .chain(named(Side::Bass.name(), bass))
            .collect()
    }
}

/// The bores: where, how deep, how they end and meet their slots.
pub fn bores(layout: &Layout, lengths: Lengths) -> String {
    let barrel = layout.design.machines.barrel_length;
    let mut table = Table::new(&[
        ("side", Lean::Left),
        ("no.", Lean::Right),
        ("along side", Lean::Right),
        ("from last", Lean::Right),
        ("across at y", Lean::Right),
        ("D", Lean::Right),
        ("ends", Lean::Left),
        ("slot", Lean::Right),
        ("in rib", Lean::Right),
    ]);
    let rows = |side: &SideLayout| {
        let mut before = None;
        side.bores
            .iter()
            .map(|bore| {
                let gap = before.replace(bore.s).map(|last: f64| bore.s - last);
                let slot = bore.slot;
                vec![
                    bore.number.to_string(),
                    cell(bore.s, lengths),
                    gap.map_or(String::new(), |gap| cell(gap, lengths)),
                    cell(bore.squares_across_at(), lengths),
                    cell(bore.depth, lengths),
                    bore.end.name().to_owned(),
                    slot.map_or(String::new(), |slot| {
                        format!("{:.1}-{:.1}", slot.outer, slot.inner)
                    }),
                    slot.map_or(String::new(), |slot| number(barrel - slot.inner)),
                ]
            })
            .collect()
    };
    for row in both_or_each(layout, rows) {
        table.row(row);
    }
    let mut out = table.draw();
    let mut notes =
        "mm. Along side: from the nut line. Across at y: where it squares across to the \
                     centre line. D: depth of the full diameter, from the side."
            .to_owned();
    if layout.design.slots.is_some() {
        notes.push_str(
            " Slot: depth at its two walls. In rib: how far the barrel reaches past the inner one.",
        );
    }
    if layout.bores().any(|bore| bore.end == BoreEnd::Opens) {
        notes.push_str(" Opens: into the bore opposite.");
    }
    out.push_str(&verdicts::note(&notes));
    out.push('\n');
    out
}

/// The plates and the wood around them.
pub fn plates(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(&[
        ("plate", Lean::Left),
        ("begins at", Lean::Right),
        ("ends at", Lean::Right),
        ("side before", Lean::Right),
        ("side after", Lean::Right),
        ("edge to face", Lean::Right),
        ("to back", Lean::Right),
    ]);
    let rows = |side: &SideLayout| {
        let plate = &side.plate;
        let back = plate.to_back.iter().copied().fold(f64::INFINITY, f64::min);
        let figures = [
            plate.start_s,
            plate.end_s,
            plate.to_side_start,
            plate.to_side_end,
            plate.to_face,
            back,
        ];
        vec![figures.iter().map(|&mm| cell(mm, lengths)).collect()]
    };
    for row in both_or_each(layout, rows) {
        table.row(row);
    }
    table.draw()
}
