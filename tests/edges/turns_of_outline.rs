//! The places where slots, outline, back and block change their kind.

use super::bases::{FLARED, PLAIN};
use super::fate::Read;
use super::turn::{Turn, Where, turn};

type Keys = &'static [(&'static str, &'static str)];

const DEEP: Keys = &[("bores.beyond_barrel", "9.0")];
const DEEP_POINT: Keys = &[("bores.beyond_barrel", "7.0"), ("bores.point", "118")];
const NO_RAMP: Keys = &[("slots.ramp", "-")];
const MOUTHLESS: Keys = &[("slots.ramp.mouth", "0.0")];
const SQUARE: Keys = &[("slots.corner_radius", "0.0")];
const ROUNDED: Keys = &[("slots.corner_radius", "3.0")];
const BY_CHEEK: Keys = &[("slots.rib", "-"), ("slots.cheek", "10.0")];
const SHOULDERED: Keys = &[("head.side_start", "30.0")];
const CORNER: (&str, &str) = ("slots.corner_radius", "{}");
const MOUTH: (&str, &str) = ("slots.ramp.mouth", "{}");
const CREST_WIDTH: (&str, &str) = ("head.width_at_crest_end", "{}");

fn two_blocks(read: &Read) -> bool {
    read.finished.blocks.len() > 1
}

pub const TURNS: &[Turn] = &[
    turn(
        "half-round ends under a ramp",
        (FLARED, &[]),
        CORNER,
        Where::At(7.5),
    )
    .bounded(),
    turn(
        "half-round ends without a ramp",
        (FLARED, NO_RAMP),
        CORNER,
        Where::At(7.5),
    )
    .bounded(),
    turn(
        "half-round ends, mouth at the end",
        (FLARED, MOUTHLESS),
        CORNER,
        Where::At(7.5),
    )
    .bounded(),
    turn(
        "square ends under a ramp",
        (FLARED, &[]),
        CORNER,
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "square ends without a ramp",
        (FLARED, NO_RAMP),
        CORNER,
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "square ends, mouth at the end",
        (FLARED, MOUTHLESS),
        CORNER,
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "a mouth at a half-round end",
        (FLARED, &[]),
        MOUTH,
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "a mouth at a rounded end",
        (FLARED, ROUNDED),
        MOUTH,
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "a mouth at a square end",
        (FLARED, SQUARE),
        MOUTH,
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "an even thickness",
        (FLARED, &[]),
        ("head.thickness_at_crest", "{}"),
        Where::At(20.4),
    ),
    turn(
        "no taper, slots with a rib",
        (FLARED, &[]),
        CREST_WIDTH,
        Where::At(63.0),
    ),
    turn(
        "no taper, slots with a cheek",
        (FLARED, BY_CHEEK),
        CREST_WIDTH,
        Where::At(63.0),
    ),
    turn(
        "no taper, flat ends that open",
        (PLAIN, DEEP),
        CREST_WIDTH,
        Where::At(64.0),
    ),
    turn(
        "no taper, points that open",
        (PLAIN, DEEP_POINT),
        CREST_WIDTH,
        Where::At(64.0),
    ),
    turn(
        "the flattest arch",
        (FLARED, &[]),
        ("head.side_end", "{}"),
        Where::At(195.9),
    )
    .bounded(),
    turn(
        "the highest arch",
        (FLARED, &[]),
        ("head.length", "{}"),
        Where::At(219.5),
    )
    .bounded(),
    turn(
        "sides that end with the head",
        (PLAIN, &[]),
        ("head.side_end", "{}"),
        Where::At(120.0),
    )
    .bounded(),
    turn(
        "sides that begin at the nut line",
        (FLARED, &[]),
        ("head.side_start", "{}"),
        Where::At(0.0),
    )
    .bounded(),
    turn(
        "shoulders in line with the sides",
        (FLARED, SHOULDERED),
        ("head.shoulder_width", "{}"),
        Where::At(63.0 - 120.0 / 77.0),
    ),
    turn(
        "one block for both sides",
        (FLARED, &[]),
        ("machines.bass.pitches", "[35.0, {}]"),
        Where::Changes([35.0, 35.1], two_blocks),
    ),
];
