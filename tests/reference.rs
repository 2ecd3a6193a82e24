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

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::{Mutex, PoisonError};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Runs a command to its end; panics with what it printed where it fails.
fn run(command: &mut Command, what: &str) -> Output {
    let output = command
        .output()
        .unwrap_or_else(|error| panic!("{what}: {error}"));
    assert!(
        output.status.success(),
        "{what} failed:\n{}\n{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    output
}

/// The Python of the reference environment, made on first use by whichever test comes first.
fn python() -> PathBuf {
    static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let requirements = root().join("tests/reference/requirements.txt");
    let wanted = fs::read_to_string(&requirements).unwrap();
    let home = Path::new(env!("CARGO_TARGET_TMPDIR")).join("reference-environment");
    let (stamp, python) = (home.join("packages-installed.txt"), home.join("bin/python"));
    if fs::read_to_string(&stamp).is_ok_and(|installed| installed == wanted) {
        return python;
    }
    let _ = fs::remove_dir_all(&home);
    let made = Command::new("python3")
        .args(["-m", "venv"])
        .arg(&home)
        .output();
    let made = made.is_ok_and(|output| output.status.success());
    assert!(
        made,
        "this test needs Python 3.9 or later with its venv module: install python3 and python3-venv"
    );
    run(
        Command::new(&python)
            .args([
                "-m",
                "pip",
                "install",
                "--quiet",
                "--disable-pip-version-check",
                "-r",
            ])
            .arg(&requirements),
        "installing the reference packages (tests/reference/requirements.txt)",
    );
    fs::write(stamp, wanted).unwrap();
    python
}

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
