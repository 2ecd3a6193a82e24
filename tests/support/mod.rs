//! What tests that lean on other programs share: the Python of the reference and running commands.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "each test uses its part, and stops at the first surprise"
)]

pub mod raster;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::{Mutex, PoisonError};

/// The project's folder.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Runs a command to its end; panics with what it printed where it fails.
pub fn run(command: &mut Command, what: &str) -> Output {
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
pub fn python() -> PathBuf {
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

/// Whether the PDF tools are there. Without them a test of PDFs says on standard error that it is left
/// out, and what to install; where continuous integration runs (`CI` is set) it fails instead.
pub fn has_poppler() -> bool {
    let there = ["pdftoppm", "pdftotext", "pdffonts", "pdfinfo"]
        .iter()
        .all(|tool| Command::new(tool).arg("-v").output().is_ok());
    let needed = "tests of PDFs need poppler-utils (apt-get install poppler-utils)";
    assert!(there || std::env::var_os("CI").is_none(), "{needed}");
    if !there {
        eprintln!("left out: {needed}");
    }
    there
}

/// Runs one of the PDF tools of poppler-utils; panics saying what to install where it is missing.
pub fn poppler(tool: &str, arguments: &[&str], file: &Path) -> Vec<u8> {
    let output = Command::new(tool).args(arguments).arg(file).output();
    let output = output.unwrap_or_else(|_| {
        panic!("this test needs {tool}: install poppler-utils (apt-get install poppler-utils)")
    });
    assert!(
        output.status.success(),
        "{tool}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    output.stdout
}
