//! Designs that benches work on: the demos, and a plain head of any count of bores.

#![allow(
    dead_code,
    clippy::panic,
    reason = "each bench uses its part, and stops at the first surprise"
)]

use std::path::{Path, PathBuf};

use barrelhead::check::{self, Checked};
use barrelhead::input::{self, Design};
use barrelhead::solid::Part;
use barrelhead::write::step;

/// The demos by name.
pub const DEMOS: [&str; 8] = [
    "curlew",
    "dunlin",
    "godwit",
    "plover",
    "sandpiper",
    "snipe",
    "turnstone",
    "whimbrel",
];

/// The parameter file of a demo.
pub fn file(demo: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("params")
        .join(format!("{demo}.toml"))
}

/// A plain head with this many bores a side, 24 mm apart: nothing in it but what is multiplied.
pub fn plain(bores: usize) -> String {
    let span = 24.0 * (bores as f64 - 1.0);
    format!(
        r#"
title = "{bores} bores a side"
head = {{ length = {length:.1}, width_at_nut_end = 63.0, width_at_crest_end = 66.0, thickness = 20.4, angle = 14.0 }}
nut = {{ string_span = 43.0, string_height = 4.2 }}
placement = {{ first_barrel = 57.0 }}
bores = {{ diameter = 10.5, beyond_barrel = 2.0 }}
slots = {{ width = 15.0, rib = 14.0, end_margin = [18.0, 18.0], ramp = {{ mouth = 19.0, angle = 24.0 }} }}
guide = {{ depth = 24.0, end_margin = 31.0, scribe = {{ width = 0.8, depth = 0.4 }} }}

[machines]
barrel_diameter = 10.0
barrel_length = 30.5
string_hole = 19.0
plate_width = 17.4
plate_thickness = 1.2
barrels = {bores}
over_outer_barrels = {over:.1}
overhang = [17.0, 18.5]
"#,
        length = span + 88.0,
        over = span + 10.0,
    )
}

/// Reads a text.
pub fn read(text: &str) -> Design {
    let here = Path::new(".");
    input::read_str(text, Path::new("plain.toml"), here)
        .unwrap_or_else(|found| panic!("{}: {}", found[0].key, found[0].message))
}

/// Checks a design that passes.
pub fn checked(design: &Design) -> Checked {
    let (report, checked) = check::run(design);
    checked.unwrap_or_else(|| panic!("{}: {:?}", design.title, report.verdict()))
}

/// Reads and checks a demo.
pub fn demo(name: &str) -> Checked {
    let design = input::read(&file(name)).unwrap_or_else(|found| panic!("{}", found[0].message));
    checked(&design)
}

/// A part's STEP file.
pub fn step_text(part: &Part) -> String {
    let written = step::Part {
        name: part.name,
        brep: &part.brep,
        measures: &part.measures,
        colour: [0.8, 0.6, 0.4],
    };
    let header = step::Header {
        file_name: part.stem,
        description: part.name,
        date: None,
    };
    step::step_file(&written, &header).unwrap_or_else(|fault| panic!("{}: {fault}", part.stem))
}
