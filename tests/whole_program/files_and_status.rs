//! What is left on the disk, and the exit status, when it goes well and when it does not.

use std::fs;
use std::path::{Path, PathBuf};

use super::{folder, json, not_clear, path};
use crate::support::demos::demo_file;
use crate::support::program::run;
use crate::support::said::{err, out, status};

#[test]
fn quiet_and_json_name_the_files_that_are_there() {
    let folder = folder();
    let file = demo_file("dunlin");
    let said = run(
        folder.path(),
        &["make", "--quiet", "--out", "here", path(&file)],
    );
    assert_eq!(status(&said), 0, "{}", err(&said));
    let quiet: Vec<String> = out(&said).lines().map(str::to_owned).collect();
    assert!(quiet.len() >= 5);
    for name in &quiet {
        assert!(folder.path().join(name).is_file(), "{name}");
    }
    let said = run(
        folder.path(),
        &["make", "--json", "--out", "here", path(&file)],
    );
    assert_eq!(status(&said), 0, "{}", err(&said));
    let made = json(&said);
    assert_eq!(made["files"].as_array().map(Vec::len), Some(quiet.len()));
    assert_eq!(made["bores"].as_array().map(Vec::len), Some(4));
    assert!(not_clear(&made).is_empty());
}

/// The main demo with one number changed.
fn changed(folder: &Path, from: &str, to: &str) -> PathBuf {
    let text = fs::read_to_string(demo_file("sandpiper")).expect("the demo");
    assert!(text.contains(from), "{from}");
    let file = folder.join("changed.toml");
    fs::write(&file, text.replace(from, to)).expect("a file");
    file
}

#[test]
fn a_stop_leaves_everything_as_it_was() {
    let folder = folder();
    let file = changed(folder.path(), "rib        = 14.0", "rib        = 14.2");
    assert_eq!(status(&run(folder.path(), &["make", path(&file)])), 0);
    let made = folder.path().join("output/changed");
    let before = fs::read(made.join("report.json")).expect("the report");
    // Barrels of both sides would run through one another.
    changed(
        folder.path(),
        "barrel_length   = 30.5",
        "barrel_length   = 36.5",
    );
    let said = run(folder.path(), &["make", path(&file)]);
    assert_eq!(status(&said), 1, "{}", err(&said));
    assert!(err(&said).contains("barrels-apart"), "{}", err(&said));
    assert_eq!(
        fs::read(made.join("report.json")).expect("the report"),
        before
    );
    let said = run(folder.path(), &["make", "--out", "fresh", path(&file)]);
    assert_eq!(status(&said), 1);
    assert!(!folder.path().join("fresh").exists());
    let said = run(folder.path(), &["check", path(&file)]);
    assert_eq!(status(&said), 1);
    let text = out(&said);
    let first = text.lines().nth(1).unwrap_or_default();
    assert!(first.starts_with("stop "), "worst first: {text}");
    assert!(text.contains("changed.toml:"), "file and line: {text}");
}

#[test]
fn mistakes_are_status_2_with_file_line_and_hint() {
    let folder = folder();
    let file = changed(
        folder.path(),
        "rib        = 14.0",
        "ribb       = \"14,0 mm\"",
    );
    for name in ["check", "make"] {
        let said = run(folder.path(), &[name, path(&file)]);
        assert_eq!(status(&said), 2, "{name}");
        assert!(err(&said).contains("changed.toml:"), "{}", err(&said));
        assert!(err(&said).contains("rib"), "{}", err(&said));
    }
    let said = run(folder.path(), &["check", "--json", path(&file)]);
    let first = json(&said)["designs"][0]["mistakes"][0].clone();
    assert!(
        first["line"].as_u64().is_some_and(|line| line > 1),
        "{first}"
    );
    assert_eq!(status(&run(folder.path(), &["check", "missing.toml"])), 2);
    assert_eq!(status(&run(folder.path(), &["make", "missing.toml"])), 2);
    assert!(!folder.path().join("output").exists());
}

#[test]
fn several_files_give_the_highest_status() {
    let folder = folder();
    let stopped = changed(
        folder.path(),
        "barrel_length   = 30.5",
        "barrel_length   = 36.5",
    );
    let good = demo_file("sandpiper");
    let said = run(folder.path(), &["check", path(&good), path(&stopped)]);
    assert_eq!(status(&said), 1);
    let said = run(
        folder.path(),
        &["check", "--json", path(&stopped), "missing.toml"],
    );
    assert_eq!(status(&said), 2);
    let value = json(&said);
    assert_eq!(value["designs"].as_array().map(Vec::len), Some(2));
    assert_eq!(value["designs"][0]["verdict"], "stop");
}

#[test]
fn a_folder_that_cannot_be_made_is_status_2() {
    let folder = folder();
    fs::write(folder.path().join("taken"), "a file").expect("a file");
    let said = run(
        folder.path(),
        &["make", "--out", "taken/inside", path(&demo_file("dunlin"))],
    );
    assert_eq!(status(&said), 2, "{}", err(&said));
    let text = fs::read_to_string(folder.path().join("taken")).expect("the file");
    assert_eq!(text, "a file");
}
