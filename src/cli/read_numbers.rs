//! Reading a file for the sake of its numbers, as `room` and `vary` do.

use std::path::Path;

use crate::diagnostic::Diagnostic;
use crate::input::Numbers;
use crate::pipeline::Failure;

use super::{Said, Status, failure_text, json};

/// Reads a file with its numbers, and finds what shows only in its layout.
pub fn read(path: &Path) -> Result<Numbers, Failure> {
    let numbers = Numbers::read(path).map_err(Failure::Input)?;
    match crate::study::trial::copies(Ok(numbers.design().clone())) {
        Ok(_) => Ok(numbers),
        Err(refusal) => {
            let file = Some(path.to_path_buf());
            let mut found = Diagnostic::whole(file, refusal.message, None);
            found.key = refusal.key;
            Err(Failure::Input(vec![found]))
        }
    }
}

/// A file that could not be read.
pub fn refused(path: &Path, failure: &Failure, as_json: bool) -> Said {
    let mut said = Said::done("");
    said.status = Status::Wrong;
    if as_json {
        said.out = json::text(&json::failed(path, failure));
    } else {
        said.err = failure_text(path, failure);
    }
    said
}
