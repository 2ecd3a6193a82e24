//! `bench/`: papers for the maker.

use super::{Failure, NamedFile, Work, internal};
use crate::paper::marking::{MarkingOptions, marking_sheets, marking_whole};
use crate::paper::rescue::rescue_sheets;
use crate::paper::rig::rig_sheets;
use crate::paper::setup::setup_sheets;
use crate::write::pdf::pdf;
use crate::write::svg::svg;

pub(super) fn files(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let (layout, report) = (work.layout, work.report);
    let options = MarkingOptions {
        paper: work.wanted.paper,
        bar: work.wanted.bar,
    };
    let marking = marking_sheets(layout, report, &options);
    let setup = setup_sheets(layout, report, work.sheet_options(work.wanted.paper));
    let to_pdf = |sheets: &[_]| pdf(sheets).map_err(|error| internal(&error));
    let rig = rig_sheets(layout, work.sheet_options(work.wanted.paper));
    let mut files = vec![
        ("bench/marking-sheet.pdf".to_owned(), to_pdf(&marking)?),
        (
            "bench/marking-sheet.svg".to_owned(),
            svg(&marking_whole(layout, report)).into_bytes(),
        ),
        ("bench/setup-sheet.pdf".to_owned(), to_pdf(&setup)?),
    ];
    if !rig.is_empty() {
        files.push(("bench/rig.pdf".to_owned(), to_pdf(&rig)?));
    }
    let rescue = rescue_sheets(layout, work.sheet_options(work.wanted.paper));
    if !rescue.is_empty() {
        files.push(("bench/rescue-sheet.pdf".to_owned(), to_pdf(&rescue)?));
    }
    Ok(files)
}
