//! Parameter files changed line by line, some of a fixed seed, under the laws of the fuzz target:
//! what the target does for hours (DEVELOPERS.md, "Fuzzing"), in small and on any compiler.

#![allow(
    clippy::expect_used,
    reason = "a test that cannot read its seeds should say so and fail"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

#[path = "fuzz/laws.rs"]
#[allow(dead_code, reason = "lengths are the corpus test's")]
mod laws;
#[path = "fuzz/mutate.rs"]
mod mutate;

use laws::{Pains, Reached, parameter_file};
use mutate::{Dice, Stock, parameter_files};

const MUTATIONS: usize = if cfg!(debug_assertions) { 600 } else { 3000 };

#[test]
fn files_changed_line_by_line_hold_the_laws() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = ["params", "tests/good", "tests/bad"].map(|name| root.join(name));
    let stock = Stock::of(&folders);
    assert!(!stock.is_empty());
    // Whole designs: of sets, blocks and necks that lie below these folders nothing could be built.
    let whole = |file: &PathBuf| {
        file.parent()
            .is_some_and(|folder| folders.iter().any(|f| f == folder))
    };
    let mut seeds = parameter_files(&folders[0]);
    seeds.extend(parameter_files(&folders[1]));
    seeds.retain(whole);
    seeds.sort();
    let texts: Vec<String> = seeds
        .iter()
        .map(|seed| fs::read_to_string(seed).expect("a seed"))
        .collect();
    let mut dice = Dice::new(20_261_125);
    let mut counts: BTreeMap<Reached, usize> = BTreeMap::new();
    for (number, text) in texts.iter().cycle().take(MUTATIONS).enumerate() {
        let changed = stock.mutate(text, &mut dice);
        // Shown only where a law does not hold.
        println!("mutation {number}:\n{changed}");
        let reached = parameter_file(changed.as_bytes(), &root.join("params"), Pains::All);
        *counts.entry(reached).or_default() += 1;
    }
    // Were all refused, or none, the changes would be of no use; 86, 3 and 11 in a hundred were seen.
    for reached in [Reached::Refused, Reached::Stopped, Reached::Built] {
        let count = counts.get(&reached).copied().unwrap_or_default();
        assert!(
            count >= MUTATIONS / 100,
            "{reached:?}: {count} of {counts:?}"
        );
    }
}

/// A text always has a line to change, whatever the stock was taken from: an empty file ended a soak.
#[test]
fn any_text_can_be_changed_again_and_again() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("empty.toml"), "\n# nothing\n").expect("a file");
    fs::write(folder.path().join("one.toml"), "[head]\nlength = 1\n").expect("a file");
    let stock = Stock::of(&[folder.path().to_owned()]);
    let mut dice = Dice::new(7);
    let mut text = String::new();
    for _ in 0..5000 {
        text = stock.mutate(&text, &mut dice);
        if text.len() > 1000 {
            text.clear();
        }
    }
}
