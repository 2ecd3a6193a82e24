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
    /// What an earlier run left in a folder cannot be told.
    #[error(
        "nothing was written: the files that are in {} already cannot be listed: {}",
        folder.display(),
        unlisted_words(source)
    )]
    Unlisted {
        /// The folder.
        folder: PathBuf,
        /// The system's reason.
        source: std::io::Error,
    },
    /// A file could not be written or put in its place.
    #[error("nothing was written: cannot write {}: {}", file.display(), reason(source))]
    File {
        /// The file.
        file: PathBuf,
        /// The system's reason.
        source: std::io::Error,
    },
    /// The same, half-way, and the way back failed as well. The only case in which something changes.
    #[error(
        "cannot write {}: {}; and not everything could be put back. In {} these are of the new run or \
         missing: {}. What the earlier run had there, and its report, lies below {}: move it back from \
         there, or make the design again, then remove that folder",
        file.display(), reason(source), folder.display(), lost.join(", "), kept.display()
    )]
    Mixed {
        /// The file.
        file: PathBuf,
        /// The system's reason.
        source: std::io::Error,
        /// The output folder.
        folder: PathBuf,
        /// Names below it, of files that are not as they were.
        lost: Vec<String>,
        /// Where the old ones lie.
        kept: PathBuf,
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

    /// Whether another folder would do: the place asked for is wrong, not the disk.
    #[must_use]
    pub fn blames_the_place(&self) -> bool {
        match self {
            OutputError::File { source, .. } => is_of_the_place(source),
            OutputError::Mixed { .. } => false,
            _ => true,
        }
    }

    /// What happened, without the promise that nothing was written, for whoever wrote other folders before.
    #[must_use]
    pub fn why(&self) -> String {
        let all = self.to_string();
        match all.strip_prefix("nothing was written: ") {
            Some(why) => why.to_owned(),
            None => all,
        }
    }

    /// Whether files of an earlier run are as they were.
    #[must_use]
    pub fn left_all_as_it_was(&self) -> bool {
        !matches!(self, OutputError::Mixed { .. })
    }
}

/// Whether the system refuses the place itself, so that another would do; a disk that is full or
/// fails is another matter.
#[must_use]
pub fn is_of_the_place(source: &std::io::Error) -> bool {
    matches!(
        source.kind(),
        ErrorKind::PermissionDenied
            | ErrorKind::ReadOnlyFilesystem
            | ErrorKind::NotADirectory
            | ErrorKind::IsADirectory
            | ErrorKind::AlreadyExists
            | ErrorKind::InvalidFilename
    )
}

/// The system's reason, in plain words where it is one that a maker meets.
#[must_use]
pub fn reason(source: &std::io::Error) -> String {
    let words = match source.kind() {
        ErrorKind::PermissionDenied => "you may not write there",
        ErrorKind::ReadOnlyFilesystem => "nothing can be written on that disk",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your share of the disk is full",
        ErrorKind::FileTooLarge => "the system allows no file of that size",
        ErrorKind::NotADirectory => "a file or a link stands where a folder is to be",
        ErrorKind::IsADirectory => "a folder stands in its place",
        ErrorKind::InvalidFilename => "its name is too long, or not allowed by the system",
        _ => return source.to_string(),
    };
    words.to_owned()
}

fn unlisted_words(source: &std::io::Error) -> String {
    match source.kind() {
        ErrorKind::PermissionDenied => "you may not read that folder; give yourself leave, or \
             choose another folder with --out"
            .to_owned(),
        _ => reason(source),
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
