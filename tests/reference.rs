//! Our files, read back by libraries that know nothing of us: OpenCASCADE (STEP, its own booleans
//! from the same parameter file), trimesh and manifold3d (STL). The scripts in `tests/reference/`
//! follow the contract on their own and share no code with the program.
//!
//! Needs Python 3.9 or later; the virtual environment is made under `target/` and made again when
//! its list of packages changes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use support::{python, root, run};

fn designs(folder: &str) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = fs::read_dir(root().join(folder))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|kind| kind == "toml"))
        .collect();
    found.sort();
    assert!(!found.is_empty(), "no designs in {folder}");
    found
}

/// Makes every design of a folder, then runs every reference check on it.
fn check_all(folder: &str) {
    let python = python();
    let designs = designs(folder);
    let out = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("reference-output")
        .join(folder);
    let _ = fs::remove_dir_all(&out);
    for design in &designs {
        run(
            Command::new(env!("CARGO_BIN_EXE_barrelhead"))
                .arg("make")
                .arg(design)
                .arg("--out")
                .arg(out.join(design.file_stem().unwrap())),
            &format!("making {}", design.display()),
        );
    }
    let output = Command::new(python)
        .arg(root().join("tests/reference/run_all.py"))
        .arg(&out)
        .args(&designs)
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&output.stdout);
    println!("{text}");
    let failures: Vec<&str> = text
        .lines()
        .filter(|line| !line.starts_with("ok"))
        .collect();
    assert!(
        output.status.success(),
        "{}\n{}",
        failures.join("\n"),
        String::from_utf8_lossy(&output.stderr)
    );
    // A script that checked nothing must not pass for one that found nothing.
    let held = text.lines().filter(|line| line.starts_with("ok")).count();
    assert!(held > 50 * designs.len(), "only {held} checks ran");
}

#[test]
fn demos_read_back() {
    check_all("params");
}

#[test]
fn designs_that_use_every_key_read_back() {
    check_all("tests/reference/designs");
}
