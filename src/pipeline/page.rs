//! `report.html`.

use super::{NamedFile, Work};
use crate::write::html::{Options, report_html_with_room};

/// The page, with the names of everything written beside it.
pub(super) fn file(work: &Work<'_>, names: &[String]) -> NamedFile {
    let page = report_html_with_room(
        work.layout,
        work.report,
        work.solids,
        names,
        Options::default(),
        work.rooms,
    );
    ("report.html".to_owned(), page.into_bytes())
}
