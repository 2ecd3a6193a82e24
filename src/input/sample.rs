//! One design for tests to vary: a six-string classical head with every number written out.

use super::{Design, Drilled, DrilledAlong, DrilledKeys, Side, read_str};

/// The design: two plates of three, arched crest, half-round slots with ramps, grooved block.
pub fn six_string() -> Design {
    let text = r#"
title = "Sandpiper"
head = { length = 196.0, width_at_nut_end = 63.0, width_at_crest_end = 71.0, side_end = 184.0, thickness = 20.4, face_veneer = 2.4, back_veneer = 0.6, angle = 14.0, crest = "arch" }
nut = { string_span = 43.0, string_height = 4.2 }
machines = { barrel_diameter = 10.0, barrel_length = 30.5, string_hole = 19.0, plate_width = 17.4, plate_thickness = 1.2, pitches = [35.0, 35.0], overhang = [17.0, 18.5] }
placement = { along = "centred", depth = "centred" }
bores = { diameter = 10.5, beyond_barrel = 2.0, point = 118 }
slots = { width = 15.0, rib = 14.0, end_margin = [18.0, 18.0], ramp = { mouth = 19.0, angle = 24.0 } }
guide = { depth = 24.0, height = 20.4, end_margin = 31.0, scribe = { width = 0.8, depth = 0.4 } }
"#;
    read_str(text, "six-string.toml".as_ref(), ".".as_ref()).expect("the sample is valid")
}

/// The record of a bore that is as the design has it, for tests to change.
pub fn record(side: Side, number: usize) -> Drilled {
    Drilled {
        side,
        number,
        along: DrilledAlong::AsDesigned,
        below_face: None,
        lean_along: 0.0,
        lean_across: 0.0,
        diameter: None,
        place: None,
        keys: DrilledKeys::default(),
    }
}

/// Strings for a design of six on two sides: given diameters, three turns that walk out.
pub fn strung(design: &Design) -> Option<super::Strings> {
    let sides = |side, numbers: [usize; 3]| numbers.map(|number| (side, number));
    let bass = sides(super::Side::Bass, [1, 2, 3]);
    let treble = sides(super::Side::Treble, [3, 2, 1]);
    let count = design.nut.strings.len();
    Some(super::Strings {
        diameters: vec![1.09, 0.89, 0.74, 1.02, 0.82, 0.71],
        diameter_basis: super::DiameterBasis::Given,
        barrels: bass.into_iter().chain(treble).collect(),
        over: vec![true; count],
        turns: vec![3.0; count],
        outwards: vec![true; count],
    })
}
