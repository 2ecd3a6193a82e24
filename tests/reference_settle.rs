//! The solver of `fit` against scipy's general-purpose optimisers, on random plates and bores.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod checks;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::Path;

use barrelhead::study::fit::{DrilledBore, settle};
use glam::DVec2;
use rand::{RngExt as _, SeedableRng as _};
use serde_json::{Value, json};
use support::checks::all_hold;
use support::reference::script;

const CASES: usize = 300;
const BARREL: f64 = 10.0;
const GRIP: f64 = 30.5;

/// One to eight barrels, in a row or not, bores that lean or not, equal or not.
fn case(number: usize, random: &mut rand_pcg::Pcg64) -> Value {
    let mut even = |half: f64| random.random_range(-half..=half);
    let count = 1 + number % 8;
    let size = [0.05, 0.2, 0.5][number % 3];
    let (mut stations, mut bores, mut along) = (Vec::new(), Vec::new(), 57.0);
    for _ in 0..count {
        let across = if number.is_multiple_of(5) {
            even(6.0)
        } else {
            0.0
        };
        let station = DVec2::new(along, across);
        along += 35.0 + even(12.0);
        let slope = if number.is_multiple_of(4) { 0.0 } else { 0.01 };
        bores.push(DrilledBore {
            centre: station + DVec2::new(even(size), even(size)),
            slope: DVec2::new(even(slope), even(slope)),
            diameter: 10.6
                + if number.is_multiple_of(7) {
                    0.0
                } else {
                    even(0.3)
                },
        });
        stations.push(station);
    }
    let settled = settle(&stations, &bores, BARREL, GRIP);
    let bores: Vec<Value> = bores
        .iter()
        .map(
            |bore| json!({ "centre": bore.centre, "slope": bore.slope, "diameter": bore.diameter }),
        )
        .collect();
    json!({ "stations": stations, "bores": bores, "barrel": BARREL, "grip": GRIP, "gap": settled.gap })
}

#[test]
fn a_general_optimiser_finds_the_same_gaps() {
    let mut random = rand_pcg::Pcg64::seed_from_u64(4);
    let cases: Vec<Value> = (0..CASES).map(|number| case(number, &mut random)).collect();
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("settle-cases.json");
    fs::write(&path, serde_json::to_string(&cases).unwrap()).unwrap();
    all_hold(script("check_settle.py").arg(&path), CASES);
}
