//! Putting files into their folder: everything is written whole beside it first, then renamed
//! into place, so that no reader ever sees half a file.

use std::fs::{self, File};
use std::io::{ErrorKind, Write};
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
    /// A file could not be written or renamed.
    #[error("cannot write {}: {source}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// The system's reason.
        source: std::io::Error,
    },
}

/// What keeps a folder from being made or written into, and what to do.
fn folder_words(folder: &Path, source: &std::io::Error) -> String {
    let shown = folder.display();
    // Relative paths end in an empty one, which is the current folder.
    let file = folder.ancestors().find(|path| path.is_file());
    let why = match file {
        Some(file) if file == folder => "a file of that name is there already".to_owned(),
        Some(file) => format!("{} is a file, not a folder", file.display()),
        None => match source.kind() {
            ErrorKind::PermissionDenied => "you may not write there".to_owned(),
            ErrorKind::ReadOnlyFilesystem => "nothing can be written on that disk".to_owned(),
            ErrorKind::StorageFull => "the disk is full".to_owned(),
            ErrorKind::NotFound => "no folder can be made there".to_owned(),
            _ => source.to_string(),
        },
    };
    format!("the folder {shown} cannot be used: {why}; choose another with --out")
}

/// Writes `files` (name and content, names relative to `folder`) and removes those files of an
/// earlier run that `ours` recognises and this run did not write. Returns the paths written.
///
/// # Errors
/// [`OutputError`]; files are renamed only once all of them are written whole.
pub fn replace(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: impl Fn(&str) -> bool,
) -> Result<Vec<PathBuf>, OutputError> {
    let in_folder = |source| OutputError::Folder {
        folder: folder.to_path_buf(),
        source,
    };
    let existed = folder.exists();
    fs::create_dir_all(folder).map_err(in_folder)?;
    // Two runs into one folder take turns, or one might remove what the other just wrote. Where the
    // system cannot lock a folder they go on as they are.
    let turn = File::open(folder).ok().filter(|held| held.lock().is_ok());
    let result = write_and_rename(folder, files);
    if result.is_err() && !existed {
        // Leave no empty folder behind; the error that matters is the first.
        let _ = fs::remove_dir(folder);
    }
    let written = result?;
    remove_stale(folder, "", files, &ours)?;
    drop(turn);
    Ok(written)
}

/// Removes our own files of an earlier run from `folder`/`below`, and from the folders in it.
fn remove_stale(
    folder: &Path,
    below: &str,
    files: &[(String, Vec<u8>)],
    ours: &impl Fn(&str) -> bool,
) -> Result<(), OutputError> {
    let here = folder.join(below);
    let entries = fs::read_dir(&here).map_err(|source| OutputError::Folder {
        folder: here.clone(),
        source,
    })?;
    for entry in entries.flatten() {
        let own = entry.file_name();
        let (Some(own), Ok(kind)) = (own.to_str(), entry.file_type()) else {
            continue;
        };
        let name = format!("{below}{own}");
        if kind.is_dir() {
            // One level: that is all we ever make.
            if below.is_empty()
                && files
                    .iter()
                    .any(|(file, _)| file.starts_with(&format!("{name}/")))
            {
                remove_stale(folder, &format!("{name}/"), files, ours)?;
            }
        } else if ours(&name) && !files.iter().any(|(file, _)| *file == name) {
            let file = entry.path();
            fs::remove_file(&file).map_err(|source| OutputError::File { file, source })?;
        }
    }
    Ok(())
}

fn write_and_rename(
    folder: &Path,
    files: &[(String, Vec<u8>)],
) -> Result<Vec<PathBuf>, OutputError> {
    // Inside the folder itself, so that every rename stays on one file system. It is removed
    // with whatever is left in it when it goes out of scope.
    let staging = tempfile::Builder::new()
        .prefix(".writing-")
        .tempdir_in(folder)
        .map_err(|source| OutputError::Folder {
            folder: folder.to_path_buf(),
            source,
        })?;
    let fault = |file: &Path| {
        let file = file.to_path_buf();
        move |source| OutputError::File { file, source }
    };
    let mut moves = Vec::with_capacity(files.len());
    for (name, bytes) in files {
        let (staged, target) = (staging.path().join(name), folder.join(name));
        for place in [&staged, &target] {
            if let Some(parent) = place.parent() {
                fs::create_dir_all(parent).map_err(fault(place))?;
            }
        }
        File::create(&staged)
            .and_then(|mut file| file.write_all(bytes))
            .map_err(fault(&target))?;
        moves.push((staged, target));
    }
    for (staged, target) in &moves {
        fs::rename(staged, target).map_err(fault(target))?;
    }
    Ok(moves.into_iter().map(|(_, target)| target).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stale_files_of_ours_go_and_others_stay() {
        let out = tempfile::tempdir().unwrap();
        let folder = out.path().join("sub/design");
        let ours = |name: &str| name.starts_with("head");
        replace(
            &folder,
            &[("head.a".into(), b"1".to_vec()), ("head.b".into(), vec![])],
            ours,
        )
        .unwrap();
        fs::write(folder.join("notes.txt"), "mine").unwrap();
        let written = replace(&folder, &[("head.a".into(), b"2".to_vec())], ours).unwrap();
        assert_eq!(written, [folder.join("head.a")]);
        let mut names: Vec<_> = fs::read_dir(&folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        assert_eq!(names, ["head.a", "notes.txt"]);
        assert_eq!(fs::read(folder.join("head.a")).unwrap(), b"2");
    }

    #[test]
    fn a_folder_that_is_a_file_is_refused() {
        let out = tempfile::tempdir().unwrap();
        let folder = out.path().join("taken");
        fs::write(&folder, "file").unwrap();
        let error = replace(&folder, &[("a".into(), vec![])], |_| true).unwrap_err();
        assert!(matches!(error, OutputError::Folder { .. }));
        let said = error.to_string();
        assert!(
            said.contains("a file of that name is there already"),
            "{said}"
        );
        assert!(said.ends_with("choose another with --out"), "{said}");
        let below = replace(&folder.join("sub"), &[("a".into(), vec![])], |_| true).unwrap_err();
        let said = below.to_string();
        assert!(said.contains("taken is a file, not a folder"), "{said}");
        assert_eq!(fs::read(&folder).unwrap(), b"file");
    }
}
