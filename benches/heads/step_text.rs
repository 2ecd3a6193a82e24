//! Solids as STEP files.

#![allow(clippy::panic, reason = "a bench stops at the first surprise")]

use barrelhead::solid::Part;
use barrelhead::write::step;

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
