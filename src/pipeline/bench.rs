//! `bench/`: papers for the maker.

use super::together::{Task, task};
use super::{Failure, NamedFile, Work, internal};
use crate::paper::Sheet;
use crate::paper::marking::{MarkingOptions, marking_sheets, marking_whole};
use crate::paper::rescue::rescue_sheets;
use crate::paper::rig::rig_sheets;
use crate::paper::setup::setup_sheets;
use crate::write::pdf::pdf;
use crate::write::svg::svg;

/// A task for each paper.
pub(super) fn tasks<'a>(work: &'a Work<'a>) -> Vec<Task<'a>> {
    let (layout, report, paper) = (work.layout, work.report, work.wanted.paper);
    vec![
        task(move || {
            let bar = work.wanted.bar;
            let sheets = marking_sheets(layout, report, &MarkingOptions { paper, bar });
            printed("bench/marking-sheet.pdf", &sheets)
        }),
        task(move || {
            let whole = svg(&marking_whole(layout, report)).into_bytes();
            Ok(vec![("bench/marking-sheet.svg".to_owned(), whole)])
        }),
        task(move || {
            let sheets = setup_sheets(layout, report, work.sheet_options(paper));
            printed("bench/setup-sheet.pdf", &sheets)
        }),
        task(move || {
            where_any(
                "bench/rig.pdf",
                &rig_sheets(layout, work.sheet_options(paper)),
            )
        }),
        task(move || {
            let sheets = rescue_sheets(layout, work.sheet_options(paper));
            where_any("bench/rescue-sheet.pdf", &sheets)
        }),
    ]
}

/// Sheets as one PDF.
pub(super) fn printed(name: &str, sheets: &[Sheet]) -> Result<Vec<NamedFile>, Failure> {
    let bytes = pdf(sheets).map_err(|error| internal(&error))?;
    Ok(vec![(name.to_owned(), bytes)])
}

/// A paper that only some designs need.
fn where_any(name: &str, sheets: &[Sheet]) -> Result<Vec<NamedFile>, Failure> {
    if sheets.is_empty() {
        return Ok(Vec::new());
    }
    printed(name, sheets)
}
