//! Names every stage once, in order; the one place that touches the disk for a design.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::check::{self, Report};
use crate::diagnostic::Diagnostic;
use crate::input::{self, Design, Numbers};
use crate::layout::{Copy, Layout, LayoutFault, faults};
use crate::paper::Paper;
use crate::paper::sheet_options::SheetOptions;
use crate::solid::{self, Solids};
use crate::study::room::{Room, room};
use crate::write::output::{self, OutputError};

mod bench;
mod contract;
mod earlier;
mod page;
mod print;
mod shop;
mod together;
mod wanted;

pub use wanted::{Folder, Wanted};

/// A file to write: its name below the output folder, and its content.
type NamedFile = (String, Vec<u8>);

/// All that a file can be made from.
struct Work<'a> {
    layout: &'a Layout,
    report: &'a Report,
    solids: &'a Solids,
    checked: &'a check::Checked,
    wanted: &'a Wanted,
    /// How far each number may go; empty where that is not asked for.
    rooms: &'a [Room],
}

impl Work<'_> {
    /// How the sheets of words and tables are written.
    fn sheet_options(&self, paper: Paper) -> SheetOptions {
        SheetOptions {
            lengths: self.layout.design.lengths(),
            paper,
        }
    }
}

/// Our own work failed.
fn internal(error: &dyn std::fmt::Display) -> Failure {
    Failure::Internal(error.to_string())
}

/// What `make` made.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Positions of the finished head.
    pub layout: Layout,
    /// What the checks said.
    pub report: Report,
    /// Names of the files written, in the order they are listed to a person.
    pub files: Vec<PathBuf>,
    /// The folder they are in.
    pub folder: PathBuf,
    /// What a person should know of the files: of printed parts and of the slot template.
    pub notes: Vec<String>,
    /// Names of files in folders not asked for that this design would not give as it stands now.
    pub earlier: Vec<String>,
}

/// Why nothing was made.
#[derive(Debug, Clone)]
pub enum Failure {
    /// Mistakes in the parameter file.
    Input(Vec<Diagnostic>),
    /// A check stopped the design.
    Stopped(Box<Layout>, Report),
    /// The files could not be put into their folder.
    NotPut(Arc<OutputError>),
    /// The program failed, in words.
    Internal(String),
}

/// Reads and checks a design. A stopped design is no failure here: its report says so.
///
/// # Errors
/// [`Failure::Input`] for mistakes in the file, or a file that cannot be read.
pub fn check(path: &Path) -> Result<(Layout, Report), Failure> {
    let (layout, report, _) = judged(path)?;
    Ok((layout, report))
}

/// Reads, checks and builds a design, and writes every file of it into `folder`.
///
/// # Errors
/// Every [`Failure`]; then nothing is written and files of an earlier run stay as they were, save
/// with [`OutputError::Mixed`].
pub fn make(path: &Path, folder: &Path, wanted: &Wanted) -> Result<Outcome, Failure> {
    make_telling(path, folder, wanted, &mut |_| {})
}

/// The same; `tell` hears what is being worked on, each stage as it begins.
///
/// # Errors
/// As [`make`].
pub fn make_telling(
    path: &Path,
    folder: &Path,
    wanted: &Wanted,
    tell: &mut dyn FnMut(&'static str),
) -> Result<Outcome, Failure> {
    tell("checking the design");
    if wanted.room && wanted.folders.contains(&Folder::Report) {
        // Read once: a save in between would put another design's room beside this one.
        let numbers = Numbers::read(path).map_err(Failure::Input)?;
        tell("moving every number");
        let rooms = room(&numbers);
        return make_with_room(numbers.design(), path, folder, wanted, &rooms, tell);
    }
    let design = input::read(path).map_err(Failure::Input)?;
    make_with_room(&design, path, folder, wanted, &[], tell)
}

/// The same for a design that was read already; `path` names it in messages. How far its numbers may
/// go is not worked out, since there is no file to move them in.
///
/// # Errors
/// As [`make`].
pub fn make_design(
    design: &Design,
    path: &Path,
    folder: &Path,
    wanted: &Wanted,
) -> Result<Outcome, Failure> {
    make_with_room(design, path, folder, wanted, &[], &mut |_| {})
}

fn make_with_room(
    design: &Design,
    path: &Path,
    folder: &Path,
    wanted: &Wanted,
    rooms: &[Room],
    tell: &mut dyn FnMut(&'static str),
) -> Result<Outcome, Failure> {
    let design = Design {
        inches: wanted.inches,
        ..design.clone()
    };
    let (layout, report, checked) = judge_design(&design, path)?;
    let Some(checked) = checked else {
        return Err(Failure::Stopped(Box::new(layout), report));
    };
    tell("building the solids");
    let solids = solid::build(&checked).map_err(|fault| Failure::Internal(fault.to_string()))?;
    let work = Work {
        layout: &layout,
        report: &report,
        solids: &solids,
        checked: &checked,
        wanted,
        rooms,
    };
    let Made { files, notes } = files_of(&work, tell)?;
    tell("putting the files into their folder");
    let written = output::replace(folder, &files, |name| wanted.owns(name))
        .map_err(|error| Failure::NotPut(Arc::new(error)))?;
    let earlier = earlier::earlier(&work, folder);
    Ok(Outcome {
        layout,
        report,
        files: written,
        folder: folder.to_path_buf(),
        notes,
        earlier,
    })
}

/// Files, and what a person should know of them.
struct Made {
    files: Vec<NamedFile>,
    notes: Vec<String>,
}

/// Every file asked for, in memory.
fn files_of(work: &Work<'_>, tell: &mut dyn FnMut(&'static str)) -> Result<Made, Failure> {
    let wanted = work.wanted;
    tell("writing and drawing the files");
    let mut notes = Vec::new();
    let mut tasks = contract::tasks(work);
    if wanted.folders.contains(&Folder::Bench) {
        tasks.extend(bench::tasks(work));
    }
    if wanted.folders.contains(&Folder::Shop) {
        tasks.extend(shop::tasks(work));
        notes.extend(shop::notes(work));
    }
    let (made, printed) = rayon::join(
        || together::together(&tasks),
        || {
            let asked = wanted.folders.contains(&Folder::Print);
            asked.then(|| print::files(work)).transpose()
        },
    );
    drop(tasks);
    let mut files = made?;
    if let Some((printed, said)) = printed? {
        files.extend(printed);
        notes.extend(said);
    }
    if wanted.folders.contains(&Folder::Report) {
        tell("drawing the report");
        let names: Vec<String> = files.iter().map(|(name, _)| name.clone()).collect();
        files.push(page::file(work, &names));
    }
    Ok(Made { files, notes })
}

type Judged = (Layout, Report, Option<check::Checked>);

fn judged(path: &Path) -> Result<Judged, Failure> {
    let design = input::read(path).map_err(Failure::Input)?;
    judge_design(&design, path)
}

/// Checks a design that was read already; `path` names it in messages.
///
/// # Errors
/// [`Failure::Input`] for faults that show only once positions are known.
pub fn judge_design(design: &Design, path: &Path) -> Result<Judged, Failure> {
    let finished = Layout::new(design, Copy::Finished);
    let printed = Layout::new(design, Copy::Printed);
    let mut found = faults(&finished);
    if found.is_empty() {
        found = faults(&printed);
    }
    if !found.is_empty() {
        let findings = found.into_iter().map(|fault| {
            let LayoutFault {
                key,
                message,
                hint,
                place,
            } = fault;
            design.fault(path, place.as_ref(), key, message, hint)
        });
        return Err(Failure::Input(findings.collect()));
    }
    let (report, checked) = check::judge(finished.clone(), printed);
    Ok((finished, report, checked))
}
