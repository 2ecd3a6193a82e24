//! Stops of counterbores, screw pilots and the guide block.

use super::bases::{FLARED, PLAIN};
use super::ladder::{Case, case};

type Keys = &'static [(&'static str, &'static str)];

const BUSHED: Keys = &[
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "4.0"),
];
const BUSHED_LOW: Keys = &[
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "4.0"),
    ("placement.axis_below_face", "11.0"),
];
const PRINTED_BUSHED: Keys = &[
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "4.0"),
    ("print.head_allowance", "0.2"),
];
const BUSHED_SCREWED: Keys = &[
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "4.0"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "7.0"),
];
const SCREWED: Keys = &[
    ("machines.screws.points", "[[17.5, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "7.0"),
];
const PRINTED_SCREWED: Keys = &[
    ("machines.screws.points", "[[17.5, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "7.0"),
    ("print.head_allowance", "0.2"),
];
const OVER_RAMP: Keys = &[
    ("machines.screws.points", "[[-25.0, 6.0]]"),
    ("machines.screws.pilot", "1.6"),
];
const SCREWED_ACROSS: Keys = &[
    ("placement.bass.first_barrel", "90.0"),
    ("machines.screws.points", "[[14.0, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "40.0"),
];
const THIN_SCREWS: Keys = &[
    ("machines.screws.points", "[[-11.0, 0.0]]"),
    ("machines.screws.pilot", "0.3"),
    ("machines.screws.depth", "7.0"),
];
const HIGH_BLOCK: Keys = &[("guide.height", "60.0"), ("guide.axis_height", "30.0")];
const UNSCRIBED: Keys = &[("guide.scribe", "-")];
const PRINTED_BLOCK: Keys = &[("print.block_allowance", "0.2")];
const TIGHT_BLOCK: Keys = &[("print.block_allowance", "-0.2")];
/// A bush wider inside than the bit, so that the block's own hole decides.
const WIDE_BUSH: Keys = &[("guide.bore_diameter", "14.0")];
const TIGHT_BUSHES: Keys = &[
    ("guide.bore_diameter", "14.0"),
    ("guide.bush_diameter", "15.0"),
    ("print.bush_allowance", "-0.2"),
];
const SCRIBED: Keys = &[("guide.scribe.depth", "0.4")];
const DIAMETER: (&str, &str) = ("bores.counterbore.diameter", "{}");
const DEPTH: (&str, &str) = ("bores.counterbore.depth", "{}");
const PILOT_DEPTH: (&str, &str) = ("machines.screws.depth", "{}");
const ALONG: (&str, &str) = ("machines.screws.points", "[[{}, 0.0]]");
const ACROSS: (&str, &str) = ("machines.screws.points", "[[11.0, {}]]");
const GUIDE_BORE: (&str, &str) = ("guide.bore_diameter", "{}");
const BUSH: (&str, &str) = ("guide.bush_diameter", "{}");

pub const CASES: &[Case] = &[
    case(
        ("counterbore", "bore 1 to the face"),
        (FLARED, BUSHED),
        DIAMETER,
        [13.0, 20.0],
    ),
    case(
        ("counterbore", "bore 1 to the back"),
        (FLARED, BUSHED_LOW),
        DIAMETER,
        [13.0, 20.0],
    ),
    case(
        ("counterbore", "printed treble bore 1"),
        (FLARED, PRINTED_BUSHED),
        DIAMETER,
        [13.0, 20.0],
    ),
    case(
        ("counterbore", "between treble bore 2 and 3"),
        (FLARED, BUSHED),
        ("machines.pitches", "[35.0, {}]"),
        [35.0, 13.2],
    ),
    case(
        ("counterbore", "treble screw pilot 1"),
        (FLARED, BUSHED_SCREWED),
        ALONG,
        [-11.0, -7.8],
    ),
    case(
        ("counterbore", "to the slot"),
        (FLARED, BUSHED),
        DEPTH,
        [4.0, 10.5],
    ),
    case(
        ("counterbore", "width of the ring"),
        (FLARED, BUSHED),
        DIAMETER,
        [13.0, 10.501],
    )
    .jump(),
    case(
        ("counterbore", "floor to the bore's end"),
        (PLAIN, &[("bores.counterbore.diameter", "11.0")]),
        DEPTH,
        [5.0, 25.995],
    )
    .jump(),
    case(
        ("screw-slot", "to its slot"),
        (FLARED, SCREWED),
        PILOT_DEPTH,
        [7.0, 11.0],
    ),
    case(
        ("screw-slot", "to its ramp"),
        (FLARED, OVER_RAMP),
        PILOT_DEPTH,
        [7.0, 11.0],
    ),
    case(
        ("screw-slot", "printed treble screw"),
        (FLARED, PRINTED_SCREWED),
        PILOT_DEPTH,
        [7.0, 11.0],
    )
    .reach(1e-3),
    case(
        ("screw-bore", "pilot 1 to treble bore 1"),
        (FLARED, SCREWED),
        ALONG,
        [11.0, 6.0],
    ),
    case(
        ("screw-bore", "printed treble screw"),
        (FLARED, PRINTED_SCREWED),
        ALONG,
        [11.0, 6.0],
    ),
    case(
        ("screw-bore", "pilot 1 to the face"),
        (FLARED, SCREWED),
        ACROSS,
        [0.0, 9.3],
    ),
    case(
        ("screw-bore", "pilot 1 to the back"),
        (FLARED, SCREWED),
        ACROSS,
        [0.0, -9.3],
    ),
    case(
        ("screw-bore", "pilot 1 to treble screw pilot 2"),
        (FLARED, SCREWED),
        ("machines.screws.points", "[[11.0, 0.0], [{}, 0.0]]"),
        [15.0, 12.7],
    ),
    case(
        ("screw-bore", "to the far side"),
        (PLAIN, SCREWED_ACROSS),
        PILOT_DEPTH,
        [40.0, 63.8],
    ),
    case(
        ("screw-bore", "treble screw pilot 1 to bass bore 1"),
        (PLAIN, SCREWED_ACROSS),
        ALONG,
        [14.0, 25.0],
    ),
    case(
        ("screw-bore", "its own diameter"),
        (FLARED, THIN_SCREWS),
        ("print.head_allowance", "{}"),
        [-0.2, -0.295],
    )
    .jump(),
    case(
        ("block-wood", "hole 1 to the upright"),
        (FLARED, &[]),
        ("guide.axis_height", "{}"),
        [10.2, 6.0],
    ),
    case(
        ("block-wood", "the face away from the upright"),
        (FLARED, UNSCRIBED),
        ("guide.height", "{}"),
        [20.4, 16.0],
    ),
    case(
        ("block-wood", "printed guide block"),
        (FLARED, PRINTED_BLOCK),
        ("guide.height", "{}"),
        [20.4, 16.3],
    ),
    case(
        ("block-wood", "the scribe groove"),
        (FLARED, &[]),
        ("guide.scribe.depth", "{}"),
        [0.4, 4.5],
    ),
    case(
        ("block-wood", "to the block's end"),
        (FLARED, &[]),
        ("guide.end_margin", "{}"),
        [31.0, 6.0],
    ),
    case(
        ("block-wood", "hole 1 to hole 2"),
        (FLARED, HIGH_BLOCK),
        BUSH,
        [15.0, 34.5],
    ),
    case(
        ("block-wood", "groove 1 to groove 2"),
        (FLARED, &[]),
        ("guide.scribe.width", "{}"),
        [0.8, 34.9],
    ),
    case(
        ("block-wood", "groove 1 to the block's end"),
        (PLAIN, SCRIBED),
        ("guide.scribe.width", "{}"),
        [0.8, 49.0],
    ),
    case(
        ("block-wood", "it is too small"),
        (FLARED, &[]),
        ("guide.scribe.depth", "{}"),
        [0.4, 0.0005],
    )
    .jump(),
    case(
        ("block-bore", "every guide hole"),
        (FLARED, &[]),
        GUIDE_BORE,
        [11.0, 10.3],
    ),
    case(
        ("block-bore", "printed every guide hole"),
        (FLARED, TIGHT_BLOCK),
        GUIDE_BORE,
        [11.0, 10.5],
    ),
    case(
        ("block-bore", "every guide hole"),
        (FLARED, WIDE_BUSH),
        BUSH,
        [15.0, 10.3],
    ),
    case(
        ("block-bore", "printed every guide hole"),
        (FLARED, TIGHT_BUSHES),
        BUSH,
        [15.0, 10.6],
    ),
];
