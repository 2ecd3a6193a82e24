//! Designs at the edges of the possible against OpenCASCADE: where rims meet end planes, and a
//! millionth inside every stop. As in `reference_fresh.rs`: valid, one solid, the volume, no difference to its own
//! booleans from the parameter file, and the least wood as it measures it.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a part of the edges is used here; a test stops at the first surprise"
)]

mod random;
mod support {
    pub mod process;
    pub mod project;
    pub mod reference;
}
#[path = "edges/bases.rs"]
mod bases;
#[path = "edges/by_hand.rs"]
mod by_hand;
#[path = "edges/contract.rs"]
mod contract;
#[path = "edges/ends.rs"]
mod ends;
#[path = "edges/fate.rs"]
mod fate;
#[path = "edges/ladder.rs"]
mod ladder;
#[path = "edges/stops_across.rs"]
mod stops_across;
#[path = "edges/stops_of_bores.rs"]
mod stops_of_bores;
#[path = "edges/stops_of_guards.rs"]
mod stops_of_guards;
#[path = "edges/stops_of_parts.rs"]
mod stops_of_parts;
#[path = "edges/stops_of_slots.rs"]
mod stops_of_slots;
#[path = "edges/turn.rs"]
mod turn;
#[path = "edges/turns_of_ends.rs"]
mod turns_of_ends;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use barrelhead::pipeline::{self, Wanted};
use rayon::prelude::*;
use support::project::root;
use support::reference::python;
use turn::Fate;

/// Designs that OpenCASCADE's own booleans break on, each with the proof that it is so.
const BREAKDOWNS: [&str; 0] = [];

/// Steps from a place at which ends change: at the place itself, a rim's width of rounding beside it, and a
/// thousandth to either side.
const STEPS: [f64; 3] = [0.0, 1e-3, -1e-3];

/// Every place where an end changes, at the first of the steps that is built, beginning with another one at
/// each; and a design a millionth inside the first place of every stop in each table.
fn designs() -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for (index, turn) in turns_of_ends::TURNS.iter().enumerate() {
        let steps = (0..3).map(|n| STEPS[(index + n) % 3]);
        let built = |step: &f64| matches!((turn.fate)(*step), Fate::Built);
        let step = steps.clone().find(built).unwrap();
        all.insert(
            format!("{} {step}", turn.name),
            turn.text((turn.place)() + step),
        );
    }
    let cases = [
        stops_of_bores::CASES,
        stops_of_slots::CASES,
        stops_across::CASES,
        stops_of_parts::CASES,
        stops_of_guards::CASES,
    ];
    let mut last: Vec<_> = cases
        .iter()
        .flat_map(|table| table.iter())
        .filter(|case| !case.code.starts_with("block") && !case.place.contains("printed"))
        .collect();
    last.dedup_by_key(|case| case.code);
    let inside: Vec<_> = last
        .par_iter()
        .map(|case| (case.name(), case.text(just_inside(case))))
        .collect();
    all.extend(inside);
    all
}

/// A number at which a millionth is left to the limit, by the case's own formula.
fn just_inside(case: &ladder::Case) -> f64 {
    let limit = case
        .own_limit
        .or(contract::stop(case.code).map(|stop| stop.0));
    let [mut inside, mut outside] = case.range;
    for _ in 0..200 {
        let middle = f64::midpoint(inside, outside);
        if (case.value)(middle) - limit.unwrap() > 1e-6 {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    inside
}

#[test]
fn designs_at_the_edges_agree_with_opencascade() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("reference-edges");
    let _ = fs::remove_dir_all(&folder);
    let wanted = Wanted {
        folders: Vec::new(),
        ..Wanted::default()
    };
    let designs = designs();
    for (name, text) in &designs {
        let place = folder.join(name.replace('/', " "));
        fs::create_dir_all(&place).unwrap();
        let file = place.join("design.toml");
        fs::write(&file, text).unwrap();
        pipeline::make(&file, &place, &wanted).unwrap_or_else(|fault| panic!("{name}: {fault:?}"));
    }
    let output = Command::new(python())
        .arg(root().join("tests/reference/check_fresh.py"))
        .arg(&folder)
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&output.stdout);
    println!("{text}{}", String::from_utf8_lossy(&output.stderr));
    let failed: Vec<_> = text
        .lines()
        .filter(|line| line.contains("failed:"))
        .filter(|line| !BREAKDOWNS.iter().any(|name| line.contains(name)))
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    // A script that checked nothing must not pass for one that found nothing.
    let agreed = text.lines().filter(|line| line.starts_with("ok")).count();
    assert_eq!(agreed, designs.len() - BREAKDOWNS.len());
    assert!(designs.len() >= 50, "{} designs", designs.len());
}
