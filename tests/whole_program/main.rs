//! The program from file to files: every demo and starter, exit status, what is left on the disk.

#![allow(clippy::expect_used)] // a test that cannot set up its case should say so and fail

mod ask;
mod demos_and_starters;
mod files_and_status;
mod words;
#[path = "../support"]
mod support {
    pub mod demos;
    pub mod designs;
    pub mod program;
    pub mod project;
    pub mod said;
    pub mod typed;
}

use std::path::Path;
use std::process::Output;

use serde_json::Value;
use support::said::out;
use tempfile::{TempDir, tempdir};

fn folder() -> TempDir {
    tempdir().expect("a temporary folder")
}

fn json(output: &Output) -> Value {
    serde_json::from_str(&out(output)).expect("JSON on standard output")
}

fn path(file: &Path) -> &str {
    file.to_str().expect("a path of plain letters")
}

/// Codes of the checks that are not clear, in the order given, with their verdicts.
fn not_clear(design: &Value) -> Vec<(String, String)> {
    let checks = design["checks"].as_array().expect("checks");
    assert!(checks.len() > 15, "{} checks only", checks.len());
    checks
        .iter()
        .filter(|check| check["verdict"] != "clear")
        .map(|check| {
            let word = |key: &str| check[key].as_str().unwrap_or_default().to_owned();
            (word("code"), word("verdict"))
        })
        .collect()
}

fn has_cautions_only(design: &Value, expected: &[&str], name: &str) {
    let mut found = not_clear(design);
    found.sort();
    let expected: Vec<(String, String)> = expected
        .iter()
        .map(|code| ((*code).to_owned(), "caution".to_owned()))
        .collect();
    assert_eq!(found, expected, "{name}");
}
