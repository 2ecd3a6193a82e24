//! Tables beside the side views: every bore, and pilots that lie off the bores' axis.

use super::figure::Figures;
use super::sides::letter;
use crate::layout::{BoreEnd, Layout};
use crate::paper::table::{Lean, Table};
use crate::tolerance::MERGE;

/// Every bore in figures; places that follow from the views stand in brackets.
pub(super) fn bore_table(layout: &Layout, figures: Figures) -> Table {
    let mut table = Table::new(
        2.5,
        &[
            ("Bore", Lean::Left),
            ("(along side)", Lean::Right),
            ("(x)", Lean::Right),
            ("(y)", Lean::Right),
            ("D", Lean::Right),
            ("model ends", Lean::Left),
        ],
    );
    for bore in layout.bores() {
        let ends = match bore.end {
            BoreEnd::Blind => "blind",
            BoreEnd::Opens => "at the centre, open",
            BoreEnd::Web => "at the centre, web kept",
        };
        table.row([
            format!("{}{}", letter(bore.side), bore.number),
            figures.cell(bore.s),
            figures.cell(bore.entry.x),
            figures.cell(bore.entry.y),
            figures.cell(bore.depth),
            ends.to_owned(),
        ]);
    }
    table
}

/// Pilots off the bores' axis: their places below the face. `None` where all are on it.
pub(super) fn pilot_table(layout: &Layout, figures: Figures) -> Option<Table> {
    let all = || layout.each_side().flat_map(|side| &side.pilots);
    all().find(|pilot| (pilot.entry.z + layout.axis_below_face).abs() > MERGE)?;
    let mut table = Table::new(
        2.5,
        &[
            ("Pilot", Lean::Left),
            ("(along side)", Lean::Right),
            ("below face", Lean::Right),
        ],
    );
    for pilot in all() {
        table.row([
            format!("{} {}", letter(pilot.side), pilot.number),
            figures.cell(pilot.s),
            figures.cell(-pilot.entry.z),
        ]);
    }
    Some(table)
}
