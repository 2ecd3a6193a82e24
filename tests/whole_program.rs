//! The program from file to files: every demo and starter, exit status, what is left on the disk.

#![allow(clippy::expect_used)] // a test that cannot set up its case should say so and fail

mod support {
    pub mod demos;
    pub mod designs;
    pub mod program;
    pub mod project;
    pub mod said;
}

use std::collections::BTreeSet;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Output, Stdio};

use serde_json::Value;
use support::demos::{demo_file, demos};
use support::program::{program, run};
use support::said::{err, out, status};
use tempfile::{TempDir, tempdir};

/// Each demo with the cautions its comments announce.
const DEMOS: [(&str, &[&str]); 8] = [
    ("sandpiper", &[]),
    ("curlew", &["side-pull"]),
    ("godwit", &["side-pull"]),
    ("dunlin", &[]),
    ("turnstone", &["block-wood"]),
    ("whimbrel", &["side-pull"]),
    ("plover", &[]),
    ("snipe", &[]),
];

const STARTERS: [(&str, &[&str]); 6] = [
    ("six-string", &[]),
    ("seven-string", &["side-pull"]),
    ("ten-string", &["side-pull"]),
    ("ukulele", &[]),
    ("steel-string", &[]),
    ("twelve-string", &["side-pull"]),
];

const ANSWERS: &str = "10\n30.5\n19\n80\n17.4\n105.5\n20.4\n63\n71\n184\n";

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

#[test]
fn every_demo_has_only_the_cautions_it_announces() {
    let listed: BTreeSet<String> = DEMOS.iter().map(|(name, _)| (*name).to_owned()).collect();
    let there: BTreeSet<String> = demos().into_iter().collect();
    assert_eq!(listed, there, "every demo has its row");
    let folder = folder();
    for (name, cautions) in DEMOS {
        let file = demo_file(name);
        let said = run(folder.path(), &["check", "--json", path(&file)]);
        assert_eq!(status(&said), 0, "{name}: {}", err(&said));
        has_cautions_only(&json(&said)["designs"][0], cautions, name);
        let comments = fs::read_to_string(&file).expect("the demo");
        for code in cautions {
            assert!(
                comments.contains(&format!("Caution meant: `{code}`")),
                "{name}"
            );
        }
    }
}

#[test]
fn every_starter_checks_with_only_the_cautions_it_announces() {
    let folder = folder();
    for (name, cautions) in STARTERS {
        let file = format!("{name}.toml");
        assert_eq!(status(&run(folder.path(), &["start", name, &file])), 0);
        let said = run(folder.path(), &["check", "--json", &file]);
        assert_eq!(status(&said), 0, "{name}: {}", out(&said));
        has_cautions_only(&json(&said)["designs"][0], cautions, name);
        let text = fs::read_to_string(folder.path().join(&file)).expect("the starter");
        for code in cautions {
            assert!(text.contains(&format!("`{code}`")), "{name}: {code}");
        }
    }
}

fn ask(folder: &Path, line: &[&str], typed: &str) -> Output {
    let mut child = program(folder)
        .args(line)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("its input");
    stdin.write_all(typed.as_bytes()).expect("typed");
    drop(stdin);
    child.wait_with_output().expect("the program ends")
}

#[test]
fn ask_writes_a_file_that_reads_back_and_ends_with_the_checks() {
    let folder = folder();
    let said = ask(
        folder.path(),
        &["start", "--ask", "--mm", "mine.toml"],
        ANSWERS,
    );
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    assert!(
        out(&said).contains("the checks say clear"),
        "{}",
        out(&said)
    );
    let checked = run(folder.path(), &["check", "--json", "mine.toml"]);
    assert_eq!(status(&checked), 0, "{}", out(&checked));
    has_cautions_only(&json(&checked)["designs"][0], &[], "ten answers");
}

#[test]
fn ask_in_inches_and_with_unequal_sides() {
    let folder = folder();
    let inches = "1/4\n1-1/8\n0.72\n3\n0.56\n4.05\n11/16\n2.25\n2.5\n6-5/8\n";
    let line = ["start", "--ask", "--inches", "steel-string", "steel.toml"];
    let said = ask(folder.path(), &line, inches);
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    let seven = "10\n32.5\n20\n80\n18\n105\n21\n66\n73\n202\n";
    let line = ["start", "--ask", "--mm", "seven-string", "seven.toml"];
    let said = ask(folder.path(), &line, seven);
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    for name in ["steel.toml", "seven.toml"] {
        let checked = run(folder.path(), &["check", "--json", name]);
        assert_eq!(status(&checked), 0, "{name}: {}", out(&checked));
    }
}

#[test]
fn ask_tells_a_stop_but_has_done_its_work() {
    // Barrels a millimetre short of meeting stand the questions but not every check.
    let folder = folder();
    let typed = ANSWERS
        .replace("63\n71\n", "56\n62\n")
        .replace("30.5\n", "30.9\n");
    let said = ask(
        folder.path(),
        &["start", "--ask", "--mm", "mine.toml"],
        &typed,
    );
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    assert!(out(&said).contains("the checks say stop"), "{}", out(&said));
    assert_eq!(status(&run(folder.path(), &["check", "mine.toml"])), 1);
}

#[test]
fn make_prints_one_screen_and_writes_the_contracts_files() {
    let folder = folder();
    for (name, cautions) in DEMOS {
        let said = run(folder.path(), &["make", path(&demo_file(name))]);
        assert_eq!(status(&said), 0, "{name}: {}", err(&said));
        let text = out(&said);
        assert!(!text.contains('\u{1b}'));
        assert!(text.lines().count() <= 45, "{name}: {text}");
        for line in text.lines() {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
        for word in ["Depth stop", "Rib window", "eye protection", "head.step"] {
            assert!(text.contains(word), "{name}: {word}: {text}");
        }
        for code in cautions {
            assert!(text.contains(code), "{name}: {code}");
        }
        let made = folder.path().join("output").join(name);
        let blocks: &[&str] = if name == "curlew" {
            &["guide-block-treble", "guide-block-bass"]
        } else {
            &["guide-block"]
        };
        let mut files = vec![
            "head.step".to_owned(),
            "head.stl".into(),
            "report.json".into(),
        ];
        for block in blocks {
            files.push(format!("{block}.step"));
            files.push(format!("{block}.stl"));
        }
        for file in files {
            let size = fs::metadata(made.join(&file))
                .map(|data| data.len())
                .unwrap_or(0);
            assert!(size > 500, "{name}: {file} has {size} bytes");
        }
    }
}

#[test]
fn the_stop_figure_of_the_main_demo() {
    // By hand: block 24 + bore 32.5 + point 5.25/tan 59 = 3.1545; together 59.65.
    let folder = folder();
    let said = run(
        folder.path(),
        &["make", "--json", path(&demo_file("sandpiper"))],
    );
    assert_eq!(status(&said), 0, "{}", err(&said));
    let stops = json(&said)["depth_stops"].clone();
    let figure = stops[0]["from_block_top"].as_f64().expect("a figure");
    assert!((figure - (24.0 + 32.5 + 5.25 / 59f64.to_radians().tan())).abs() < 1e-9);
    assert_eq!(stops[0]["sides"], "both");
}

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

#[test]
fn inches_stand_beside_millimetres() {
    let folder = folder();
    let said = run(
        folder.path(),
        &["check", "--all", path(&demo_file("turnstone"))],
    );
    assert!(out(&said).contains(" in)"), "{}", out(&said));
    let metric = demo_file("sandpiper");
    assert!(!out(&run(folder.path(), &["check", "--all", path(&metric)])).contains(" in)"));
    let said = run(
        folder.path(),
        &["check", "--all", "--inches", path(&metric)],
    );
    assert!(out(&said).contains(" in)"));
}

#[test]
fn explain_lists_tells_and_suggests() {
    let folder = folder();
    let listed = run(folder.path(), &["explain"]);
    assert_eq!(status(&listed), 0);
    let value = json(&run(folder.path(), &["explain", "--json"]));
    let checks = value["checks"].as_array().expect("checks").clone();
    assert!(checks.len() >= 30, "{}", checks.len());
    for check in &checks {
        let code = check["code"].as_str().expect("a code");
        assert!(out(&listed).contains(code), "{code}");
        let said = run(folder.path(), &["explain", code]);
        assert_eq!(status(&said), 0, "{code}");
        assert!(out(&said).len() > 120, "{code} says little: {}", out(&said));
        for line in out(&said).lines() {
            assert!(line.chars().count() <= 100, "{code}: {line}");
        }
    }
    let said = run(folder.path(), &["explain", "bering"]);
    assert_eq!(status(&said), 2);
    assert!(
        err(&said).contains("Did you mean `bearing`?"),
        "{}",
        err(&said)
    );
    assert_eq!(
        status(&run(folder.path(), &["explain", "--json", "bearing"])),
        0
    );
}
