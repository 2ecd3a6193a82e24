//! Writing a file that must not be there yet.

use std::fs::{self, Permissions};
use std::io::{ErrorKind, Write as _};
use std::path::Path;

use crate::write::output::reason;

/// Why a new file was not written, in words.
#[derive(Debug, PartialEq, Eq)]
pub enum NotWritten {
    /// Another name or folder would do.
    ThePlace(String),
    /// The disk took the file's beginning only, or would not put it in its place.
    TheDisk(String),
}

/// Writes a file that must not exist; whoever else makes it first keeps theirs. It is written whole
/// under another name beside its place first, so that a kill leaves no half of it under its own.
pub fn write_new(file: &Path, bytes: &[u8]) -> Result<(), NotWritten> {
    let shown = file.display();
    let cannot = |error: std::io::Error| {
        let why = match error.kind() {
            ErrorKind::NotFound | ErrorKind::NotADirectory => "its folder is not there".to_owned(),
            _ => reason(&error),
        };
        format!("{shown} cannot be written: {why}")
    };
    let there = || {
        NotWritten::ThePlace(format!(
            "{shown} is there already and is never written over; choose another name"
        ))
    };
    if fs::symlink_metadata(file).is_ok() {
        return Err(there());
    }
    let folder = match file.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".barrelhead-writing-");
    if let Some(usual) = usual_permissions() {
        builder.permissions(usual);
    }
    // It goes by itself where anything fails.
    let mut staged = builder
        .tempfile_in(folder)
        .map_err(|error| NotWritten::ThePlace(cannot(error)))?;
    staged
        .write_all(bytes)
        .and_then(|()| staged.as_file().sync_all())
        .map_err(|error| NotWritten::TheDisk(cannot(error)))?;
    match staged.persist_noclobber(file) {
        Ok(_) => Ok(()),
        Err(failed) if failed.error.kind() == ErrorKind::AlreadyExists => Err(there()),
        Err(failed) => Err(NotWritten::TheDisk(cannot(failed.error))),
    }
}

/// What a new file may be used for, less what the person's own settings keep back.
#[cfg(unix)]
fn usual_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt as _;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn usual_permissions() -> Option<Permissions> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The words of a refusal that another name or folder would spare.
    fn the_place(outcome: Result<(), NotWritten>) -> String {
        match outcome {
            Err(NotWritten::ThePlace(words)) => words,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_new_file_is_like_any_other_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let (ours, theirs) = (folder.path().join("ours"), folder.path().join("theirs"));
        write_new(&ours, b"text").unwrap();
        fs::write(&theirs, "text").unwrap();
        let permissions = |file: &Path| fs::metadata(file).unwrap().permissions();
        assert_eq!(permissions(&ours), permissions(&theirs));
        assert!(the_place(write_new(&ours, b"more")).contains("is there already"));
        let lost = the_place(write_new(&folder.path().join("none/x"), b""));
        assert!(
            lost.ends_with("none/x cannot be written: its folder is not there"),
            "{lost}"
        );
        assert_eq!(fs::read(&ours).unwrap(), b"text");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_that_leads_nowhere_is_there_already() {
        let folder = tempfile::tempdir().unwrap();
        let link = folder.path().join("link");
        std::os::unix::fs::symlink(folder.path().join("away"), &link).unwrap();
        assert!(the_place(write_new(&link, b"text")).contains("is there already"));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}
