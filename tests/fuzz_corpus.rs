//! Replays the inputs that fuzzing found worth keeping (tests/fuzz/corpus), under the same laws as the
//! fuzz targets; DEVELOPERS.md says how they are run and what the last run found.

#![allow(
    clippy::expect_used,
    reason = "a test that cannot read its corpus should say so and fail"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

#[path = "fuzz/laws.rs"]
mod laws;

use laws::{Pains, Reached, length, parameter_file};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn corpus(name: &str) -> Vec<PathBuf> {
    let folder = root().join("tests/fuzz/corpus").join(name);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the corpus")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    files.sort();
    files
}

#[test]
fn parameter_files_hold_the_laws() {
    let base = root().join("params");
    let mut counts: BTreeMap<Reached, usize> = BTreeMap::new();
    for file in corpus("parameter_file") {
        let bytes = fs::read(&file).expect("an input");
        // What fails names itself by the file it was reading.
        eprintln!("{}", file.display());
        let reached = parameter_file(&bytes, &base, Pains::All);
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        assert_eq!(
            Some(reached),
            by_name(&name),
            "{name} does not end as its name says"
        );
        *counts.entry(reached).or_default() += 1;
        // Cut short, an input takes other ways through the reader.
        let half = bytes.get(..bytes.len() / 2).unwrap_or_default();
        parameter_file(half, &base, Pains::All);
    }
    // Every way to end is there: a corpus that lost one would replay nothing of it.
    for reached in [Reached::Refused, Reached::Stopped, Reached::Built] {
        let count = counts.get(&reached).copied().unwrap_or_default();
        assert!(
            count >= 3,
            "only {count} inputs are {reached:?}: {counts:?}"
        );
    }
}

/// How an input ends by its own name; `None` for a name that does not say.
fn by_name(name: &str) -> Option<Reached> {
    match name.split_once('-')?.0 {
        "builds" => Some(Reached::Built),
        "stopped" => Some(Reached::Stopped),
        "refused" => Some(Reached::Refused),
        _ => None,
    }
}

#[test]
fn lengths_hold_the_laws() {
    // One a line, so that the whole corpus can be looked over.
    let bytes = fs::read(root().join("tests/fuzz/corpus/lengths.txt")).expect("the corpus");
    let (mut good, mut bad) = (0, 0);
    for line in bytes.split(|byte| *byte == b'\n') {
        if length(line) {
            good += 1;
        } else {
            bad += 1;
        }
    }
    assert!(good >= 10 && bad >= 30, "{good} read, {bad} did not");
}
