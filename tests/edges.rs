//! Edges of the possible: designs right at, just inside and just outside every stop, and at every
//! place where the solids change their kind. Inside all is built and proved, outside refused.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod random;

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
#[path = "edges/stops_seldom_met.rs"]
mod stops_seldom_met;
#[path = "edges/turn.rs"]
mod turn;
#[path = "edges/turns_of_ends.rs"]
mod turns_of_ends;
#[path = "edges/turns_of_outline.rs"]
mod turns_of_outline;

use std::collections::BTreeSet;

use barrelhead::check::Finding;
use ladder::{Case, Outcome, kind_of_place};
use rayon::prelude::*;

fn cases() -> Vec<&'static Case> {
    [
        stops_of_bores::CASES,
        stops_of_slots::CASES,
        stops_across::CASES,
        stops_of_parts::CASES,
        stops_of_guards::CASES,
        stops_seldom_met::CASES,
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The catalogue's limits are the contract's.
#[test]
fn limits_are_those_of_the_contract() {
    let wrong = contract::differences();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Within a limit, right at it, and past it by no more than the noise of 1e-9: built and proved, and the
/// files are written. Past it by 2e-9 and more: stopped by that check alone, at the place named. Every
/// stop of the contract is tried, and every place at which a random design is stopped.
#[test]
fn designs_at_every_stop_are_built_within_and_refused_beyond() {
    let cases = cases();
    let tried: Vec<_> = cases.par_iter().map(|case| (*case, case.run())).collect();
    let mut wrong = Vec::new();
    let mut places = BTreeSet::new();
    let (mut all_built, mut all_stopped) = (0, 0);
    for (case, outcome) in tried {
        match outcome {
            Ok(Outcome {
                at,
                built,
                stopped,
                place,
            }) => {
                println!(
                    "{}: stop at {at:?}; {built} built, {stopped} stopped",
                    case.name()
                );
                all_built += built;
                all_stopped += stopped;
                places.insert((case.code, place));
            }
            Err(fault) => wrong.push(fault),
        }
    }
    println!("{all_built} built, {all_stopped} stopped");
    for (code, ..) in contract::STOPS {
        if !places.iter().any(|(tried, _)| *tried == code) {
            wrong.push(format!("{code} is not tried"));
        }
    }
    let met = places_of_random_stops();
    for (code, place) in met.difference(&places) {
        wrong.push(format!("{code} is not tried at: {place}"));
    }
    let seldom = places.difference(&met).count();
    println!(
        "{} places tried, {seldom} of them met by no random design",
        places.len()
    );
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// Where the checks stop random designs: code and place.
fn places_of_random_stops() -> BTreeSet<(&'static str, String)> {
    let mut dice = random::Dice::new(5);
    // Those that take tables from files beside them need a folder; what they hold the others hold too.
    let texts: Vec<String> = (0..4000)
        .map(|_| random::design(&mut dice).millimetres())
        .filter(|draft| draft.beside.is_empty())
        .map(|draft| draft.text)
        .collect();
    let of = |text: &String| {
        let stops = fate::read(text)
            .map(|read| read.stops())
            .unwrap_or_default();
        let place = |stop: Finding| (stop.code, kind_of_place(&stop.at));
        stops.into_iter().map(place).collect::<Vec<_>>()
    };
    texts.par_iter().flat_map_iter(of).collect()
}

/// Where rims meet end planes, corners become round or square, tapers and wedges vanish, and outlines
/// change: built on both sides and at the place itself, or stopped by the one check that is near.
#[test]
fn solids_are_built_on_both_sides_of_every_change() {
    let turns: Vec<_> = [turns_of_ends::TURNS, turns_of_outline::TURNS]
        .into_iter()
        .flatten()
        .collect();
    let tried: Vec<_> = turns
        .par_iter()
        .map(|turn| (turn.name, turn.run()))
        .collect();
    let mut wrong = Vec::new();
    for (name, outcome) in tried {
        match outcome {
            Ok((at, [built, stopped, refused])) => {
                println!("{name}: at {at:?}; {built} built, {stopped} stopped, {refused} refused");
            }
            Err(fault) => wrong.push(fault),
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
