//! `print/`: files for the printer.

use super::{Failure, NamedFile, Work};

pub(super) fn files(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let _ = work;
    Ok(Vec::new())
}
