//! The marking sheet: a true-size pattern of the face and two strips that fold round the sides.
//!
//! The head is drawn at one to one in its own frame, y up from the nut line; [`pages`] then lays
//! the parts out on paper. The only scale is the maker's correction for a printer that does not
//! print true.

mod bars;
mod blocks;
mod face;
mod marks;
mod notes;
mod pages;
mod seams;
mod strip;
#[cfg(test)]
mod tests;

use super::{Paper, Sheet};
use crate::check::Report;
use crate::input::Side;
use crate::layout::Layout;

pub use bars::{BarError, CHECK_BAR, CheckBar};

/// How the sheet is printed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MarkingOptions {
    /// Paper, used upright or lying, whichever takes fewer sheets.
    pub paper: Paper,
    /// What a printed check bar measured, where the printer scales.
    pub bar: Option<CheckBar>,
}

/// The sheets to print, in order; at least one.
#[must_use]
pub fn marking_sheets(layout: &Layout, report: &Report, options: &MarkingOptions) -> Vec<Sheet> {
    pages::on_paper(layout, report, options)
}

/// Everything on one sheet as large as it takes, at one to one.
#[must_use]
pub fn marking_whole(layout: &Layout, report: &Report) -> Sheet {
    pages::whole(layout, report)
}

/// The three parts in the order they lie: bass strip, face, treble strip.
fn parts(layout: &Layout) -> Vec<Sheet> {
    vec![
        strip::strip(layout, Side::Bass),
        face::face(layout),
        strip::strip(layout, Side::Treble),
    ]
}

/// A bore's name on the sheet: T1 next to the nut on the treble side.
pub(super) fn short_name(side: Side, number: usize) -> String {
    let letter = match side {
        Side::Treble => 'T',
        Side::Bass => 'B',
    };
    format!("{letter}{number}")
}
