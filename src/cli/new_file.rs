//! Writing a file that must not be there yet.

use std::fs::{self, File, Permissions};
use std::io::{self, ErrorKind, Write as _};
use std::path::Path;

use tempfile::NamedTempFile;

use crate::write::output::{self, OutputError, is_of_the_place, reason};

/// Why a new file was not written, in words.
#[derive(Debug, PartialEq, Eq)]
pub enum NotWritten {
    /// Another name or folder would do.
    ThePlace(String),
    /// The disk took the file's beginning only, or would not put it in its place.
    TheDisk(String),
}

impl NotWritten {
    fn because(file: &Path, error: &io::Error) -> NotWritten {
        let shown = file.display();
        let why = match error.kind() {
            // Another came first, be it with a link that leads nowhere.
            ErrorKind::AlreadyExists => return NotWritten::there(file),
            ErrorKind::NotFound | ErrorKind::NotADirectory => "its folder is not there".to_owned(),
            _ => reason(error),
        };
        let words = format!("{shown} cannot be written: {why}");
        if error.kind() == ErrorKind::NotFound || is_of_the_place(error) {
            NotWritten::ThePlace(words)
        } else {
            NotWritten::TheDisk(words)
        }
    }

    fn there(file: &Path) -> NotWritten {
        NotWritten::ThePlace(format!(
            "{} is there already and is never written over; choose another name",
            file.display()
        ))
    }
}

/// Writes a file that must not exist; whoever else makes it first keeps theirs. It is written whole
/// under another name beside its place first, so that a kill leaves no half of it under its own; what
/// earlier kills left goes.
pub fn write_new(file: &Path, bytes: &[u8]) -> Result<(), NotWritten> {
    write_new_by(file, bytes, |staged| {
        staged.persist_noclobber(file).map(drop).map_err(Into::into)
    })
}

/// The same; `put` gives the whole file its name.
fn write_new_by(
    file: &Path,
    bytes: &[u8],
    put: impl FnOnce(NamedTempFile) -> io::Result<()>,
) -> Result<(), NotWritten> {
    let cannot = |error: io::Error| NotWritten::because(file, &error);
    if fs::symlink_metadata(file).is_ok() {
        return Err(NotWritten::there(file));
    }
    let folder = match file.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let turn = output::turn_in(folder).map_err(|error| match error {
        OutputError::Folder { source, .. } => cannot(source),
        other => NotWritten::ThePlace(other.to_string()),
    })?;
    let mut builder = tempfile::Builder::new();
    builder.prefix(output::PREFIX);
    if let Some(usual) = usual_permissions() {
        builder.permissions(usual);
    }
    // It goes by itself where anything fails.
    let mut staged = builder.tempfile_in(folder).map_err(cannot)?;
    staged
        .write_all(bytes)
        .and_then(|()| staged.as_file().sync_all())
        .map_err(cannot)?;
    match put(staged) {
        Ok(()) => {}
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            return Err(NotWritten::there(file));
        }
        // Some disks have no way to name a file that spares another of that name.
        Err(_) => write_in_place(file, bytes).map_err(cannot)?,
    }
    if turn.is_some() {
        output::sweep(folder);
    }
    Ok(())
}

/// Writes a new file under its own name at once. It goes where that fails; a kill can leave half of it.
fn write_in_place(file: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut made = File::create_new(file)?;
    let written = made.write_all(bytes).and_then(|()| made.sync_all());
    if written.is_err() {
        let _ = fs::remove_file(file);
    }
    written
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

    /// A disk on which no file can be named without the danger of writing over another.
    #[test]
    fn a_disk_that_cannot_spare_another_file_gets_the_file_at_once() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        let refuses = |_| Err(ErrorKind::Unsupported.into());
        write_new_by(&file, b"text", refuses).unwrap();
        assert_eq!(fs::read(&file).unwrap(), b"text");
        assert!(the_place(write_new_by(&file, b"more", refuses)).contains("is there already"));
        // One that another made meanwhile stays as well.
        let late = folder.path().join("late");
        let outcome = write_new_by(&late, b"ours", |_| {
            fs::write(&late, "theirs")?;
            Err(ErrorKind::Unsupported.into())
        });
        assert!(the_place(outcome).contains("is there already"));
        assert_eq!(fs::read(&late).unwrap(), b"theirs");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }

    #[test]
    fn what_a_killed_run_left_goes_with_the_next_that_succeeds() {
        let folder = tempfile::tempdir().unwrap();
        let left = folder.path().join(".barrelhead-writing-aB3dE6");
        let mine = folder.path().join(".barrelhead-writing-of-mine");
        fs::write(&left, "ha").unwrap();
        fs::write(&mine, "mine").unwrap();
        let file = folder.path().join("file");
        write_new(&file, b"text").unwrap();
        assert!(!left.exists() && mine.exists());
        fs::write(&left, "ha").unwrap();
        write_new(&file, b"more").unwrap_err();
        assert!(left.exists());
    }

    /// Another place helps where the system refuses this one, and not where the disk is full.
    #[test]
    fn the_place_and_the_disk() {
        let because = |kind: ErrorKind| NotWritten::because(Path::new("x"), &kind.into());
        for place in [
            ErrorKind::PermissionDenied,
            ErrorKind::ReadOnlyFilesystem,
            ErrorKind::InvalidFilename,
            ErrorKind::NotFound,
        ] {
            assert!(matches!(because(place), NotWritten::ThePlace(_)), "{place}");
        }
        for disk in [ErrorKind::StorageFull, ErrorKind::Other] {
            assert!(matches!(because(disk), NotWritten::TheDisk(_)), "{disk}");
        }
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
