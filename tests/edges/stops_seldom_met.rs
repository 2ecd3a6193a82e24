//! Stops of places that the bases come to only when turned round: counterbores and pilots at the crest, bores
//! of a narrowing head at the ends of their slots.

use super::bases::{FLARED, PLAIN};
use super::by_hand::{Line, flared_from_20, nut_end};
use super::ladder::{Case, case};

type Keys = &'static [(&'static str, &'static str)];

const FLARING_BUSHED: Keys = &[
    ("head.width_at_nut_end", "54.0"),
    ("placement.bass.first_barrel", "-"),
    ("bores.counterbore.diameter", "13.0"),
    ("bores.counterbore.depth", "3.0"),
];
const FLARING_SCREWED: Keys = &[
    ("head.width_at_nut_end", "54.0"),
    ("placement.bass.first_barrel", "-"),
    ("machines.screws.points", "[[11.0, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "20.0"),
];
const BUSHED: Keys = &[
    ("slots", "-"),
    ("head.side_start", "20.0"),
    ("bores.counterbore.diameter", "14.0"),
    ("bores.counterbore.depth", "3.0"),
];
const SCREWED: Keys = &[
    ("slots", "-"),
    ("head.side_start", "20.0"),
    ("machines.screws.points", "[[81.0, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "7.0"),
];
/// FLARED the other way round, with barrels that its narrower crest has room for.
const NARROWING: Keys = &[
    ("head.width_at_crest_end", "57.0"),
    ("machines.barrel_length", "26.0"),
    ("machines.string_hole", "16.0"),
];
const FIRST: (&str, &str) = ("placement.first_barrel", "{}");

/// Sides that flare by 5 in 120.
fn flaring() -> Line {
    Line::new([0.0, 27.0], [120.0, 32.0])
}

fn narrowing() -> Line {
    Line::new([0.0, 31.5], [184.0, 28.5])
}

/// Along the slot of a narrowing head, the third bore's axis at the outer wall to its straight end.
fn third_to_end(margin: f64) -> f64 {
    let line = narrowing();
    let third = 57.0 / line.cos + 70.0;
    let end = line.crossing_y(third, 14.5) + margin - 7.5;
    end - line.crossing_y(third, 22.0)
}

pub const CASES: &[Case] = &[
    case(
        ("edges", "counterbore of treble bore 3 to the crest end"),
        (FLARED, BUSHED),
        FIRST,
        [57.0, 108.0],
        |y| (184.0 - y) / flared_from_20().cos - 70.0 - 7.0,
    )
    // The crest begins where the side ends.
    .beside(&["end-wood"]),
    case(
        ("edges", "screw pilot 1 to the crest end"),
        (FLARED, SCREWED),
        FIRST,
        [57.0, 103.0],
        |y| (184.0 - y) / flared_from_20().cos - 81.0 - 0.8,
    )
    .beside(&["end-wood"]),
    case(
        ("end-wood", "counterbore of treble bore 1 to the crest"),
        (PLAIN, FLARING_BUSHED),
        FIRST,
        [60.0, 112.9],
        |y| 120.0 - y - 3.0 * flaring().sin - 6.5 * flaring().cos,
    ),
    case(
        ("end-wood", "screw pilot 1 to the crest"),
        (PLAIN, FLARING_SCREWED),
        FIRST,
        [60.0, 107.0],
        |y| 120.0 - y - 20.0 * flaring().sin - (11.0 + 0.8) * flaring().cos,
    ),
    case(
        ("slot-end", "bore 1 on the inner wall, nut end"),
        (FLARED, NARROWING),
        ("slots.end_margin", "[{}, 18.0]"),
        [18.0, 12.0],
        |margin| {
            let line = narrowing();
            let on_wall = line.crossing_y(57.0 / line.cos, 7.0);
            on_wall - 5.25 / line.cos - (nut_end(line, 57.0, 14.5, margin) + 7.5)
        },
    ),
    case(
        ("slot-end", "bore 3 on the outer wall, crest end"),
        (FLARED, NARROWING),
        ("slots.end_margin", "[18.0, {}]"),
        [18.0, 12.0],
        |margin| third_to_end(margin) - 5.25 / narrowing().cos,
    ),
];
