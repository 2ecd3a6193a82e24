//! The plates on the sides, and their screws.

use crate::check::levers as lever;
use crate::check::rule::{Bound, Rule};
use crate::check::{Basis, plate, screws};

pub const PLATE_THICKNESS: Rule = Rule {
    code: "plate-thickness",
    title: "Plate within the thickness",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(0.5)),
    basis: Basis::CommonPractice,
    measure: plate::thickness,
    levers: &[lever::THICKNESS, lever::AXIS_BELOW_FACE, lever::PLATE_WIDTH],
};

pub const PLATE_EVEN: Rule = Rule {
    code: "plate-even",
    title: "Plate even across the thickness",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtMost(0.5)),
    basis: Basis::CommonPractice,
    measure: plate::even,
    levers: &[lever::AXIS_BELOW_FACE, lever::THICKNESS],
};

pub const PLATE_SIDE: Rule = Rule {
    code: "plate-side",
    title: "Plate within the straight side",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: plate::side,
    levers: &[
        lever::FIRST_BARREL,
        lever::FIRST_BARRELS,
        lever::FIRST_BARRELS_BY,
        lever::SIDE_END,
        lever::LENGTH,
        lever::FIRST_BARREL_INSTEAD,
    ],
};

pub const EDGE_RADIUS: Rule = Rule {
    code: "edge-radius",
    title: "Plate clear of the rounded edge",
    unit: "mm",
    stop: None,
    caution: Some(Bound::AtLeast(0.0)),
    basis: Basis::Assumed,
    measure: plate::edge_radius,
    levers: &[lever::EDGE_RADIUS, lever::THICKNESS],
};

pub const SCREW_SLOT: Rule = Rule {
    code: "screw-slot",
    title: "Screw pilots clear of the slots",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.5)),
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: screws::slot,
    levers: &[lever::SCREW_DEPTH, lever::RIB, lever::CHEEK],
};

pub const SCREW_BORE: Rule = Rule {
    code: "screw-bore",
    title: "Screw pilots clear of bores and surfaces",
    unit: "mm",
    stop: Some(Bound::AtLeast(0.5)),
    caution: Some(Bound::AtLeast(1.0)),
    basis: Basis::Assumed,
    measure: screws::bore,
    levers: &[lever::SCREW_PILOT, lever::SCREW_DEPTH],
};
