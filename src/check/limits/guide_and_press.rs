//! The guide block, and the press. What a press and its bit have comes from the file or the drill table,
//! so its rows hold no limits of their own.

use crate::check::levers as lever;
use crate::check::rule::{Bound, Rule};
use crate::check::{Basis, guide, press};

pub const BLOCK_WOOD: Rule = Rule {
    code: "block-wood",
    title: "Wood in the guide block",
    unit: "mm",
    stop: Some(Bound::AtLeast(1.0)),
    caution: Some(Bound::AtLeast(2.5)),
    basis: Basis::Assumed,
    measure: guide::wood,
    levers: &[
        lever::GUIDE_HEIGHT,
        lever::GUIDE_END_MARGIN,
        lever::BUSH_DIAMETER,
        lever::SCRIBE_DEPTH,
        lever::SCRIBE_WIDTH,
        lever::AXIS_HEIGHT,
        lever::AXIS_BELOW_FACE,
        lever::PITCHES,
        lever::BASS_PITCHES,
        lever::OVER_OUTER_BARRELS,
        lever::BASS_OVER_OUTER_BARRELS,
        lever::GUIDE_BORE,
        lever::BORE_DIAMETER,
        lever::BORE_CLEARANCE,
        lever::THICKNESS,
        lever::AXIS_INSTEAD,
    ],
};

pub const BLOCK_GUIDED: Rule = Rule {
    code: "block-guided",
    title: "Guided length of the bit",
    unit: "",
    stop: None,
    caution: Some(Bound::AtLeast(1.9)),
    basis: Basis::CommonPractice,
    measure: guide::guided,
    levers: &[lever::GUIDE_DEPTH],
};

pub const BLOCK_BORE: Rule = Rule {
    code: "block-bore",
    title: "Guide bore against the bit",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.0)),
    caution: Some(Bound::AtMost(0.2)),
    basis: Basis::Assumed,
    measure: guide::bore,
    levers: &[lever::GUIDE_BORE, lever::BUSH_DIAMETER],
};

pub const BLOCK_AXIS: Rule = Rule {
    code: "block-axis",
    title: "Guide holes at the bores' height",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(0.1)),
    basis: Basis::Assumed,
    measure: guide::axis,
    levers: &[lever::AXIS_HEIGHT],
};

pub const PRESS_TRAVEL: Rule = Rule {
    code: "press-travel",
    title: "Quill travel",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(f64::INFINITY)),
    basis: Basis::Own,
    measure: press::travel,
    levers: &[lever::GUIDE_DEPTH, lever::TRAVEL],
};

pub const PRESS_FLUTES: Rule = Rule {
    code: "press-flutes",
    title: "Flute length of the bit",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(f64::INFINITY)),
    basis: Basis::Own,
    measure: press::flutes,
    levers: &[lever::GUIDE_DEPTH, lever::FLUTE_LENGTH],
};

pub const PRESS_DAYLIGHT: Rule = Rule {
    code: "press-daylight",
    title: "Room under the chuck",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(f64::INFINITY)),
    basis: Basis::Own,
    measure: press::daylight,
    levers: &[lever::BIT_LENGTH, lever::GUIDE_DEPTH, lever::DAYLIGHT],
};
