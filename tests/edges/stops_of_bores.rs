//! Stops of bores, barrels and what lies about them.

use super::bases::{FLARED, PLAIN};
use super::by_hand::{Line, flared, flared_from_20, flared_stations, per_radius};
use super::ladder::{Case, case};

const NARROWING: &[(&str, &str)] = &[
    ("head.width_at_crest_end", "54.0"),
    ("placement.bass.first_barrel", "-"),
];
const FLARING: &[(&str, &str)] = &[
    ("head.width_at_nut_end", "54.0"),
    ("placement.bass.first_barrel", "-"),
];
const CORE: &[(&str, &str)] = &[
    ("head.veneers_on", "false"),
    ("head.face_veneer", "2.4"),
    ("head.back_veneer", "1.6"),
];
const PRINTED: &[(&str, &str)] = &[("print.head_allowance", "0.2")];
const UNSLOTTED: &[(&str, &str)] = &[("slots", "-"), ("head.side_start", "20.0")];
const PRINTED_UNSLOTTED: &[(&str, &str)] = &[
    ("slots", "-"),
    ("head.side_start", "20.0"),
    ("print.head_allowance", "0.2"),
];
const BUSHED: &[(&str, &str)] = &[
    ("slots", "-"),
    ("head.side_start", "20.0"),
    ("bores.counterbore.diameter", "14.0"),
    ("bores.counterbore.depth", "3.0"),
];
const SCREWED: &[(&str, &str)] = &[
    ("slots", "-"),
    ("head.side_start", "20.0"),
    ("machines.screws.points", "[[-11.0, 0.0]]"),
    ("machines.screws.pilot", "1.6"),
    ("machines.screws.depth", "7.0"),
];
const AXIS: (&str, &str) = ("placement.axis_below_face", "{}");
const FIRST: (&str, &str) = ("placement.first_barrel", "{}");
const BARREL: (&str, &str) = ("machines.barrel_length", "{}");
const BORE: (&str, &str) = ("bores.diameter", "{}");
const SECOND_PITCH: (&str, &str) = ("machines.pitches", "[35.0, {}]");

/// The third bore of FLARED, which opens by its point, to a back that falls or rises evenly to `crest` at
/// y = 196, square to it.
fn under_a_wedge(crest: f64) -> f64 {
    let (line, s) = (flared(), flared_stations()[2]);
    let slope = (crest - 20.4) / 196.0;
    let square = (1.0 + slope * slope).sqrt();
    let below = |depth: f64| (20.4 + slope * line.inside(s, depth)[1] - 10.2) / square;
    // The back leans against the bore's own slant along the head.
    let radius = 5.25 * (1.0 - (slope * line.sin / square).powi(2)).sqrt();
    let tip = 32.5 + 5.25 * per_radius();
    (below(0.0) - radius)
        .min(below(32.5) - radius)
        .min(below(tip))
}

/// How far a bore reaches beyond its middle along the head whose sides close or open by 5 in 120.
fn run_along(depth: f64, radius: f64) -> f64 {
    let line = Line::new([0.0, 27.0], [120.0, 32.0]);
    depth * line.sin + radius * line.cos
}

pub const CASES: &[Case] = &[
    case(
        ("wood-over", "bore 1 to the face"),
        (FLARED, &[]),
        AXIS,
        [10.2, 6.0],
        |a| a - 5.25,
    ),
    case(
        ("wood-over", "to the face of the core"),
        (FLARED, CORE),
        AXIS,
        [10.2, 8.0],
        |a| a - 2.4 - 5.25,
    ),
    case(
        ("wood-over", "printed treble bore 1"),
        (FLARED, PRINTED),
        AXIS,
        [10.2, 6.0],
        |a| a - 5.35,
    ),
    case(
        ("wood-under", "bore 1 to the back"),
        (FLARED, &[]),
        AXIS,
        [10.2, 15.0],
        |a| 20.4 - a - 5.25,
    ),
    case(
        ("wood-under", "to the back of the core"),
        (FLARED, CORE),
        AXIS,
        [10.2, 15.0],
        |a| 20.4 - 1.6 - a - 5.25,
    ),
    case(
        ("wood-under", "printed treble bore 1"),
        (FLARED, PRINTED),
        AXIS,
        [10.2, 15.0],
        |a| 20.4 - a - 5.35,
    ),
    case(
        ("wood-under", "bore 3 to the back"),
        (FLARED, &[]),
        ("head.thickness_at_crest", "{}"),
        [20.4, 13.0],
        under_a_wedge,
    ),
    case(
        ("web", "between treble bore 2 and 3"),
        (FLARED, &[]),
        SECOND_PITCH,
        [35.0, 10.9],
        |pitch| pitch - 10.5,
    )
    // A guide hole is no narrower than its bit, so the block has no more wood there.
    .beside(&["block-wood"]),
    case(
        ("web", "printed between treble"),
        (FLARED, PRINTED),
        SECOND_PITCH,
        [35.0, 10.9],
        |pitch| pitch - 10.7,
    ),
    case(
        ("end-wood", "bore 1 to the nut line"),
        (PLAIN, NARROWING),
        FIRST,
        [60.0, 5.5],
        |y| y - run_along(26.0, 4.25),
    ),
    case(
        ("end-wood", "bore 1 to the crest"),
        (PLAIN, FLARING),
        FIRST,
        [60.0, 114.5],
        |y| 120.0 - y - run_along(26.0, 4.25),
    ),
    case(
        ("edges", "bore 1 to the nut end"),
        (FLARED, UNSLOTTED),
        FIRST,
        [57.0, 22.0],
        |y| (y - 20.0) / flared_from_20().cos - 5.25,
    ),
    case(
        ("edges", "bore 3 to the crest end"),
        (FLARED, UNSLOTTED),
        FIRST,
        [57.0, 110.0],
        |y| (184.0 - y) / flared_from_20().cos - 70.0 - 5.25,
    )
    // The crest begins where the side ends.
    .beside(&["end-wood"]),
    case(
        ("edges", "printed treble bore 1"),
        (FLARED, PRINTED_UNSLOTTED),
        FIRST,
        [57.0, 22.0],
        |y| (y - 20.0) / flared_from_20().cos - 5.35,
    ),
    case(
        ("edges", "counterbore of treble bore 1"),
        (FLARED, BUSHED),
        FIRST,
        [57.0, 24.0],
        |y| (y - 20.0) / flared_from_20().cos - 7.0,
    ),
    case(
        ("edges", "pilot 1 to the nut end"),
        (FLARED, SCREWED),
        FIRST,
        [57.0, 28.0],
        |y| (y - 20.0) / flared_from_20().cos - 11.0 - 0.8,
    ),
    case(
        ("bore-depth", "treble bore 1"),
        (
            PLAIN,
            &[
                ("placement.bass.first_barrel", "80.0"),
                ("bores.beyond_barrel", "-"),
                ("bores.beyond_centre", "1.0"),
            ],
        ),
        BARREL,
        [24.0, 34.0],
        |barrel| 32.0 + 1.0 - barrel,
    ),
    // Printed points that would touch end 0.05 mm shorter, and so does D.
    case(
        ("bore-depth", "printed treble bore 1"),
        (
            PLAIN,
            &[
                ("head.width_at_nut_end", "53.3276"),
                ("head.width_at_crest_end", "53.3276"),
                ("bores.point", "118"),
                ("print.head_allowance", "0.2"),
            ],
        ),
        ("bores.beyond_barrel", "{}"),
        [0.054, 0.046],
        |beyond| beyond - 0.05,
    )
    .reach(1e-3),
    case(
        ("clearance", "every bore"),
        (FLARED, &[]),
        BORE,
        [10.5, 9.95],
        |bore| bore - 10.0,
    ),
    case(
        ("clearance", "printed every bore"),
        (FLARED, &[("print.head_allowance", "-0.25")]),
        BORE,
        [10.5, 10.1],
        |bore| bore - 0.25 - 10.0,
    ),
    case(
        ("barrels-apart", "barrels of treble bore 1"),
        (PLAIN, &[]),
        BARREL,
        [31.0, 32.5],
        |barrel| (64.0 - 2.0 * barrel).max(0.0),
    ),
];
