//! The hidden folder in which files are written whole before anything is exchanged.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::{OutputError, standing};

/// Begins the name of everything that is being written; six letters of chance follow.
pub const PREFIX: &str = ".barrelhead-writing-";

/// In it, the new files.
pub(super) const NEW: &str = "new";
/// In it, what they replace, until all is well.
pub(super) const OLD: &str = "old";

/// Removes the hidden folders and files of runs that were killed. Only for whoever holds the folder's
/// lock: no other run can be at work on one of them then. A folder that holds what could not be put
/// back is for the person to look at and stays.
pub fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let chance = name.to_str().and_then(|name| name.strip_prefix(PREFIX));
        let ours = chance
            .is_some_and(|c| c.len() == 6 && c.bytes().all(|byte| byte.is_ascii_alphanumeric()));
        let Ok(kind) = entry.file_type() else {
            continue;
        };
        // What cannot be removed does no harm where it is.
        if ours && kind.is_file() {
            let _ = fs::remove_file(entry.path());
        } else if ours && kind.is_dir() && !is_kept(&entry.path()) {
            discard(&entry.path());
        }
    }
}

/// Marks a hidden folder as one that holds what could not be put back: its new files go, and it has
/// none but old ones. To take away asks less of a failing disk than to add.
pub(super) fn keep(staging: TempDir) -> PathBuf {
    let _ = fs::remove_dir_all(staging.path().join(NEW));
    staging.keep()
}

fn is_kept(staging: &Path) -> bool {
    staging.join(OLD).exists() && !staging.join(NEW).exists()
}

/// Removes a hidden folder, the old files first, so that a kill on the way leaves none that looks kept.
pub(super) fn discard(staging: &Path) {
    let _ = fs::remove_dir_all(staging.join(OLD));
    let _ = fs::remove_dir_all(staging);
}

/// Refuses places where a file or a folder of it cannot go: a folder in the place of a file, and
/// anything but a true folder in the place of a folder, or files would land where a link leads.
pub(super) fn in_the_way(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), OutputError> {
    let refuse = |name: &str, what| {
        Err(OutputError::InTheWay {
            place: folder.join(name),
            what,
        })
    };
    let look = |name: &str| {
        let place = folder.join(name);
        standing(&place).map_err(|source| OutputError::folder(&place, source))
    };
    for (name, _) in files {
        if let Some((below, _)) = name.split_once('/') {
            match look(below)? {
                Some(kind) if kind.is_symlink() => {
                    return refuse(below, "a link, where a folder of our own is to go");
                }
                Some(kind) if !kind.is_dir() => {
                    return refuse(below, "a file, where a folder is to go");
                }
                // Nothing can stand in a folder that is still to be made.
                None => continue,
                Some(_) => {}
            }
        }
        if look(name)?.is_some_and(|kind| kind.is_dir()) {
            return refuse(name, "a folder, where a file is to go");
        }
    }
    Ok(())
}

/// Writes every file whole into a new hidden folder. It goes, with whatever is left in it, when what
/// is returned is dropped. It stands in the folder itself, so that nothing has to change disks later.
pub(super) fn write(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<TempDir, OutputError> {
    let staging = tempfile::Builder::new()
        .prefix(PREFIX)
        .rand_bytes(6)
        .tempdir_in(folder)
        .map_err(|source| match source.kind() {
            // The folder is good, its disk is not.
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => OutputError::file(folder, source),
            _ => OutputError::folder(folder, source),
        })?;
    for (name, bytes) in files {
        let place = staging.path().join(NEW).join(name);
        let fault = |source| OutputError::file(&folder.join(name), source);
        if let Some(parent) = place.parent() {
            fs::create_dir_all(parent).map_err(fault)?;
        }
        File::create_new(&place)
            .and_then(|mut file| file.write_all(bytes))
            .map_err(fault)?;
    }
    Ok(staging)
}

/// Our own files of an earlier run that this one does not write, by their names, in order: in the
/// folder, and in those folders in it that this run writes to. Where a folder cannot be listed nothing
/// is known of them, and an old file left beside new ones would be taken for one of them.
pub(super) fn stale(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: &impl Fn(&str) -> bool,
) -> Result<Vec<String>, OutputError> {
    let mut places = vec![String::new()];
    for (name, _) in files {
        if let Some((below, _)) = name.split_once('/') {
            let below = format!("{below}/");
            if !places.contains(&below) {
                places.push(below);
            }
        }
    }
    let mut stale = Vec::new();
    for below in places {
        let place = folder.join(&below);
        let unlisted = |source: io::Error| OutputError::Unlisted {
            folder: place.clone(),
            source,
        };
        let entries = match fs::read_dir(&place) {
            Ok(entries) => entries,
            // Still to be made.
            Err(error) if error.kind() == ErrorKind::NotFound => continue,
            Err(error) => return Err(unlisted(error)),
        };
        for entry in entries {
            let entry = entry.map_err(unlisted)?;
            let own = entry.file_name();
            // None of ours has a name that is no text.
            let Some(own) = own.to_str() else {
                continue;
            };
            let name = format!("{below}{own}");
            if !ours(&name) || files.iter().any(|(file, _)| *file == name) {
                continue;
            }
            if !entry.file_type().map_err(unlisted)?.is_dir() {
                stale.push(name);
            }
        }
    }
    stale.sort();
    Ok(stale)
}
