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

#[path = "support"]
mod support {
    pub mod checks;
    pub mod designs;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::Path;
use std::process::Command;

use support::checks::all_hold;
use support::designs::designs;
use support::process::run;
use support::reference::script;

/// Makes every design of a folder, then runs every reference check on it.
fn check_all(folder: &str) {
    let designs = designs(&[folder]);
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
    let checks = 50 * designs.len();
    all_hold(script("run_all.py").arg(&out).args(&designs), checks);
}

#[test]
fn demos_read_back() {
    check_all("params");
}

#[test]
fn designs_that_use_every_key_read_back() {
    check_all("tests/reference/designs");
}
