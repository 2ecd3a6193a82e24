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
use std::path::PathBuf;
use std::process::Command;

use barrelhead::input::{read, read_partial};
use support::designs::designs;
use support::process::run;
use support::project::root;
use support::reference::script;

/// Files of `tests/bad` whose form is right: numbers that do not go together, and what only reading
/// another file tells.
const WRONG_BY_MEANING: [&str; 40] = [
    "allowance-of-bush",
    "allowances",
    "arch-backwards",
    "arch-too-high",
    "arch-too-low",
    "corner-radius",
    "corner-radius-in-inches",
    "counterbore-deep",
    "counterbore-narrow",
    "flat-crest",
    "flat-crest-in-inches",
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
    "plate-length-in-inches",
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
    "unit-of-a-set-misspelt",
    "veneers-too-thick",
];

/// What the validator says of each file: `valid`, `wrong` or `toml`, and where.
fn judged(part: bool, files: &[PathBuf]) -> BTreeMap<PathBuf, (String, String)> {
    let folder = tempfile::tempdir().unwrap();
    let schema = folder
        .path()
        .join(if part { "part.json" } else { "whole.json" });
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

/// A demo's text with one line, found by how it begins, put in place by others.
fn with(changes: &[(&str, &str)]) -> String {
    let mut text = std::fs::read_to_string(root().join("params/dunlin.toml")).unwrap();
    for (begins, instead) in changes {
        let old = text.lines().find(|line| line.starts_with(begins));
        let old = old.unwrap_or_else(|| panic!("{begins}")).to_owned();
        text = text.replace(&old, instead);
    }
    text
}

/// Where a rule of the reader has an exception, the schema has it too: each text is asked of both.
#[test]
fn schema_and_reader_take_the_same() {
    const SET: &str = "[machines]
barrel_diameter = 8.0
barrel_length = 23.5
string_hole = 14.0
plate_width = 13.6
plate_thickness = 1.0
barrels = 2
over_outer_barrels = 38.0
overhang = [12.0, 12.0]
";
    let folder = tempfile::tempdir().unwrap();
    let set = folder.path().join("set.toml");
    std::fs::write(&set, SET).unwrap();
    let taken = |own: &str| {
        let whole = with(&[]);
        let start = whole.find("[machines]").unwrap();
        let end = whole.find("[placement]").unwrap();
        let own = format!("[machines]\nfrom = \"set.toml\"\n{own}\n");
        format!("{}{own}{}", &whole[..start], &whole[end..])
    };
    let wood = |species: &str| {
        format!(
            "{}\n[wood]\nspecies = \"{species}\"\nhumidity = [40, 60]\n",
            with(&[])
        )
    };
    let pitches = |instead: &str| with(&[("pitches ", instead)]);
    let placed = |instead: &str| with(&[("along = \"centred\"", instead)]);
    let screws = |points: &str| {
        pitches(&format!(
            "pitches = [30.0]\nscrews = {{ points = {points}, pilot = 1.5, depth = 6.0 }}"
        ))
    };
    let whole = [
        ("over beside from", taken("over_outer_barrels = 38.5"), true),
        ("pitches beside from", taken("pitches = [30.5]"), true),
        (
            "both beside from",
            taken("pitches = [30.0]\nbarrels = 2"),
            false,
        ),
        ("one barrel", pitches("barrels = 1"), true),
        ("two barrels", pitches("barrels = 2"), false),
        ("over alone", pitches("over_outer_barrels = 38.0"), false),
        ("neither", pitches(""), false),
        (
            "a diameter from the bass pitches",
            with(&[
                ("barrel_diameter ", ""),
                (
                    "pitches ",
                    "barrels = 2\nover_outer_barrels = 38.0\nbass = { pitches = [{ over = 38.0, between = 22.0 }] }",
                ),
            ]),
            true,
        ),
        (
            "no diameter",
            with(&[
                ("barrel_diameter ", ""),
                ("pitches ", "barrels = 2\nover_outer_barrels = 38.0"),
            ]),
            false,
        ),
        ("no screws", screws("[]"), true),
        ("a screw", screws("[[10.0, 0.0]]"), true),
        ("half a screw", screws("[[10.0]]"), false),
        (
            "a measured screw",
            screws("[[{ repeats = [10.0, 10.1] }, 0.0]]"),
            false,
        ),
        ("capitals", wood(" SPANISH cedar "), true),
        ("botanical", wood("cedrela odorata"), true),
        ("not known", wood("Spanish"), false),
        ("a bass that says nothing", placed("bass = {}"), true),
        (
            "a bass without the treble",
            placed("bass = { first_barrel = 40.0 }"),
            false,
        ),
        (
            "both sides",
            placed("first_barrel = 40.0\nbass = { first_barrel = 40.5 }"),
            true,
        ),
        (
            "centred and not",
            placed("along = \"centred\"\nfirst_barrel = 40.0"),
            false,
        ),
    ];
    let part = [
        (
            "a set that lacks a length",
            SET.replace("barrel_length = 23.5\n", ""),
            true,
        ),
        ("a set with both", format!("{SET}pitches = [30.0]\n"), false),
        (
            "a set with half a screw",
            format!("{SET}screws = {{ points = [[10.0, 0.0]], pilot = 1.5 }}\n"),
            false,
        ),
        (
            "a neck of widths",
            "[head]\nthickness = 18.6\nwidth_at_nut_end = 60.0\nwidth_at_crest_end = 66.0\n"
                .to_owned(),
            true,
        ),
        (
            "a neck with half a side",
            "[head]\nthickness = 18.6\nbass = { width_at_nut_end = 60.0 }\n".to_owned(),
            false,
        ),
        (
            "bores said twice",
            "[bores]\ndiameter = 8.4\nclearance = 0.4\n".to_owned(),
            false,
        ),
    ];
    let put = |cases: &[(&str, String, bool)]| -> Vec<PathBuf> {
        let write = |(name, text, _): &(&str, String, bool)| {
            let path = folder.path().join(format!("{name}.toml"));
            std::fs::write(&path, text).unwrap();
            path
        };
        cases.iter().map(write).collect()
    };
    let files = put(&whole);
    let said = judged(false, &files);
    for ((name, _, good), file) in whole.iter().zip(&files) {
        let found = read(file);
        assert_eq!(found.is_ok(), *good, "reader, {name}: {found:?}");
        let (verdict, place) = &said[file];
        assert_eq!(
            verdict == "valid",
            *good,
            "schema, {name}: {verdict} {place}"
        );
    }
    let files = put(&part);
    let said = judged(true, &files);
    for ((name, text, good), file) in part.iter().zip(&files) {
        let found = if text.starts_with("[machines]") {
            let design = folder.path().join("design.toml");
            let own = taken("barrel_length = 23.5").replace("set.toml", &format!("{name}.toml"));
            std::fs::write(&design, own).unwrap();
            read(&design).map(drop)
        } else {
            read_partial(&set, Some(file)).map(drop)
        };
        assert_eq!(found.is_ok(), *good, "reader, {name}: {found:?}");
        let (verdict, place) = &said[file];
        assert_eq!(
            verdict == "valid",
            *good,
            "schema, {name}: {verdict} {place}"
        );
    }
}
