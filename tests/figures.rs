//! Every figure that a sheet, list or drawing shows, against `report.json` and the parameter file.
//! `tests/reference/check_figures.py` reads the texts of the PDFs and SVGs and works out, with code
//! of its own, what each may say; a figure that nothing explains fails. The report page has the same
//! in `tests/report_page/`.
//!
//! Needs poppler-utils, and Python with the reference environment.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod checks;
    pub mod designs;
    pub mod has_poppler;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use support::checks::all_hold;
use support::designs::designs;
use support::has_poppler::has_poppler;
use support::process::run;
use support::project::root;
use support::reference::script;

/// Makes the papers of every design, with what `check` says of it beside them.
fn made(name: &str, designs: &[PathBuf], extra: &[&str]) -> PathBuf {
    let out = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("figures")
        .join(name);
    let _ = fs::remove_dir_all(&out);
    for design in designs {
        let folder = out.join(design.file_stem().unwrap());
        let mut make = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
        make.args(["make", "--only", "bench,shop"]).args(extra);
        run(
            make.arg(design).arg("--out").arg(&folder),
            &format!("making {}", design.display()),
        );
        let mut check = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
        let said = run(check.args(["check", "--json"]).arg(design), "checking");
        fs::write(folder.join("check.json"), said.stdout).unwrap();
        // What the rescue sheet repairs; a few trials will do, since none is read.
        if folder.join("bench/rescue-sheet.pdf").is_file() {
            let mut fit = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
            fit.args(["fit", "--json", "--trials", "1000"]);
            let said = run(fit.arg(design), "fitting");
            fs::write(folder.join("fit.json"), said.stdout).unwrap();
        }
    }
    out
}

fn reading(out: &Path, designs: &[PathBuf]) -> Command {
    let mut script = script("check_figures.py");
    script.arg(out).args(designs);
    script
}

fn all_explained(name: &str, designs: &[PathBuf], extra: &[&str]) {
    if !has_poppler() {
        return;
    }
    let mut script = reading(&made(name, designs, extra), designs);
    all_hold(&mut script, 40 * designs.len());
}

#[test]
fn figures_of_the_demos_are_the_reports() {
    all_explained("demos", &designs(&["params"]), &[]);
}

#[test]
fn figures_in_both_units_on_letter_are_the_reports() {
    let extra = ["--units", "both", "--paper", "letter"];
    all_explained("both-units", &designs(&["params"]), &extra);
}

#[test]
fn figures_of_designs_that_use_every_key_are_the_reports() {
    all_explained("designs", &designs(&["tests/reference/designs"]), &[]);
}

#[test]
fn figures_of_rescue_sheets_are_worked_out_from_the_records() {
    let extra = ["--units", "both"];
    all_explained("drilled", &designs(&["tests/reference/drilled"]), &extra);
}

/// The rescue sheet of a head whose bad bore lies a twentieth of a millimetre elsewhere is found out.
#[test]
fn a_rescue_sheet_of_another_bore_is_found_out() {
    if !has_poppler() {
        return;
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("figures/other-bore");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let text = fs::read_to_string(root().join("params/plover.toml")).unwrap();
    let changed = text.replace("[87.26, 97.56]", "[87.31, 97.61]");
    assert_ne!(changed, text);
    let design = folder.join("plover.toml");
    fs::write(&design, changed).unwrap();
    let out = made("other-bore-sheets", &[design], &[]);
    let output = reading(&out, &[root().join("params/plover.toml")])
        .output()
        .unwrap();
    assert!(!output.status.success());
    let said = String::from_utf8_lossy(&output.stdout);
    let faults: Vec<&str> = said
        .lines()
        .filter(|line| line.starts_with("FAIL"))
        .collect();
    for fault in ["figures that nothing explains", "treble row 2"] {
        let fault = format!("FAIL  plover: rescue-sheet.pdf: {fault}");
        assert!(said.contains(&fault), "{fault}\n{}", faults.join("\n"));
    }
    // Nothing else of the head differs.
    let other = |line: &&&str| !line.contains("rescue");
    assert_eq!(faults.iter().filter(other).count(), 0, "{faults:?}");
}

/// The sheets of one design against another that differs by a twentieth of a millimetre: whoever
/// takes them for its own must hear of it, on every sheet.
#[test]
fn sheets_of_another_design_are_found_out() {
    if !has_poppler() {
        return;
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("figures/changed");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let design = folder.join("sandpiper.toml");
    let text = fs::read_to_string(root().join("params/sandpiper.toml")).unwrap();
    let changed = text
        .replace(
            "overhang        = [17.0, 18.5]",
            "overhang        = [17.0, 18.4]",
        )
        .replace("plate_length    = 105.5", "plate_length    = 105.4")
        .replace("depth      = 24.0 ", "depth      = 24.05 ")
        .replace("width_at_crest_end = 71.0", "width_at_crest_end = 71.1");
    assert_eq!(changed.matches("18.4").count(), 1);
    assert!(changed.contains("24.05") && changed.contains("71.1"));
    fs::write(&design, changed).unwrap();
    let out = made("changed-sheets", &[design], &[]);
    let demo = root().join("params/sandpiper.toml");
    let output = reading(&out, &[demo]).output().unwrap();
    assert!(!output.status.success());
    let said = String::from_utf8_lossy(&output.stdout);
    for sheet in [
        "marking-sheet.pdf",
        "marking-sheet.svg",
        "setup-sheet.pdf",
        "rig.pdf",
        "drawing.pdf",
        "operations.pdf",
    ] {
        let fault = format!("FAIL  sandpiper: {sheet}: figures that nothing explains");
        assert!(said.contains(&fault), "{sheet}\n{said}");
    }
}
