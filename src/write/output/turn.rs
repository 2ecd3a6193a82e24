//! Runs into one folder take turns: the folder is made where it is not there, then locked, and it goes
//! again, while still locked, where the run that made it has nothing to leave in it.

use std::fs::{self, File, TryLockError};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::OutputError;

/// How long another run into the same folder is waited for. It holds the folder while it writes its
/// whole set, some megabytes, which takes a slow stick half a minute; an exchange alone is over in
/// milliseconds.
pub(super) const PATIENCE: Duration = Duration::from_secs(60);

/// How often a folder is made anew that other runs take away under our hands.
const ATTEMPTS: usize = 200;

/// Waits until no other run works in the folder and keeps others out until dropped. `make` makes the
/// folder where it is not there, and is asked again where a run that failed took it away meanwhile.
/// `None` where the system cannot lock a folder: then runs go on as they are.
pub(super) fn take(
    folder: &Path,
    patience: Duration,
    make: &mut dyn FnMut() -> Result<(), OutputError>,
) -> Result<Option<File>, OutputError> {
    let begun = Instant::now();
    let wait = || {
        if begun.elapsed() >= patience {
            return Err(OutputError::Busy {
                folder: folder.to_path_buf(),
            });
        }
        std::thread::sleep(Duration::from_millis(5));
        Ok(())
    };
    loop {
        make()?;
        let held = match File::open(folder) {
            Ok(held) => held,
            Err(error) if error.kind() == ErrorKind::NotFound => {
                wait()?;
                continue;
            }
            Err(_) => return Ok(None),
        };
        loop {
            match held.try_lock() {
                Ok(()) => break,
                Err(TryLockError::Error(_)) => return Ok(None),
                Err(TryLockError::WouldBlock) => wait()?,
            }
        }
        // Whoever held it may have taken it away, and yet another run made one of the same name.
        if is_still(&held, folder) {
            return Ok(Some(held));
        }
        drop(held);
        wait()?;
    }
}

/// Whether what is held is what stands at the place now.
#[cfg(unix)]
fn is_still(held: &File, folder: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    match (held.metadata(), fs::metadata(folder)) {
        (Ok(held), Ok(there)) => (held.dev(), held.ino()) == (there.dev(), there.ino()),
        _ => false,
    }
}

#[cfg(not(unix))]
fn is_still(_: &File, folder: &Path) -> bool {
    folder.is_dir()
}

/// Makes a folder and those above it; `made` gets the ones that were not there, outermost first.
pub(super) fn make_folders(folder: &Path, made: &mut Vec<PathBuf>) -> Result<(), OutputError> {
    let mut attempts = 0;
    'anew: loop {
        let missing: Vec<&Path> = folder
            .ancestors()
            .take_while(|place| !place.as_os_str().is_empty() && !place.exists())
            .collect();
        for place in missing.into_iter().rev() {
            match fs::create_dir(place) {
                Ok(()) => made.push(place.to_path_buf()),
                Err(error) if error.kind() == ErrorKind::AlreadyExists && place.is_dir() => {}
                // Another run took the folder above away again, which it had made for nothing.
                Err(error)
                    if error.kind() == ErrorKind::NotFound
                        && place.parent().is_some_and(|above| {
                            !above.as_os_str().is_empty() && !above.exists()
                        })
                        && attempts < ATTEMPTS =>
                {
                    attempts += 1;
                    continue 'anew;
                }
                Err(source) => return Err(OutputError::folder(folder, source)),
            }
        }
        // Says what is wrong with a folder that is none.
        return fs::create_dir_all(folder).map_err(|source| OutputError::folder(folder, source));
    }
}

/// Takes away folders that were made for nothing, innermost first, as long as nothing is in them and
/// no other run works there. `held` says that this run holds `folder` itself.
pub(super) fn unmake(folder: &Path, made: &[PathBuf], held: bool) {
    for place in made.iter().rev() {
        let handle = (!held || place != folder)
            .then(|| File::open(place).ok())
            .flatten();
        let other = handle
            .as_ref()
            .is_some_and(|handle| matches!(handle.try_lock(), Err(TryLockError::WouldBlock)));
        if !other {
            // One that is not empty stays; the error that matters is another.
            let _ = fs::remove_dir(place);
        }
    }
}
