//! README shows what the program says. Every run shown there is run again; `tests/suit/` has the one of
//! `suit`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod demos;
    pub mod designs;
    pub mod program;
    pub mod project;
    pub mod said;
}

use std::fs;
use std::path::Path;

use support::demos::{demo_file, demos};
use support::program::run;
use support::project::root;
use support::said::{err, out, status};
use tempfile::{TempDir, tempdir};

/// The block of README that begins with this line.
fn shown(first: &str) -> String {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let mut blocks = readme.split("\n```text\n").skip(1);
    let block = blocks.find(|block| block.starts_with(first));
    let block = block.unwrap_or_else(|| panic!("README shows no run that begins with {first:?}"));
    block.split("\n```").next().unwrap().to_owned()
}

/// Runs the program in a folder; what it says holds the block of README from first line to last.
fn holds(folder: &Path, line: &[&str], first: &str) {
    let output = run(folder, line);
    assert!(status(&output) < 2, "{line:?}: {}", err(&output));
    let said = out(&output);
    let shown = shown(first);
    assert!(
        said.contains(&shown),
        "README is out of date: {line:?} says\n{said}\nand README shows\n{shown}"
    );
}

/// A folder with every demo in `params/`, where a run may write.
fn bench() -> TempDir {
    let folder = tempdir().unwrap();
    fs::create_dir(folder.path().join("params")).unwrap();
    for name in demos() {
        let file = demo_file(&name);
        fs::copy(
            &file,
            folder.path().join("params").join(file.file_name().unwrap()),
        )
        .unwrap();
    }
    folder
}

/// A demo with lines changed: each that begins with the one text is put as the other.
fn changed(demo: &str, changes: &[(&str, &str)]) -> String {
    let mut text = fs::read_to_string(demo_file(demo)).unwrap();
    for (begin, put) in changes {
        let lines = || text.lines().filter(|line| line.starts_with(begin));
        assert_eq!(lines().count(), 1, "{demo}: {begin}");
        let line = lines().next().unwrap().to_owned();
        text = text.replace(&line, put);
    }
    text
}

#[test]
#[cfg_attr(debug_assertions, ignore = "a minute in a dev build")]
fn fit_of_the_main_demo_and_of_a_head_that_is_drilled() {
    let folder = bench();
    for (demo, first) in [
        (
            "params/sandpiper.toml",
            "Sandpiper (params/sandpiper.toml)\n\n[drilling]",
        ),
        ("params/plover.toml", "As drilled: treble side"),
    ] {
        holds(folder.path(), &["fit", demo], first);
    }
}

#[test]
fn room_and_vary() {
    let folder = bench();
    let mut line = vec!["room", "params/dunlin.toml", "slots.rib", "slots.width"];
    line.extend([
        "head.thickness",
        "machines.barrel_length",
        "bores.clearance",
    ]);
    holds(folder.path(), &line, "Before any check says more");
    let ranges = ["slots.rib=12..17:0.5", "slots.width=13..19:0.25"];
    let line = ["vary", "params/sandpiper.toml", ranges[0], ranges[1]];
    holds(
        folder.path(),
        &line,
        "Sandpiper (params/sandpiper.toml): 275",
    );
}

#[test]
fn wood_of_the_main_demo_and_its_lengths_read_more_than_once() {
    let folder = bench();
    let line = ["check", "--all", "params/sandpiper.toml"];
    holds(folder.path(), &line, "Wood        Spanish cedar");
    let readings = [
        (
            "barrel_diameter",
            "barrel_diameter = { repeats = [9.92, 9.92, 9.93, 9.98] }",
        ),
        (
            "pitches ",
            "pitches = [{ over = [44.92, 44.94], between = [25.07, 25.08] }, 35.0]",
        ),
    ];
    let read = changed("sandpiper", &readings);
    fs::write(folder.path().join(line[2]), read).unwrap();
    holds(folder.path(), &line, "Measured    machines.barrel_diameter");
}

#[test]
fn strings_before_the_ramp_was_cut() {
    let folder = bench();
    let text = changed("sandpiper", &[("ramp ", "")]);
    fs::write(folder.path().join("params/sandpiper.toml"), text).unwrap();
    let line = ["check", "params/sandpiper.toml"];
    holds(folder.path(), &line, "caution  string-face");
}

#[test]
fn four_heads_of_a_teaching_day() {
    let folder = tempdir().unwrap();
    let day = folder.path().join("day");
    fs::create_dir(&day).unwrap();
    let title = |title| ("title", title);
    for (file, changes) in [
        ("dunlin.toml", vec![]),
        (
            "thicker.toml",
            vec![
                title("title = \"Dunlin, thicker\""),
                ("thickness ", "thickness = 16.6"),
            ],
        ),
        (
            "wider.toml",
            vec![
                title("title = \"Dunlin, wider\""),
                ("width_at_nut_end ", "width_at_nut_end = 49.0"),
                ("width_at_crest_end ", "width_at_crest_end = 55.0"),
            ],
        ),
        (
            "spare.toml",
            vec![
                title("title = \"Dunlin, a spare set\""),
                ("pitches ", "pitches = [30.5]"),
            ],
        ),
    ] {
        fs::write(day.join(file), changed("dunlin", &changes)).unwrap();
    }
    holds(folder.path(), &["class", "day"], "day: 4 heads");
}
