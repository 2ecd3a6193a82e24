//! The places where the ends of bores change their kind.
//!
//! Some that come to mind lie behind a stop and cannot be reached: a point's tip at its slot's inner
//! wall (`rim` and `bearing` keep the whole rim past it) or at the opposite slot (`far-wood`), a bore
//! against the start of a slot's corner (`slot-end`), a ramp's floor at the slot's lower edge
//! (`ramp-depth`).

use barrelhead::layout::{BoreEnd, EndCut};

use super::bases::PLAIN;
use super::fate::Read;
use super::turn::{Turn, Where, turn};

type Keys = &'static [(&'static str, &'static str)];

const TAPERED: Keys = &[("head.width_at_crest_end", "70.0")];
const TAPERED_POINT: Keys = &[("head.width_at_crest_end", "70.0"), ("bores.point", "118")];
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
const BEYOND: (&str, &str) = ("bores.beyond_barrel", "{}");
const BASS_FIRST: (&str, &str) = ("placement.bass.first_barrel", "{}");

fn ended(read: &Read) -> bool {
    read.finished.sides.treble.bores[0].end != BoreEnd::Blind
}

fn full(read: &Read) -> bool {
    let plane = read.finished.sides.treble.bores[0].end_plane;
    plane.is_some_and(|(_, cut)| cut == EndCut::FullDiameter)
}

/// Whether the end plane is past the whole rim without D being lengthened.
fn deep(read: &Read) -> bool {
    let bore = &read.finished.sides.treble.bores[0];
    full(read) && bore.depth <= bore.depth_asked
}

fn paired(read: &Read) -> bool {
    !read.finished.pairs.is_empty()
}

fn mirrored(read: &Read) -> bool {
    read.finished
        .pairs
        .first()
        .is_some_and(|pair| pair.mirrored)
}

fn shortened(read: &Read) -> bool {
    let bore = &read.printed.sides.treble.bores[0];
    bore.depth < bore.depth_asked
}

pub const TURNS: &[Turn] = &[
    turn(
        "a flat end meets the centre plane",
        (PLAIN, &[]),
        BEYOND,
        Where::At(8.0),
    )
    .near(&["far-wood"])
    .ends(BoreEnd::Blind, BoreEnd::Opens),
    turn(
        "a flat end's rim meets the centre plane",
        (PLAIN, TAPERED),
        BEYOND,
        Where::Changes([2.0, 14.0], ended),
    )
    .near(&["far-wood"])
    .ends(BoreEnd::Blind, BoreEnd::Opens),
    turn(
        "a flat end's rim is past the centre plane",
        (PLAIN, TAPERED),
        BEYOND,
        Where::Changes([2.0, 14.0], deep),
    )
    .ends(BoreEnd::Opens, BoreEnd::Opens),
    turn(
        "a point meets the centre plane",
        (PLAIN, TAPERED_POINT),
        BEYOND,
        Where::Changes([2.0, 14.0], ended),
    )
    .near(&["far-wood"])
    .ends(BoreEnd::Blind, BoreEnd::Opens),
    turn(
        "a rim meets the centre plane",
        (PLAIN, TAPERED_POINT),
        BEYOND,
        Where::Changes([2.0, 14.0], full),
    )
    .ends(BoreEnd::Opens, BoreEnd::Opens),
    turn(
        "a rim is past the centre plane",
        (PLAIN, TAPERED_POINT),
        BEYOND,
        Where::Changes([2.0, 14.0], deep),
    )
    .ends(BoreEnd::Opens, BoreEnd::Opens),
    turn(
        "a point meets its web",
        (PLAIN, UNTRUE_POINT),
        BEYOND,
        Where::Changes([2.0, 14.0], ended),
    )
    .ends(BoreEnd::Blind, BoreEnd::Web),
    turn(
        "a rim meets its web",
        (PLAIN, UNTRUE_POINT),
        BEYOND,
        Where::Changes([2.0, 14.0], full),
    )
    .ends(BoreEnd::Web, BoreEnd::Web),
    turn(
        "a rim is past its web",
        (PLAIN, UNTRUE_POINT),
        BEYOND,
        Where::Changes([2.0, 14.0], deep),
    )
    .ends(BoreEnd::Web, BoreEnd::Web),
    turn(
        "a flat end's rim meets its web",
        (PLAIN, UNTRUE_FLAT),
        BEYOND,
        Where::Changes([2.0, 14.0], ended),
    )
    .ends(BoreEnd::Blind, BoreEnd::Web),
    turn(
        "a flat end is past its web by 0.005",
        (PLAIN, APART),
        BEYOND,
        Where::Changes([2.0, 14.0], ended),
    )
    .ends(BoreEnd::Blind, BoreEnd::Web),
    turn(
        "blind bores 1 mm apart are no pair",
        (PLAIN, SHALLOW),
        BASS_FIRST,
        Where::Changes([60.5, 61.5], paired),
    ),
    turn(
        "webs 1 mm apart",
        (PLAIN, DEEP),
        BASS_FIRST,
        Where::Changes([60.5, 61.5], paired),
    )
    .near(&["far-wood"]),
    turn(
        "flat ends no longer mirrored",
        (PLAIN, DEEP),
        BASS_FIRST,
        Where::Changes([60.0, 60.1], mirrored),
    ),
    turn(
        "points no longer mirrored",
        (PLAIN, DEEP_POINT),
        BASS_FIRST,
        Where::Changes([60.0, 60.1], mirrored),
    ),
    turn(
        "printed points come within 0.01",
        (PLAIN, PRINTED_POINT),
        BEYOND,
        Where::Changes([5.0, 5.386], shortened),
    ),
    turn(
        "printed points open by 0.01",
        (PLAIN, PRINTED_POINT),
        BEYOND,
        Where::Changes([5.386, 5.43], shortened),
    ),
];
