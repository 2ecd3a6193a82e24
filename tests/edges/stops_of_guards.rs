//! Stops of places that no row of the contract names by the letter: what no solid, or no file, could hold.
//! Nothing is kept back from what can be built: each limit is the shortest length a file may hold.

use super::bases::PLAIN;
use super::by_hand::{Line, per_radius};
use super::ladder::{Case, case};

type Keys = &'static [(&'static str, &'static str)];

/// Shortest length that is not zero, mm.
pub const SHORTEST: f64 = 1e-4;

/// The bass side 2 mm farther from the centre line, and slots along the sides: the treble slot comes up to
/// the plane that keeps half the web.
const LOPSIDED_SLOTS: Keys = &[
    ("head.bass.width_at_nut_end", "68.0"),
    ("head.bass.width_at_crest_end", "68.0"),
    ("machines.barrel_length", "32.5"),
    ("bores.beyond_barrel", "0.0"),
    ("slots.width", "10.0"),
    ("slots.end_margin", "[14.0, 14.0]"),
];
/// An arch through side ends 32 and 40 mm from the centre line, which rises above the head's length.
const LOPSIDED_ARCH: Keys = &[
    ("head.bass.width_at_nut_end", "80.0"),
    ("head.bass.width_at_crest_end", "80.0"),
    ("head.crest", "\"arch\""),
    ("head.side_end", "110.0"),
    ("head.thickness", "60.0"),
    ("placement.first_barrel", "30.0"),
    ("placement.bass.first_barrel", "30.0"),
];
const THIN_SCREWS: Keys = &[
    ("machines.screws.points", "[[-11.0, 0.0]]"),
    ("machines.screws.pilot", "0.3"),
    ("machines.screws.depth", "7.0"),
];
const PROLONGED: Keys = &[
    ("head.side_start", "50.0"),
    ("placement.first_barrel", "100.0"),
    ("placement.bass.first_barrel", "100.0"),
];
const POINTED: Keys = &[("bores.point", "118")];
const BUSHED_THROUGH: Keys = &[
    ("bores.beyond_barrel", "10.0"),
    ("bores.counterbore.diameter", "13.0"),
];
const BUSHED_WEB: Keys = &[
    ("head.width_at_crest_end", "70.0"),
    ("head.bass.width_at_nut_end", "64.08"),
    ("head.bass.width_at_crest_end", "70.08"),
    ("bores.beyond_barrel", "12.0"),
    ("bores.counterbore.diameter", "13.0"),
];
const COUNTERBORE: (&str, &str) = ("bores.counterbore.depth", "{}");

/// The head's thickness, evenly from 60 to `crest` at y = 120, where the arch is highest.
fn thickness_at_the_top(crest: f64) -> f64 {
    // Through (32, 110), (-40, 110) and (0, 120): equally far from all three.
    let x = (32.0 - 40.0) / 2.0;
    let (to_side, to_top) = (36f64.powi(2), x * x);
    let y = (120.0 + 110.0) / 2.0 - (to_side - to_top) / (2.0 * 10.0);
    let top = y + x.hypot(120.0 - y);
    60.0 + (crest - 60.0) * top / 120.0
}

/// From the counterbore's floor to the treble web plane, on the side of the bore where that comes first.
fn floor_to_web(depth: f64) -> f64 {
    let line = Line::new([0.0, 32.0], [120.0, 35.0]);
    let half = line.half_at(60.0 / line.cos);
    (half - 0.25) / line.cos - 6.5 * line.tan - depth
}

pub const CASES: &[Case] = &[
    // Every bore must pass wholly through its slot (3.3).
    case(
        ("rim", "treble bore 1 where it ends near the centre line"),
        (PLAIN, LOPSIDED_SLOTS),
        ("slots.cheek", "{}"),
        [21.0, 21.9],
        |cheek| 32.0 - 0.25 - cheek - 10.0,
    )
    .silent(SHORTEST),
    // A head must have a thickness.
    case(
        ("wood-under", "the head's own thickness"),
        (PLAIN, LOPSIDED_ARCH),
        ("head.thickness_at_crest", "{}"),
        [1.0, 0.001],
        thickness_at_the_top,
    )
    .silent(SHORTEST),
    // An allowance must leave the printed copy its pilots.
    case(
        ("screw-bore", "its own diameter"),
        (super::bases::FLARED, THIN_SCREWS),
        ("print.head_allowance", "{}"),
        [-0.2, -0.29995],
        |allowance| 0.3 + allowance,
    )
    .silent(SHORTEST)
    .reach(1e-5),
    // Sides prolonged to the nut line must not have met by then.
    case(
        ("edges", "width of the head at the nut line"),
        (PLAIN, PROLONGED),
        ("head.width_at_nut_end", "{}"),
        [40.0, 26.0],
        |width| width - 100.0 * (32.0 - width / 2.0) / 70.0,
    )
    .silent(SHORTEST),
    // A pair whose points open by less than files of single precision tell apart.
    case(
        ("far-wood", "treble bore 1 and bass bore 1"),
        (PLAIN, POINTED),
        ("bores.beyond_barrel", "{}"),
        [6.5, 5.4464],
        |beyond| 24.0 + beyond + 4.25 * per_radius() - 32.0,
    )
    .silent(SHORTEST)
    .reach(1e-5),
    // Two counterbores less than a millimetre from one another, where bores open between them.
    case(
        ("far-wood", "the counterbore of"),
        (PLAIN, BUSHED_THROUGH),
        COUNTERBORE,
        [20.0, 31.9],
        |depth| 32.0 - depth,
    )
    .silent(0.5),
    // A counterbore ends before the plane that ends its bore.
    case(
        ("counterbore", "floor to the bore's end"),
        (PLAIN, BUSHED_WEB),
        COUNTERBORE,
        [20.0, 33.2],
        floor_to_web,
    )
    .silent(SHORTEST)
    .reach(1e-5),
];
