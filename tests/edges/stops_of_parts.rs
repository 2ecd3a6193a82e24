//! Stops of counterbores, screw pilots and the guide block.

use super::bases::{FLARED, PLAIN};
use super::by_hand::{flared, flared_stations};
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

/// The floor of the first counterbore to the slot's outer wall at |x| = 22.
fn counterbore_to_slot(depth: f64) -> f64 {
    let line = flared();
    line.half_at(flared_stations()[0]) - 22.0 - depth * line.cos - 6.5 * line.sin
}

/// The end of a pilot, so far along from the first barrel, to the same wall.
fn pilot_to_slot(along: f64, depth: f64, radius: f64) -> f64 {
    let line = flared();
    line.half_at(flared_stations()[0] + along) - 22.0 - depth * line.cos - radius * line.sin
}

pub const CASES: &[Case] = &[
    case(
        ("counterbore", "bore 1 to the face"),
        (FLARED, BUSHED),
        DIAMETER,
        [13.0, 20.0],
        |wide| 10.2 - wide / 2.0,
    ),
    case(
        ("counterbore", "bore 1 to the back"),
        (FLARED, BUSHED_LOW),
        DIAMETER,
        [13.0, 20.0],
        |wide| 20.4 - 11.0 - wide / 2.0,
    ),
    case(
        ("counterbore", "printed treble bore 1"),
        (FLARED, PRINTED_BUSHED),
        DIAMETER,
        [13.0, 20.0],
        |wide| 10.2 - (wide + 0.2) / 2.0,
    ),
    case(
        ("counterbore", "between treble bore 2 and 3"),
        (FLARED, BUSHED),
        ("machines.pitches", "[35.0, {}]"),
        [35.0, 13.2],
        |pitch| pitch - 13.0,
    ),
    case(
        ("counterbore", "treble screw pilot 1"),
        (FLARED, BUSHED_SCREWED),
        ALONG,
        [-11.0, -7.8],
        |along| -along - 6.5 - 0.8,
    ),
    case(
        ("counterbore", "to the slot"),
        (FLARED, BUSHED),
        DEPTH,
        [4.0, 10.5],
        counterbore_to_slot,
    ),
    case(
        ("screw-slot", "to its slot"),
        (FLARED, SCREWED),
        PILOT_DEPTH,
        [7.0, 11.0],
        |depth| pilot_to_slot(17.5, depth, 0.8),
    ),
    case(
        ("screw-slot", "to its ramp"),
        (FLARED, OVER_RAMP),
        PILOT_DEPTH,
        [7.0, 11.0],
        |depth| pilot_to_slot(-25.0, depth, 0.8),
    ),
    case(
        ("screw-slot", "printed treble screw"),
        (FLARED, PRINTED_SCREWED),
        PILOT_DEPTH,
        [7.0, 11.0],
        |depth| pilot_to_slot(17.5, depth, 0.9),
    )
    .reach(1e-3),
    case(
        ("screw-bore", "pilot 1 to treble bore 1"),
        (FLARED, SCREWED),
        ALONG,
        [11.0, 6.0],
        |along| along - 5.25 - 0.8,
    ),
    case(
        ("screw-bore", "printed treble screw"),
        (FLARED, PRINTED_SCREWED),
        ALONG,
        [11.0, 6.0],
        |along| along - 5.35 - 0.9,
    ),
    case(
        ("screw-bore", "pilot 1 to the face"),
        (FLARED, SCREWED),
        ACROSS,
        [0.0, 9.3],
        |across| 10.2 - across - 0.8,
    ),
    case(
        ("screw-bore", "pilot 1 to the back"),
        (FLARED, SCREWED),
        ACROSS,
        [0.0, -9.3],
        |across| 20.4 - 10.2 + across - 0.8,
    ),
    case(
        ("screw-bore", "pilot 1 to treble screw pilot 2"),
        (FLARED, SCREWED),
        ("machines.screws.points", "[[11.0, 0.0], [{}, 0.0]]"),
        [15.0, 12.7],
        |along| along - 11.0 - 1.6,
    ),
    case(
        ("screw-bore", "to the far side"),
        (PLAIN, SCREWED_ACROSS),
        PILOT_DEPTH,
        [40.0, 63.8],
        |depth| 64.0 - depth,
    ),
    case(
        ("screw-bore", "treble screw pilot 1 to bass bore 1"),
        (PLAIN, SCREWED_ACROSS),
        ALONG,
        [14.0, 25.0],
        |along| 90.0 - 60.0 - along - 4.25 - 0.8,
    ),
    case(
        ("block-wood", "hole 1 to the upright"),
        (FLARED, &[]),
        ("guide.axis_height", "{}"),
        [10.2, 6.0],
        |z| z - 5.25,
    ),
    case(
        ("block-wood", "the face away from the upright"),
        (FLARED, UNSCRIBED),
        ("guide.height", "{}"),
        [20.4, 16.0],
        |height| height - 10.2 - 5.25,
    ),
    case(
        ("block-wood", "printed guide block"),
        (FLARED, PRINTED_BLOCK),
        ("guide.height", "{}"),
        [20.4, 16.3],
        |height| height - 0.4 - 10.2 - 5.35,
    ),
    case(
        ("block-wood", "the scribe groove"),
        (FLARED, &[]),
        ("guide.scribe.depth", "{}"),
        [0.4, 4.5],
        |deep| 20.4 - deep - 10.2 - 5.25,
    ),
    case(
        ("block-wood", "to the block's end"),
        (FLARED, &[]),
        ("guide.end_margin", "{}"),
        [31.0, 6.0],
        |margin| margin - 5.25,
    ),
    case(
        ("block-wood", "hole 1 to hole 2"),
        (FLARED, HIGH_BLOCK),
        BUSH,
        [15.0, 34.5],
        |bush| 35.0 - bush,
    ),
    case(
        ("block-wood", "groove 1 to groove 2"),
        (FLARED, &[]),
        ("guide.scribe.width", "{}"),
        [0.8, 34.9],
        |wide| 35.0 - wide,
    ),
    case(
        ("block-wood", "groove 1 to the block's end"),
        (PLAIN, SCRIBED),
        ("guide.scribe.width", "{}"),
        [0.8, 49.0],
        |wide| 25.0 - wide / 2.0,
    ),
    case(
        ("block-bore", "every guide hole"),
        (FLARED, &[]),
        GUIDE_BORE,
        [11.0, 10.3],
        |guide| guide - 10.5,
    ),
    case(
        ("block-bore", "printed every guide hole"),
        (FLARED, TIGHT_BLOCK),
        GUIDE_BORE,
        [11.0, 10.5],
        |guide| guide - 0.2 - 10.5,
    ),
    case(
        ("block-bore", "every guide hole"),
        (FLARED, WIDE_BUSH),
        BUSH,
        [15.0, 10.3],
        |bush| bush - 10.5,
    ),
    case(
        ("block-bore", "printed every guide hole"),
        (FLARED, TIGHT_BUSHES),
        BUSH,
        [15.0, 10.6],
        |bush| bush - 0.2 - 10.5,
    ),
];
