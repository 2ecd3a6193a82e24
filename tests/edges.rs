//! Edges of the possible: designs right at, just inside and just outside every stop, and at every
//! place where the solids change their kind. Inside all is built and proved, outside refused.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

#[path = "edges/bases.rs"]
mod bases;
#[path = "edges/fate.rs"]
mod fate;
#[path = "edges/ladder.rs"]
mod ladder;
#[path = "edges/stops_across.rs"]
mod stops_across;
#[path = "edges/stops_of_bores.rs"]
mod stops_of_bores;
#[path = "edges/stops_of_parts.rs"]
mod stops_of_parts;
#[path = "edges/stops_of_slots.rs"]
mod stops_of_slots;

use std::collections::BTreeSet;

use barrelhead::check::limits::RULES;
use ladder::Case;
use rayon::prelude::*;

fn cases() -> Vec<&'static Case> {
    [
        stops_of_bores::CASES,
        stops_of_slots::CASES,
        stops_across::CASES,
        stops_of_parts::CASES,
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The table has every check that can stop a design, and no other.
#[test]
fn every_stop_of_the_catalogue_is_tried() {
    let tried: BTreeSet<&str> = cases().iter().map(|case| case.code).collect();
    let stopping: BTreeSet<&str> = RULES
        .iter()
        .filter(|rule| rule.stop.is_some())
        .map(|rule| rule.code)
        .collect();
    assert_eq!(tried, stopping);
}

/// Within a limit, right at it, and past it by no more than the noise of 1e-9: built and proved, and the
/// files are written. Past it by 2e-9 and more: stopped by that check alone, at the place named.
#[test]
fn designs_at_every_stop_are_built_within_and_refused_beyond() {
    let tried: Vec<_> = cases()
        .par_iter()
        .map(|case| (case.name(), case.run()))
        .collect();
    let mut wrong = Vec::new();
    let (mut built, mut stopped) = (0, 0);
    for (name, outcome) in tried {
        match outcome {
            Ok((at, inside, outside)) => {
                println!("{name}: stop at {at:?}; {inside} built, {outside} stopped");
                built += inside;
                stopped += outside;
            }
            Err(fault) => wrong.push(fault),
        }
    }
    println!("{built} built, {stopped} stopped");
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
