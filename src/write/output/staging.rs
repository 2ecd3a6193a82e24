//! The hidden folder in which files are written whole before anything is exchanged.

use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;

use tempfile::TempDir;

use super::{OutputError, standing};

/// Begins the name of every hidden folder; six letters of chance follow.
const PREFIX: &str = ".barrelhead-writing-";

/// In it, the new files.
pub(super) const NEW: &str = "new";
/// In it, what they replace, until all is well.
pub(super) const OLD: &str = "old";

/// Removes the hidden folders of runs that were killed. Only for whoever holds the folder's lock: no
/// other run can be at work in one of them then.
pub(super) fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let chance = name.to_str().and_then(|name| name.strip_prefix(PREFIX));
        let ours = chance
            .is_some_and(|c| c.len() == 6 && c.bytes().all(|byte| byte.is_ascii_alphanumeric()));
        if ours && entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            // What cannot be removed does no harm where it is.
            let _ = fs::remove_dir_all(entry.path());
        }
    }
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
        .map_err(|source| OutputError::folder(folder, source))?;
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
/// folder, and in those folders in it that this run writes to.
pub(super) fn stale(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: &impl Fn(&str) -> bool,
) -> Vec<String> {
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
        // A folder that cannot be listed is still to be made, or none of ours.
        let entries = fs::read_dir(folder.join(&below)).into_iter().flatten();
        for entry in entries.flatten() {
            let own = entry.file_name();
            let (Some(own), Ok(kind)) = (own.to_str(), entry.file_type()) else {
                continue;
            };
            let name = format!("{below}{own}");
            if !kind.is_dir() && ours(&name) && !files.iter().any(|(file, _)| *file == name) {
                stale.push(name);
            }
        }
    }
    stale.sort();
    stale
}
