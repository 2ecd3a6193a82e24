//! A head that is already drilled, through the whole program: what `fit` says, what `make` writes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod program;
}

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use support::program::run;
use tempfile::tempdir;

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("params/plover.toml")
}

fn fit(folder: &Path, file: &Path) -> Value {
    let file = file.to_str().unwrap();
    let said = run(folder, &["fit", "--trials", "1000", "--json", file]);
    assert_eq!(said.status.code(), Some(0), "{said:?}");
    serde_json::from_slice(&said.stdout).unwrap()
}

#[test]
fn the_demo_is_told_by_fit() {
    let folder = tempdir().unwrap();
    let said = run(
        folder.path(),
        &["fit", "--trials", "1000", demo().to_str().unwrap()],
    );
    let text = String::from_utf8(said.stdout).unwrap();
    let lines: Vec<&str> = text.split_whitespace().collect();
    let text = lines.join(" ");
    for part in [
        "As drilled: treble side",
        "The plate does not go in: even at its best, shifted 0.20 mm to the crest, a barrel stands 0.05 mm into the wood.",
        "Bores 1, 2 and 3 with a bit of 10.5 mm",
        "0.60 mm (common practice)",
        "Plug bore 2 and drill anew",
        "the plate hides it",
        "Ream bores 1, 2 and 3 with a 10.5 mm bit.",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let value = fit(folder.path(), &demo());
    let [side] = value["as_drilled"].as_array().unwrap().as_slice() else {
        panic!("{value}");
    };
    assert_eq!(side["side"], "treble");
    assert_eq!(side["sits"], "not at all");
    assert_eq!(side["remedy"], "ream");
    // 0.4 mm off, read to a hundredth by calipers.
    let gap = side["settled"]["gap_mm"].as_f64().unwrap();
    assert!((gap + 0.05).abs() < 0.005, "{gap}");
}

#[test]
fn without_records_there_is_nothing_of_it_and_a_later_run_takes_the_sheet_away() {
    let folder = tempdir().unwrap();
    let made = |file: &Path| {
        let file = file.to_str().unwrap();
        let said = run(
            folder.path(),
            &["make", "--quiet", "--only", "bench", "--out", "out", file],
        );
        assert_eq!(said.status.code(), Some(0), "{said:?}");
        folder.path().join("out/bench/rescue-sheet.pdf").exists()
    };
    assert!(made(&demo()));
    let text = fs::read_to_string(demo()).unwrap();
    let plain = folder.path().join("plain.toml");
    fs::write(&plain, text.split("[[drilled]]").next().unwrap()).unwrap();
    assert!(!made(&plain));
    assert_eq!(
        fit(folder.path(), &plain)["as_drilled"],
        Value::Array(Vec::new())
    );
}

#[test]
fn old_bores_of_another_pitch_are_plugged_or_take_single_machines() {
    let folder = tempdir().unwrap();
    let text = fs::read_to_string(demo()).unwrap();
    let mut text = text.split("[[drilled]]").next().unwrap().to_owned();
    for (number, along) in [(1, 55.0), (2, 92.0), (3, 129.0)] {
        text.push_str(&format!(
            "[[drilled]]\nside = \"bass\"\nnumber = {number}\nalong = {along}\n"
        ));
    }
    let file = folder.path().join("old.toml");
    fs::write(&file, text).unwrap();
    let value = fit(folder.path(), &file);
    let side = &value["as_drilled"][0];
    assert_eq!(side["remedy"], "plug");
    let plugs = side["plugs"].as_array().unwrap();
    assert_eq!(plugs.len(), 2);
    for plug in plugs {
        assert!(
            plug["overlap"]["width_mm"].as_f64().unwrap() > 8.0,
            "{plug}"
        );
        let wood = plug["wood"].as_array().unwrap();
        assert!(wood.iter().all(|wood| wood["verdict"] != "stop"), "{plug}");
    }
    assert_eq!(side["single_machines"]["spares_the_wood"], true);
    let longest = side["single_machines"]["longest_plate_mm"]
        .as_f64()
        .unwrap();
    assert!((longest - 37.0).abs() < 1e-9);
}
