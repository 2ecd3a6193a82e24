//! What is left of the head's wood: over, under, between and around what is bored and cut.

use crate::check::levers as lever;
use crate::check::rule::{Bound, Rule};
use crate::check::{Basis, bores, counterbore, edges, slots, wood};

pub const WOOD_OVER: Rule = Rule {
    code: "wood-over",
    title: "Wood over the bores",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(3.0)),
    basis: Basis::CommonPractice,
    measure: wood::over,
    levers: &[
        lever::THICKNESS,
        lever::AXIS_BELOW_FACE,
        lever::BORE_DIAMETER,
        lever::BORE_CLEARANCE,
        lever::AXIS_INSTEAD,
    ],
};

pub const WOOD_UNDER: Rule = Rule {
    code: "wood-under",
    title: "Wood under the bores",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(3.0)),
    basis: Basis::CommonPractice,
    measure: wood::under,
    levers: &[
        lever::THICKNESS,
        lever::AXIS_BELOW_FACE,
        lever::THICKNESS_AT_CREST,
        lever::BORE_DIAMETER,
        lever::BORE_CLEARANCE,
        lever::AXIS_INSTEAD,
    ],
};

pub const WEB: Rule = Rule {
    code: "web",
    title: "Wood between neighbouring bores",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(5.0)),
    basis: Basis::Assumed,
    measure: bores::web,
    levers: &[
        lever::PITCHES,
        lever::BASS_PITCHES,
        lever::OVER_OUTER_BARRELS,
        lever::BASS_OVER_OUTER_BARRELS,
        lever::BORE_DIAMETER,
        lever::BORE_CLEARANCE,
    ],
};

pub const CHEEK: Rule = Rule {
    code: "cheek",
    title: "Cheek outside the slots",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(8.0)),
    basis: Basis::CommonPractice,
    measure: slots::cheek,
    levers: &[
        lever::RIB,
        lever::CHEEK,
        lever::SLOT_WIDTH,
        lever::BOTH_WIDTHS,
        lever::ALL_WIDTHS,
    ],
};

pub const RIB: Rule = Rule {
    code: "rib",
    title: "Rib between the slots",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(7.0)),
    basis: Basis::CommonPractice,
    measure: slots::rib,
    levers: &[
        lever::RIB,
        lever::CHEEK,
        lever::SLOT_WIDTH,
        lever::BOTH_WIDTHS,
        lever::ALL_WIDTHS,
    ],
};

pub const END_WOOD: Rule = Rule {
    code: "end-wood",
    title: "Wood at the nut line and at the crest",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(5.0)),
    basis: Basis::Assumed,
    measure: slots::end_wood,
    levers: &[
        lever::RAMP_MOUTH,
        lever::NUT_MARGIN,
        lever::CREST_MARGIN,
        lever::FIRST_BARREL,
        lever::FIRST_BARRELS,
        lever::FIRST_BARRELS_BY,
        lever::LENGTH,
        lever::FIRST_BARREL_INSTEAD,
    ],
};

pub const SLOT_END: Rule = Rule {
    code: "slot-end",
    title: "Bores within the slots' straight walls",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.5)),
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: slots::slot_end,
    levers: &[lever::NUT_MARGIN, lever::CREST_MARGIN, lever::CORNER_RADIUS],
};

pub const BEARING: Rule = Rule {
    code: "bearing",
    title: "Barrel ends bearing in the rib",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.5)),
    caution: Some(Bound::AtLeast(3.0)),
    basis: Basis::CommonPractice,
    measure: slots::bearing,
    levers: &[lever::RIB, lever::CHEEK, lever::BARREL_LENGTH],
};

pub const RIM: Rule = Rule {
    code: "rim",
    title: "Bore rims past the inner wall",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.5)),
    caution: None,
    basis: Basis::Assumed,
    measure: slots::rim,
    levers: &[
        lever::BEYOND_BARREL,
        lever::BEYOND_CENTRE,
        lever::RIB,
        lever::CHEEK,
    ],
};

pub const EDGES: Rule = Rule {
    code: "edges",
    title: "Mouths within the edges",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: None,
    basis: Basis::Assumed,
    measure: edges::edges,
    levers: &[
        lever::FIRST_BARREL,
        lever::FIRST_BARRELS,
        lever::FIRST_BARRELS_BY,
        lever::RAMP_MOUTH,
        lever::NUT_MARGIN,
        lever::SIDE_END,
        lever::RIB,
        lever::CHEEK,
        lever::BOTH_WIDTHS,
        lever::ALL_WIDTHS,
        lever::COUNTERBORE_DIAMETER,
        lever::FIRST_BARREL_INSTEAD,
    ],
};

pub const COUNTERBORE: Rule = Rule {
    code: "counterbore",
    title: "Wood around the counterbores",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(3.0)),
    basis: Basis::Assumed,
    measure: counterbore::counterbore,
    levers: &[
        lever::COUNTERBORE_DIAMETER,
        lever::COUNTERBORE_DEPTH,
        lever::THICKNESS,
        lever::RIB,
        lever::CHEEK,
    ],
};

pub const RAMP_DEPTH: Rule = Rule {
    code: "ramp-depth",
    title: "Wood under the ramps",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(3.0)),
    basis: Basis::Assumed,
    measure: slots::ramp_depth,
    levers: &[lever::RAMP_MOUTH, lever::RAMP_ANGLE, lever::THICKNESS],
};
