//! The strings of `report.json` against OpenCASCADE: every string as a cylinder, its distance to the
//! head with slots and ramps, to barrels, windings and other strings. The script
//! `tests/reference/check_strings.py` finds the strings' ends from the parameter file on its own.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod checks;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;

use barrelhead::pipeline::{self, Wanted};
use support::checks::all_hold;
use support::project::root;
use support::reference::script;

/// Makes a design and runs the script on it.
fn check(name: &str, text: &str) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(format!("{name}.toml"));
    fs::write(&file, text).unwrap();
    let out = folder.path().join("output");
    let made = pipeline::make(&file, &out, &Wanted::nothing_more()).unwrap();
    let report = made.folder.join("report.json");
    all_hold(script("check_strings.py").arg(&file).arg(report), 150);
}

fn file(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap()
}

/// The six-string demo, and the same without ramps and with flatter and longer ones.
#[test]
fn the_demo_and_its_ramps() {
    let demo = file("params/sandpiper.toml");
    let ramp = "ramp       = { mouth = 19.0, angle = 24.0 }";
    assert!(demo.contains(ramp));
    check("sandpiper", &demo);
    for (name, other) in [
        ("without", ""),
        ("flat", "ramp = { mouth = 26.0, angle = 7.0 }"),
        (
            "square",
            "corner_radius = 0.0\nramp = { mouth = 12.0, angle = 15.0 }",
        ),
    ] {
        check(name, &demo.replace(ramp, other));
    }
}

/// Inches, slots along the sides, crossed strings, one under its barrel.
#[test]
fn strings_of_every_kind() {
    check(
        "strung-inch",
        &file("tests/reference/strings/strung-inch.toml"),
    );
}
