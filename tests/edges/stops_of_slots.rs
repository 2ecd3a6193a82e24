//! Stops of slots and ramps.

use super::bases::{CONVERGING, FLARED, PLAIN};
use super::ladder::{Case, case};

type Keys = &'static [(&'static str, &'static str)];

const NO_RAMP: Keys = &[("slots.ramp", "-")];
const BY_CHEEK: Keys = &[
    ("slots.ramp", "-"),
    ("slots.rib", "-"),
    ("slots.cheek", "10.0"),
];
const FLAT_CREST: Keys = &[
    ("head.crest", "-"),
    ("head.side_end", "-"),
    ("head.length", "184.0"),
];
const NARROW_NUT: Keys = &[("head.width_at_nut_end", "40.0")];
/// Slots so deep that they lie across the head, one nearer the nut than the other.
const ACROSS: Keys = &[
    ("placement.first_barrel", "60.0"),
    ("placement.bass.first_barrel", "130.0"),
    ("slots.cheek", "42.0"),
    ("machines.barrel_length", "55.0"),
];
/// Sides that flare from the slots' ends to the nut line.
const PINCHED: Keys = &[
    ("head.width_at_nut_end", "44.0"),
    ("machines.barrel_length", "25.5"),
    ("machines.string_hole", "15.0"),
    ("slots.ramp.angle", "10.0"),
];
const SHOULDERED: Keys = &[("head.side_start", "30.0")];
const FLAT_RAMP: Keys = &[("slots.ramp.angle", "10.0")];
const CONVERGING_RAMP: Keys = &[
    ("head.width_at_nut_end", "40.0"),
    ("slots.end_margin", "[75.0, 14.0]"),
    ("slots.ramp.angle", "10.0"),
];
const SHALLOW: Keys = &[("bores.beyond_barrel", "0.0")];
const PRINTED_SHALLOW: Keys = &[
    ("bores.beyond_barrel", "0.0"),
    ("print.head_allowance", "0.2"),
];
const PRINTED: Keys = &[("print.head_allowance", "0.2")];
const RIB: (&str, &str) = ("slots.rib", "{}");
const MOUTH: (&str, &str) = ("slots.ramp.mouth", "{}");
const NUT_MARGIN: (&str, &str) = ("slots.end_margin", "[{}, 18.0]");
const CREST_MARGIN: (&str, &str) = ("slots.end_margin", "[18.0, {}]");
const NUT_MARGIN_14: (&str, &str) = ("slots.end_margin", "[{}, 14.0]");

/// Parallel slots so deep, on a head whose bass side is 3 mm wider, that the treble slot's inner wall comes
/// to the plane in which the treble bore ends, 0.25 mm off the centre line.
const TO_THE_WEB: Keys = &[
    ("head.bass.width_at_nut_end", "70.0"),
    ("head.bass.width_at_crest_end", "70.0"),
    ("machines.barrel_length", "33.0"),
    ("slots.cheek", "20.0"),
    ("slots.corner_radius", "2.0"),
    ("slots.end_margin", "[14.0, 14.0]"),
];

pub const CASES: &[Case] = &[
    case(
        ("cheek", "treble slot to the treble side"),
        (FLARED, NO_RAMP),
        RIB,
        [14.0, 40.0],
    ),
    case(
        ("cheek", "treble slot to the treble side"),
        (FLARED, BY_CHEEK),
        ("slots.cheek", "{}"),
        [10.0, 0.5],
    ),
    case(
        ("cheek", "treble slot to the bass side"),
        (CONVERGING, ACROSS),
        NUT_MARGIN_14,
        [18.0, 34.0],
    ),
    case(
        ("rib", "between the two slots"),
        (CONVERGING, NARROW_NUT),
        NUT_MARGIN_14,
        [40.0, 105.0],
    ),
    case(
        ("end-wood", "ramp mouth to the nut line"),
        (FLARED, FLAT_RAMP),
        MOUTH,
        [19.0, 39.2],
    ),
    case(
        ("end-wood", "slot to the nut line"),
        (FLARED, NO_RAMP),
        NUT_MARGIN,
        [18.0, 57.5],
    ),
    case(
        ("end-wood", "slot to the crest"),
        (FLARED, &[]),
        CREST_MARGIN,
        [18.0, 75.0],
    ),
    case(
        ("end-wood", "slot to the crest"),
        (FLARED, FLAT_CREST),
        CREST_MARGIN,
        [18.0, 60.0],
    ),
    case(
        ("slot-end", "nut end"),
        (FLARED, &[]),
        NUT_MARGIN,
        [18.0, 12.0],
    ),
    case(
        ("slot-end", "crest end"),
        (FLARED, &[]),
        CREST_MARGIN,
        [18.0, 12.0],
    ),
    case(
        ("slot-end", "printed treble bore 1"),
        (FLARED, PRINTED),
        NUT_MARGIN,
        [18.0, 12.0],
    ),
    case(
        ("bearing", "treble bore 3"),
        (FLARED, &[]),
        RIB,
        [14.0, 5.0],
    ),
    case(
        ("rim", "treble bore 3"),
        (FLARED, SHALLOW),
        RIB,
        [14.0, 8.0],
    ),
    case(
        ("rim", "printed treble bore 3"),
        (FLARED, PRINTED_SHALLOW),
        RIB,
        [14.0, 8.0],
    )
    .reach(1e-3),
    case(
        ("edges", "ramp's mouth to the"),
        (FLARED, PINCHED),
        MOUTH,
        [19.0, 35.0],
    ),
    case(
        ("edges", "treble slot with its ramp to the treble shoulder"),
        (FLARED, SHOULDERED),
        ("head.shoulder_width", "{}"),
        [60.0, 5.0],
    ),
    case(
        ("edges", "ramp to the opening"),
        (CONVERGING, CONVERGING_RAMP),
        MOUTH,
        [5.0, 35.0],
    ),
    case(
        ("edges", "width of the head at the nut line"),
        (
            PLAIN,
            &[
                ("head.side_start", "50.0"),
                ("placement.first_barrel", "100.0"),
                ("placement.bass.first_barrel", "100.0"),
            ],
        ),
        ("head.width_at_nut_end", "{}"),
        [40.0, 26.0],
    )
    .jump(),
    case(
        ("edges", "length of the treble shoulder"),
        (PLAIN, &[("head.shoulder_width", "64.0")]),
        ("head.side_start", "{}"),
        [1.0, 0.001],
    )
    .jump(),
    case(
        ("ramp-depth", "treble ramp at"),
        (FLARED, &[]),
        MOUTH,
        [19.0, 37.0],
    ),
    case(
        ("ramp-depth", "treble ramp at"),
        (FLARED, &[]),
        ("slots.ramp.angle", "{}"),
        [24.0, 40.0],
    ),
    case(
        ("rim", "treble bore 1 where it ends near the centre line"),
        (PLAIN, TO_THE_WEB),
        ("slots.width", "{}"),
        [11.0, 11.7],
    )
    .jump(),
];
