//! Every end of every range, on both sides of it, by the checks as `check` runs them.

use std::fs;

use barrelhead::check::Verdict;
use barrelhead::study::suit::{Bound, Number, Range, Suit, moved};
use tempfile::tempdir;

use super::{BESIDE, Verdicts, params, sets, study};

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

/// Whoever takes a value from a range is told of every check that can speak up there.
#[test]
fn suit_names_every_check_that_its_ranges_leave_out() {
    let neck = params("necks/snipe.toml");
    for set in sets() {
        for neck in [None, Some(neck.as_path())] {
            let suit = study(&set, neck);
            let now = Verdicts::of(&suit.design);
            for bound in &suit.bounds {
                if matches!(bound.number, Number::WidthAtFirst | Number::WidthAtLast) {
                    assert!(bound.left_out.is_empty());
                    continue;
                }
                for (range, most) in [
                    (&bound.no_stop, Verdict::Caution),
                    (&bound.clear, Verdict::Clear),
                ] {
                    let (Some(least), Some(greatest), true) =
                        (range.least, range.greatest, range.is_open())
                    else {
                        continue;
                    };
                    for step in 0..=10 {
                        let share = f64::from(step) / 10.0;
                        let value = least.value + (greatest.value - least.value) * share;
                        let found = Verdicts::of(&moved(&suit, bound.number, value).unwrap());
                        for finding in &found.0.findings {
                            let code = finding.code;
                            let told =
                                bound.checks.contains(&code) || bound.left_out.contains(&code);
                            let quiet = finding.verdict <= most || finding.verdict <= now.by(code);
                            assert!(
                                told || quiet,
                                "{set:?}, {:?} at {value}: {code}",
                                bound.number
                            );
                        }
                    }
                }
            }
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
