//! The places where slots, outline, back and block change their kind.

use super::bases::{FLARED, PLAIN};
use super::fate::Read;
use super::stops_of_guards::SHORTEST;
use super::turn::{Fate, Turn, turn};

type Keys = &'static [(&'static str, &'static str)];

const DEEP: Keys = &[("bores.beyond_barrel", "9.0")];
const DEEP_POINT: Keys = &[("bores.beyond_barrel", "7.0"), ("bores.point", "118")];
const NO_RAMP: Keys = &[("slots.ramp", "-")];
const MOUTHLESS: Keys = &[("slots.ramp.mouth", "0.0")];
const SQUARE: Keys = &[("slots.corner_radius", "0.0")];
const ROUNDED: Keys = &[("slots.corner_radius", "3.0")];
const BY_CHEEK: Keys = &[("slots.rib", "-"), ("slots.cheek", "10.0")];
const SHOULDERED: Keys = &[("head.side_start", "30.0")];
const RINGED: Keys = &[("bores.counterbore.depth", "4.0")];
const RINGED_COARSE: Keys = &[("bores.counterbore.depth", "4.0"), ("print.chord", "0.5")];
const BUSHED: Keys = &[("bores.counterbore.diameter", "11.0")];
/// Three millimetres short of the centre line.
const BUSHED_BY_CENTRE: Keys = &[
    ("placement.bass.first_barrel", "80.0"),
    ("head.bass.width_at_nut_end", "58.0"),
    ("head.bass.width_at_crest_end", "58.0"),
    ("bores.beyond_barrel", "-"),
    ("bores.beyond_centre", "0.0"),
    ("bores.counterbore.diameter", "11.0"),
];
/// Steep enough to be nothing at the crest, with the bores where it is thick.
const THINNING: Keys = &[
    ("head.thickness", "60.0"),
    ("placement.first_barrel", "30.0"),
    ("placement.bass.first_barrel", "30.0"),
];
const SCREWED: Keys = &[
    ("machines.screws.points", "[[-11.0, 0.0]]"),
    ("machines.screws.depth", "7.0"),
];
const CORNER: (&str, &str) = ("slots.corner_radius", "{}");
const MOUTH: (&str, &str) = ("slots.ramp.mouth", "{}");
const CREST_WIDTH: (&str, &str) = ("head.width_at_crest_end", "{}");

/// Half width of the slots' ends; a corner above it by more than noise is none.
fn up_to(step: f64, words: &'static str) -> Fate {
    if step > 1e-9 {
        Fate::Refused(words)
    } else {
        Fate::Built
    }
}

fn half_round(step: f64) -> Fate {
    up_to(step, "must not be more than half the slot's width")
}

/// Zero is nothing there; a length shorter than the shortest is none.
fn from_nothing(number: f64) -> Fate {
    match number {
        _ if number < 0.0 => Fate::Refused("must be zero or more"),
        _ if number > 0.0 && number < SHORTEST => Fate::Refused("is shorter than 0.0001 mm"),
        _ => Fate::Built,
    }
}

/// The same from the shortest on; the step counts from there.
fn from_shortest(step: f64) -> Fate {
    match step {
        _ if step < -SHORTEST => Fate::Refused("must be above zero"),
        _ if step < 0.0 => Fate::Refused("is shorter than 0.0001 mm"),
        _ => Fate::Built,
    }
}

/// One block where the holes lie alike to a millionth, else two.
fn blocks_for(read: &Read, pitch: f64) -> Result<(), String> {
    let wanted = if (pitch - 35.0).abs() <= 1e-6 { 1 } else { 2 };
    let found = read.finished.blocks.len();
    (found == wanted)
        .then_some(())
        .ok_or(format!("{found} blocks, not {wanted}"))
}

pub const TURNS: &[Turn] = &[
    turn(
        "half-round ends under a ramp",
        (FLARED, &[]),
        CORNER,
        || 7.5,
    )
    .fate(half_round)
    .merging(),
    turn(
        "half-round ends without a ramp",
        (FLARED, NO_RAMP),
        CORNER,
        || 7.5,
    )
    .fate(half_round)
    .merging(),
    turn(
        "half-round ends, mouth at the end",
        (FLARED, MOUTHLESS),
        CORNER,
        || 7.5,
    )
    .fate(half_round)
    .merging(),
    turn("square ends under a ramp", (FLARED, &[]), CORNER, || 0.0).fate(from_nothing),
    turn(
        "square ends without a ramp",
        (FLARED, NO_RAMP),
        CORNER,
        || 0.0,
    )
    .fate(from_nothing),
    turn(
        "square ends, mouth at the end",
        (FLARED, MOUTHLESS),
        CORNER,
        || 0.0,
    )
    .fate(from_nothing),
    turn("a mouth at a half-round end", (FLARED, &[]), MOUTH, || 0.0).fate(from_nothing),
    turn("a mouth at a rounded end", (FLARED, ROUNDED), MOUTH, || 0.0).fate(from_nothing),
    turn("a mouth at a square end", (FLARED, SQUARE), MOUTH, || 0.0).fate(from_nothing),
    turn(
        "an even thickness",
        (FLARED, &[]),
        ("head.thickness_at_crest", "{}"),
        || 20.4,
    ),
    turn(
        "no taper, slots with a rib",
        (FLARED, &[]),
        CREST_WIDTH,
        || 63.0,
    ),
    turn(
        "no taper, slots with a cheek",
        (FLARED, BY_CHEEK),
        CREST_WIDTH,
        || 63.0,
    ),
    turn(
        "no taper, flat ends that open",
        (PLAIN, DEEP),
        CREST_WIDTH,
        || 64.0,
    ),
    turn(
        "no taper, points that open",
        (PLAIN, DEEP_POINT),
        CREST_WIDTH,
        || 64.0,
    ),
    turn(
        "the flattest arch",
        (FLARED, &[]),
        ("head.side_end", "{}"),
        || 195.9,
    )
    .fate(|step| up_to(step, "it must rise at least 0.10 mm")),
    turn(
        "the highest arch",
        (FLARED, &[]),
        ("head.length", "{}"),
        || 219.5,
    )
    .fate(|step| up_to(step, "more than half the width there")),
    turn(
        "sides that end with the head",
        (PLAIN, &[]),
        ("head.side_end", "{}"),
        || 120.0,
    )
    .fate(|step| up_to(step.abs(), "with a flat crest the sides end at the crest")),
    turn(
        "sides that begin at the nut line",
        (FLARED, &[]),
        ("head.side_start", "{}"),
        || 0.0,
    )
    .fate(from_nothing),
    turn(
        "shoulders in line with the sides",
        (FLARED, SHOULDERED),
        ("head.shoulder_width", "{}"),
        || 63.0 - 120.0 / 77.0,
    ),
    turn(
        "one block for both sides",
        (FLARED, &[]),
        ("machines.bass.pitches", "[35.0, {}]"),
        || 35.000_001 + 5e-13,
    )
    .look(blocks_for),
    turn(
        "the narrowest ring of a counterbore",
        (FLARED, RINGED),
        ("bores.counterbore.diameter", "{}"),
        || 10.5 + 2.0 * SHORTEST,
    )
    .fate(|step| up_to(-step / 2.0, "must be wider than the bore")),
    turn(
        "the narrowest ring, with facets far coarser than it",
        (FLARED, RINGED_COARSE),
        ("bores.counterbore.diameter", "{}"),
        || 10.5 + 2.0 * SHORTEST,
    )
    .fate(|step| up_to(-step / 2.0, "must be wider than the bore")),
    turn(
        "the deepest counterbore",
        (PLAIN, BUSHED),
        ("bores.counterbore.depth", "{}"),
        || 26.0 - SHORTEST,
    )
    .fate(|step| up_to(step, "must be shallower than the bore")),
    turn(
        "the deepest counterbore of a bore that ends by the centre line",
        (PLAIN, BUSHED_BY_CENTRE),
        ("bores.counterbore.depth", "{}"),
        || 29.0 - SHORTEST,
    )
    .fate(|step| up_to(step, "the counterbore goes")),
    turn(
        "the shallowest scribe groove",
        (FLARED, &[]),
        ("guide.scribe.depth", "{}"),
        || SHORTEST,
    )
    .fate(from_shortest),
    turn(
        "the narrowest scribe groove",
        (FLARED, &[]),
        ("guide.scribe.width", "{}"),
        || SHORTEST,
    )
    .fate(from_shortest),
    turn(
        "the shortest shoulder",
        (PLAIN, &[("head.shoulder_width", "60.0")]),
        ("head.side_start", "{}"),
        || SHORTEST,
    )
    .fate(|step| from_nothing(SHORTEST + step)),
    turn(
        "the thinnest crest",
        (PLAIN, THINNING),
        ("head.thickness_at_crest", "{}"),
        || SHORTEST,
    )
    .fate(from_shortest),
    turn(
        "the finest pilot",
        (FLARED, SCREWED),
        ("machines.screws.pilot", "{}"),
        || SHORTEST,
    )
    .fate(from_shortest),
];
