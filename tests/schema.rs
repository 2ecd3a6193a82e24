//! The schema that `barrelhead schema` prints, by a validator we did not write: every demo, set, neck and
//! block holds to it, every wrong file breaks it unless it is wrong by its meaning alone.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod designs;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

use support::designs::designs;
use support::process::run;
use support::reference::script;

/// Files of `tests/bad` whose form is right: numbers that do not go together, and what only reading
/// another file tells.
const WRONG_BY_MEANING: [&str; 36] = [
    "allowance-of-bush",
    "allowances",
    "arch-backwards",
    "arch-too-high",
    "arch-too-low",
    "corner-radius",
    "counterbore-deep",
    "counterbore-narrow",
    "flat-crest",
    "from-both",
    "from-displaced",
    "from-empty",
    "from-folder",
    "from-itself",
    "from-loop",
    "from-no-table",
    "from-not-toml",
    "from-plate-length",
    "from-table-is-text",
    "from-wrong-set",
    "over-barrels-too-short",
    "over-one-barrel",
    "plate-length",
    "readings-of-a-pair",
    "readings-over-a-barrel",
    "readings-without-diameter",
    "rig-thin-upright",
    "scribe",
    "sides-backwards",
    "strings-and-barrels",
    "strings-descending",
    "strings-twice",
    "template-without-slots",
    "too-long-in-inches",
    "too-short",
    "veneers-too-thick",
];

/// What the validator says of each file: `valid`, `wrong` or `toml`, and where.
fn judged(part: bool, files: &[PathBuf]) -> BTreeMap<PathBuf, (String, String)> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("schema");
    std::fs::create_dir_all(&folder).unwrap();
    let schema = folder.join(if part { "part.json" } else { "whole.json" });
    let mut command = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
    command.arg("schema");
    if part {
        command.arg("--part");
    }
    std::fs::write(&schema, run(&mut command, "barrelhead schema").stdout).unwrap();
    let mut validator = script("check_schema.py");
    let said = run(validator.arg(&schema).args(files), "check_schema.py").stdout;
    let said = String::from_utf8(said).unwrap();
    let found: BTreeMap<PathBuf, (String, String)> = said
        .lines()
        .map(|line| {
            let mut parts = line.splitn(3, '\t').map(str::to_owned);
            let file = PathBuf::from(parts.next().unwrap());
            (file, (parts.next().unwrap(), parts.next().unwrap()))
        })
        .collect();
    assert_eq!(found.len(), files.len(), "{said}");
    found
}

#[test]
fn whole_designs_hold_to_the_schema() {
    let list = designs(&["params", "tests/good"]);
    for (file, (verdict, place)) in judged(false, &list) {
        assert_eq!(verdict, "valid", "{}: {place}", file.display());
    }
}

#[test]
fn sets_necks_and_blocks_hold_to_the_schema_of_parts() {
    let list = designs(&["params/sets", "params/necks", "params/blocks"]);
    for (file, (verdict, place)) in judged(true, &list) {
        assert_eq!(verdict, "valid", "{}: {place}", file.display());
    }
    // Only the tables that must be there make the difference.
    for (file, (verdict, place)) in judged(false, &list) {
        let missing = verdict == "wrong" && place.contains("is a required property");
        assert!(missing, "{}: {verdict} {place}", file.display());
    }
}

#[test]
fn wrong_files_break_the_schema_or_are_wrong_by_their_meaning() {
    let list = designs(&["tests/bad"]);
    let valid: BTreeSet<String> = judged(false, &list)
        .into_iter()
        .filter(|(_, (verdict, _))| verdict == "valid")
        .map(|(file, _)| file.file_stem().unwrap().to_str().unwrap().to_owned())
        .collect();
    let meant: BTreeSet<String> = WRONG_BY_MEANING.map(str::to_owned).into();
    assert_eq!(valid, meant);
}
