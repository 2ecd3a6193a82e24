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

/// The demo with another record beside its own.
fn with_record(folder: &Path, record: &str) -> PathBuf {
    let text = fs::read_to_string(demo()).unwrap();
    let file = folder.join("wide.toml");
    fs::write(&file, format!("{text}\n[[drilled]]\n{record}")).unwrap();
    file
}

#[test]
fn a_bore_far_too_wide_is_plugged_and_one_that_cannot_be_is_refused_at_its_line() {
    let folder = tempdir().unwrap();
    let record = |rest: &str| with_record(folder.path(), rest);
    let file = record("side = \"bass\"\nnumber = 3\ndiameter = \"14 mm\"\n");
    let value = fit(folder.path(), &file);
    let bass = &value["as_drilled"][1];
    assert_eq!(
        (&bass["side"], &bass["sits"]),
        (&"bass".into(), &"freely".into())
    );
    assert_eq!(bass["remedy"], "plug");
    assert_eq!(bass["too_wide"][0]["number"], 3);
    assert_eq!(bass["plugs"][0]["number"], 3);
    // The other side is as it was.
    assert_eq!(value["as_drilled"][0]["remedy"], "ream");
    for (rest, key, parts) in [
        (
            "side = \"bass\"\nnumber = 3\ndiameter = \"30 mm\"\n",
            "drilled.diameter",
            ["would be 30.00 mm wide", "its own diameter, below 20.40 mm"],
        ),
        (
            "side = \"bass\"\nnumber = 3\nalong = 300\n",
            "drilled.along",
            [
                "beyond the end of the straight side",
                "its place along the side",
            ],
        ),
        (
            "side = \"bass\"\nnumber = 2\nedges_from_previous = [50.0, 60.3]\n",
            "drilled.edges_from_previous",
            ["would overlap", "that faces it, not from the nut line"],
        ),
    ] {
        let file = record(rest);
        let line = fs::read_to_string(&file).unwrap().lines().count();
        let file = file.to_str().unwrap();
        for command in ["fit", "check"] {
            let said = run(folder.path(), &[command, "--json", file]);
            assert_eq!(said.status.code(), Some(2), "{command} {rest}");
            let value: Value = serde_json::from_slice(&said.stdout).unwrap();
            let text = value.to_string();
            for part in parts
                .iter()
                .chain(&[key, &format!("\"line\":{line}"), "wide.toml"])
            {
                assert!(text.contains(*part), "{part}: {text}");
            }
            // For a person, the line as it stands in the file, marked under its value.
            let typed = rest.lines().last().unwrap();
            let shown = run(folder.path(), &[command, file]);
            let shown = String::from_utf8(shown.stderr).unwrap();
            let number = line.to_string();
            let marker = format!("{}^", " ".repeat(typed.find('=').unwrap() + 2));
            for part in [
                format!("{number} | {typed}\n"),
                format!("{} | {marker}", " ".repeat(number.len())),
                format!("wide.toml:{line}:{}:", marker.len()),
            ] {
                assert!(shown.contains(&part), "{part}: {shown}");
            }
        }
    }
}

#[test]
fn a_record_that_cannot_be_is_told_in_inches_too_for_a_file_in_inches() {
    let folder = tempdir().unwrap();
    let design = Path::new(env!("CARGO_MANIFEST_DIR")).join("params/turnstone.toml");
    let text = fs::read_to_string(design).unwrap();
    let file = folder.path().join("inches.toml");
    let record = "side = \"bass\"\nnumber = 1\nalong = \"300 mm\"\n";
    fs::write(&file, format!("{text}\n[[drilled]]\n{record}")).unwrap();
    let said = run(folder.path(), &["check", file.to_str().unwrap()]);
    let said = String::from_utf8(said.stderr).unwrap();
    assert!(said.contains("would be 300.00 mm (11.811 in)"), "{said}");
}

/// A head whose plate does not go in must not leave the bench as "clear" because its design is: whoever reads
/// the checks, the page or the list of a class is sent to the rescue sheet.
#[test]
fn a_head_that_wants_repair_is_told_wherever_its_design_is_judged() {
    let folder = tempdir().unwrap();
    let heads = folder.path().join("heads");
    fs::create_dir(&heads).unwrap();
    let text = fs::read_to_string(demo()).unwrap();
    fs::write(heads.join("bad.toml"), &text).unwrap();
    let sound = text.split("[[drilled]]").next().unwrap();
    fs::write(heads.join("sound.toml"), sound).unwrap();
    let told =
        "The treble side is drilled already, and its plate does not go in: it wants reaming.";
    let out = |arguments: &[&str]| {
        let said = run(folder.path(), arguments);
        let text = String::from_utf8(said.stdout).unwrap();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for (file, bad) in [("heads/bad.toml", true), ("heads/sound.toml", false)] {
        assert_eq!(out(&["check", file]).contains(told), bad, "{file}");
        assert_eq!(
            out(&["make", file, "--out", "made"]).contains(told),
            bad,
            "{file}"
        );
        let page = fs::read_to_string(folder.path().join("made/report.html")).unwrap();
        assert_eq!(page.contains(told), bad, "{file}");
    }
    let class = out(&["class", "heads"]);
    assert!(class.contains(&format!("bad.toml: {told}")), "{class}");
    assert!(!class.contains("sound.toml: The"), "{class}");
}
