//! The strings from nut to barrel; the last four apply to a file with `[strings]` only, and never stop.

use crate::check::levers as lever;
use crate::check::rule::{Bound, Rule};
use crate::check::{Basis, stringing, strings};

pub const HOLE_IN_SLOT: Rule = Rule {
    code: "hole-in-slot",
    title: "String holes within the slots",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(3.0)),
    basis: Basis::Assumed,
    measure: strings::hole_in_slot,
    levers: &[
        lever::RIB,
        lever::CHEEK,
        lever::SLOT_WIDTH,
        lever::STRING_HOLE,
    ],
};

pub const STRING_FACE: Rule = Rule {
    code: "string-face",
    title: "Strings enter the openings",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(0.5)),
    basis: Basis::Assumed,
    measure: strings::face,
    levers: &[lever::RAMP_MOUTH, lever::NUT_MARGIN, lever::STRING_HEIGHT],
};

pub const STRING_EDGE: Rule = Rule {
    code: "string-edge",
    title: "Strings clear of the slot walls",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: strings::edge,
    levers: &[
        lever::RIB,
        lever::CHEEK,
        lever::SLOT_WIDTH,
        lever::STRING_SPAN,
    ],
};

pub const SIDE_PULL: Rule = Rule {
    code: "side-pull",
    title: "Sideways pull at the nut",
    unit: "deg",
    stop: None,
    caution: Some(Bound::AtMost(8.0)),
    basis: Basis::Assumed,
    measure: strings::side_pull,
    levers: &[
        lever::FIRST_BARREL,
        lever::FIRST_BARRELS,
        lever::FIRST_BARRELS_BY,
        lever::STRING_SPAN,
        lever::RIB,
        lever::FIRST_BARREL_INSTEAD,
    ],
};

pub const NUT_BREAK: Rule = Rule {
    code: "nut-break",
    title: "Break angle over the nut",
    unit: "deg",
    stop: None,
    caution: Some(Bound::Within {
        low: 7.0,
        high: 30.0,
    }),
    basis: Basis::Assumed,
    measure: strings::nut_break,
    levers: &[lever::ANGLE, lever::STRING_HEIGHT],
};

pub const STRING_WOOD: Rule = Rule {
    code: "string-wood",
    title: "Strings clear of the wood",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(0.5)),
    basis: Basis::Assumed,
    measure: stringing::wood,
    levers: &[
        lever::RAMP_MOUTH,
        lever::RAMP_ANGLE,
        lever::STRING_HEIGHT,
        lever::RIB,
        lever::CHEEK,
        lever::STRING_SPAN,
    ],
};

pub const STRING_BARREL: Rule = Rule {
    code: "string-barrel",
    title: "Strings clear of other barrels",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(1.5)),
    basis: Basis::Assumed,
    measure: stringing::barrel,
    levers: &[lever::STRING_HEIGHT],
};

pub const STRING_NEIGHBOUR: Rule = Rule {
    code: "string-neighbour",
    title: "Strings clear of one another",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(1.5)),
    basis: Basis::Assumed,
    measure: stringing::neighbour,
    levers: &[lever::STRING_SPAN],
};

pub const WINDING_WALL: Rule = Rule {
    code: "winding-wall",
    title: "Windings clear of the slot walls",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(0.5)),
    basis: Basis::Assumed,
    measure: stringing::winding_wall,
    levers: &[
        lever::RIB,
        lever::CHEEK,
        lever::SLOT_WIDTH,
        lever::STRING_HOLE,
    ],
};
