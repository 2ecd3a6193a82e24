//! `barrelhead fit` as run: every demo, both forms, the same figures every time.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first surprise

mod support {
    pub mod designs;
    pub mod project;
}

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;
use support::designs::designs;

fn fit(line: &[&str], threads: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("RAYON_NUM_THREADS", threads)
        .arg("fit")
        .args(line)
        .output()
        .unwrap()
}

#[test]
fn every_demo_gets_an_answer_that_text_and_json_share() {
    for demo in designs(&["params"]) {
        let path = demo.to_str().unwrap();
        let text = fit(&["--trials", "2000", path], "1");
        let json = fit(&["--trials", "2000", "--json", path], "3");
        assert_eq!((text.status.code(), json.status.code()), (Some(0), Some(0)));
        let text = String::from_utf8(text.stdout).unwrap();
        assert!(!text.contains('\u{1b}'), "no colour off a terminal");
        let value: Value = serde_json::from_slice(&json.stdout).unwrap();
        for side in value["sides"].as_array().unwrap() {
            let bits = side["bits"].as_array().unwrap();
            let own: Vec<&Value> = bits.iter().filter(|bit| bit["own"] == true).collect();
            assert_eq!(own.len(), 1, "{path}");
            // One thread and three: the same counts.
            let share = format!("{:.2} %", own[0]["chance"].as_f64().unwrap() * 100.0);
            assert!(text.contains(&share), "{path}: {share}\n{text}");
            if let Some(advised) = side["advised"].as_str() {
                assert!(
                    text.contains(&format!("Take {advised}: ")),
                    "{path}\n{text}"
                );
            }
        }
    }
}

#[test]
fn the_makers_own_scatter_is_used_and_said() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("true.toml");
    let demo = std::fs::read_to_string(
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/good/example.toml"),
    );
    let none = "\n[drilling]\nposition = 0\nsquareness = 0\nwander = 0\ngrowth = 0\npitch = 0\n";
    std::fs::write(&path, demo.unwrap() + none).unwrap();
    for taken in ["sets", "blocks"] {
        let from = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
            .join("tests/good")
            .join(taken);
        if from.is_dir() {
            std::fs::create_dir_all(folder.path().join(taken)).unwrap();
            for entry in std::fs::read_dir(from).unwrap() {
                let entry = entry.unwrap();
                let to = folder.path().join(taken).join(entry.file_name());
                std::fs::copy(entry.path(), to).unwrap();
            }
        }
    }
    let output = fit(&["--json", "--trials", "1000", path.to_str().unwrap()], "2");
    let value: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{value:#}");
    for key in value["drilling"].as_array().unwrap() {
        assert_eq!(key["basis"], "from the file");
    }
    // Dead true work goes in whatever the bit.
    for bit in value["sides"][0]["bits"].as_array().unwrap() {
        assert_eq!(bit["chance"], 1.0);
    }
}

#[test]
fn refusals() {
    let missing = fit(&["nothing-here.toml"], "1");
    assert_eq!(missing.status.code(), Some(2));
    let few = fit(&["--trials", "5", "params/sandpiper.toml"], "1");
    assert_eq!(few.status.code(), Some(2));
    let value: Value =
        serde_json::from_slice(&fit(&["--json", "nothing-here.toml"], "1").stdout).unwrap();
    assert_eq!(value["exit_status"], 2);
    assert_eq!(value["mistakes"].as_array().map(Vec::len), Some(1));
}

/// The bit advised for how surely a plate goes in may leave a barrel looser than the check `clearance` wants:
/// then both are said, and not only that it goes in.
#[test]
fn a_bit_advised_that_the_check_would_caution_is_told_with_its_looseness() {
    let said = fit(&["--trials", "2000", "params/sandpiper.toml"], "1");
    let text = String::from_utf8(said.stdout).unwrap();
    let inch = text
        .lines()
        .position(|line| line.starts_with("With inch bits: 27/64 in."));
    let next = text.lines().nth(inch.unwrap() + 1).unwrap();
    assert_eq!(
        next,
        "(0.72 mm loose: the check `clearance` wants at most 0.60 mm, common practice)"
    );
}
