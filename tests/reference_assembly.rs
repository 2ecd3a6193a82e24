//! `shop/assembly.step` and `shop/rig.step` through OpenCASCADE's document reader: names, colours
//! and places of the parts, that none shares room with another, that barrels sit in their bores with
//! the stated clearance, and that the block's holes lie on the bores' axes. The script
//! `tests/reference/check_assembly.py` takes its figures from the parameter file alone.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod checks;
    pub mod designs;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use support::checks::all_hold;
use support::designs::designs;
use support::process::run;
use support::reference::script;

/// Makes the designs' shop folders and checks both assemblies of each.
fn check(name: &str, designs: &[PathBuf], extra: &[&str], schema: &str, stub: &str) {
    let out = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("reference-assembly")
        .join(name);
    let _ = fs::remove_dir_all(&out);
    for design in designs {
        run(
            Command::new(env!("CARGO_BIN_EXE_barrelhead"))
                .args(["make", "--only", "shop"])
                .args(extra)
                .arg(design)
                .arg("--out")
                .arg(out.join(design.file_stem().unwrap())),
            &format!("making {}", design.display()),
        );
    }
    let mut script = script("check_assembly.py");
    script.arg(&out).args([schema, stub]).args(designs);
    all_hold(&mut script, 80 * designs.len());
}

#[test]
fn assemblies_of_the_demos_read_back() {
    check("demos", &designs(&["params"]), &[], "AP242_", "0");
}

#[test]
fn assemblies_of_designs_that_use_every_key_read_back() {
    let designs = designs(&["tests/reference/designs"]);
    check("designs", &designs, &["--neck-stub", "60"], "AP242_", "60");
}

#[test]
fn assemblies_for_older_readers_read_back() {
    let all = designs(&["params"]);
    let extra = ["--step", "ap214", "--neck-stub", "80"];
    check("older", &all[..1], &extra, "AUTOMOTIVE_DESIGN ", "80");
}
