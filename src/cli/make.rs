//! `barrelhead make`.

use std::io::{self, IsTerminal as _};
use std::path::{Path, PathBuf};

use crate::pipeline::{self, Failure, Folder, Outcome, Wanted};
use crate::write::output::SEAL;

use super::arguments::MakeArguments;
use super::progress::{PATIENCE, Progress};
use super::style::{STRONG, clean, paint, warning};
use super::{Said, failure_text, json, sheet, status_of, verdicts};

/// How an attempt ended, and so what could mend it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The files are written.
    Made,
    /// The parameter file holds mistakes, or a check stops it.
    Faulty,
    /// The command line, or the folder it names, does not allow it.
    Place,
    /// The program failed, or the disk is full.
    Failed,
}

/// Checks, builds and writes one design; prints the bench's screen.
pub fn run(arguments: &MakeArguments) -> Said {
    attempt(arguments).0
}

/// The same, with how it ended.
pub fn attempt(arguments: &MakeArguments) -> (Said, End) {
    let path = &arguments.file;
    let Some(out) = arguments.out.clone().or_else(|| usual_folder(path)) else {
        let said = Said::wrong(&format!(
            "{} gives no name for a folder of output; name one with --out, or a parameter file",
            path.display()
        ));
        return (said, End::Place);
    };
    let mut progress = if !arguments.quiet && !arguments.json && io::stderr().is_terminal() {
        Progress::on(io::stderr(), PATIENCE)
    } else {
        Progress::silent()
    };
    let made = pipeline::make_telling(path, &out, &arguments.wanted(), &mut |stage| {
        progress.tell(stage);
    });
    progress.finish();
    let end = match &made {
        Ok(_) => End::Made,
        Err(Failure::Input(_) | Failure::Stopped(..)) => End::Faulty,
        Err(Failure::NotPut(error)) if error.blames_the_place() => End::Place,
        Err(Failure::NotPut(_) | Failure::Internal(_)) => End::Failed,
    };
    let said = match made {
        Ok(outcome) => done(arguments, &outcome),
        Err(failure) => failed(arguments, &out, &failure),
    };
    (said, end)
}

fn done(arguments: &MakeArguments, outcome: &Outcome) -> Said {
    let text = if arguments.json {
        json::text(&json::made(outcome))
    } else if arguments.quiet {
        let line = |file: &PathBuf| format!("{}\n", clean(&file.display().to_string()));
        outcome.files.iter().map(line).collect()
    } else {
        sheet::draw(outcome)
    };
    let mut said = Said::done(text).with_files();
    if !arguments.json && !outcome.earlier.is_empty() {
        said.err = warning(&earlier_words(outcome));
    }
    if !arguments.json && room_left_out(&arguments.wanted()) {
        said.err.push_str(&warning(
            "--room is left out: room to move is a chapter of report.html, which --only leaves alone; add report to it",
        ));
    }
    said
}

/// Whether room to move is asked for without the page that shows it.
fn room_left_out(wanted: &Wanted) -> bool {
    wanted.room && !wanted.folders.contains(&Folder::Report)
}

/// Names up to so many files of a folder; more are counted.
const NAMED: usize = 3;

/// What `--only` left in other folders that is not of this design as it stands.
fn earlier_words(outcome: &Outcome) -> String {
    let mut folders: Vec<(&str, Vec<&str>)> = Vec::new();
    for name in &outcome.earlier {
        let below = name.split_once('/').map_or("", |(below, _)| below);
        match folders.iter_mut().find(|(own, _)| *own == below) {
            Some((_, names)) => names.push(name),
            None => folders.push((below, vec![name])),
        }
    }
    let list: Vec<String> = folders
        .iter()
        .map(|(below, names)| match names.len() {
            count if count > NAMED => format!("{count} files in {below}/"),
            _ => names.join(", "),
        })
        .collect();
    format!(
        "in {} these are left from an earlier run, of another design, of other numbers or with other options: {}. \
         Leave --only out to make them anew, or take them away.",
        outcome.folder.display(),
        list.join(", ")
    )
}

/// `output/<file stem>`, below the current folder; none where the stem would lead out of `output`,
/// as that of `...toml` does.
fn usual_folder(path: &Path) -> Option<PathBuf> {
    let stem = path.file_stem()?;
    (stem != "." && stem != "..").then(|| Path::new("output").join(stem))
}

fn failed(arguments: &MakeArguments, out: &Path, failure: &Failure) -> Said {
    let path = &arguments.file;
    let mut said = Said::done("");
    said.status = status_of(failure);
    if arguments.json {
        said.out = json::text(&json::failed(path, failure));
        return said;
    }
    if let Failure::Stopped(layout, report) = failure {
        let lengths = layout.design.lengths();
        said.err = format!(
            "{} ({}): {}\n{}",
            paint(STRONG, &clean(&layout.design.title)),
            clean(&path.display().to_string()),
            verdicts::summary(report),
            verdicts::listing(report, lengths, false),
        );
        said.err
            .push_str(&verdicts::doubts(&layout.design, lengths));
    }
    said.err.push_str(&failure_text(path, failure));
    let as_it_was = match failure {
        Failure::NotPut(error) => !error.blames_the_place() && error.left_all_as_it_was(),
        _ => true,
    };
    if as_it_was && out.join(SEAL).is_file() {
        let folder = clean(&out.display().to_string());
        said.err.push_str(&verdicts::note(&format!(
            "The files in {folder} are of an earlier run: they stay as they were and are not of this design as it stands now."
        )));
    }
    said
}
