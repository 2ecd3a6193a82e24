//! Writing a file that must not be there yet.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write as _};
use std::path::Path;

/// Writes a file that must not exist; whoever else makes it first keeps theirs.
pub fn write_new(file: &Path, bytes: &[u8]) -> Result<(), String> {
    let shown = file.display();
    let mut opened = match OpenOptions::new().write(true).create_new(true).open(file) {
        Ok(opened) => opened,
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            return Err(format!(
                "{shown} is there already and is never written over; choose another name"
            ));
        }
        Err(error) => return Err(format!("{shown} cannot be written: {error}")),
    };
    opened
        .write_all(bytes)
        .and_then(|()| opened.sync_all())
        .map_err(|error| {
            // A file cut short would only mislead; ours was new, so it may go.
            let _ = std::fs::remove_file(file);
            format!("{shown} cannot be written: {error}")
        })
}
