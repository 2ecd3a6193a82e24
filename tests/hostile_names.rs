//! Names of files and titles of designs that would lead elsewhere, or are longer than anybody's. Nothing is
//! written outside the output folder.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use hostile::{complete, demo, done, err, folder, found, names, run, with_demo};

#[test]
fn names_of_files_that_would_lead_elsewhere() {
    let folder = folder();
    let inner = folder.path().join("inner");
    fs::create_dir(&inner).expect("a folder");
    fs::write(folder.path().join("up.toml"), demo("dunlin")).expect("a file");
    for name in ["...toml", "..toml"] {
        fs::write(inner.join(name), demo("dunlin")).expect("a file");
        let before = found(folder.path());
        let said = run(&inner, &["make", name]);
        assert_eq!(said.status.code(), Some(2), "{name}: {}", err(&said));
        assert!(err(&said).contains("name one with --out"), "{}", err(&said));
        assert_eq!(found(folder.path()), before);
    }
    // The stem alone names the folder, wherever the file is, and whatever letters it has.
    let odd = [
        "../up.toml",
        "line\nend.toml",
        "\u{1b}[31m\u{202e}.toml",
        "-\\ $(x) '\".toml",
        ".toml",
    ];
    for name in odd {
        if !inner.join(name).exists() {
            fs::write(inner.join(name), demo("dunlin")).expect("a file");
        }
        let said = run(&inner, &["make", "--only", "report", "--", name]);
        done(&said);
        let shown = String::from_utf8(said.stdout).expect("text");
        assert!(!shown.contains(['\u{1b}', '\u{202e}']), "{shown:?}");
        let path = Path::new(name);
        let stem = path.file_stem().expect("a stem");
        assert!(
            inner.join("output").join(stem).join("head.step").is_file(),
            "{name:?}"
        );
    }
    let made = fs::read_dir(inner.join("output"))
        .expect("the folder")
        .count();
    assert_eq!(made, odd.len());
    assert!(!folder.path().join("output").exists());
}

#[test]
fn a_title_names_no_file() {
    let folder = folder();
    let plain = names(&complete(&demo("dunlin"))).join(" ");
    for title in [
        "../../x",
        "/etc/x",
        "a/b",
        "..",
        "x\\u0000y",
        "\\u001b[2J\\n",
        "C:\\\\x",
        "con",
    ] {
        let text = demo("dunlin").replace("\"Dunlin\"", &format!("\"{title}\""));
        fs::write(folder.path().join("a.toml"), text).expect("a file");
        done(&run(folder.path(), &["make", "a.toml"]));
        let made = found(&folder.path().join("output"));
        let made: Vec<&str> = made
            .keys()
            .map(|name| name.trim_start_matches("a/"))
            .collect();
        assert_eq!(made.join(" "), plain, "{title}");
    }
    assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 2);
}

#[test]
fn a_title_of_a_hundred_thousand_letters() {
    let folder = folder();
    for word in ["word ", "<&'"] {
        let long = word.repeat(100_000 / word.len());
        let text = demo("dunlin").replace("\"Dunlin\"", &format!("\"{long}\""));
        fs::write(folder.path().join("a.toml"), text).expect("a file");
        let begun = Instant::now();
        done(&run(folder.path(), &["make", "a.toml", "--quiet"]));
        // It was minutes once.
        assert!(
            begun.elapsed() < Duration::from_secs(60),
            "{:?}",
            begun.elapsed()
        );
    }
}

/// Names that the system cannot have are told in plain words, and blame the place.
#[test]
fn a_name_that_is_too_long_or_leads_through_a_file() {
    let folder = with_demo();
    fs::write(folder.path().join("file"), "mine").expect("a file");
    let before = found(folder.path());
    let long = "x".repeat(300);
    for (line, words) in [
        (
            vec!["make", "a.toml", "--out", &long],
            "its name is too long",
        ),
        (
            vec!["make", "a.toml", "--out", "file/a"],
            "file is a file, not a folder",
        ),
        (vec!["start", &long], "its name is too long"),
        (
            vec!["card", "--out", "file/card.pdf"],
            "its folder is not there",
        ),
    ] {
        let said = run(folder.path(), &line);
        let text = err(&said);
        assert_eq!(said.status.code(), Some(2), "{line:?}: {text}");
        assert!(
            text.contains(words) && !text.contains("os error"),
            "{line:?}: {text}"
        );
        assert!(found(folder.path()) == before, "{line:?}");
    }
}
