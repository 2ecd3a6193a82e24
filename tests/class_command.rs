//! `class` as a teacher or a script meets it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod has_poppler;
    pub mod pdf_text;
    pub mod process;
    pub mod program;
    pub mod said;
}

use std::fs;
use std::path::Path;
use std::process::Output;

use serde_json::Value;
use support::has_poppler::has_poppler;
use support::pdf_text::pdf_text;
use support::program::run;
use support::said::{err, out, status};
use tempfile::{TempDir, tempdir};

const DEMO: &str = include_str!("../params/dunlin.toml");

/// A folder with one demo in it.
fn with_demo() -> TempDir {
    let folder = tempdir().unwrap();
    fs::write(folder.path().join("dunlin.toml"), DEMO).unwrap();
    folder
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", out(output)))
}

/// The sheet's text, as one line; `None` without the means to read it.
fn sheet_text(folder: &Path) -> Option<String> {
    let text = has_poppler().then(|| pdf_text(&folder.join("day/class.pdf")))?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

#[test]
fn a_class_goes_on_past_mistakes_and_has_one_sheet() {
    let folder = with_demo();
    let original = fs::read_to_string(folder.path().join("dunlin.toml")).unwrap();
    let write = |name: &str, text: String| fs::write(folder.path().join(name), text).unwrap();
    write(
        "second.toml",
        original
            .replace("title = \"Dunlin\"", "title = \"=Second\"")
            .replace("= 16.0", "= 16.4"),
    );
    write(
        "stopped.toml",
        original.replace("rib        = 10.0", "rib = 1.0"),
    );
    write("wrong.toml", original.replace("= 16.0", "= -16.0"));
    write("set.toml", "[machines]\nbarrel_diameter = 8.0\n".to_owned());
    let said = run(folder.path(), &["class", "--json", "."]);
    assert_eq!(status(&said), 2);
    let value = json(&said);
    let heads = value["heads"].as_array().unwrap();
    assert_eq!(heads.len(), 3);
    assert_eq!(value["not_read"].as_array().unwrap().len(), 1);
    assert!(value["left_out"][0].as_str().unwrap().ends_with("set.toml"));
    // By hand: block 18, barrel 23.5, 2.5 beyond, flat bit.
    assert!((heads[0]["deepest_stop_mm"].as_f64().unwrap() - 44.0).abs() < 1e-9);
    assert_eq!(heads[2]["verdict"], "stop");
    let sheet = folder.path().join(value["sheet"].as_str().unwrap());
    assert!(fs::read(sheet).unwrap().starts_with(b"%PDF"));
    let said = run(folder.path(), &["class", "."]);
    assert_eq!(status(&said), 2);
    assert!(
        err(&said).contains("`thickness` must be above zero"),
        "{}",
        err(&said)
    );
    assert!(
        out(&said).contains("44.00") && out(&said).contains("not read"),
        "{}",
        out(&said)
    );
    // The second is 0.4 mm thicker: the first's block drills it, under a shim of half of that.
    let blocks = value["blocks"].as_array().unwrap();
    let files = |list: &Value| -> Vec<String> {
        let names = list.as_array().unwrap().iter();
        names
            .map(|name| name.as_str().unwrap().replace("./", ""))
            .collect()
    };
    assert_eq!(blocks.len(), 1);
    // The head that is stopped is not drilled, so no block drills it.
    let all = ["dunlin.toml", "second.toml"];
    assert_eq!(files(&blocks[0]["heads"]), all);
    let shims = heads.iter().map(|head| head["shims_mm"][0].as_f64());
    for (shim, wanted) in shims.zip([0.0, 0.2]) {
        assert!((shim.unwrap() - wanted).abs() < 1e-9, "{heads:?}");
    }
    let text = out(&said);
    assert!(
        text.contains("3 heads, 1 file that could not be read, 1 set, 1 block"),
        "{text}"
    );
    let line = "Block A: the guide block of dunlin.toml; drills 2 heads, 1 of them with a shim";
    assert!(text.contains(line), "{text}");
    // Nothing but sets: said so.
    let empty = tempdir().unwrap();
    fs::write(empty.path().join("set.toml"), "[machines]\n").unwrap();
    let said = run(empty.path(), &["class", "."]);
    assert_eq!(status(&said), 2);
    assert!(err(&said).contains("no parameter file with a table [head]"));
}

/// What a teacher prints the evening before: heads that cannot be read, each for another reason, are named on
/// the sheet and beside the list, and the sheet says of itself that it is not whole.
#[test]
fn a_class_with_heads_that_cannot_be_read_has_a_sheet_that_names_them() {
    let folder = with_demo();
    let write = |name: &str, text: &[u8]| fs::write(folder.path().join(name), text).unwrap();
    write("second.toml", DEMO.replace("= 16.0", "= 16.4").as_bytes());
    // A set is no head, and not missed.
    write("set.toml", b"[machines]\nbarrel_diameter = 8.0\n");
    write("empty.toml", b"");
    write("haed.toml", DEMO.replace("[head]", "[haed]").as_bytes());
    write("latin.toml", b"title = \"Fl\xfcgel\"\n");
    write("wrong.toml", DEMO.replace("= 16.0", "= -16.0").as_bytes());
    #[allow(unused_mut)]
    let mut missing = vec!["empty.toml", "haed.toml", "latin.toml", "wrong.toml"];
    #[cfg(unix)]
    {
        // A head on a stick that is no longer there; and the mark of an editor, which is no head.
        std::os::unix::fs::symlink("away/gone.toml", folder.path().join("gone.toml")).unwrap();
        std::os::unix::fs::symlink("me@here.1", folder.path().join(".#dunlin.toml")).unwrap();
        missing.insert(1, "gone.toml");
    }
    let said = run(folder.path(), &["class", ".", "--out", "day"]);
    assert_eq!(status(&said), 2, "{}", err(&said));
    let names = missing.join(", ");
    let count = missing.len();
    let screen = out(&said).split_whitespace().collect::<Vec<_>>().join(" ");
    let words = format!(
        "The sheet is not whole: {count} heads could not be read and are missing from it: {names}."
    );
    assert!(screen.contains(&words), "{screen}");
    assert!(!screen.contains(".#dunlin"), "{screen}");
    for name in &missing {
        assert!(err(&said).contains(name), "{name}: {}", err(&said));
    }
    if let Some(text) = sheet_text(folder.path()) {
        let words = format!(
            "Not the whole class: {count} heads could not be read and are missing here: {names}."
        );
        assert!(text.contains(&words), "{text}");
        assert!(text.contains("A, own"), "{text}");
    }
    let value = json(&run(
        folder.path(),
        &["class", "--json", ".", "--out", "day"],
    ));
    let not_read = value["not_read"].as_array().unwrap().iter();
    let not_read: Vec<&str> = not_read
        .map(|one| one["file"].as_str().unwrap().trim_start_matches("./"))
        .collect();
    assert_eq!(not_read, missing);
    assert_eq!(value["exit_status"], 2);
    assert!(value["sheet"].is_string());

    // Mended, the sheet is whole, and says nothing.
    for name in &missing {
        fs::remove_file(folder.path().join(name)).unwrap();
    }
    let said = run(folder.path(), &["class", ".", "--out", "day"]);
    assert_eq!(status(&said), 0, "{}", err(&said));
    assert!(!out(&said).contains("not whole"), "{}", out(&said));
    if let Some(text) = sheet_text(folder.path()) {
        assert!(!text.contains("Not the whole class"), "{text}");
    }
}

/// A head that a check stops is read and on the sheet: the sheet is whole, the status 1.
#[test]
fn a_class_with_a_stopped_head_has_a_whole_sheet_and_ends_with_1() {
    let folder = with_demo();
    let stopped = DEMO.replace("rib        = 10.0", "rib = 1.0");
    fs::write(folder.path().join("stopped.toml"), stopped).unwrap();
    let said = run(folder.path(), &["class", ".", "--out", "day"]);
    assert_eq!(status(&said), 1, "{}", err(&said));
    assert!(!out(&said).contains("not whole"), "{}", out(&said));
    if let Some(text) = sheet_text(folder.path()) {
        assert!(!text.contains("Not the whole class"), "{text}");
        assert!(text.contains(" stop "), "{text}");
    }
}

/// Screen, sheet and JSON agree: a head that is not drilled has no block, no shim and no depth stop, and what
/// could not be read is not counted as a head.
#[test]
fn a_stopped_head_has_no_block_on_screen_sheet_and_in_json() {
    let folder = with_demo();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let stopped = DEMO.replace("rib        = 10.0", "rib = 1.0");
    write("alike.toml", &stopped);
    write(
        "alone.toml",
        &stopped.replace("pitches", "barrels = 2\nover_outer_barrels = 31 #"),
    );
    write("wrong.toml", "[head\n");
    write("empty.toml", "");
    let said = run(folder.path(), &["class", ".", "--out", "day"]);
    let text = out(&said);
    let first = text.lines().next().unwrap();
    assert!(
        first.contains(": 3 heads, 2 files that could not be read, "),
        "{text}"
    );
    assert!(first.ends_with(", 1 block"), "{text}");
    assert!(
        text.contains("Block A: the guide block of dunlin.toml; drills 1 head\n"),
        "{text}"
    );
    assert!(!text.contains("Block B"), "{text}");
    for name in ["alike.toml", "alone.toml"] {
        let row = text.lines().find(|line| line.starts_with(name)).unwrap();
        assert!(!row.contains(" A ") && !row.contains(".00"), "{row}");
        assert!(row.contains("stop") && row.contains("bearing"), "{row}");
    }
    let said = run(folder.path(), &["class", ".", "--out", "day", "--json"]);
    let value = json(&said);
    let heads = value["heads"].as_array().unwrap();
    assert_eq!(heads.len(), 3);
    for head in heads {
        let drilled = head["verdict"] != "stop";
        for key in ["block", "shims_mm", "deepest_stop_mm", "depth_stops"] {
            assert_eq!(head[key].is_null(), !drilled, "{key}: {head}");
        }
    }
    let blocks = value["blocks"].as_array().unwrap();
    assert_eq!(blocks.len(), 1);
    assert_eq!(blocks[0]["heads"].as_array().unwrap().len(), 1);
}

/// No sheet of no heads; and what an earlier run left is said to be that, and not touched.
#[test]
fn a_class_of_which_no_head_can_be_read_has_no_sheet_and_says_whose_the_old_one_is() {
    let folder = tempdir().unwrap();
    let file = folder.path().join("dunlin.toml");
    fs::write(&file, DEMO.replace("= 16.0", "= -16.0")).unwrap();
    let line = ["class", ".", "--out", "day"];
    let said = run(folder.path(), &line);
    assert_eq!(status(&said), 2);
    let words = "No head could be read, so there is no sheet.";
    assert!(out(&said).contains(words), "{}", out(&said));
    assert!(!out(&said).contains("earlier run"), "{}", out(&said));
    assert!(!folder.path().join("day").exists());

    fs::write(&file, DEMO).unwrap();
    assert_eq!(status(&run(folder.path(), &line)), 0);
    let sheet = folder.path().join("day/class.pdf");
    let before = fs::read(&sheet).unwrap();
    fs::write(&file, "[head").unwrap();
    let said = run(folder.path(), &line);
    assert_eq!(status(&said), 2);
    let screen = out(&said).split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "day/class.pdf is of an earlier run: it stays as it was.";
    assert!(screen.contains(words), "{screen}");
    assert_eq!(fs::read(&sheet).unwrap(), before);
}
