//! Stops that the printed copy alone meets, by what it grows: the finished design is a hundredth of a
//! millimetre within the limit, and the allowance takes it across.

use super::bases::{FLARED, PLAIN};
use super::ladder::{Case, case};

type Keys = &'static [(&'static str, &'static str)];

const HEAD: (&str, &str) = ("print.head_allowance", "{}");
const BLOCK: (&str, &str) = ("print.block_allowance", "{}");
const NEAR_FACE: Keys = &[("placement.axis_below_face", "6.26")];
const NEAR_BACK: Keys = &[("placement.axis_below_face", "14.14")];
const CLOSE: Keys = &[("machines.pitches", "[35.0, 11.52]")];
const NEAR_NUT: Keys = &[("placement.first_barrel", "5.26")];
const NEAR_SHOULDER: Keys = &[
    ("head.side_start", "50.0"),
    ("placement.first_barrel", "55.26"),
];
const COUNTERBORED: Keys = &[
    ("placement.axis_below_face", "7.51"),
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "5.0"),
];
/// A pilot half a millimetre and a hundredth beside the bore, both 1.6 and 8.5 wide.
const PILOT: Keys = &[
    ("machines.screws.points", "[[5.56, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "7.0"),
];
/// The slot's straight walls begin 0.52 mm before the first bore's section on the nearer of them.
const SHORT_SLOT: Keys = &[("slots.end_margin", "[13.43, 18.0]")];
/// Bores that pass one another, no pair, half a millimetre and a hundredth apart.
const PASSING: Keys = &[
    ("bores.beyond_barrel", "-"),
    ("bores.beyond_centre", "3.0"),
    ("placement.bass.first_barrel", "69.01"),
];
const LOW_HOLE: Keys = &[("guide.axis_height", "5.26")];

/// Half of what the finished copy has to spare.
const REACH: f64 = 5e-3;

pub const CASES: &[Case] = &[
    case(
        ("wood-over", "printed treble bore 1 to the face"),
        (FLARED, NEAR_FACE),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("wood-under", "printed treble bore 1 to the back"),
        (FLARED, NEAR_BACK),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("web", "printed between treble bore 2 and 3"),
        (FLARED, CLOSE),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("end-wood", "printed treble bore 1 to the nut line"),
        (PLAIN, NEAR_NUT),
        HEAD,
        [0.0, 0.1],
    )
    .beside(&["edges"])
    .reach(REACH),
    case(
        ("edges", "printed treble bore 1 to the nut end of its side"),
        (PLAIN, NEAR_SHOULDER),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("counterbore", "printed treble bore 1 to the face"),
        (PLAIN, COUNTERBORED),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        (
            "screw-bore",
            "printed treble screw pilot 1 to treble bore 1",
        ),
        (PLAIN, PILOT),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("slot-end", "printed treble bore 1 on the"),
        (FLARED, SHORT_SLOT),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("far-wood", "printed treble bore 1 and bass bore 1"),
        (PLAIN, PASSING),
        HEAD,
        [0.0, 0.1],
    )
    .reach(REACH),
    case(
        ("block-wood", "printed guide block, hole 1 to the upright"),
        (PLAIN, LOW_HOLE),
        BLOCK,
        [0.0, 0.1],
    )
    .reach(REACH),
];
