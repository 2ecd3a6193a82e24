//! Stops of bores, barrels and what lies about them.

use super::bases::{FLARED, PLAIN};
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
const THINNING: &[(&str, &str)] = &[
    ("placement.first_barrel", "30.0"),
    ("placement.bass.first_barrel", "30.0"),
    ("placement.axis_below_face", "7.0"),
];
const AXIS: (&str, &str) = ("placement.axis_below_face", "{}");
const FIRST: (&str, &str) = ("placement.first_barrel", "{}");
const BARREL: (&str, &str) = ("machines.barrel_length", "{}");
const BORE: (&str, &str) = ("bores.diameter", "{}");
const SECOND_PITCH: (&str, &str) = ("machines.pitches", "[35.0, {}]");

pub const CASES: &[Case] = &[
    case(
        ("wood-over", "bore 1 to the face"),
        (FLARED, &[]),
        AXIS,
        [10.2, 6.0],
    ),
    case(
        ("wood-over", "to the face of the core"),
        (FLARED, CORE),
        AXIS,
        [10.2, 8.0],
    ),
    case(
        ("wood-over", "printed treble bore 1"),
        (FLARED, PRINTED),
        AXIS,
        [10.2, 6.0],
    ),
    case(
        ("wood-under", "bore 1 to the back"),
        (FLARED, &[]),
        AXIS,
        [10.2, 15.0],
    ),
    case(
        ("wood-under", "to the back of the core"),
        (FLARED, CORE),
        AXIS,
        [10.2, 15.0],
    ),
    case(
        ("wood-under", "printed treble bore 1"),
        (FLARED, PRINTED),
        AXIS,
        [10.2, 15.0],
    ),
    case(
        ("wood-under", "bore 3 to the back"),
        (FLARED, &[]),
        ("head.thickness_at_crest", "{}"),
        [20.4, 13.0],
    ),
    // A back that slopes to nothing: a head of no thickness is no body.
    case(
        ("wood-under", "the head's own thickness"),
        (PLAIN, THINNING),
        ("head.thickness_at_crest", "{}"),
        [1.0, 0.005],
    )
    .jump(),
    case(
        ("web", "between treble bore 2 and 3"),
        (FLARED, &[]),
        SECOND_PITCH,
        [35.0, 10.9],
    )
    // A guide hole is no narrower than its bit, so the block has no more wood there.
    .beside(&["block-wood"]),
    case(
        ("web", "printed between treble"),
        (FLARED, PRINTED),
        SECOND_PITCH,
        [35.0, 10.9],
    ),
    case(
        ("end-wood", "bore 1 to the nut line"),
        (PLAIN, NARROWING),
        FIRST,
        [60.0, 5.5],
    ),
    case(
        ("end-wood", "bore 1 to the crest"),
        (PLAIN, FLARING),
        FIRST,
        [60.0, 114.5],
    ),
    case(
        ("edges", "bore 1 to the nut end"),
        (FLARED, UNSLOTTED),
        FIRST,
        [57.0, 22.0],
    ),
    case(
        ("edges", "bore 3 to the crest end"),
        (FLARED, UNSLOTTED),
        FIRST,
        [57.0, 110.0],
    )
    // The crest begins where the side ends.
    .beside(&["end-wood"]),
    case(
        ("edges", "printed treble bore 1"),
        (FLARED, PRINTED_UNSLOTTED),
        FIRST,
        [57.0, 22.0],
    ),
    case(
        ("edges", "counterbore of treble bore 1"),
        (FLARED, BUSHED),
        FIRST,
        [57.0, 24.0],
    ),
    case(
        ("edges", "pilot 1 to the nut end"),
        (FLARED, SCREWED),
        FIRST,
        [57.0, 28.0],
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
    )
    .reach(1e-3),
    case(
        ("clearance", "every bore"),
        (FLARED, &[]),
        BORE,
        [10.5, 9.95],
    ),
    case(
        ("clearance", "printed every bore"),
        (FLARED, &[("print.head_allowance", "-0.25")]),
        BORE,
        [10.5, 10.1],
    ),
    case(
        ("barrels-apart", "barrels of treble bore 1"),
        (PLAIN, &[]),
        BARREL,
        [31.0, 32.5],
    ),
];
