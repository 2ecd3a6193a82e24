//! Stops across the head: the ends of bores, and what they come near to.

use super::bases::PLAIN;
use super::by_hand::per_radius;
use super::ladder::{Case, case};

type Keys = &'static [(&'static str, &'static str)];

const BEYOND: (&str, &str) = ("bores.beyond_barrel", "{}");
const BASS_FIRST: (&str, &str) = ("placement.bass.first_barrel", "{}");
const PAIR: (&str, &str) = ("far-wood", "treble bore 1 and bass bore 1");
const POINTED: Keys = &[("bores.point", "118")];
/// Bores that pass one another, 6 mm past the centre line.
const PASSING: Keys = &[("bores.beyond_barrel", "-"), ("bores.beyond_centre", "3.0")];
const PRINTED_PASSING: Keys = &[
    ("bores.beyond_barrel", "-"),
    ("bores.beyond_centre", "3.0"),
    ("print.head_allowance", "0.2"),
];
const STAGGERED: Keys = &[
    ("placement.bass.first_barrel", "80.0"),
    ("machines.barrel_length", "30.0"),
];
const SLOTTED: Keys = &[
    ("placement.bass.first_barrel", "80.0"),
    ("machines.barrel_length", "29.5"),
    ("slots.width", "10.0"),
    ("slots.rib", "8.0"),
    ("slots.end_margin", "[30.0, 30.0]"),
];
/// The bass ramp over the treble bore.
const UNDER_RAMP: Keys = &[
    ("head.length", "160.0"),
    ("placement.first_barrel", "70.0"),
    ("placement.bass.first_barrel", "120.0"),
    ("machines.barrel_length", "29.0"),
    ("bores.beyond_barrel", "11.0"),
    ("slots.width", "10.0"),
    ("slots.rib", "8.0"),
    ("slots.corner_radius", "0.0"),
    ("slots.end_margin", "[20.0, 14.0]"),
    ("slots.ramp.angle", "24.2"),
];
const COUNTERBORED: Keys = &[
    ("placement.bass.first_barrel", "71.0"),
    ("machines.barrel_length", "30.0"),
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "5.0"),
];
/// Flat ends beside one another, 0.1 mm of wood between their walls once they pass.
const BESIDE: Keys = &[("placement.bass.first_barrel", "68.6")];

/// How far a point of 118 degrees passes the centre plane.
fn past_centre(beyond: f64) -> f64 {
    24.0 + beyond + 4.25 * per_radius() - 32.0
}

/// The treble bore at y = 70 below the floor of the bass ramp, square to it: the floor starts at the face
/// 20 mm and the mouth before y = 120.
fn under_the_ramp(mouth: f64) -> f64 {
    let angle = 24.2f64.to_radians();
    let floor = (70.0 - (120.0 - 20.0 - mouth)) * angle.tan();
    (10.0 - floor) * angle.cos() - 4.25
}

pub const CASES: &[Case] = &[
    case(PAIR, (PLAIN, PASSING), BASS_FIRST, [80.0, 68.6], |bass| {
        bass - 60.0 - 8.5
    }),
    case(
        ("far-wood", "printed treble bore 1 and bass"),
        (PLAIN, PRINTED_PASSING),
        BASS_FIRST,
        [80.0, 68.8],
        |bass| bass - 60.0 - 8.7,
    ),
    case(
        ("far-wood", "treble bore 1 to the opposite slot"),
        (PLAIN, SLOTTED),
        BEYOND,
        [2.0, 6.2],
        |beyond| 4.0 + 32.0 - 29.5 - beyond,
    ),
    case(
        ("far-wood", "treble bore 1 to the opposite ramp"),
        (PLAIN, UNDER_RAMP),
        ("slots.ramp.mouth", "{}"),
        [20.0, 42.0],
        under_the_ramp,
    ),
    case(
        ("far-wood", "treble bore 1 to the far side"),
        (PLAIN, STAGGERED),
        BEYOND,
        [2.0, 33.8],
        |beyond| 64.0 - 30.0 - beyond,
    ),
    case(
        ("far-wood", "the counterbore of bass bore 1"),
        (PLAIN, COUNTERBORED),
        BEYOND,
        [2.0, 29.5],
        |beyond| (29.0 - beyond).hypot(0.25),
    ),
    // Blind ends of a pair need a hundredth; the ladder ends where they would touch.
    case(PAIR, (PLAIN, &[]), BEYOND, [2.0, 7.9975], |beyond| {
        2.0 * (32.0 - 24.0 - beyond)
    })
    .limit(0.01)
    .reach(1e-3),
    case(PAIR, (PLAIN, POINTED), BEYOND, [2.0, 5.4443], |beyond| {
        -2.0 * past_centre(beyond)
    })
    .limit(0.01)
    .reach(1e-3),
    // So do ends that are less than half a millimetre past each other; from there on it is half one.
    case(
        PAIR,
        (PLAIN, &[("bores.beyond_barrel", "8.2")]),
        BASS_FIRST,
        [68.6, 68.505],
        |bass| bass - 60.0 - 8.5,
    )
    .limit(0.01)
    .reach(1e-3),
    // A tenth is left beside one another, too little from half a millimetre past each other on.
    case(PAIR, (PLAIN, BESIDE), BEYOND, [8.1, 8.4], |beyond| {
        1.0 - 2.0 * (24.0 + beyond - 32.0)
    })
    .jump(),
];
