//! Exchanging an earlier run's files for new ones, one step after the other, each of which can be
//! undone.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::staging::{self, NEW, OLD};
use super::{OutputError, SEAL, standing};

/// One change to the folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// A folder in it is made.
    Folder(String),
    /// A file is taken away.
    TakeAway(String),
    /// A new file takes its place, over an old one if there is one.
    Put(String),
}

/// The steps in the order that lets the seal tell a complete set from a mixed one.
pub(super) fn steps(files: &[(String, Vec<u8>)], stale: &[String]) -> Vec<Step> {
    let mut steps = Vec::new();
    let is_seal = |name: &str| name == SEAL;
    let sealed = files.iter().any(|(name, _)| is_seal(name));
    if sealed {
        steps.push(Step::TakeAway(SEAL.to_owned()));
    }
    for (name, _) in files {
        if let Some((below, _)) = name.split_once('/') {
            let step = Step::Folder(below.to_owned());
            if !steps.contains(&step) {
                steps.push(step);
            }
        }
    }
    let others = files.iter().filter(|(name, _)| !is_seal(name));
    steps.extend(others.map(|(name, _)| Step::Put(name.clone())));
    steps.extend(stale.iter().cloned().map(Step::TakeAway));
    if sealed {
        steps.push(Step::Put(SEAL.to_owned()));
    }
    steps
}

/// Takes all steps, or none that stays; what lies in the hidden folder then goes with it, unless it
/// could not be put back.
pub(super) fn exchange(
    folder: &Path,
    staging: TempDir,
    files: &[(String, Vec<u8>)],
    stale: &[String],
) -> Result<(), OutputError> {
    let hands = Hands {
        folder,
        staging: staging.path(),
    };
    let mut undo = Vec::new();
    for step in steps(files, stale) {
        if let Err((file, source)) = hands.take(&step, &mut undo) {
            let lost = hands.undo(undo);
            if lost.is_empty() {
                return Err(OutputError::File { file, source });
            }
            return Err(OutputError::Mixed {
                file,
                source,
                folder: folder.to_path_buf(),
                lost,
                kept: staging::keep(staging),
            });
        }
    }
    staging::discard(staging.path());
    Ok(())
}

/// How a change is undone.
pub(super) enum Undo {
    /// The old file goes back over whatever stands there.
    PutBack(String),
    /// The new file goes.
    Remove(String),
    /// The new folder goes.
    RemoveFolder(String),
}

/// What moves files between the folder and the hidden one in it.
pub(super) struct Hands<'a> {
    pub folder: &'a Path,
    pub staging: &'a Path,
}

impl Hands<'_> {
    /// Takes one step and notes how it is undone.
    pub(super) fn take(
        &self,
        step: &Step,
        undo: &mut Vec<Undo>,
    ) -> Result<(), (PathBuf, io::Error)> {
        let place = |name: &str| self.folder.join(name);
        let at = |name: &str| {
            let place = place(name);
            move |source| (place, source)
        };
        match step {
            Step::Folder(name) => {
                if !self.is_true_folder(name).map_err(at(name))? {
                    fs::create_dir(place(name)).map_err(at(name))?;
                    undo.push(Undo::RemoveFolder(name.clone()));
                }
            }
            Step::TakeAway(name) => {
                let gone = |from: &Path, to: &Path| fs::rename(from, to);
                self.set_aside(name, gone, undo).map_err(at(name))?;
            }
            Step::Put(name) => {
                // A second name for the old file, so that its own is never empty. Where the disk
                // knows no second names, for an instant it is.
                let second = |from: &Path, to: &Path| {
                    fs::hard_link(from, to).or_else(|_| fs::rename(from, to))
                };
                let there = self.set_aside(name, second, undo).map_err(at(name))?;
                let new = self.staging.join(NEW).join(name);
                fs::rename(new, place(name)).map_err(at(name))?;
                if !there {
                    undo.push(Undo::Remove(name.clone()));
                }
            }
        }
        Ok(())
    }

    /// Puts an old file or link aside by `by`; false where there is none. A folder that has come to
    /// its place, or a link to that of its folder, is somebody else's and left alone.
    fn set_aside(
        &self,
        name: &str,
        by: impl Fn(&Path, &Path) -> io::Result<()>,
        undo: &mut Vec<Undo>,
    ) -> io::Result<bool> {
        if let Some((below, _)) = name.split_once('/') {
            self.is_true_folder(below)?;
        }
        let place = self.folder.join(name);
        match standing(&place)? {
            None => return Ok(false),
            Some(kind) if kind.is_dir() => return Err(ErrorKind::IsADirectory.into()),
            Some(_) => {}
        }
        let aside = self.aside(name)?;
        by(&place, &aside)?;
        undo.push(Undo::PutBack(name.to_owned()));
        // It may have come between the look and the move; then it goes back like anything else.
        match standing(&aside)? {
            Some(kind) if kind.is_dir() => Err(ErrorKind::IsADirectory.into()),
            _ => Ok(true),
        }
    }

    /// Whether a folder is there; anything else in its place fails, a link too, through which files
    /// would land elsewhere.
    fn is_true_folder(&self, name: &str) -> io::Result<bool> {
        match standing(&self.folder.join(name))? {
            None => Ok(false),
            Some(kind) if kind.is_dir() => Ok(true),
            Some(_) => Err(ErrorKind::NotADirectory.into()),
        }
    }

    /// Undoes what was done, last first, and tells the files that are not as they were. The seal is
    /// put back only beside a complete set.
    pub(super) fn undo(&self, undo: Vec<Undo>) -> Vec<String> {
        let mut lost = Vec::new();
        for step in undo.into_iter().rev() {
            let (name, undone) = match step {
                Undo::PutBack(name) if name == SEAL && !lost.is_empty() => continue,
                Undo::PutBack(name) => {
                    let aside = self.staging.join(OLD).join(&name);
                    let undone = fs::rename(aside, self.folder.join(&name));
                    (name, undone)
                }
                Undo::Remove(name) => {
                    let undone = match fs::remove_file(self.folder.join(&name)) {
                        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
                        undone => undone,
                    };
                    (name, undone)
                }
                Undo::RemoveFolder(name) => {
                    // Not empty, it holds somebody else's files, or what was told already.
                    let _ = fs::remove_dir(self.folder.join(name));
                    continue;
                }
            };
            if undone.is_err() {
                lost.push(name);
            }
        }
        lost.reverse();
        lost
    }

    /// Where an old file waits, its folder made.
    fn aside(&self, name: &str) -> io::Result<PathBuf> {
        let aside = self.staging.join(OLD).join(name);
        if let Some(parent) = aside.parent() {
            fs::create_dir_all(parent)?;
        }
        Ok(aside)
    }
}
