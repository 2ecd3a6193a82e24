//! Good parameter files: every key lands where it belongs, whatever the unit, order and form.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

mod example;
mod further_tables;
mod required_tables;
mod units_and_form;

use std::path::{Path, PathBuf};

use barrelhead::input::{Design, read_str};

/// The least that makes a design; tests add to it or replace lines of it.
const LEAST: &str = "
[head]
length = 100
width_at_nut_end = 60
width_at_crest_end = 64
thickness = 20
angle = 12
[nut]
string_span = 40
string_height = 4
[machines]
barrel_diameter = 10
barrel_length = 30
string_hole = 19
plate_width = 17
plate_thickness = 1.2
pitches = [35]
overhang = [15, 16]
[placement]
[bores]
diameter = 10.5
beyond_barrel = 2
[guide]
depth = 24
end_margin = 30
";

fn design(text: &str) -> Design {
    read_str(text, Path::new("shop/least.toml"), Path::new("shop")).unwrap()
}

fn with(from: &str, to: &str) -> Design {
    assert!(LEAST.contains(from), "{from}");
    design(&LEAST.replacen(from, to, 1))
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} against {b}");
}

fn good(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/good")
        .join(name)
}
