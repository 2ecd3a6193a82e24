//! Stops of slots and ramps.

use super::bases::{CONVERGING, FLARED};
use super::by_hand::{Line, flared, flared_stations, nut_end};
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

/// Half-round nut end of a slot with a rib, to the side that comes nearer there.
fn slot_to_flaring_side(rib: f64) -> f64 {
    let middle = rib / 2.0 + 7.5;
    let centre = nut_end(flared(), 57.0, middle, 18.0) + 7.5;
    flared().depth_of([middle, centre]) - 7.5
}

/// A slot 42 to 54 mm inside the treble side of a head that flares by 16 in 160; its rounded corner, of
/// radius 2, to the bass side.
fn slot_to_far_side(margin: f64) -> f64 {
    let line = Line::new([0.0, 24.0], [160.0, 40.0]);
    let [x, y] = line.inside(60.0 / line.cos - margin + 2.0, 52.0);
    line.depth_of([-x, y]) - 2.0
}

/// Twice what is left to the centre line of a slot 9 to 21 mm inside a side that flares by 20 in 160.
fn converging_rib(margin: f64) -> f64 {
    let line = Line::new([0.0, 20.0], [160.0, 40.0]);
    let [x, _] = line.inside(110.0 / line.cos - margin + 2.0, 19.0);
    2.0 * (x - 2.0)
}

/// Extreme crest end of the slot with a rib of 14 in FLARED.
fn crest_end(margin: f64) -> f64 {
    flared().crossing_y(flared_stations()[2], 14.5) + margin
}

/// To the arch through the side ends, (35.5, 184), and (0, 196).
fn slot_to_arch(margin: f64) -> f64 {
    let radius = (35.5f64.powi(2) + 12f64.powi(2)) / 24.0;
    let centre = crest_end(margin) - 7.5 - (196.0 - radius);
    radius - 14.5f64.hypot(centre) - 7.5
}

fn slot_to_flat_crest(margin: f64) -> f64 {
    184.0 - crest_end(margin)
}

/// From where the straight outer wall begins to the ellipse that the first bore leaves on it.
fn straight_past_bore(margin: f64, radius: f64) -> f64 {
    let on_wall = flared().crossing_y(flared_stations()[0], 22.0);
    on_wall - radius / flared().cos - (nut_end(flared(), 57.0, 14.5, margin) + 7.5)
}

/// Depth along the third bore of FLARED at which it crosses |x|.
fn third_at(x: f64) -> f64 {
    (flared().half_at(flared_stations()[2]) - x) / flared().cos
}

/// The outer corner of a ramp's mouth, at |x| = 22, to a side that is 22 from the centre line at the nut.
fn mouth_to_side(mouth: f64) -> f64 {
    let line = Line::new([0.0, 22.0], [184.0, 35.5]);
    line.depth_of([22.0, nut_end(line, 57.0, 14.5, 18.0) - mouth])
}

/// The same corner, 19 mm before the slot, to the shoulder from the nut line to (31.5, 30).
fn mouth_to_shoulder(width: f64) -> f64 {
    let line = Line::new([30.0, 31.5], [184.0, 35.5]);
    let y = nut_end(line, 57.0, 14.5, 18.0) - 19.0;
    Line::new([0.0, width / 2.0], [30.0, 31.5]).depth_of([22.0, y])
}

/// Twice what is left to the centre line of a ramp's inner corner, 21 mm inside the side.
fn ramp_to_opening(mouth: f64) -> f64 {
    let line = Line::new([0.0, 20.0], [160.0, 40.0]);
    2.0 * line.inside(110.0 / line.cos - 75.0 - mouth, 21.0)[0]
}

pub const CASES: &[Case] = &[
    case(
        ("cheek", "treble slot to the treble side"),
        (FLARED, NO_RAMP),
        RIB,
        [14.0, 40.0],
        slot_to_flaring_side,
    ),
    case(
        ("cheek", "treble slot to the treble side"),
        (FLARED, BY_CHEEK),
        ("slots.cheek", "{}"),
        [10.0, 0.5],
        |cheek| cheek,
    ),
    case(
        ("cheek", "treble slot to the bass side"),
        (CONVERGING, ACROSS),
        NUT_MARGIN_14,
        [18.0, 34.0],
        slot_to_far_side,
    ),
    case(
        ("rib", "between the two slots"),
        (CONVERGING, NARROW_NUT),
        NUT_MARGIN_14,
        [40.0, 105.0],
        converging_rib,
    ),
    case(
        ("end-wood", "ramp mouth to the nut line"),
        (FLARED, FLAT_RAMP),
        MOUTH,
        [19.0, 39.2],
        |mouth| nut_end(flared(), 57.0, 14.5, 18.0) - mouth,
    ),
    case(
        ("end-wood", "slot to the nut line"),
        (FLARED, NO_RAMP),
        NUT_MARGIN,
        [18.0, 57.5],
        |margin| nut_end(flared(), 57.0, 14.5, margin),
    ),
    case(
        ("end-wood", "slot to the crest"),
        (FLARED, &[]),
        CREST_MARGIN,
        [18.0, 75.0],
        slot_to_arch,
    ),
    case(
        ("end-wood", "slot to the crest"),
        (FLARED, FLAT_CREST),
        CREST_MARGIN,
        [18.0, 60.0],
        slot_to_flat_crest,
    ),
    case(
        ("slot-end", "nut end"),
        (FLARED, &[]),
        NUT_MARGIN,
        [18.0, 12.0],
        |margin| straight_past_bore(margin, 5.25),
    ),
    case(
        ("slot-end", "crest end"),
        (FLARED, &[]),
        CREST_MARGIN,
        [18.0, 12.0],
        |margin| straight_past_bore(margin, 5.25),
    ),
    case(
        ("slot-end", "printed treble bore 1"),
        (FLARED, PRINTED),
        NUT_MARGIN,
        [18.0, 12.0],
        |margin| straight_past_bore(margin, 5.35),
    ),
    case(
        ("bearing", "treble bore 3"),
        (FLARED, &[]),
        RIB,
        [14.0, 5.0],
        |rib| 30.5 - third_at(rib / 2.0),
    ),
    case(
        ("rim", "treble bore 3"),
        (FLARED, SHALLOW),
        RIB,
        [14.0, 8.0],
        |rib| (30.5 - third_at(rib / 2.0)) * flared().cos - 5.25 * flared().sin,
    ),
    case(
        ("rim", "printed treble bore 3"),
        (FLARED, PRINTED_SHALLOW),
        RIB,
        [14.0, 8.0],
        |rib| (30.5 - third_at(rib / 2.0)) * flared().cos - 5.35 * flared().sin,
    )
    .reach(1e-3),
    case(
        ("edges", "ramp's mouth to the"),
        (FLARED, PINCHED),
        MOUTH,
        [19.0, 35.0],
        mouth_to_side,
    ),
    case(
        ("edges", "treble slot with its ramp to the treble shoulder"),
        (FLARED, SHOULDERED),
        ("head.shoulder_width", "{}"),
        [60.0, 5.0],
        mouth_to_shoulder,
    ),
    case(
        ("edges", "ramp to the opening"),
        (CONVERGING, CONVERGING_RAMP),
        MOUTH,
        [5.0, 35.0],
        ramp_to_opening,
    ),
    case(
        ("ramp-depth", "treble ramp at"),
        (FLARED, &[]),
        MOUTH,
        [19.0, 37.0],
        |mouth| 20.4 - (mouth + 7.5) * 24f64.to_radians().tan(),
    ),
    case(
        ("ramp-depth", "treble ramp at"),
        (FLARED, &[]),
        ("slots.ramp.angle", "{}"),
        [24.0, 40.0],
        |angle| 20.4 - 26.5 * angle.to_radians().tan(),
    ),
];
