//! Putting files into their folder, all or none. Everything is written whole into a hidden folder
//! beside its place (`staging`), then exchanged for what an earlier run left (`exchange`); where the
//! exchange fails half-way it is undone, so that files of an earlier run stay as they were.
//!
//! No file system exchanges a dozen files in one step, so a kill in the millisecond of the exchange
//! can leave files of two runs. Each of them is whole even then, and [`SEAL`] tells: it is taken away
//! first and put in its place last, so where it stands, the set beside it is complete and of one run.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

mod error;
mod exchange;
mod staging;
#[cfg(test)]
mod tests;

pub use error::{OutputError, reason};

/// The file that stands only beside the complete set it belongs to.
pub const SEAL: &str = "report.json";

/// How long another run that is putting its own files there is waited for; an exchange takes
/// milliseconds, so whoever holds the folder longer is no run of ours.
const PATIENCE: Duration = Duration::from_secs(10);

/// Writes `files` (name and content, names relative to `folder`, at most one folder deep) and removes
/// those files of an earlier run that `ours` recognises and this run did not write. Returns the paths
/// written. A link in the place of a file is replaced, never followed; only `folder` itself may be
/// reached through links.
///
/// # Errors
/// [`OutputError`]; then everything is as it was.
pub fn replace(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: impl Fn(&str) -> bool,
) -> Result<Vec<PathBuf>, OutputError> {
    let mut made = Vec::new();
    let result = make_folders(folder, &mut made)
        .and_then(|()| take_turn(folder, PATIENCE))
        .and_then(|turn| {
            let written = with_turn(folder, files, &ours, turn.is_some())?;
            // Held until here, so that two runs into one folder cannot mix their files.
            drop(turn);
            Ok(written)
        });
    if result.is_err() {
        // Leave no empty folders behind; the error that matters is the first.
        for folder in made.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
    result
}

fn with_turn(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: &impl Fn(&str) -> bool,
    alone: bool,
) -> Result<Vec<PathBuf>, OutputError> {
    if alone {
        staging::sweep(folder);
    }
    staging::in_the_way(folder, files)?;
    let staged = staging::write(folder, files)?;
    let stale = staging::stale(folder, files, ours);
    exchange::exchange(folder, &staged, files, &stale)?;
    Ok(files.iter().map(|(name, _)| folder.join(name)).collect())
}

/// Makes a folder and those above it; `made` gets the ones that were not there, outermost first.
fn make_folders(folder: &Path, made: &mut Vec<PathBuf>) -> Result<(), OutputError> {
    let missing: Vec<&Path> = folder
        .ancestors()
        .take_while(|place| !place.as_os_str().is_empty() && !place.exists())
        .collect();
    for place in missing.into_iter().rev() {
        match fs::create_dir(place) {
            Ok(()) => made.push(place.to_path_buf()),
            Err(error) if error.kind() == ErrorKind::AlreadyExists && place.is_dir() => {}
            Err(source) => return Err(OutputError::folder(folder, source)),
        }
    }
    // Says what is wrong with a folder that is none.
    fs::create_dir_all(folder).map_err(|source| OutputError::folder(folder, source))
}

/// Waits until no other run works in the folder and keeps others out until dropped. `None` where
/// the system cannot lock a folder: then runs go on as they are.
fn take_turn(folder: &Path, patience: Duration) -> Result<Option<File>, OutputError> {
    let begun = Instant::now();
    loop {
        let Ok(held) = File::open(folder) else {
            return Ok(None);
        };
        match held.try_lock() {
            // Another run that failed may have taken its new folder away again meanwhile.
            Ok(()) if folder.is_dir() => return Ok(Some(held)),
            Ok(()) => {
                fs::create_dir_all(folder).map_err(|source| OutputError::folder(folder, source))?
            }
            Err(TryLockError::Error(_)) => return Ok(None),
            Err(TryLockError::WouldBlock) if begun.elapsed() < patience => {
                std::thread::sleep(Duration::from_millis(5));
            }
            Err(TryLockError::WouldBlock) => {
                return Err(OutputError::Busy {
                    folder: folder.to_path_buf(),
                });
            }
        }
    }
}

/// What stands at a place itself, a link not followed; `None` where nothing does.
fn standing(place: &Path) -> io::Result<Option<fs::FileType>> {
    match fs::symlink_metadata(place) {
        Ok(found) => Ok(Some(found.file_type())),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}
