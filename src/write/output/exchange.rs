//! Exchanging an earlier run's files for new ones, one step after the other, each of which can be
//! undone.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::staging::{NEW, OLD};
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

/// Takes all steps, or none that stays.
pub(super) fn exchange(
    folder: &Path,
    staging: &TempDir,
    files: &[(String, Vec<u8>)],
    stale: &[String],
) -> Result<(), OutputError> {
    let hands = Hands {
        folder,
        staging: staging.path(),
    };
    let mut undo = Vec::new();
    for step in steps(files, stale) {
        if let Err((place, source)) = hands.take(&step, &mut undo) {
            hands.undo(undo);
            return Err(OutputError::File {
                file: place,
                source,
            });
        }
    }
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
        let at = |name: &str| {
            let place = self.folder.join(name);
            move |source| (place, source)
        };
        match step {
            Step::Folder(name) => {
                let place = self.folder.join(name);
                if standing(&place).map_err(at(name))?.is_none() {
                    fs::create_dir(&place).map_err(at(name))?;
                    undo.push(Undo::RemoveFolder(name.clone()));
                }
            }
            Step::TakeAway(name) => {
                let place = self.folder.join(name);
                if standing(&place).map_err(at(name))?.is_some() {
                    let aside = self.aside(name).map_err(at(name))?;
                    fs::rename(&place, aside).map_err(at(name))?;
                    undo.push(Undo::PutBack(name.clone()));
                }
            }
            Step::Put(name) => {
                let place = self.folder.join(name);
                let there = standing(&place).map_err(at(name))?.is_some();
                if there {
                    let aside = self.aside(name).map_err(at(name))?;
                    // A second name for the old file, so that its own is never empty. Where the disk
                    // knows no second names, for an instant it is.
                    fs::hard_link(&place, &aside)
                        .or_else(|_| fs::rename(&place, &aside))
                        .map_err(at(name))?;
                    undo.push(Undo::PutBack(name.clone()));
                }
                fs::rename(self.staging.join(NEW).join(name), &place).map_err(at(name))?;
                if !there {
                    undo.push(Undo::Remove(name.clone()));
                }
            }
        }
        Ok(())
    }

    /// Undoes what was done, last first. What cannot be undone is left: the first error is the one
    /// that is told.
    pub(super) fn undo(&self, undo: Vec<Undo>) {
        for step in undo.into_iter().rev() {
            let _ = match step {
                Undo::PutBack(name) => {
                    fs::rename(self.staging.join(OLD).join(&name), self.folder.join(&name))
                }
                Undo::Remove(name) => fs::remove_file(self.folder.join(name)),
                Undo::RemoveFolder(name) => fs::remove_dir(self.folder.join(name)),
            };
        }
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
