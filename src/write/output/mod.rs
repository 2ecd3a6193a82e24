//! Putting files into their folder, all or none. Everything is written whole into a hidden folder
//! beside its place (`staging`), then exchanged for what an earlier run left (`exchange`); where the
//! exchange fails half-way it is undone, so that files of an earlier run stay as they were.
//!
//! No file system exchanges a dozen files in one step, so a kill in the millisecond of the exchange
//! can leave files of two runs. Each of them is whole even then, and [`SEAL`] tells: it is taken away
//! first and put in its place last, so where it stands, every file that its own run wrote is there and
//! whole. Files in folders that this run was not asked for stay as they are, of whatever run.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

mod error;
mod exchange;
mod staging;
#[cfg(test)]
mod tests;
mod turn;

pub use error::{OutputError, is_of_the_place, reason};
pub use staging::{PREFIX, sweep};

/// The file that stands only beside the complete set it belongs to.
pub const SEAL: &str = "report.json";

/// Writes `files` (name and content, names relative to `folder`, at most one folder deep) and removes
/// those files of an earlier run that `ours` recognises and this run did not write. Returns the paths
/// written. A link in the place of a file is replaced, never followed; only `folder` itself may be
/// reached through links.
///
/// # Errors
/// [`OutputError`]; then everything is as it was, save with [`OutputError::Mixed`].
pub fn replace(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: impl Fn(&str) -> bool,
) -> Result<Vec<PathBuf>, OutputError> {
    let mut made = Vec::new();
    let turn = turn::take(folder, turn::PATIENCE, &mut || {
        turn::make_folders(folder, &mut made)
    });
    let turn = match turn {
        Ok(turn) => turn,
        Err(error) => {
            turn::unmake(folder, &made, false);
            return Err(error);
        }
    };
    let result = with_turn(folder, files, &ours, turn.is_some());
    if result.is_err() {
        turn::unmake(folder, &made, true);
    }
    // Held until here: two runs into one folder cannot mix their files, and nobody who waits gets a
    // folder that is about to go.
    drop(turn);
    result
}

/// Looks for what would keep [`replace`] from its work, as far as it can be seen: for whoever writes
/// several folders and would rather not stop half-way.
///
/// # Errors
/// [`OutputError`] of what stands in the way.
pub fn probe(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), OutputError> {
    let nearest = folder
        .ancestors()
        .find(|place| !place.as_os_str().is_empty() && place.symlink_metadata().is_ok());
    match nearest {
        Some(place) if !place.is_dir() => {
            Err(OutputError::folder(folder, ErrorKind::NotADirectory.into()))
        }
        Some(place) if place == folder => staging::in_the_way(folder, files),
        _ => Ok(()),
    }
}

/// Waits for a turn in a folder that must be there already, for whoever writes a single file in it.
/// The folder is kept until what is returned is dropped; `None` where the system cannot lock it.
///
/// # Errors
/// [`OutputError::Busy`], or that the folder is not there.
pub fn turn_in(folder: &Path) -> Result<Option<fs::File>, OutputError> {
    turn::take(folder, turn::PATIENCE, &mut || match fs::metadata(folder) {
        Ok(_) => Ok(()),
        Err(source) => Err(OutputError::folder(folder, source)),
    })
}

fn with_turn(
    folder: &Path,
    files: &[(String, Vec<u8>)],
    ours: &impl Fn(&str) -> bool,
    alone: bool,
) -> Result<Vec<PathBuf>, OutputError> {
    staging::in_the_way(folder, files)?;
    let stale = staging::stale(folder, files, ours)?;
    let staged = staging::write(folder, files)?;
    exchange::exchange(folder, staged, files, &stale)?;
    // Not before: what a killed run had set aside is of use as long as no whole set is in its place.
    if alone {
        sweep(folder);
    }
    Ok(files.iter().map(|(name, _)| folder.join(name)).collect())
}

/// What stands at a place itself, a link not followed; `None` where nothing does.
fn standing(place: &Path) -> io::Result<Option<fs::FileType>> {
    match fs::symlink_metadata(place) {
        Ok(found) => Ok(Some(found.file_type())),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}
