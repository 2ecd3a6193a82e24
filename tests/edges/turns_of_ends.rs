//! The places where the ends of bores change their kind, each where section 3.3 of the contract puts it. At
//! every step the end of every bore, its D and its length in the model are held against those rules, finished
//! and printed.
//!
//! Some that come to mind lie behind a stop and cannot be reached: a point's tip at its slot's inner
//! wall (`rim` and `bearing` keep the whole rim past it) or at the opposite slot (`far-wood`), a bore
//! against the start of a slot's corner (`slot-end`), a ramp's floor at the slot's lower edge
//! (`ramp-depth`).

use super::bases::{FLARED, PLAIN};
use super::by_hand::{Line, per_radius};
use super::ends::{Asked, all_end_so, opposite};
use super::turn::{Fate, Turn, turn};

type Keys = &'static [(&'static str, &'static str)];

const TAPERED: Keys = &[("head.width_at_crest_end", "70.0")];
const TAPERED_POINT: Keys = &[("head.width_at_crest_end", "70.0"), ("bores.point", "118")];
const NARROWING_POINT: Keys = &[("head.width_at_crest_end", "58.0"), ("bores.point", "118")];
const UNTRUE_POINT: Keys = &[
    ("head.width_at_crest_end", "70.0"),
    ("head.bass.width_at_nut_end", "64.08"),
    ("head.bass.width_at_crest_end", "70.08"),
    ("bores.point", "118"),
];
const UNTRUE_FLAT: Keys = &[
    ("head.width_at_crest_end", "70.0"),
    ("head.bass.width_at_nut_end", "64.08"),
    ("head.bass.width_at_crest_end", "70.08"),
];
const APART: Keys = &[("placement.bass.first_barrel", "60.5")];
const SHALLOW: Keys = &[("bores.beyond_barrel", "7.7")];
const DEEP: Keys = &[("bores.beyond_barrel", "9.0")];
const DEEP_POINT: Keys = &[("bores.beyond_barrel", "7.0"), ("bores.point", "118")];
const PRINTED_POINT: Keys = &[("bores.point", "118"), ("print.head_allowance", "0.2")];
const PRINTED: Keys = &[("print.head_allowance", "0.2")];
const UNTRUE_SLOTTED: Keys = &[
    ("head.bass.width_at_nut_end", "63.08"),
    ("head.bass.width_at_crest_end", "71.08"),
];
/// FLARED the other way round, with barrels that its narrower crest has room for.
const NARROWING: Keys = &[
    ("head.width_at_crest_end", "57.0"),
    ("machines.barrel_length", "26.0"),
    ("machines.string_hole", "16.0"),
];
const PRINTED_NARROWING: Keys = &[
    ("head.width_at_crest_end", "57.0"),
    ("machines.barrel_length", "26.0"),
    ("machines.string_hole", "16.0"),
    ("print.head_allowance", "0.2"),
];
const BEYOND: (&str, &str) = ("bores.beyond_barrel", "{}");
const BASS_FIRST: (&str, &str) = ("placement.bass.first_barrel", "{}");

/// A side of PLAIN, with so much half width at nut and crest.
fn side(nut: f64, crest: f64) -> Line {
    Line::new([0.0, nut], [120.0, crest])
}

/// The two bores of PLAIN, flat or pointed, by the half width at the crest.
fn true_pair(crest: f64, point: f64, beyond: f64) -> [Asked; 2] {
    opposite(
        [side(32.0, crest); 2],
        [60.0; 2],
        [8.5, point, 24.0 + beyond],
    )
}

/// The same of a head that is not true.
fn untrue_pair(point: f64, beyond: f64) -> [Asked; 2] {
    let lines = [side(32.0, 35.0), side(32.04, 35.04)];
    opposite(lines, [60.0; 2], [8.5, point, 24.0 + beyond])
}

/// The same with parallel sides, the bass bore elsewhere.
fn staggered_pair(point: f64, bass: f64, beyond: f64) -> [Asked; 2] {
    opposite(
        [side(32.0, 32.0); 2],
        [60.0, bass],
        [8.5, point, 24.0 + beyond],
    )
}

/// The six bores of FLARED, treble first.
fn six(lines: [Line; 2], depth: f64) -> [Asked; 6] {
    let pairs = [0.0, 35.0, 70.0].map(|along| {
        let firsts = lines.map(|line| 57.0 + along * line.cos);
        opposite(lines, firsts, [10.5, per_radius(), depth])
    });
    [0, 1, 2, 3, 4, 5].map(|bore| pairs[bore % 3][bore / 3])
}

fn flared(crest: f64) -> Line {
    Line::new([0.0, 31.5], [184.0, crest])
}

/// Where along the moved number a place lies: what is left to the plane at |x| = `w` of the rim's near side
/// (+1), of its middle (0), or of its far side (-1), with a point so high.
fn beyond([half, sin, cos]: [f64; 3], barrel: f64, w: f64, [radius, rim, point]: [f64; 3]) -> f64 {
    (half - w + rim * radius * f64::abs(sin)) / cos - radius * point - barrel
}

/// Half width, sine and cosine where the bore of PLAIN enters.
fn of_plain(crest: f64) -> [f64; 3] {
    let line = side(32.0, crest);
    [line.half + 60.0 * line.tan, line.sin, line.cos]
}

/// The same of a bore of FLARED.
fn of_flared(crest: f64, bore: usize) -> [f64; 3] {
    let line = flared(crest);
    let along = [0.0, 35.0, 70.0][bore];
    let half = line.half + 57.0 * line.tan + along * line.sin;
    [half, line.sin, line.cos]
}

/// Ends nearer than a hundredth that do not open are stopped; so are points that open by less than a
/// ten-thousandth.
fn near_a_point(step: f64) -> Fate {
    if step > -0.005 && step < 1e-4 {
        Fate::Stopped("far-wood")
    } else {
        Fate::Built
    }
}

/// Flat ends open as soon as they lie in the plane, give or take the noise.
fn near_a_flat_end(step: f64) -> Fate {
    if step > -0.005 && step < -1e-9 {
        Fate::Stopped("far-wood")
    } else {
        Fate::Built
    }
}

const NEAR: f64 = -1.0;
const FAR: f64 = 1.0;
const FLAT: f64 = 0.0;

pub const TURNS: &[Turn] = &[
    turn(
        "a flat end meets the centre plane",
        (PLAIN, &[]),
        BEYOND,
        || 8.0,
    )
    .fate(near_a_flat_end)
    .look(|read, b| all_end_so(read, &true_pair(32.0, FLAT, b), 0.0)),
    turn(
        "a flat end's rim meets the centre plane",
        (PLAIN, TAPERED),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.0, [4.25, NEAR, FLAT]),
    )
    .fate(near_a_flat_end)
    .look(|read, b| all_end_so(read, &true_pair(35.0, FLAT, b), 0.0)),
    turn(
        "a flat end's rim is past the centre plane",
        (PLAIN, TAPERED),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.0, [4.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &true_pair(35.0, FLAT, b), 0.0)),
    turn(
        "a point meets the centre plane",
        (PLAIN, TAPERED_POINT),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.0, [4.25, 0.0, per_radius()]),
    )
    .fate(near_a_point)
    .look(|read, b| all_end_so(read, &true_pair(35.0, per_radius(), b), 0.0)),
    turn(
        "a rim meets the centre plane",
        (PLAIN, TAPERED_POINT),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.0, [4.25, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &true_pair(35.0, per_radius(), b), 0.0)),
    turn(
        "a rim is past the centre plane",
        (PLAIN, TAPERED_POINT),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.0, [4.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &true_pair(35.0, per_radius(), b), 0.0)),
    turn(
        "a rim of a narrowing head meets the centre plane",
        (PLAIN, NARROWING_POINT),
        BEYOND,
        || beyond(of_plain(29.0), 24.0, 0.0, [4.25, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &true_pair(29.0, per_radius(), b), 0.0)),
    turn(
        "a rim of a narrowing head is past the centre plane",
        (PLAIN, NARROWING_POINT),
        BEYOND,
        || beyond(of_plain(29.0), 24.0, 0.0, [4.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &true_pair(29.0, per_radius(), b), 0.0)),
    turn(
        "a point meets its web",
        (PLAIN, UNTRUE_POINT),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.245, [4.25, 0.0, per_radius()]),
    )
    .look(|read, b| all_end_so(read, &untrue_pair(per_radius(), b), 0.0)),
    turn("a rim meets its web", (PLAIN, UNTRUE_POINT), BEYOND, || {
        beyond(of_plain(35.0), 24.0, 0.25, [4.25, NEAR, FLAT])
    })
    .look(|read, b| all_end_so(read, &untrue_pair(per_radius(), b), 0.0)),
    turn(
        "a rim is past its web",
        (PLAIN, UNTRUE_POINT),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.25, [4.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &untrue_pair(per_radius(), b), 0.0)),
    turn(
        "a flat end's rim is past its web by 0.005",
        (PLAIN, UNTRUE_FLAT),
        BEYOND,
        || beyond(of_plain(35.0), 24.0, 0.245, [4.25, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &untrue_pair(FLAT, b), 0.0)),
    turn(
        "a flat end is past its web by 0.005",
        (PLAIN, APART),
        BEYOND,
        || 7.755,
    )
    .look(|read, b| all_end_so(read, &staggered_pair(FLAT, 60.5, b), 0.0)),
    turn(
        "blind bores 1 mm apart are no pair",
        (PLAIN, SHALLOW),
        BASS_FIRST,
        || 61.0,
    )
    .look(|read, bass| all_end_so(read, &staggered_pair(FLAT, bass, 7.7), 0.0)),
    turn("webs 1 mm apart", (PLAIN, DEEP), BASS_FIRST, || 61.0)
        .fate(|step| {
            if step < 0.0 {
                Fate::Built
            } else {
                Fate::Stopped("far-wood")
            }
        })
        .look(|read, bass| all_end_so(read, &staggered_pair(FLAT, bass, 9.0), 0.0)),
    // A little beside the place itself, where rounding would decide.
    turn(
        "flat ends no longer mirrored",
        (PLAIN, DEEP),
        BASS_FIRST,
        || 60.000_001 + 5e-13,
    )
    .look(|read, bass| all_end_so(read, &staggered_pair(FLAT, bass, 9.0), 0.0)),
    turn(
        "points no longer mirrored",
        (PLAIN, DEEP_POINT),
        BASS_FIRST,
        || 60.000_001 + 5e-13,
    )
    .look(|read, bass| all_end_so(read, &staggered_pair(per_radius(), bass, 7.0), 0.0)),
    turn(
        "printed points come within 0.01",
        (PLAIN, PRINTED_POINT),
        BEYOND,
        || beyond(of_plain(32.0), 24.0, 0.005, [4.35, 0.0, per_radius()]),
    )
    .look(|read, b| all_end_so(read, &true_pair(32.0, per_radius(), b), 0.2)),
    turn(
        "printed points open by 0.01",
        (PLAIN, PRINTED_POINT),
        BEYOND,
        || beyond(of_plain(32.0), 24.0, -0.005, [4.35, 0.0, per_radius()]),
    )
    .look(|read, b| all_end_so(read, &true_pair(32.0, per_radius(), b), 0.2)),
    turn(
        "the third point of a slotted head meets the centre plane",
        (FLARED, &[]),
        BEYOND,
        || beyond(of_flared(35.5, 2), 30.5, 0.0, [5.25, 0.0, per_radius()]),
    )
    .fate(near_a_point)
    .look(|read, b| all_end_so(read, &six([flared(35.5); 2], 30.5 + b), 0.0)),
    turn(
        "the first rim of a slotted head meets the centre plane",
        (FLARED, &[]),
        BEYOND,
        || beyond(of_flared(35.5, 0), 30.5, 0.0, [5.25, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5); 2], 30.5 + b), 0.0)),
    turn(
        "the first rim of a slotted head is past the centre plane",
        (FLARED, &[]),
        BEYOND,
        || beyond(of_flared(35.5, 0), 30.5, 0.0, [5.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5); 2], 30.5 + b), 0.0)),
    turn(
        "the first printed rim meets the centre plane",
        (FLARED, PRINTED),
        BEYOND,
        || beyond(of_flared(35.5, 0), 30.5, 0.0, [5.35, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5); 2], 30.5 + b), 0.2)),
    turn(
        "the first printed rim is past the centre plane",
        (FLARED, PRINTED),
        BEYOND,
        || beyond(of_flared(35.5, 0), 30.5, 0.0, [5.35, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5); 2], 30.5 + b), 0.2)),
    turn(
        "the third printed points come within 0.01",
        (FLARED, PRINTED),
        BEYOND,
        || beyond(of_flared(35.5, 2), 30.5, 0.005, [5.35, 0.0, per_radius()]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5); 2], 30.5 + b), 0.2)),
    turn(
        "the third rim of a slotted head meets its web",
        (FLARED, UNTRUE_SLOTTED),
        BEYOND,
        || beyond(of_flared(35.5, 2), 30.5, 0.25, [5.25, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5), flared_bass()], 30.5 + b), 0.0)),
    turn(
        "the third rim of a slotted head is past its web",
        (FLARED, UNTRUE_SLOTTED),
        BEYOND,
        || beyond(of_flared(35.5, 2), 30.5, 0.25, [5.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(35.5), flared_bass()], 30.5 + b), 0.0)),
    turn(
        "the third point of a narrowing head meets the centre plane",
        (FLARED, NARROWING),
        BEYOND,
        || beyond(of_flared(28.5, 2), 26.0, 0.0, [5.25, 0.0, per_radius()]),
    )
    .fate(near_a_point)
    .look(|read, b| all_end_so(read, &six([flared(28.5); 2], 26.0 + b), 0.0)),
    turn(
        "the third rim of a narrowing head meets the centre plane",
        (FLARED, NARROWING),
        BEYOND,
        || beyond(of_flared(28.5, 2), 26.0, 0.0, [5.25, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(28.5); 2], 26.0 + b), 0.0)),
    turn(
        "the first rim of a narrowing head is past the centre plane",
        (FLARED, NARROWING),
        BEYOND,
        || beyond(of_flared(28.5, 0), 26.0, 0.0, [5.25, FAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(28.5); 2], 26.0 + b), 0.0)),
    turn(
        "the first printed rim of a narrowing head meets the centre plane",
        (FLARED, PRINTED_NARROWING),
        BEYOND,
        || beyond(of_flared(28.5, 0), 26.0, 0.0, [5.35, NEAR, FLAT]),
    )
    .look(|read, b| all_end_so(read, &six([flared(28.5); 2], 26.0 + b), 0.2)),
];

/// The bass side of FLARED, 0.04 mm farther out.
fn flared_bass() -> Line {
    Line::new([0.0, 31.54], [184.0, 35.54])
}
