//! `suit`: its ranges against the checks of the designs they speak of, and the command as a person
//! or a script meets it.

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod program;
    pub mod project;
}

use std::fs;
use std::path::{Path, PathBuf};

use barrelhead::check::{Report, Verdict};
use barrelhead::input::{Across, Design, Lie, Side, read_partial};
use barrelhead::layout::{Copy, Layout};
use barrelhead::pipeline::judge_design;
use barrelhead::study::suit::{Bound, Number, Range, Suit, moved, suit};
use serde_json::Value;
use support::program::run;
use support::project::root;
use tempfile::tempdir;

/// How far inside and outside an end the checks are asked, mm: ends are found to 1e-7, and 0.01 is
/// what is printed.
const BESIDE: f64 = 0.01;

fn params(name: &str) -> PathBuf {
    root().join("params").join(name)
}

fn study(set: &Path, neck: Option<&Path>) -> Suit {
    let (design, assumed) = read_partial(set, neck).unwrap_or_else(|found| {
        panic!("{}: {}", set.display(), found[0].message);
    });
    suit(design, assumed)
}

fn sets() -> [PathBuf; 4] {
    ["slim-35", "broad-35", "long-39", "three-and-four-35"]
        .map(|name| params(&format!("sets/{name}.toml")))
}

/// What the checks say of a design, run as `check` runs them.
struct Verdicts(Report);

impl Verdicts {
    fn of(design: &Design) -> Verdicts {
        let judged = judge_design(design, Path::new("moved"));
        let (_, report, _) = judged.expect("no fault of the layout");
        Verdicts(report)
    }

    /// The verdict by one code; clear where the check does not apply.
    fn by(&self, code: &str) -> Verdict {
        self.0
            .finding(code)
            .map_or(Verdict::Clear, |finding| finding.verdict)
    }
}

/// Asks the checks on both sides of every end of a range.
fn prove(suit: &Suit, bound: &Bound, range: &Range, most: Verdict, name: &str) {
    let what = format!("{name}, {:?}, {most:?}: {range:?}", bound.number);
    let at =
        |value: f64| Verdicts::of(&moved(suit, bound.number, value).expect("the number is there"));
    let roomy = range
        .least
        .zip(range.greatest)
        .is_none_or(|(a, b)| b.value - a.value > 2.0 * BESIDE);
    for (end, inwards) in [(range.least, BESIDE), (range.greatest, -BESIDE)] {
        let Some(end) = end else { continue };
        let outside = at(end.value - inwards).by(end.check);
        assert!(outside > most, "{what}: {outside:?} outside");
        let inside = at(end.value + inwards);
        assert!(inside.by(end.check) <= most, "{what}: not held inside");
        if range.is_open() && roomy {
            for code in &bound.checks {
                assert!(inside.by(code) <= most, "{what}: {code} inside");
            }
        }
    }
    if let Some(here) = bound.here {
        let verdicts = at(here);
        let held = bound.checks.iter().all(|code| verdicts.by(code) <= most);
        assert_eq!(held, range.holds(here), "{what}: here is {here}");
    }
    if let Some(code) = range.never {
        let most_searched = bound.here.unwrap_or(20.0) * 2.0;
        for step in 1..20 {
            let value = most_searched * f64::from(step) / 20.0;
            assert!(at(value).by(code) > most, "{what}: {code} at {value}");
        }
    }
}

fn prove_all(suit: &Suit, name: &str) {
    assert!(suit.bounds.len() >= 6, "{name}");
    for bound in &suit.bounds {
        prove(suit, bound, &bound.no_stop, Verdict::Caution, name);
        prove(suit, bound, &bound.clear, Verdict::Clear, name);
    }
}

#[test]
fn suit_ranges_end_where_the_checks_turn_for_every_set_alone() {
    for set in sets() {
        prove_all(&study(&set, None), &set.display().to_string());
    }
}

#[test]
fn suit_ranges_end_where_the_checks_turn_for_every_set_on_the_given_neck() {
    let neck = params("necks/snipe.toml");
    for set in sets() {
        prove_all(&study(&set, Some(&neck)), &set.display().to_string());
    }
}

#[test]
fn suit_ranges_end_where_the_checks_turn_for_whole_designs() {
    for demo in ["sandpiper", "dunlin", "turnstone", "godwit", "snipe"] {
        let suit = study(&params(&format!("{demo}.toml")), None);
        assert!(suit.assumed.is_empty(), "{demo}: {:?}", suit.assumed);
        prove_all(&suit, demo);
    }
}

/// Slots along the sides, a head that is not true, a back that slopes, an axis given by the file.
#[test]
fn suit_ranges_hold_for_unlike_sides_and_slots_along_them() {
    let folder = tempdir().unwrap();
    let file = folder.path().join("odd.toml");
    let set = fs::read_to_string(params("sets/slim-35.toml")).unwrap();
    let rest = "
[head]
width_at_nut_end = 62
width_at_crest_end = 68
thickness = 19
thickness_at_crest = 18
bass = { width_at_nut_end = 63.5, width_at_crest_end = 67 }
[placement]
first_barrel = 55
axis_below_face = 9.2
[slots]
cheek = 10
width = 13
end_margin = [18, 18]
[press]
travel = 70
";
    fs::write(&file, set + rest).unwrap();
    let suit = study(&file, None);
    assert!(
        suit.bounds
            .iter()
            .any(|bound| bound.number == Number::Cheek)
    );
    prove_all(&suit, "odd");
    // The string hole is 17.2 from every side, whatever the slots.
    assert!(
        (suit.slot_middle - 17.2).abs() < 1e-9,
        "{}",
        suit.slot_middle
    );
}

fn bound(suit: &Suit, number: Number) -> &Bound {
    suit.bounds
        .iter()
        .find(|bound| bound.number == number)
        .expect("this bound")
}

/// Against arithmetic written out here; 1e-6 is ten times what the ends are found to.
#[test]
fn suit_agrees_with_longhand() {
    let suit = study(
        &params("sets/slim-35.toml"),
        Some(&params("necks/snipe.toml")),
    );
    let least = |number, no_stop: bool| {
        let bound = bound(&suit, number);
        let range = if no_stop { bound.no_stop } else { bound.clear };
        range.least.map(|end| (end.value, end.check))
    };
    let near = |found: Option<(f64, &str)>, value: f64, check: &str| {
        let (found, by) = found.expect("an end");
        assert!((found - value).abs() < 1e-6, "{found} for {value}");
        assert_eq!(by, check);
    };
    // The plate and 0.5 mm either side of it.
    near(
        least(Number::Thickness, false),
        16.0 + 1.0,
        "plate-thickness",
    );
    // The bore, 0.2 wider where it is printed, and 1 mm either side of it.
    near(
        least(Number::Thickness, true),
        10.5 + 0.2 + 2.0,
        "wood-over",
    );
    // 1.9 diameters of the bit.
    near(least(Number::BlockDepth, false), 1.9 * 10.5, "block-guided");
    assert_eq!(least(Number::BlockDepth, true), None);
    // The block is as high as the head: 2.5 and 1 mm of wood over and under the bush.
    let bush = bound(&suit, Number::Bush);
    let greatest = [bush.clear, bush.no_stop].map(|range| range.greatest.unwrap().value);
    assert!((greatest[0] - (18.6 - 5.0)).abs() < 1e-6);
    assert!((greatest[1] - (18.6 - 2.0)).abs() < 1e-6);
    // Mirrored barrels lean by the taper: their inner ends come nearest at the rims.
    let taper = (3.5_f64 / 178.0).atan();
    let meeting = 2.0 * (28.6 * taper.cos() + 5.0 * taper.sin());
    for number in [Number::WidthAtFirst, Number::WidthAtLast] {
        near(least(number, true), meeting, "barrels-apart");
        near(least(number, false), meeting + 1.0, "barrels-apart");
    }
    // 3 mm of the widest barrels in the rib.
    let plate = 16.5 + 70.0 + 16.5;
    let last_s = (178.0 / taper.cos()) / 2.0 - plate / 2.0 + 16.5 + 70.0;
    let half = 30.0 + last_s * taper.sin();
    near(
        least(Number::Rib, false),
        2.0 * (half - (28.6 - 3.0) * taper.cos()),
        "bearing",
    );
    // The middle of the holes: the mean of the first and the last.
    let hole = |s: f64| 30.0 + s * taper.sin() - 17.2 * taper.cos();
    let middle = f64::midpoint(hole(last_s - 70.0), hole(last_s));
    assert!((suit.slot_middle - middle).abs() < 1e-9);
}

/// Each number typed into the design by hand makes the design the study asked the checks about.
#[test]
fn suit_moves_only_the_number_it_speaks_of() {
    let suit = study(
        &params("sets/slim-35.toml"),
        Some(&params("necks/snipe.toml")),
    );
    let same = |number, value: f64, change: &dyn Fn(&mut Design)| {
        let mut by_hand = suit.design.clone();
        change(&mut by_hand);
        assert_eq!(moved(&suit, number, value).unwrap(), by_hand, "{number:?}");
    };
    same(Number::Thickness, 19.0, &|design| {
        design.head.thickness = 19.0;
        design.head.thickness_at_crest = 19.0;
    });
    same(Number::Rib, 13.0, &|design| {
        design.slots.as_mut().unwrap().lie = Lie::Rib(13.0);
    });
    same(Number::BlockDepth, 20.0, &|design| {
        design.guide.depth = 20.0
    });
    same(Number::Bush, 12.0, &|design| {
        design.guide.bush_diameter = Some(12.0);
    });
    // With the middle kept, a slot 2 mm narrower leaves 2 mm more rib.
    let wide = moved(&suit, Number::SlotWidth, 14.0).unwrap();
    let narrow = moved(&suit, Number::SlotWidth, 12.0).unwrap();
    let rib = |design: &Design| match design.slots.as_ref().unwrap().lie {
        Lie::Rib(rib) => rib,
        Lie::Cheek(_) => f64::NAN,
    };
    assert!((rib(&narrow) - rib(&wide) - 2.0).abs() < 1e-12);
    let place = moved(&suit, Number::FirstBarrel, 60.0).unwrap();
    let layout = Layout::new(&place, Copy::Finished);
    for side in Side::BOTH {
        assert!((layout.sides.get(side).bores[0].entry.y - 60.0).abs() < 1e-9);
    }
    assert_eq!(place.placement.depth, Across::Centred);
}

/// The width at the first barrels, tried on the whole head: both widths made smaller alike.
#[test]
fn suit_width_turns_the_whole_heads_check() {
    let suit = study(
        &params("sets/slim-35.toml"),
        Some(&params("necks/snipe.toml")),
    );
    let width = bound(&suit, Number::WidthAtFirst);
    let here = width.here.unwrap();
    // The same place along the side, or the centred plate would wander as the sides change.
    let whole = moved(
        &suit,
        Number::FirstBarrel,
        bound(&suit, Number::FirstBarrel).here.unwrap(),
    )
    .unwrap();
    for (range, most) in [
        (&width.no_stop, Verdict::Caution),
        (&width.clear, Verdict::Clear),
    ] {
        for (beside, holds) in [(BESIDE, true), (-BESIDE, false)] {
            let mut design = whole.clone();
            let outwards = (range.least.unwrap().value + beside - here) / 2.0;
            for half in [
                &mut design.head.half_width_at_start,
                &mut design.head.half_width_at_end,
            ] {
                half.treble += outwards;
                half.bass += outwards;
            }
            let found = Verdicts::of(&design).by("barrels-apart");
            assert_eq!(found <= most, holds);
        }
    }
}

#[test]
fn suit_takes_the_sets_own_keys_before_the_necks_and_both_before_assumptions() {
    let folder = tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path
    };
    let set = fs::read_to_string(params("sets/slim-35.toml")).unwrap();
    let set = write(
        "set.toml",
        &format!("{set}\n[bores]\nclearance = 0.3\n[head]\nthickness = 21\n"),
    );
    let neck = write(
        "neck.toml",
        "title = 'Other'\nunit = 'in'\n[machines]\nfrom = 'nowhere.toml'\n[bores]\ndiameter = 0.5\n\
         [head]\nthickness = 0.5\nwidth_at_nut_end = 2.5\n[slots]\nwidth = 0.5\n",
    );
    let suit = study(&set, Some(&neck));
    let design = &suit.design;
    assert_eq!(design.title, "set");
    assert!((design.bores.diameter - 10.3).abs() < 1e-12);
    assert!((design.head.thickness - 21.0).abs() < 1e-12);
    assert!((design.head.half_width_at_start.treble - 31.75).abs() < 1e-12);
    assert!((design.machines.barrel_length - 28.6).abs() < 1e-12);
    let slots = design.slots.as_ref().unwrap();
    assert!((slots.width - 12.7).abs() < 1e-12);
    assert!(
        slots.ramp.is_none(),
        "slots described without a ramp have none"
    );
    let assumed: Vec<&str> = suit.assumed.iter().map(|assumed| assumed.key).collect();
    for key in ["head.thickness", "head.width_at_nut_end", "slots.width"] {
        assert!(!assumed.contains(&key), "{key}");
    }
    for key in ["head.length", "slots.rib", "nut.string_span"] {
        assert!(assumed.contains(&key), "{key}");
    }
}

/// Whatever set is asked about, what is assumed for it makes a design that can be read.
#[test]
fn suit_assumes_what_can_be_read_for_sets_of_every_size() {
    let folder = tempdir().unwrap();
    let file = folder.path().join("set.toml");
    for (diameter, length, hole, width, pitches) in [
        (3.0, 10.0, 6.0, 6.0, "[12]"),
        (10.0, 5.0, 3.0, 17.0, "[35, 35]"),
        (6.35, 29.5, 18.5, 14.0, "[24.5, 24.5, 24.5, 24.5, 24.5]"),
        (10.0, 30.0, 19.0, 17.0, "[]"),
        (20.0, 80.0, 75.0, 60.0, "[60, 60, 60, 60]"),
    ] {
        let set = format!(
            "[machines]\nbarrel_diameter = {diameter}\nbarrel_length = {length}\n\
             string_hole = {hole}\nplate_width = {width}\nplate_thickness = 1\n\
             pitches = {pitches}\noverhang = [15, 15]\n"
        );
        // Also with a head of which only one number is known.
        for known in [
            "",
            "length = 220",
            "side_end = 180",
            "crest = 'flat'",
            "width_at_crest_end = 70",
        ] {
            fs::write(&file, format!("{set}[head]\n{known}\n")).unwrap();
            let suit = study(&file, None);
            assert!(judge_design(&suit.design, &file).is_ok(), "{set}{known}");
            let key = known.split(' ').next().unwrap_or_default();
            let key = format!("head.{key}");
            assert!(suit.assumed.iter().all(|assumed| assumed.key != key));
        }
    }
}

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
        let first = if extra.is_some() {
            "in inches"
        } else {
            "in millimetres"
        };
        assert!(said.contains(first), "{said}");
        let least = if extra.is_some() {
            "from 0.670"
        } else {
            "from 17.00"
        };
        assert!(said.contains(least), "{said}");
    }
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
