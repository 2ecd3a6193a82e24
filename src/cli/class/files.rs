//! Which files of a folder are heads.

use std::fs::DirEntry;
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

/// What in the folder itself ends in .toml, by name. What cannot be read is among it, so that no head is
/// missing from the class without a word: a link that leads nowhere, say.
///
/// # Errors
/// Why the folder cannot be listed, and what to name instead.
pub(super) fn files(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let listed = std::fs::read_dir(folder)
        .and_then(Iterator::collect::<Result<Vec<DirEntry>, Error>>)
        .map_err(|error| {
            let why = match error.kind() {
                ErrorKind::NotFound => "is not there".to_owned(),
                ErrorKind::NotADirectory => "is a file, not a folder".to_owned(),
                ErrorKind::PermissionDenied => "may not be read by you".to_owned(),
                _ => format!("cannot be read: {error}"),
            };
            format!(
                "{} {why}; name a folder with one file a head",
                folder.display()
            )
        })?;
    let mut files: Vec<PathBuf> = listed
        .iter()
        .map(DirEntry::path)
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .filter(|path| path.is_file() || !(path.is_dir() || is_hidden(path)))
        .collect();
    files.sort();
    Ok(files)
}

/// Editors mark a file that is open by a hidden link beside it that leads nowhere: that is no head.
fn is_hidden(path: &Path) -> bool {
    path.file_name()
        .is_some_and(|name| name.to_string_lossy().starts_with('.'))
}
