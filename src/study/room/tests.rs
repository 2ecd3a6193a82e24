//! Rooms against brute force: a scan by the hundredth that knows nothing of margins.

use std::collections::BTreeMap;
use std::path::Path;

use super::search::RESOLUTION;
use super::*;

fn demo(name: &str) -> Numbers {
    let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
    Numbers::read(&dir.join(name)).unwrap()
}

/// What speaks at a value: codes with their verdicts, or a refusal.
type Voices = Result<BTreeMap<&'static str, Verdict>, ()>;

fn voices(numbers: &Numbers, number: &KeyedNumber, at: f64) -> Voices {
    let slacks = tried(numbers.with(&[(number, typeable(number, at))])).map_err(|_| ())?;
    Ok(slacks
        .into_iter()
        .filter(|slack| slack.verdict != Verdict::Clear)
        .map(|slack| (slack.code, slack.verdict))
        .collect())
}

/// What the changes of a room say must speak at a value, from what speaks now.
fn told(room: &Room, now: &Voices, at: f64) -> Voices {
    let from = room.number.value;
    let up = at > from;
    let mut refused = now.is_err();
    let mut loud = now.clone().unwrap_or_default();
    let mut between: Vec<&Change> = room
        .changes
        .iter()
        .filter(|change| {
            if up {
                change.at > from && change.at < at
            } else {
                change.at < from && change.at > at
            }
        })
        .collect();
    if !up {
        between.reverse();
    }
    for change in between {
        let after = if up { change.above } else { change.below };
        match change.code {
            None => refused = after == Grade::Refused,
            Some(code) => match after {
                Grade::Caution => drop(loud.insert(code, Verdict::Caution)),
                Grade::Stop => drop(loud.insert(code, Verdict::Stop)),
                _ => drop(loud.remove(code)),
            },
        }
    }
    if refused { Err(()) } else { Ok(loud) }
}

/// Every value of a grid over the span searched says what the room says of it, except within the
/// promised hundredth of a change.
fn against_grid(name: &str, grid: f64, keys: impl Fn(&str) -> bool + Sync) -> usize {
    let numbers = demo(name);
    let list: Vec<&KeyedNumber> = numbers.list().iter().filter(|n| keys(&n.key)).collect();
    list.par_iter()
        .map(|number| {
            let room = room_of(&numbers, number);
            if number.kind == NumberKind::Count {
                return 0;
            }
            let now = voices(&numbers, number, number.value);
            let (low, high) = room.searched;
            let mut at = low;
            let mut looked = 0;
            while at <= high {
                let close = room
                    .changes
                    .iter()
                    .any(|change| (change.at - at).abs() <= PRINTED);
                let says = voices(&numbers, number, at);
                // Islands narrower than the resolution are not promised.
                let lasts = [-RESOLUTION, RESOLUTION]
                    .into_iter()
                    .any(|by| voices(&numbers, number, at + by / 2.0) == says);
                if !close && lasts {
                    assert_eq!(
                        says,
                        told(&room, &now, at),
                        "{name} {} at {at}: {:?}",
                        number.key,
                        room.changes
                    );
                    looked += 1;
                }
                at += grid;
            }
            looked
        })
        .sum()
}

/// By the hundredth over everything searched.
#[test]
fn no_change_is_missed_on_a_grid_of_hundredths() {
    let fine = |key: &str| ["slots.rib", "bores.diameter", "slots.ramp.angle"].contains(&key);
    assert!(against_grid("sandpiper.toml", 0.01, fine) > 500);
}

/// In steps that fall in other places than the search's own.
#[test]
fn no_change_is_missed_on_a_coarser_grid_for_every_number() {
    assert!(against_grid("dunlin.toml", 0.29, |_| true) > 1000);
}

/// By the hundredth, every number of a demo.
#[test]
#[cfg_attr(debug_assertions, ignore = "a minute in a dev build")]
fn no_change_is_missed_on_a_grid_of_hundredths_for_every_number() {
    assert!(against_grid("dunlin.toml", 0.01, |_| true) > 10_000);
}

/// The same for a demo whose strings are wound on, where every check takes longer.
#[test]
#[ignore = "minutes"]
fn no_change_is_missed_on_a_grid_of_hundredths_for_every_number_of_a_strung_head() {
    assert!(against_grid("sandpiper.toml", 0.01, |_| true) > 10_000);
}

#[test]
fn ends_hold_and_a_hundredth_beyond_they_do_not() {
    let numbers = demo("sandpiper.toml");
    let rooms = room(&numbers);
    assert_eq!(rooms.len(), numbers.list().len());
    let mut ends = 0;
    for room in &rooms {
        let grade =
            |at: f64| super::super::trial::grade(&tried(numbers.with(&[(&room.number, at)])));
        let passes = room.passes.as_ref().unwrap();
        for (end, way) in [(&passes.low, -1.0), (&passes.high, 1.0)] {
            assert!(grade(end.at) < Grade::Stop, "{}: {end:?}", room.number.key);
            if end.by != By::Nothing && room.number.kind != NumberKind::Count {
                // An island of stop may be narrower than the hundredth, so look closely.
                let stops = (1..=12).any(|step| {
                    let beyond = end.at + way * 0.001 * f64::from(step);
                    grade(beyond) >= Grade::Stop
                });
                assert!(stops, "{}: {end:?}", room.number.key);
                ends += 1;
            }
        }
        let no_worse = room.no_worse.as_ref().unwrap();
        assert!(no_worse.low.at >= passes.low.at - 1e-9);
        assert!(no_worse.high.at <= passes.high.at + 1e-9);
    }
    assert!(ends > 30, "{ends}");
}

/// Rib by hand: it is the wood between the slots, no less than its stop limit.
#[test]
fn the_end_is_named_for_the_check_that_ends_it() {
    let numbers = demo("sandpiper.toml");
    let room = room_of(&numbers, numbers.get("slots.rib").unwrap());
    let passes = room.passes.unwrap();
    let By::Check(low) = &passes.low.by else {
        panic!("{passes:?}")
    };
    assert_eq!(low.verdict, Verdict::Stop);
    let room = room_of(&numbers, numbers.get("bores.diameter").unwrap());
    assert!(matches!(
        room.passes.unwrap().low.by,
        By::Rule(_) | By::Check(_)
    ));
}

/// Veneer may be left out, but not be a hundred-thousandth thick.
#[test]
fn a_number_that_may_be_nothing_goes_down_to_nothing() {
    let numbers = demo("sandpiper.toml");
    let room = room_of(&numbers, numbers.get("head.back_veneer").unwrap());
    let low = room.passes.unwrap().low;
    assert!(
        low.at.abs() < 1e-9 && matches!(low.by, By::Rule(_)),
        "{low:?}"
    );
}

/// A design stopped now: the nearest value that lets it pass does.
#[test]
fn a_stopped_design_is_told_what_would_cure_it() {
    let text =
        include_str!("../../../params/dunlin.toml").replace("rib        = 10.0", "rib = 1.0");
    let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
    let numbers = Numbers::read_str(&text, Path::new("t.toml"), dir).unwrap();
    let rib = numbers.get("slots.rib").unwrap();
    let room = room_of(&numbers, rib);
    assert!(room.passes.is_none() && room.no_worse.is_none());
    let window = room.cures[1].unwrap();
    let cure = window.nearest;
    let grade = |at: f64| super::super::trial::grade(&tried(numbers.with(&[(rib, at)])));
    assert!(grade(1.0) == Grade::Stop && grade(cure) < Grade::Stop);
    assert!(grade(cure - 0.0121) >= Grade::Stop);
    // 20 mm from where it is, as far as is looked.
    assert!(
        window.open && (window.farthest - 21.0).abs() < 1e-9,
        "{window:?}"
    );
}

/// Barrels that meet: shorter ones pass down to where their bores nearly touch, and both ends of that window are
/// told.
#[test]
fn a_cure_is_told_with_both_ends_of_its_window() {
    let text = include_str!("../../../params/dunlin.toml")
        .replace("barrel_length   = 23.5", "barrel_length = 25.5");
    let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
    let numbers = Numbers::read_str(&text, Path::new("t.toml"), dir).unwrap();
    let length = numbers.get("machines.barrel_length").unwrap();
    assert!((length.value - 25.5).abs() < 1e-9);
    let room = room_of(&numbers, length);
    let window = room.cures[0].unwrap();
    let [low, high] = window.rising();
    assert!(!window.open && low < high, "{window:?}");
    let grade = |at: f64| super::super::trial::grade(&tried(numbers.with(&[(length, at)])));
    for step in 0..=20 {
        let at = low + (high - low) * f64::from(step) / 20.0;
        assert!(grade(at) < Grade::Stop, "{at}: {window:?}");
    }
    for (end, way) in [(low, -1.0), (high, 1.0)] {
        // What stops beyond may be narrower than the hundredth, so look closely.
        let mut beyond = (1..=12).map(|step| end + way * 0.001 * f64::from(step));
        assert!(
            beyond.any(|at| grade(at) >= Grade::Stop),
            "{end}: {window:?}"
        );
    }
}
