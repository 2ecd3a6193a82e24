//! Tables of the two sides: bores and plates, one set of rows where both sides read alike.

use crate::input::Side;
use crate::layout::{Bore, BoreEnd, Layout, SideLayout};
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
    let mut columns = vec![
        ("side", Lean::Left),
        ("no.", Lean::Right),
        ("along side", Lean::Right),
        ("from last", Lean::Right),
        ("across at y", Lean::Right),
        ("D", Lean::Right),
        ("ends", Lean::Left),
    ];
    // In two units the slots need a table of their own, or the lines would be too long.
    if !lengths.inches {
        columns.extend(SLOT_COLUMNS);
    }
    let mut table = Table::new(&columns);
    let rows = |side: &SideLayout| {
        let mut before = None;
        side.bores
            .iter()
            .map(|bore| {
                let gap = before.replace(bore.s).map(|last: f64| bore.s - last);
                let mut row = vec![
                    bore.number.to_string(),
                    cell(bore.s, lengths),
                    gap.map_or(String::new(), |gap| cell(gap, lengths)),
                    cell(bore.squares_across_at(), lengths),
                    cell(bore.depth, lengths),
                    bore.end.name().to_owned(),
                ];
                if !lengths.inches {
                    row.extend(in_slot(layout, bore, lengths));
                }
                row
            })
            .collect()
    };
    for row in both_or_each(layout, rows) {
        table.row(row);
    }
    let mut out = table.draw();
    if lengths.inches && layout.design.slots.is_some() {
        out.push_str(&slots(layout, lengths));
    }
    let mut notes = "Along side: from the nut line. Across at y: where it squares across to the \
                     centre line. D: depth of the full diameter, from the side."
        .to_owned();
    if layout.design.slots.is_some() {
        notes.push_str(
            " To slot, to rib: depth at the slot's two walls. In rib: how far the barrel reaches past the inner one.",
        );
    }
    if layout.bores().any(|bore| bore.end == BoreEnd::Opens) {
        notes.push_str(" Opens: into the bore opposite.");
    }
    let unit = if lengths.inches {
        "Millimetres (inches)."
    } else {
        "Millimetres."
    };
    out.push_str(&verdicts::note(&format!("{unit} {notes}")));
    out.push('\n');
    out
}

/// How a bore meets its slot.
const SLOT_COLUMNS: [(&str, Lean); 3] = [
    ("to slot", Lean::Right),
    ("to rib", Lean::Right),
    ("in rib", Lean::Right),
];

/// The cells of [`SLOT_COLUMNS`].
fn in_slot(layout: &Layout, bore: &Bore, lengths: Lengths) -> Vec<String> {
    let barrel = layout.design.machines.barrel_length;
    bore.slot.map_or_else(Vec::new, |slot| {
        [slot.outer, slot.inner, barrel - slot.inner]
            .map(|mm| cell(mm, lengths))
            .into()
    })
}

/// The bores in their slots, in a table of its own.
fn slots(layout: &Layout, lengths: Lengths) -> String {
    let mut columns = vec![("side", Lean::Left), ("no.", Lean::Right)];
    columns.extend(SLOT_COLUMNS);
    let mut table = Table::new(&columns);
    let rows = |side: &SideLayout| {
        let row = |bore: &Bore| {
            let mut row = vec![bore.number.to_string()];
            row.extend(in_slot(layout, bore, lengths));
            row
        };
        side.bores.iter().map(row).collect()
    };
    for row in both_or_each(layout, rows) {
        table.row(row);
    }
    table.draw()
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
