//! `room` and `vary` as a person or a script meets them; the help of `class` with theirs.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod program;
    pub mod said;
}

use std::fs;
use std::path::Path;
use std::process::Output;

use serde_json::Value;
use support::program::run;
use support::said::{err, out, status};
use tempfile::{TempDir, tempdir};

/// A folder with one demo in it.
fn with_demo(name: &str) -> TempDir {
    let folder = tempdir().unwrap();
    let from = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("params")
        .join(name);
    fs::copy(from, folder.path().join(name)).unwrap();
    folder
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", out(output)))
}

#[test]
fn each_has_help_and_refuses_in_words() {
    let folder = with_demo("dunlin.toml");
    for name in ["room", "vary", "class"] {
        let said = run(folder.path(), &[name, "--help"]);
        assert_eq!(status(&said), 0);
        assert!(out(&said).contains("Examples:\n  barrelhead "), "{name}");
        assert!(out(&said).contains("--json prints"), "{name}");
    }
    for (line, words) in [
        (&["room", "none.toml"][..], "does not exist"),
        (
            &["room", "dunlin.toml", "slots.ribs"],
            "did you mean `slots.rib`?",
        ),
        (&["vary", "dunlin.toml"], "required"),
        (
            &["vary", "dunlin.toml", "slots.rib=8..9"],
            "KEY=from..to:step",
        ),
        (
            &[
                "vary",
                "dunlin.toml",
                "slots.rib=8..9:1",
                "slots.rib=8..9:1",
            ],
            "twice",
        ),
        (
            &[
                "vary",
                "dunlin.toml",
                "slots.rib=8..9:1",
                "slots.width=8..9:1",
                "head.angle=9..10:1",
            ],
            "at most 2",
        ),
        (
            &["vary", "dunlin.toml", "slots.rib=8..9:0.001", "--make"],
            "type longer steps: slots.rib=8..9:",
        ),
        (&["class", "nowhere"], "nowhere is not there; name a folder"),
        (&["class", "dunlin.toml"], "is a file, not a folder; name"),
        (
            &["vary", "dunlin.toml", "slots.rib=a..b:c"],
            "the beginning of `slots.rib`, `a`, is no length",
        ),
        (
            &["fit", "dunlin.toml", "--trials", "5"],
            "type a whole number from 1000 to 100000000",
        ),
    ] {
        let said = run(folder.path(), line);
        assert_eq!(status(&said), 2, "{line:?}");
        assert!(err(&said).contains(words), "{line:?}: {}", err(&said));
        assert!(out(&said).is_empty(), "{line:?}");
    }
    // Nothing was written.
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn room_says_where_each_number_ends() {
    let folder = with_demo("dunlin.toml");
    let keys = ["slots.rib", "bores.clearance"];
    let said = run(folder.path(), &["room", "dunlin.toml", keys[0], keys[1]]);
    assert_eq!(status(&said), 0, "{}", err(&said));
    let text = out(&said);
    assert!(text.contains("slots.rib") && text.contains("bearing") && !text.contains('\u{1b}'));
    let value = json(&run(
        folder.path(),
        &["room", "--json", "dunlin.toml", keys[0], keys[1]],
    ));
    let rib = &value["numbers"][0];
    assert_eq!(rib["key"], "slots.rib");
    assert_eq!(rib["no_worse"]["low"]["by"]["code"], "bearing");
    // Typed into the file: clear at the end that was given, not a hundredth beyond.
    let low = rib["no_worse"]["low"]["at"].as_f64().unwrap();
    let original = fs::read_to_string(folder.path().join("dunlin.toml")).unwrap();
    for (value, verdict) in [(low, "clear"), (low - 0.012, "caution")] {
        let edited = original.replace("rib        = 10.0", &format!("rib = {value}"));
        assert_ne!(edited, original);
        fs::write(folder.path().join("edited.toml"), edited).unwrap();
        let checked = json(&run(folder.path(), &["check", "--json", "edited.toml"]));
        assert_eq!(checked["designs"][0]["verdict"], verdict, "{value}");
    }
    // A stopped design is told what would help.
    let stopped = original.replace("rib        = 10.0", "rib = 1.0");
    fs::write(folder.path().join("stopped.toml"), stopped).unwrap();
    let said = run(
        folder.path(),
        &["room", "stopped.toml", "slots.rib", "head.angle"],
    );
    assert_eq!(status(&said), 1);
    assert!(
        out(&said).contains("A check stops this design"),
        "{}",
        out(&said)
    );
}

/// Every mark of the map against the file edited by hand and checked.
#[test]
fn the_map_says_what_check_says_of_each_variant() {
    let folder = with_demo("dunlin.toml");
    let ranges = ["slots.rib=3..13:2.5", "slots.width=-1..15:4"];
    let said = run(
        folder.path(),
        &["vary", "--json", "dunlin.toml", ranges[0], ranges[1]],
    );
    assert_eq!(status(&said), 0, "{}", err(&said));
    let value = json(&said);
    let variants = value["variants"].as_array().unwrap();
    assert_eq!(variants.len(), 5 * 5);
    let original = fs::read_to_string(folder.path().join("dunlin.toml")).unwrap();
    let mut seen = std::collections::BTreeSet::new();
    for variant in variants {
        let (rib, width) = (&variant["values"][0], &variant["values"][1]);
        let edited = original
            .replace("rib        = 10.0", &format!("rib = {rib}"))
            .replace("width      = 11.0", &format!("width = {width}"));
        fs::write(folder.path().join("edited.toml"), edited).unwrap();
        let checked = json(&run(folder.path(), &["check", "--json", "edited.toml"]));
        let design = &checked["designs"][0];
        let verdict = if design["mistakes"].is_array() {
            "refused"
        } else {
            design["verdict"].as_str().unwrap()
        };
        assert_eq!(variant["verdict"], verdict, "rib {rib}, width {width}");
        seen.insert(verdict.to_owned());
    }
    assert_eq!(seen.len(), 4, "the ranges reach every grade: {seen:?}");
    let map = out(&run(
        folder.path(),
        &["vary", "dunlin.toml", ranges[0], ranges[1]],
    ));
    let rows: Vec<&str> = map
        .lines()
        .filter(|line| {
            line.split_whitespace().count() == 2
                && line.trim_start().starts_with(['3', '5', '8', '1'])
        })
        .collect();
    assert_eq!(rows.len(), 5, "{map}");
    for (row, line) in rows.iter().rev().enumerate() {
        let marks: Vec<char> = line.split_whitespace().nth(1).unwrap().chars().collect();
        for (column, mark) in marks.iter().enumerate() {
            let verdict = variants[row * 5 + column]["verdict"].as_str().unwrap();
            let meant = match mark {
                '.' => "clear",
                '#' => "refused",
                c if c.is_lowercase() => "caution",
                _ => "stop",
            };
            assert_eq!(meant, verdict, "{map}");
        }
    }
    let list =
        fs::read_to_string(folder.path().join("output/dunlin-variants/variants.csv")).unwrap();
    assert!(list.starts_with("slots.rib mm,slots.width mm,verdict,worst_check,"));
    assert_eq!(list.matches("\r\n").count(), 26);
    for cell in list.lines().flat_map(|line| line.split(',')) {
        assert!(
            cell.parse::<f64>().is_ok() || !cell.starts_with(['=', '+', '-', '@']),
            "{cell}"
        );
    }
    let drawn =
        fs::read_to_string(folder.path().join("output/dunlin-variants/variants.svg")).unwrap();
    let drawn = roxmltree::Document::parse(&drawn).unwrap();
    assert!(drawn.descendants().filter(|n| n.is_element()).count() > 25);
}

#[test]
fn made_variants_each_have_a_folder_and_stopped_ones_none() {
    let folder = with_demo("dunlin.toml");
    let said = run(
        folder.path(),
        &[
            "vary",
            "--json",
            "--make",
            "dunlin.toml",
            "slots.rib=2..10:8",
        ],
    );
    assert_eq!(status(&said), 0, "{}", err(&said));
    let value = json(&said);
    assert_eq!(value["variants"][0]["folder"], Value::Null);
    assert_eq!(value["variants"][1]["folder"], "2-slots.rib-10");
    let made = folder.path().join("output/dunlin-variants/2-slots.rib-10");
    assert!(made.join("head.step").is_file() && made.join("report.html").is_file());
}

/// A second run beside the folders of a first one: the list is of the second, so the first one's folders are
/// named, and stay; so does whatever a person keeps there, unnamed.
#[test]
fn variants_of_an_earlier_run_are_named_and_stay() {
    let folder = with_demo("dunlin.toml");
    let line = |extra: &[&str]| {
        let line = [&["vary", "dunlin.toml"], extra].concat();
        let said = run(folder.path(), &line);
        assert_eq!(status(&said), 0, "{}", err(&said));
        said
    };
    let first = ["slots.rib=10..10.1:0.1", "--make"];
    assert_eq!(err(&line(&first)), "");
    // The same again makes the same folders anew.
    assert_eq!(err(&line(&first)), "");
    let out = folder.path().join("output/dunlin-variants");
    fs::create_dir(out.join("2026-my-photos")).unwrap();
    let said = err(&line(&["slots.width=11..11.1:0.1", "--make"]));
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "Of an earlier run, and not in variants.csv: 1-slots.rib-10, 2-slots.rib-10.1 in output/dunlin-variants.";
    assert!(said.contains(words) && !said.contains("photos"), "{said}");
    for name in ["1-slots.rib-10", "2-slots.rib-10.1", "1-slots.width-11"] {
        assert!(out.join(name).join("report.json").is_file(), "{name}");
    }
    // Without --make all of them are of an earlier run.
    let value = json(&line(&["slots.rib=10..10.1:0.1", "--json"]));
    let names = [
        "1-slots.rib-10",
        "1-slots.width-11",
        "2-slots.rib-10.1",
        "2-slots.width-11.1",
    ];
    assert_eq!(value["earlier"], serde_json::json!(names));
}

/// A design that is stopped: both ends of what would help are told, since the nearest value alone reads as if all
/// beyond it would.
#[test]
fn the_room_of_a_stopped_design_names_both_ends_of_what_helps() {
    let folder = with_demo("dunlin.toml");
    let file = folder.path().join("dunlin.toml");
    let text = fs::read_to_string(&file).unwrap();
    let text = text.replace("barrel_length   = 23.5", "barrel_length = 25.5");
    fs::write(&file, text).unwrap();
    let line = [
        "room",
        "dunlin.toml",
        "machines.barrel_length",
        "machines.string_hole",
    ];
    let said = run(folder.path(), &line);
    assert_eq!(status(&said), 1);
    let value = json(&run(folder.path(), &[&line[..], &["--json"]].concat()));
    let helps = &value["numbers"][0]["without_stop"][0];
    let (low, high) = (
        helps["low"].as_f64().unwrap(),
        helps["high"].as_f64().unwrap(),
    );
    assert!(low < high && helps["goes_on"] == false, "{helps}");
    assert_eq!(value["numbers"][0]["nearest_without_stop"][0], high);
    let row = format!("{low:.2} to {high:.2}");
    assert!(out(&said).contains(&row), "{row}: {}", out(&said));
    assert!(
        !out(&said).contains(&format!("{high:.2} or less")),
        "{}",
        out(&said)
    );
}

/// A file saved while the room is worked out: the report is of the file as it was read, and so is the
/// room in it.
#[test]
fn the_room_of_a_report_is_of_the_same_reading() {
    use barrelhead::pipeline::{Folder, Wanted, make_telling};

    let folder = with_demo("dunlin.toml");
    let file = folder.path().join("dunlin.toml");
    let wanted = Wanted {
        folders: vec![Folder::Report],
        room: true,
        ..Wanted::default()
    };
    let mut saved = false;
    make_telling(&file, &folder.path().join("out"), &wanted, &mut |stage| {
        if stage == "moving every number" {
            let text = fs::read_to_string(&file).unwrap();
            let other = text.replace("rib        = 10.0", "rib        = 10.2");
            assert_ne!(text, other);
            fs::write(&file, other).unwrap();
            saved = true;
        }
    })
    .unwrap();
    assert!(saved);
    let page = fs::read_to_string(folder.path().join("out/report.html")).unwrap();
    assert!(page.contains("slots.rib, 10.00 mm"));
    assert!(!page.contains("slots.rib, 10.20 mm"));
}
