//! The reference: scripts in `tests/reference/`, and the Python environment they run in.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot have its environment stops"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, PoisonError};

use super::process::run;
use super::project::root;

/// A script of `tests/reference/`, to be given its arguments and run.
pub fn script(name: &str) -> Command {
    let file = root().join("tests/reference").join(name);
    assert!(file.is_file(), "{}: no such script", file.display());
    let mut command = Command::new(python());
    command.arg(file);
    command
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
            .args(["-m", "pip", "install", "--quiet"])
            .args(["--disable-pip-version-check", "-r"])
            .arg(&requirements),
        "installing the reference packages (tests/reference/requirements.txt)",
    );
    fs::write(stamp, wanted).unwrap();
    python
}
