//! What keeps files from being written, in words a person can act on.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// What kept the files from being written.
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    /// The folder cannot be made or written into.
    #[error("nothing was written: {}", folder_words(folder, source))]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// The system's reason.
        source: std::io::Error,
    },
    /// Something stands where a file or a folder is to go.
    #[error(
        "nothing was written: {} is {what}; move it away, or choose another folder with --out",
        place.display()
    )]
    InTheWay {
        /// Where it stands.
        place: PathBuf,
        /// What it is, and what is to go there.
        what: &'static str,
    },
    /// Another program keeps the folder to itself.
    #[error(
        "nothing was written: another program is working in {}; try again when it has ended",
        folder.display()
    )]
    Busy {
        /// The folder.
        folder: PathBuf,
    },
    /// A file could not be written or put in its place.
    #[error("cannot write {}: {}", file.display(), reason(source))]
    File {
        /// The file.
        file: PathBuf,
        /// The system's reason.
        source: std::io::Error,
    },
}

impl OutputError {
    pub(super) fn folder(folder: &Path, source: std::io::Error) -> OutputError {
        OutputError::Folder {
            folder: folder.to_path_buf(),
            source,
        }
    }

    pub(super) fn file(file: &Path, source: std::io::Error) -> OutputError {
        OutputError::File {
            file: file.to_path_buf(),
            source,
        }
    }

    /// Whether another folder would do: the place asked for is wrong, not the program or the disk.
    #[must_use]
    pub fn blames_the_place(&self) -> bool {
        !matches!(self, OutputError::File { .. })
    }
}

/// The system's reason, in plain words where it is one that a maker meets.
#[must_use]
pub fn reason(source: &std::io::Error) -> String {
    match source.kind() {
        ErrorKind::PermissionDenied => "you may not write there".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "nothing can be written on that disk".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "your share of the disk is full".to_owned(),
        ErrorKind::FileTooLarge => "the system allows no file of that size".to_owned(),
        _ => source.to_string(),
    }
}

/// What keeps a folder from being made or written into, and what to do.
fn folder_words(folder: &Path, source: &std::io::Error) -> String {
    let shown = folder.display();
    // Relative paths end in an empty one, which is the current folder.
    let file = folder.ancestors().find(|path| path.is_file());
    let lost = folder
        .ancestors()
        .find(|path| path.is_symlink() && !path.exists());
    let why = match (file, lost) {
        (Some(file), _) if file == folder => "a file of that name is there already".to_owned(),
        (Some(file), _) => format!("{} is a file, not a folder", file.display()),
        (_, Some(link)) => format!("{} is a link that leads nowhere", link.display()),
        _ if source.kind() == ErrorKind::NotFound => "no folder can be made there".to_owned(),
        _ => reason(source),
    };
    format!("the folder {shown} cannot be used: {why}; choose another with --out")
}
