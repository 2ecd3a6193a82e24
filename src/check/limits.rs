//! The one table of limits: every check with its code, its limits and their basis.
//!
//! The codes, measures and limits are the contract's (section 4); stops are that closed list. Where
//! the contract marks a limit as common practice so does the table, every other limit is our own
//! assumption. No stop is marked, so every stop is an assumption. The limits of the press are what
//! the file, or the drill table, says the press and the bit have; the table holds none of its own.

use super::levers::{self as lever, Lever};
use super::measure::Measure;
use super::{
    Basis, Limit, bores, counterbore, edges, far_wood, guide, plate, press, screws, slots, strings,
    wood,
};
use crate::layout::Layout;
use crate::tolerance::NOISE;

/// What a value must be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// This or more.
    AtLeast(f64),
    /// More than this: at the limit itself, give or take rounding noise, it does not hold.
    MoreThan(f64),
    /// This or less.
    AtMost(f64),
    /// Between the two, both included.
    Within {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
    },
}

impl Bound {
    /// Limit less value or the reverse: above zero inside, to the nearer of two limits.
    #[must_use]
    pub fn margin(self, value: f64) -> f64 {
        match self {
            Bound::AtLeast(limit) | Bound::MoreThan(limit) => value - limit,
            Bound::AtMost(limit) => limit - value,
            Bound::Within { low, high } => (value - low).min(high - value),
        }
    }

    /// Whether the value holds: a limit is missed only by more than rounding noise. A value that is
    /// no number never holds.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        match self {
            Bound::MoreThan(_) => self.margin(value) > NOISE,
            _ => self.margin(value) >= -NOISE,
        }
    }

    /// As the report gives it.
    #[must_use]
    pub const fn limit(self) -> Limit {
        match self {
            Bound::AtLeast(limit) | Bound::MoreThan(limit) | Bound::AtMost(limit) => {
                Limit::Single(limit)
            }
            Bound::Within { low, high } => Limit::Band { low, high },
        }
    }
}

/// One check.
pub struct Rule {
    /// Code, as in `[limits]` and `explain CODE`.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// `"mm"`, `"deg"` or `""` for a bare ratio.
    pub unit: &'static str,
    /// What it takes not to be a stop.
    pub stop: Option<Bound>,
    /// What it takes not to be a caution.
    pub caution: Option<Bound>,
    /// Basis of the caution limit.
    pub basis: Basis,
    /// Looks at every place the check speaks of; empty where it does not apply.
    pub(super) measure: fn(&Layout) -> Vec<Measure>,
    /// Keys that advice may turn.
    pub(super) levers: &'static [Lever],
}

impl Rule {
    /// Whether a maker's own limit is `{ low = , high = }`.
    #[must_use]
    pub const fn takes_band(&self) -> bool {
        matches!(self.caution, Some(Bound::Within { .. }))
    }
}

/// The rule with this code.
#[must_use]
pub fn rule(code: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.code == code)
}

/// Every check, in the order of the contract's table.
pub const RULES: &[Rule] = &[
    Rule {
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
        ],
    },
    Rule {
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
        ],
    },
    Rule {
        code: "web",
        title: "Wood between neighbouring bores",
        unit: "mm",
        stop: Some(Bound::AtLeast(1.0)),
        caution: Some(Bound::AtLeast(5.0)),
        basis: Basis::Assumed,
        measure: bores::web,
        levers: &[lever::PITCHES, lever::BORE_DIAMETER, lever::BORE_CLEARANCE],
    },
    Rule {
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
        ],
    },
    Rule {
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
        ],
    },
    Rule {
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
            lever::LENGTH,
        ],
    },
    Rule {
        code: "slot-end",
        title: "Bores within the slots' straight walls",
        unit: "mm",
        stop: Some(Bound::AtLeast(0.5)),
        caution: Some(Bound::AtLeast(1.0)),
        basis: Basis::Assumed,
        measure: slots::slot_end,
        levers: &[lever::NUT_MARGIN, lever::CREST_MARGIN, lever::CORNER_RADIUS],
    },
    Rule {
        code: "bearing",
        title: "Barrel ends bearing in the rib",
        unit: "mm",
        stop: Some(Bound::AtLeast(0.5)),
        caution: Some(Bound::AtLeast(3.0)),
        basis: Basis::CommonPractice,
        measure: slots::bearing,
        levers: &[lever::RIB, lever::CHEEK, lever::BARREL_LENGTH],
    },
    Rule {
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
    },
    Rule {
        code: "edges",
        title: "Mouths within the edges",
        unit: "mm",
        stop: Some(Bound::AtLeast(1.0)),
        caution: None,
        basis: Basis::Assumed,
        measure: edges::edges,
        levers: &[
            lever::FIRST_BARREL,
            lever::RAMP_MOUTH,
            lever::NUT_MARGIN,
            lever::SIDE_END,
            lever::RIB,
            lever::CHEEK,
            lever::BOTH_WIDTHS,
        ],
    },
    Rule {
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
    },
    Rule {
        code: "bore-depth",
        title: "Bores deeper than the barrels",
        unit: "mm",
        stop: Some(Bound::AtLeast(0.0)),
        caution: Some(Bound::AtLeast(1.0)),
        basis: Basis::Assumed,
        measure: bores::bore_depth,
        levers: &[lever::BEYOND_BARREL, lever::BEYOND_CENTRE],
    },
    Rule {
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
    },
    Rule {
        code: "barrels-apart",
        title: "Barrels of opposite sides apart",
        unit: "mm",
        stop: Some(Bound::MoreThan(0.0)),
        caution: Some(Bound::AtLeast(1.0)),
        basis: Basis::Assumed,
        measure: bores::barrels_apart,
        levers: &[lever::BARREL_LENGTH, lever::BOTH_WIDTHS],
    },
    Rule {
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
            lever::BARREL_LENGTH,
            lever::BOTH_WIDTHS,
        ],
    },
    Rule {
        code: "pair-offset",
        title: "Opposite bores in line",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(1e-6)),
        basis: Basis::Assumed,
        measure: bores::pair_offset,
        levers: &[lever::BASS_FIRST_BARREL],
    },
    Rule {
        code: "plate-thickness",
        title: "Plate within the thickness",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtLeast(0.5)),
        basis: Basis::CommonPractice,
        measure: plate::thickness,
        levers: &[lever::THICKNESS, lever::AXIS_BELOW_FACE, lever::PLATE_WIDTH],
    },
    Rule {
        code: "plate-even",
        title: "Plate even across the thickness",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(0.5)),
        basis: Basis::CommonPractice,
        measure: plate::even,
        levers: &[lever::AXIS_BELOW_FACE, lever::THICKNESS],
    },
    Rule {
        code: "plate-side",
        title: "Plate within the straight side",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtLeast(1.0)),
        basis: Basis::Assumed,
        measure: plate::side,
        levers: &[lever::FIRST_BARREL, lever::SIDE_END],
    },
    Rule {
        code: "edge-radius",
        title: "Plate clear of the rounded edge",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtLeast(0.0)),
        basis: Basis::Assumed,
        measure: plate::edge_radius,
        levers: &[lever::EDGE_RADIUS, lever::THICKNESS],
    },
    Rule {
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
    },
    Rule {
        code: "string-face",
        title: "Strings enter the openings",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtLeast(0.5)),
        basis: Basis::Assumed,
        measure: strings::face,
        levers: &[lever::RAMP_MOUTH, lever::NUT_MARGIN, lever::STRING_HEIGHT],
    },
    Rule {
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
    },
    Rule {
        code: "side-pull",
        title: "Sideways pull at the nut",
        unit: "deg",
        stop: None,
        caution: Some(Bound::AtMost(8.0)),
        basis: Basis::Assumed,
        measure: strings::side_pull,
        levers: &[lever::FIRST_BARREL, lever::STRING_SPAN, lever::RIB],
    },
    Rule {
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
    },
    Rule {
        code: "ramp-depth",
        title: "Wood under the ramps",
        unit: "mm",
        stop: Some(Bound::AtLeast(1.0)),
        caution: Some(Bound::AtLeast(3.0)),
        basis: Basis::Assumed,
        measure: slots::ramp_depth,
        levers: &[lever::RAMP_MOUTH, lever::RAMP_ANGLE, lever::THICKNESS],
    },
    Rule {
        code: "screw-slot",
        title: "Screw pilots clear of the slots",
        unit: "mm",
        stop: Some(Bound::AtLeast(0.5)),
        caution: Some(Bound::AtLeast(1.0)),
        basis: Basis::Assumed,
        measure: screws::slot,
        levers: &[lever::SCREW_DEPTH, lever::RIB, lever::CHEEK],
    },
    Rule {
        code: "screw-bore",
        title: "Screw pilots clear of bores and surfaces",
        unit: "mm",
        stop: Some(Bound::AtLeast(0.5)),
        caution: Some(Bound::AtLeast(1.0)),
        basis: Basis::Assumed,
        measure: screws::bore,
        levers: &[lever::SCREW_PILOT, lever::SCREW_DEPTH],
    },
    Rule {
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
            lever::AXIS_HEIGHT,
        ],
    },
    Rule {
        code: "block-guided",
        title: "Guided length of the bit",
        unit: "",
        stop: None,
        caution: Some(Bound::AtLeast(1.9)),
        basis: Basis::CommonPractice,
        measure: guide::guided,
        levers: &[lever::GUIDE_DEPTH],
    },
    Rule {
        code: "block-bore",
        title: "Guide bore against the bit",
        unit: "mm",
        stop: Some(Bound::AtLeast(0.0)),
        caution: Some(Bound::AtMost(0.2)),
        basis: Basis::Assumed,
        measure: guide::bore,
        levers: &[lever::GUIDE_BORE, lever::BUSH_DIAMETER],
    },
    Rule {
        code: "block-axis",
        title: "Guide holes at the bores' height",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(0.1)),
        basis: Basis::Assumed,
        measure: guide::axis,
        levers: &[lever::AXIS_HEIGHT],
    },
    Rule {
        code: "press-travel",
        title: "Quill travel",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(f64::INFINITY)),
        basis: Basis::Own,
        measure: press::travel,
        levers: &[lever::GUIDE_DEPTH, lever::TRAVEL],
    },
    Rule {
        code: "press-flutes",
        title: "Flute length of the bit",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(f64::INFINITY)),
        basis: Basis::Own,
        measure: press::flutes,
        levers: &[lever::GUIDE_DEPTH, lever::FLUTE_LENGTH],
    },
    Rule {
        code: "press-daylight",
        title: "Room under the chuck",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(f64::INFINITY)),
        basis: Basis::Own,
        measure: press::daylight,
        levers: &[lever::BIT_LENGTH, lever::GUIDE_DEPTH, lever::DAYLIGHT],
    },
    Rule {
        code: "bit-size",
        title: "Bore diameter against stock bits",
        unit: "mm",
        stop: None,
        caution: Some(Bound::AtMost(0.02)),
        basis: Basis::Assumed,
        measure: bores::bit_size,
        levers: &[lever::BORE_DIAMETER, lever::BORE_CLEARANCE],
    },
];
