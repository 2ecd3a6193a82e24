//! The command as a person or a script meets it.

use std::fs;

use serde_json::Value;
use tempfile::tempdir;

use super::params;
use crate::support::program::run;
use crate::support::project::root;

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

const THREE: [&str; 6] = [
    "suit",
    "--neck",
    "params/necks/snipe.toml",
    "params/sets/slim-35.toml",
    "params/sets/broad-35.toml",
    "params/sets/long-39.toml",
];

#[test]
fn suit_readme_shows_what_the_program_says() {
    let said = run(root(), &THREE);
    assert_eq!(said.status.code(), Some(0));
    let said = text(&said.stdout);
    let (table, assumed) = said.split_once("\nAssumed (*)").expect("the assumptions");
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    assert!(
        readme.contains(table),
        "README's run is out of date:\n{table}"
    );
    assert!(assumed.contains("(our assumption)") && assumed.contains("(common practice)"));
}

#[test]
fn suit_puts_four_sets_side_by_side_on_a_screen() {
    let mut line: Vec<&str> = THREE.to_vec();
    line.push("params/sets/three-and-four-35.toml");
    for extra in [None, Some("--inches")] {
        let line: Vec<&str> = line.iter().copied().chain(extra).collect();
        let said = run(root(), &line);
        assert_eq!(said.status.code(), Some(0));
        let said = text(&said.stdout);
        for line in said.lines() {
            assert!(line.chars().count() <= 100, "{line}");
        }
        assert!(!said.contains('\u{1b}'));
        // Millimetres always, and inches after them.
        assert!(said.contains("in millimetres") && said.contains("from 17.00"));
        for told in ["in inches", "from 0.670"] {
            assert_eq!(said.contains(told), extra.is_some(), "{told}: {said}");
        }
    }
}

/// A file in inches is shown both units without being asked for, as everywhere.
#[test]
fn suit_shows_a_set_in_inches_in_both_units() {
    let said = text(
        &run(
            root(),
            &["suit", "tests/reference/designs/sets/narrow-plate.toml"],
        )
        .stdout,
    );
    for told in ["in millimetres\n", "in inches\n", " mm (0."] {
        assert!(said.contains(told), "{told}: {said}");
    }
    assert!(
        said.lines().all(|line| line.chars().count() <= 100),
        "{said}"
    );
}

#[test]
fn suit_json_holds_what_the_table_holds() {
    let mut line: Vec<&str> = THREE.to_vec();
    line.push("--json");
    let said = run(root(), &line);
    assert_eq!(said.status.code(), Some(0));
    let value: Value = serde_json::from_slice(&said.stdout).unwrap();
    assert_eq!(value["exit_status"], 0);
    let sets = value["sets"].as_array().unwrap();
    let verdicts: Vec<&str> = sets
        .iter()
        .filter_map(|set| set["verdict"].as_str())
        .collect();
    assert_eq!(verdicts, ["clear", "caution", "stop"]);
    let bounds = sets[0]["bounds"].as_array().unwrap();
    let names: Vec<&str> = bounds
        .iter()
        .filter_map(|bound| bound["name"].as_str())
        .collect();
    assert_eq!(
        names,
        [
            "thickness",
            "width_at_first_barrel",
            "width_at_last_barrel",
            "rib",
            "slot_width",
            "first_barrel",
            "block_depth",
            "bush_diameter"
        ]
    );
    let least = &bounds[0]["clear"]["least"];
    assert!((least["value"].as_f64().unwrap() - 17.0).abs() < 1e-6);
    assert_eq!(least["check"], "plate-thickness");
    assert_eq!(bounds[0]["assumed"], false);
    let rib = sets[0]["assumed"]
        .as_array()
        .unwrap()
        .iter()
        .find(|assumed| assumed["key"] == "slots.rib")
        .unwrap();
    assert_eq!(rib["value"], bounds[3]["here"]);
    assert_eq!(rib["basis"], "our assumption");
    let place = &sets[2]["bounds"][5]["clear"];
    assert_eq!(place["open"], false);
    assert_eq!(sets[0]["blocks"][0]["drills"], "both");
}

#[test]
fn suit_says_what_is_wrong_with_its_files() {
    let folder = tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("neck.toml", "[head]\nthickness = 20\n");
    write("empty.toml", "# nothing yet\n");
    write(
        "slip.toml",
        "[machines]\nbarrel_diameter = 10\nbarrel_lenght = 30\nstring_hole = 19\nplate_width = 17\n\
         plate_thickness = 1\npitches = [35]\noverhang = [15, 15]\n[head]\nthickness = '20'\n",
    );
    for (line, words) in [
        (
            &["suit", "neck.toml"][..],
            &["[machines] is missing", "neck.toml"][..],
        ),
        (&["suit", "empty.toml"], &["[machines] is missing"]),
        (
            &["suit", "slip.toml"],
            &[
                "slip.toml:3",
                "`barrel_length`",
                "slip.toml:10",
                "has no unit",
            ],
        ),
        (
            &["suit", "nowhere.toml"],
            &["nowhere.toml", "does not exist"],
        ),
        (
            &["suit", "--neck", "nowhere.toml", "slip.toml"],
            &["nowhere.toml", "does not exist"],
        ),
        (&["suit"], &["SET"]),
        (&["suit", "--json", "--inches", "slip.toml"], &["--inches"]),
    ] {
        let said = run(folder.path(), line);
        assert_eq!(said.status.code(), Some(2), "{line:?}");
        let err = text(&said.stderr);
        for word in words {
            assert!(err.contains(word), "{line:?} lacks {word}: {err}");
        }
    }
    // A good set beside a bad one is worked out all the same.
    let good = params("sets/slim-35.toml");
    let said = run(
        folder.path(),
        &["suit", good.to_str().unwrap(), "slip.toml"],
    );
    assert_eq!(said.status.code(), Some(2));
    assert!(text(&said.stdout).contains("Thickness of the head"));
    let said = run(folder.path(), &["suit", "--json", "slip.toml"]);
    let value: Value = serde_json::from_slice(&said.stdout).unwrap();
    assert_eq!(value["sets"][0]["mistakes"][0]["line"], 3);
    assert_eq!(value["exit_status"], 2);
}

/// A neck that says nothing of one would have everything assumed, while the maker believes that the answer is
/// for the wood on the bench.
#[test]
fn suit_refuses_a_neck_that_says_nothing_of_one() {
    let folder = tempdir().unwrap();
    let good = params("sets/slim-35.toml");
    let other = params("sets/broad-35.toml");
    let line = [
        "suit",
        "--neck",
        "neck.toml",
        good.to_str().unwrap(),
        other.to_str().unwrap(),
    ];
    let set = fs::read_to_string(&good).unwrap();
    let empty =
        "neck.toml: error: the file is empty, or holds only comments: it says nothing of the neck";
    let nothing = "neck.toml: error: the file says nothing of the neck: no key under [head], none under [nut]";
    let aside = format!("{nothing}; its machines are left aside");
    for (neck, words) in [
        ("", empty),
        ("# to be measured\n\n", empty),
        ("title = 'Mine'\nunit = 'in'\n", nothing),
        ("[head]\n[nut]\n", nothing),
        ("[press]\ntravel = 60\n", nothing),
        (&set, &aside),
    ] {
        fs::write(folder.path().join("neck.toml"), neck).unwrap();
        let said = run(folder.path(), &line);
        assert_eq!(said.status.code(), Some(2), "{neck}");
        let err = text(&said.stderr);
        assert!(err.contains(words), "{neck}: {err}");
        let hint = "write instead: what is known of it, such as [head] with a line thickness = 18.6; or the \
                    command without --neck";
        assert!(err.contains(hint), "{neck}: {err}");
        // Once, not for each set.
        assert_eq!(err.matches("says nothing of the neck").count(), 1, "{err}");
        assert!(said.stdout.is_empty());
        let said = run(
            folder.path(),
            &["suit", "--json", "--neck", "neck.toml", line[3]],
        );
        let value: Value = serde_json::from_slice(&said.stdout).unwrap();
        let mistake = &value["sets"][0]["mistakes"][0];
        assert_eq!(mistake["file"], "neck.toml");
        assert_eq!(value["exit_status"], 2);
    }
    // A slip is one mistake; one key of either table is enough.
    for (neck, mistake) in [
        ("[haed]\nthickness = 18.6\n", Some("did you mean `head`?")),
        ("head = 18.6\n", Some("`head`")),
        ("[head]\nthickness = 18.6\n", None),
        ("[nut]\nstring_span = 42.0\n", None),
    ] {
        fs::write(folder.path().join("neck.toml"), neck).unwrap();
        let said = run(folder.path(), &line);
        let err = text(&said.stderr);
        assert!(!err.contains("says nothing of the neck"), "{neck}: {err}");
        match mistake {
            Some(words) => assert!(err.contains(words), "{neck}: {err}"),
            None => assert_eq!(said.status.code(), Some(0), "{neck}: {err}"),
        }
    }
}

#[test]
fn suit_help_has_examples_and_the_shape_of_its_json() {
    let said = run(root(), &["suit", "--help"]);
    assert_eq!(said.status.code(), Some(0));
    let said = text(&said.stdout);
    for word in [
        "Examples:\n  barrelhead suit",
        "\"bounds\"",
        "--neck",
        "Exit status",
    ] {
        assert!(said.contains(word), "{word}");
    }
}

/// The first barrel's place decides how far the strings bend sideways, also where the strings' places at the
/// nut are assumed: the value here must not be called clear where the checks say caution.
#[test]
fn suit_counts_side_pull_for_the_first_barrel_without_a_neck() {
    let said = run(root(), &["suit", "params/sets/slim-35.toml", "--json"]);
    let value: Value = serde_json::from_slice(&said.stdout).unwrap();
    let set = &value["sets"][0];
    let place = set["bounds"].as_array().unwrap();
    let place = place
        .iter()
        .find(|bound| bound["name"] == "first_barrel")
        .unwrap();
    let counted = place["checks"].as_array().unwrap();
    assert!(
        counted.contains(&Value::from("side-pull")) && counted.contains(&Value::from("nut-break"))
    );
    assert_eq!(place["clear"]["least"]["check"], "side-pull");
    assert!(
        place["here"].as_f64() < place["clear"]["least"]["value"].as_f64(),
        "{place}"
    );
    assert_eq!(set["verdict"], "caution");
    // What hangs on the assumed rib and ramp as well is not counted, but told.
    assert_eq!(
        place["left_out"],
        serde_json::json!(["bearing", "string-face"])
    );
    let said = text(&run(root(), &["suit", "params/sets/slim-35.toml"]).stdout);
    let row = said
        .lines()
        .find(|line| line.contains("side-pull, plate-side"))
        .unwrap();
    assert!(row.contains(" from ") || row.contains(" to "), "{row}");
    let told = "First barrel from the nut line, treble side: bearing, string-face";
    assert!(said.contains(told), "{said}");
}

/// A set whose sides are not alike: what stops it and no range counts is said to be that.
#[test]
fn suit_says_which_checks_no_range_counts() {
    let folder = tempdir().unwrap();
    let set = fs::read_to_string(params("sets/slim-35.toml")).unwrap();
    let set = format!("{set}\n[machines.bass]\npitches = [38.0, 38.0]\n");
    fs::write(folder.path().join("unlike.toml"), set).unwrap();
    let said = run(folder.path(), &["suit", "unlike.toml", "--json"]);
    let value: Value = serde_json::from_slice(&said.stdout).unwrap();
    let set = &value["sets"][0];
    assert_eq!(set["verdict"], "stop");
    let mut counted: Vec<&str> = Vec::new();
    for bound in set["bounds"].as_array().unwrap() {
        counted.extend(
            bound["checks"]
                .as_array()
                .unwrap()
                .iter()
                .filter_map(Value::as_str),
        );
    }
    let loud = set["checks"].as_array().unwrap().iter();
    let loud = loud.filter(|check| check["verdict"] != "clear");
    let codes: Vec<&str> = loud.filter_map(|check| check["code"].as_str()).collect();
    let mut missing = codes
        .iter()
        .copied()
        .filter(|code| !counted.contains(code))
        .collect::<Vec<_>>();
    missing.sort_unstable();
    assert!(missing.contains(&"far-wood"), "{codes:?}");
    let mut told: Vec<&str> = set["no_bound"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(Value::as_str)
        .collect();
    told.sort_unstable();
    assert_eq!(told, missing);
    let said = text(&run(folder.path(), &["suit", "unlike.toml"]).stdout);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = format!(
        "; no range above counts {}",
        set["no_bound"][0].as_str().unwrap()
    );
    assert!(said.contains(&words), "{said}");
}
