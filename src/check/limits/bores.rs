//! The bores themselves: against barrels, one another and stock bits.

use crate::check::levers as lever;
use crate::check::rule::{Bound, Rule};
use crate::check::{Basis, bores, far_wood};
use crate::tolerance::MERGE;

pub const BORE_DEPTH: Rule = Rule {
    code: "bore-depth",
    title: "Bores deeper than the barrels",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.0)),
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: bores::bore_depth,
    levers: &[lever::BEYOND_BARREL, lever::BEYOND_CENTRE],
};

pub const CLEARANCE: Rule = Rule {
    code: "clearance",
    title: "Bores wider than the barrels",
    unit: "mm",
    stop: Some(Bound::MoreThan(0.0)),
    caution: Some(Bound::Within {
        low: 0.2,
        high: 0.6,
    }),
    basis: Basis::CommonPractice,
    measure: bores::clearance,
    levers: &[lever::BORE_DIAMETER, lever::BORE_CLEARANCE],
};

pub const BARRELS_APART: Rule = Rule {
    code: "barrels-apart",
    title: "Barrels of opposite sides apart",
    unit: "mm",
    stop: Some(Bound::MoreThan(0.0)),
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: bores::barrels_apart,
    levers: &[lever::BARREL_LENGTH, lever::BOTH_WIDTHS, lever::ALL_WIDTHS],
};

pub const FAR_WOOD: Rule = Rule {
    code: "far-wood",
    title: "Wood beyond the bores' ends",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.5)),
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: far_wood::far_wood,
    levers: &[
        lever::BEYOND_BARREL,
        lever::BEYOND_CENTRE,
        lever::FIRST_BARREL_INSTEAD,
        lever::BASS_FIRST_BARREL,
        lever::BARREL_LENGTH,
        lever::BOTH_WIDTHS,
        lever::ALL_WIDTHS,
    ],
};

pub const PAIR_OFFSET: Rule = Rule {
    code: "pair-offset",
    title: "Opposite bores in line",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(MERGE)),
    basis: Basis::Assumed,
    measure: bores::pair_offset,
    levers: &[lever::FIRST_BARREL_INSTEAD, lever::BASS_FIRST_BARREL],
};

pub const BIT_SIZE: Rule = Rule {
    code: "bit-size",
    title: "Bore diameter against stock bits",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(0.02)),
    basis: Basis::Assumed,
    measure: bores::bit_size,
    levers: &[lever::BORE_DIAMETER, lever::BORE_CLEARANCE],
};
