//! A few hundred random designs, drawn afresh every time, against OpenCASCADE: its reader, its own
//! booleans from the parameter file, and the least wood as it measures it.
//!
//! The seed is printed. `BARRELHEAD_SEED=n` draws the same designs again, `BARRELHEAD_DESIGNS=n` as
//! many as you have time for.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod random;
mod support;

use std::fs;
use std::path::Path;
use std::process::Command;

use barrelhead::pipeline::{self, Failure, Wanted};
use support::{python, root};

/// As many as two cores hold in two minutes; an unoptimised build takes a look only.
const DESIGNS: usize = if cfg!(debug_assertions) { 20 } else { 200 };

fn number(variable: &str) -> Option<u64> {
    let text = std::env::var(variable).ok()?;
    Some(
        text.parse()
            .unwrap_or_else(|_| panic!("{variable}={text}: a whole number is wanted")),
    )
}

/// Writes accepted designs with what `make` makes of them, one folder each; how many were drawn.
fn draw(folder: &Path, seed: u64, wanted: usize) -> usize {
    let mut dice = random::Dice::new(seed);
    let (mut accepted, mut drawn) = (0, 0);
    let only_the_contract = Wanted {
        folders: Vec::new(),
        ..Wanted::default()
    };
    while accepted < wanted {
        drawn += 1;
        assert!(
            drawn <= 20 * wanted,
            "{accepted} of {drawn} designs accepted: too few to mean anything"
        );
        let place = folder.join(format!("{accepted:04}"));
        fs::create_dir_all(&place).unwrap();
        let file = place.join("design.toml");
        fs::write(&file, random::design(&mut dice).millimetres()).unwrap();
        match pipeline::make(&file, &place, &only_the_contract) {
            Ok(_) => accepted += 1,
            Err(Failure::Stopped(..) | Failure::Input(_)) => fs::remove_dir_all(&place).unwrap(),
            Err(other) => panic!("seed {seed}, {}: {other:?}", file.display()),
        }
    }
    drawn
}

#[test]
fn fresh_designs_agree_with_opencascade() {
    let python = python();
    let seed = number("BARRELHEAD_SEED").unwrap_or_else(|| {
        std::time::UNIX_EPOCH
            .elapsed()
            .map_or(0, |now| now.as_nanos() as u64)
    });
    let wanted = number("BARRELHEAD_DESIGNS").map_or(DESIGNS, |n| n as usize);
    println!("BARRELHEAD_SEED={seed}");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("reference-fresh");
    let _ = fs::remove_dir_all(&folder);
    let drawn = draw(&folder, seed, wanted);
    println!("{wanted} designs accepted of {drawn} drawn");
    let output = Command::new(python)
        .arg(root().join("tests/reference/check_fresh.py"))
        .arg(&folder)
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&output.stdout);
    println!("{text}");
    let failures: Vec<&str> = text
        .lines()
        .filter(|line| line.contains("failed:"))
        .collect();
    assert!(
        output.status.success(),
        "BARRELHEAD_SEED={seed} (designs are in {})\n{}\n{}",
        folder.display(),
        failures.join("\n"),
        String::from_utf8_lossy(&output.stderr)
    );
    // A script that checked nothing must not pass for one that found nothing.
    let held = text.lines().filter(|line| line.starts_with("ok")).count();
    assert_eq!(held, wanted, "only {held} designs were checked");
}
