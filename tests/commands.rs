//! The command line as a person or a script meets it: help, refusals, exit status, no colour
//! where none belongs. Runs the real program in a folder of its own; nothing here needs a design
//! to be built (that is `whole_program/`).

#![allow(clippy::expect_used)] // a test that cannot set up its case should say so and fail

mod support {
    pub mod program;
    pub mod said;
    pub mod typed;
}

use std::fs;
use std::path::Path;

use support::program::{program, run};
use support::said::{err, out, status};
use support::typed::type_in;
use tempfile::{TempDir, tempdir};

const KINDS: [&str; 6] = [
    "six-string",
    "seven-string",
    "ten-string",
    "ukulele",
    "steel-string",
    "twelve-string",
];

fn folder() -> TempDir {
    tempdir().expect("a temporary folder")
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

#[test]
fn every_command_has_help_with_an_example() {
    let folder = folder();
    for line in [
        &["--help"][..],
        &["start", "--help"],
        &["check", "--help"],
        &["make", "--help"],
        &["explain", "--help"],
    ] {
        let said = run(folder.path(), line);
        assert_eq!(status(&said), 0, "{line:?}");
        let text = out(&said);
        assert!(
            text.contains("Examples:\n  barrelhead "),
            "{line:?}: {text}"
        );
        assert!(!text.contains('\u{1b}'), "{line:?}: colour in a pipe");
    }
    assert!(out(&run(folder.path(), &["--help"])).contains("Exit status"));
    assert!(out(&run(folder.path(), &["check", "--help"])).contains("\"designs\""));
}

#[test]
fn no_help_is_wider_than_the_screen() {
    let folder = folder();
    for command in ["start", "check", "make", "explain", "card"] {
        for help in ["--help", "-h"] {
            let text = out(&run(folder.path(), &[command, help]));
            let widest = text.lines().map(|line| line.chars().count()).max();
            assert!(
                widest.is_some_and(|widest| widest <= 100),
                "{command}: {text}"
            );
            // A line the terminal's width broke leaves a word or two standing alone.
            let paragraph = text.split("\n\n").last().unwrap_or_default();
            let mut lines: Vec<&str> = paragraph.lines().collect();
            lines.pop();
            assert!(lines.iter().all(|line| line.len() > 8), "{command}: {text}");
        }
    }
}

/// The main demo with a rib that no barrel reaches far enough into.
fn stopped() -> String {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/params/sandpiper.toml");
    let demo = fs::read_to_string(demo).expect("the demo");
    let rib = demo.lines().find(|line| line.starts_with("rib "));
    demo.replace(rib.expect("a rib"), "rib = 2.0")
}

#[test]
fn a_stopped_design_says_whose_the_files_in_the_folder_are() {
    let place = folder();
    fs::write(place.path().join("a.toml"), stopped()).expect("a file");
    let fresh = run(place.path(), &["make", "a.toml", "--out", "made"]);
    assert_eq!(status(&fresh), 1);
    assert!(
        err(&fresh).contains("nothing was written"),
        "{}",
        err(&fresh)
    );
    assert!(!err(&fresh).contains("earlier run"), "{}", err(&fresh));
    fs::create_dir(place.path().join("made")).expect("a folder");
    let report = place.path().join("made/report.json");
    fs::write(&report, "{}").expect("a report");
    let again = run(place.path(), &["make", "a.toml", "--out", "made"]);
    assert_eq!(status(&again), 1);
    assert!(
        err(&again).contains("The files in made are of an earlier run"),
        "{}",
        err(&again)
    );
    assert_eq!(fs::read_to_string(&report).expect("the report"), "{}");
    assert_eq!(names(&place.path().join("made")), ["report.json"]);
}

#[test]
fn an_own_limit_beyond_a_stop_is_told_of() {
    let place = folder();
    let text = format!("{}\n[limits]\nbearing = 0.2\nrim = 0.6\n", stopped());
    fs::write(place.path().join("a.toml"), text).expect("a file");
    let said = out(&run(place.path(), &["check", "a.toml"]));
    assert!(
        said.contains("[limits] your own limit for bearing lies beyond the stop at 0.50 mm"),
        "{said}"
    );
    assert_eq!(said.matches("[limits] your own").count(), 1, "{said}");
}

#[test]
fn a_wrong_command_line_is_status_2() {
    let folder = folder();
    for line in [
        &[][..],
        &["drill"],
        &["check"],
        &["make"],
        &["make", "a.toml", "b.toml"],
        &["start"],
        &["start", "--inches", "a.toml"],
        &["start", "--list", "a.toml"],
        &["start", "--ask", "--mm", "--inches", "a.toml"],
        &["check", "--colour", "a.toml"],
        &["make", "/"],
    ] {
        let said = run(folder.path(), line);
        assert_eq!(status(&said), 2, "{line:?}: {}", err(&said));
        assert!(!err(&said).is_empty(), "{line:?}");
        assert!(out(&said).is_empty(), "{line:?}");
    }
    assert!(names(folder.path()).is_empty());
}

#[test]
fn start_writes_each_kind_and_says_what_to_measure() {
    let folder = folder();
    let listed = out(&run(folder.path(), &["start", "--list"]));
    for kind in KINDS {
        assert!(listed.contains(kind), "{listed}");
        let file = format!("{kind}.toml");
        let said = run(folder.path(), &["start", kind, &file]);
        assert_eq!(status(&said), 0, "{}", err(&said));
        assert!(out(&said).contains("A to J"), "{}", out(&said));
        let text = fs::read_to_string(folder.path().join(&file)).expect("the starter");
        assert!(text.contains("cannot be guessed"));
        assert!(text.parse::<toml::Table>().is_ok());
    }
    assert_eq!(names(folder.path()).len(), KINDS.len());
    // Without a kind: the six-string.
    assert_eq!(status(&run(folder.path(), &["start", "mine.toml"])), 0);
    let read = |name: &str| fs::read(folder.path().join(name)).expect("a starter");
    assert_eq!(read("mine.toml"), read("six-string.toml"));
}

#[test]
fn start_never_overwrites() {
    let folder = folder();
    let file = folder.path().join("mine.toml");
    fs::write(&file, "# mine\n").expect("a file");
    for line in [
        &["start", "mine.toml"][..],
        &["start", "--ask", "mine.toml"],
    ] {
        let said = run(folder.path(), line);
        assert_eq!(status(&said), 2);
        assert!(err(&said).contains("never written over"), "{}", err(&said));
    }
    assert_eq!(fs::read_to_string(&file).expect("the file"), "# mine\n");
    assert_eq!(names(folder.path()), ["mine.toml"]);
}

#[cfg(unix)]
#[test]
fn card_writes_one_sheet_without_a_design_and_never_overwrites() {
    let place = folder();
    let made = run(place.path(), &["card"]);
    assert_eq!(status(&made), 0, "{}", err(&made));
    assert_eq!(names(place.path()), ["measuring-card.pdf"]);
    let file = place.path().join("measuring-card.pdf");
    assert!(fs::read(&file).expect("the card").starts_with(b"%PDF-"));

    fs::write(&file, "notes").expect("a file");
    let again = run(place.path(), &["card"]);
    assert_eq!(status(&again), 2);
    assert!(
        err(&again).contains("never written over"),
        "{}",
        err(&again)
    );
    assert_eq!(fs::read(&file).expect("the file"), b"notes");

    let letter = ["card", "--paper", "letter", "--out", "other.pdf"];
    assert_eq!(status(&run(place.path(), &letter)), 0);
    assert!(place.path().join("other.pdf").is_file());
}

#[test]
fn start_does_not_follow_a_dangling_link() {
    let folder = folder();
    std::os::unix::fs::symlink("elsewhere.toml", folder.path().join("mine.toml")).expect("a link");
    let said = run(folder.path(), &["start", "mine.toml"]);
    assert_eq!(status(&said), 2);
    assert!(!folder.path().join("elsewhere.toml").exists());
}

#[test]
fn start_says_what_is_wrong_with_kind_or_folder() {
    let folder = folder();
    let said = run(folder.path(), &["start", "ukelele", "mine.toml"]);
    assert_eq!(status(&said), 2);
    assert!(
        err(&said).contains("; did you mean `ukulele`? `barrelhead start --list`"),
        "{}",
        err(&said)
    );
    let said = run(folder.path(), &["start", "no/such/mine.toml"]);
    assert_eq!(status(&said), 2);
    assert!(
        err(&said).contains("folder no/such is not there"),
        "{}",
        err(&said)
    );
    let said = run(folder.path(), &["start", "ukulele"]);
    assert_eq!(status(&said), 2);
    assert!(err(&said).contains("name the file"), "{}", err(&said));
    assert!(names(folder.path()).is_empty());
}

#[test]
fn ask_refuses_what_cannot_be_right_and_asks_again() {
    let folder = folder();
    let typed = "ten\n-10\n0\n10,5\n254\n10 mm\n10\n30.5\n31\n19\nquit\n";
    let said = type_in(
        folder.path(),
        &["start", "--ask", "--mm", "mine.toml"],
        typed,
    );
    let text = out(&said);
    assert_eq!(text.matches("A [mm]> ").count(), 6, "{text}");
    assert_eq!(text.matches("B [mm]> ").count(), 2, "{text}");
    assert_eq!(text.matches("C [mm]> ").count(), 2, "{text}");
    assert!(
        text.contains("A is 10.00 mm") && text.contains("B is 30.50 mm"),
        "{text}"
    );
    assert_eq!(status(&said), 2);
    assert!(err(&said).contains("nothing was written"));
    assert!(names(folder.path()).is_empty());
}

#[test]
fn ask_writes_nothing_when_answers_run_out() {
    let folder = folder();
    for typed in [
        "",
        "\n",
        "mm\n10\n30.5\n",
        "mm\n10\n30.5\n19\n80\n17.4\n105.5\n20.4\n63\n71\n",
    ] {
        let said = type_in(folder.path(), &["start", "--ask", "mine.toml"], typed);
        assert_eq!(status(&said), 2, "{typed:?}");
        assert!(err(&said).contains("nothing was written"), "{}", err(&said));
        assert!(names(folder.path()).is_empty(), "{typed:?}");
    }
}

#[test]
fn colour_only_where_it_belongs() {
    let folder = folder();
    let line = ["start", "--list"];
    assert!(
        !out(&run(folder.path(), &line)).contains('\u{1b}'),
        "in a pipe"
    );
    // Asked for by force it comes even in a pipe, so the absence above is no accident.
    let forced = program(folder.path())
        .args(line)
        .env("CLICOLOR_FORCE", "1")
        .output()
        .expect("the program runs");
    assert!(out(&forced).contains('\u{1b}'), "forced");
    let refused = program(folder.path())
        .args(line)
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs");
    assert!(!out(&refused).contains('\u{1b}'), "NO_COLOR");
    let wrong = run(folder.path(), &["start", "ukelele", "mine.toml"]);
    assert!(!err(&wrong).contains('\u{1b}'), "errors in a pipe");
}

#[test]
fn json_carries_no_colour_even_by_force() {
    let folder = folder();
    let said = program(folder.path())
        .args(["check", "--json", "missing.toml"])
        .env("CLICOLOR_FORCE", "1")
        .output()
        .expect("the program runs");
    let text = out(&said);
    assert!(!text.contains('\u{1b}'));
    let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(
        value["exit_status"].as_i64(),
        Some(i64::from(status(&said)))
    );
    assert_eq!(value["designs"][0]["file"].as_str(), Some("missing.toml"));
}
