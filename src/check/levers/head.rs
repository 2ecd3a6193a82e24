//! Keys of head, nut, machines and placement.

use super::{Kind, Lever, angle, follows, length, same};
use crate::input::{Across, Along, Crest, Design, PerSide, Side};
use crate::layout::{Copy, Layout};

fn set_thickness(design: &mut Design, value: f64) {
    let old = design.head.thickness;
    if follows(
        design,
        "head.thickness_at_crest",
        design.head.thickness_at_crest,
        old,
    ) {
        design.head.thickness_at_crest = value;
    }
    if follows(design, "guide.height", design.guide.height, old) {
        design.guide.height = value;
    }
    design.head.thickness = value;
}

fn flat_end_follows(design: &Design) -> bool {
    let (end, length) = (design.head.side_end, design.head.length);
    design.head.crest == Crest::Flat && follows(design, "head.side_end", end, length)
}

pub(in crate::check) const THICKNESS: Lever =
    length("head.thickness", |d| Some(d.head.thickness), set_thickness);
pub(in crate::check) const THICKNESS_AT_CREST: Lever = length(
    "head.thickness_at_crest",
    |d| (!same(d.head.thickness, d.head.thickness_at_crest)).then_some(d.head.thickness_at_crest),
    |d, v| d.head.thickness_at_crest = v,
);
/// A flat crest takes the end of the sides with it where that was left to its default.
pub(in crate::check) const LENGTH: Lever = length(
    "head.length",
    |d| (d.head.crest == Crest::Arch || flat_end_follows(d)).then_some(d.head.length),
    |d, v| {
        if flat_end_follows(d) {
            d.head.side_end = v;
        }
        d.head.length = v;
    },
);
pub(in crate::check) const SIDE_END: Lever = length(
    "head.side_end",
    |d| (d.head.crest == Crest::Arch).then_some(d.head.side_end),
    |d, v| d.head.side_end = v,
);
/// Whether the bass side has widths of its own, so that it stays where those of `[head]` are changed.
fn bass_widths(design: &Design) -> bool {
    let head = &design.head;
    let differ = |half: &PerSide<f64>| !same(half.treble, half.bass);
    design.places.contains_key("head.bass.width_at_nut_end")
        || differ(&head.half_width_at_start)
        || differ(&head.half_width_at_end)
}

fn widen(design: &mut Design, by: f64) {
    for half in [
        &mut design.head.half_width_at_start,
        &mut design.head.half_width_at_end,
    ] {
        half.treble += by / 2.0;
        half.bass += by / 2.0;
    }
}

pub(in crate::check) const BOTH_WIDTHS: Lever = Lever {
    key: "both widths of the head",
    kind: Kind::Change,
    get: |d| (!bass_widths(d)).then_some(0.0),
    set: widen,
};
/// The same where the bass side has its own two.
pub(in crate::check) const ALL_WIDTHS: Lever = Lever {
    key: "both widths in [head] and both in [head.bass]",
    kind: Kind::Change,
    get: |d| bass_widths(d).then_some(0.0),
    set: widen,
};
pub(in crate::check) const EDGE_RADIUS: Lever = length(
    "head.edge_radius",
    |d| Some(d.head.edge_radius),
    |d, v| d.head.edge_radius = v,
);
pub(in crate::check) const ANGLE: Lever = angle(
    "head.angle",
    |d| Some(d.head.angle),
    |d, v| d.head.angle = v,
);
pub(in crate::check) const STRING_HEIGHT: Lever = length(
    "nut.string_height",
    |d| Some(d.nut.string_height),
    |d, v| d.nut.string_height = v,
);
pub(in crate::check) const STRING_SPAN: Lever = length(
    "nut.string_span",
    |d| {
        if d.places.contains_key("nut.strings") {
            return None;
        }
        let (first, last) = (d.nut.strings.first()?, d.nut.strings.last()?);
        (d.nut.strings.len() > 1 && same(*first, -*last)).then(|| last - first)
    },
    |d, v| {
        let count = d.nut.strings.len();
        let last = (count as f64 - 1.0).max(1.0);
        for (index, x) in d.nut.strings.iter_mut().enumerate() {
            *x = v * (index as f64 / last - 0.5);
        }
    },
);
pub(in crate::check) const BARREL_LENGTH: Lever = length(
    "machines.barrel_length",
    |d| Some(d.machines.barrel_length),
    |d, v| d.machines.barrel_length = v,
);
pub(in crate::check) const STRING_HOLE: Lever = length(
    "machines.string_hole",
    |d| Some(d.machines.string_hole),
    |d, v| d.machines.string_hole = v,
);
pub(in crate::check) const PLATE_WIDTH: Lever = length(
    "machines.plate_width",
    |d| Some(d.machines.plate_width),
    |d, v| d.machines.plate_width = v,
);
fn by_length_over(design: &Design, table: &str) -> bool {
    let key = format!("{table}.over_outer_barrels");
    design.places.contains_key(&key)
}

/// Whether the bass set has pitches of its own, so that it keeps them where the treble's are others.
fn bass_pitches(design: &Design) -> bool {
    let pitches = &design.machines.pitches;
    design.places.contains_key("machines.bass.pitches")
        || by_length_over(design, "machines.bass")
        || pitches.treble != pitches.bass
}

fn least(pitches: &[f64]) -> Option<f64> {
    pitches.iter().copied().min_by(f64::total_cmp)
}

fn at_least(pitches: &mut [f64], value: f64) {
    for pitch in pitches {
        *pitch = pitch.max(value);
    }
}

/// The length over the outer barrels that these pitches make.
fn over(design: &Design, side: Side) -> Option<f64> {
    let pitches = design.machines.pitches.get(side);
    let span: f64 = pitches.iter().sum();
    (!pitches.is_empty()).then_some(design.machines.barrel_diameter + span)
}

fn set_over(design: &mut Design, side: Side, value: f64) {
    let barrel = design.machines.barrel_diameter;
    let pitches = match side {
        Side::Treble => &mut design.machines.pitches.treble,
        Side::Bass => &mut design.machines.pitches.bass,
    };
    let pitch = (value - barrel) / pitches.len().max(1) as f64;
    pitches.fill(pitch);
}

/// Where the pitches were given by the length over the outer barrels, that is the key to name.
pub(in crate::check) const OVER_OUTER_BARRELS: Lever = length(
    "machines.over_outer_barrels",
    |d| {
        by_length_over(d, "machines")
            .then(|| over(d, Side::Treble))
            .flatten()
    },
    |d, v| {
        let own = bass_pitches(d);
        set_over(d, Side::Treble, v);
        if !own {
            d.machines.pitches.bass = d.machines.pitches.treble.clone();
        }
    },
);
pub(in crate::check) const BASS_OVER_OUTER_BARRELS: Lever = length(
    "machines.bass.over_outer_barrels",
    |d| {
        by_length_over(d, "machines.bass")
            .then(|| over(d, Side::Bass))
            .flatten()
    },
    |d, v| set_over(d, Side::Bass, v),
);
pub(in crate::check) const PITCHES: Lever = length(
    "machines.pitches",
    |d| {
        (!by_length_over(d, "machines"))
            .then(|| least(&d.machines.pitches.treble))
            .flatten()
    },
    |d, v| {
        let own = bass_pitches(d);
        at_least(&mut d.machines.pitches.treble, v);
        if !own {
            at_least(&mut d.machines.pitches.bass, v);
        }
    },
);
pub(in crate::check) const BASS_PITCHES: Lever = length(
    "machines.bass.pitches",
    |d| {
        (bass_pitches(d) && !by_length_over(d, "machines.bass"))
            .then(|| least(&d.machines.pitches.bass))
            .flatten()
    },
    |d, v| at_least(&mut d.machines.pitches.bass, v),
);
pub(in crate::check) const SCREW_DEPTH: Lever = length(
    "machines.screws.depth",
    |d| d.machines.screws.as_ref().map(|screws| screws.depth),
    |d, v| {
        if let Some(screws) = &mut d.machines.screws {
            screws.depth = v;
        }
    },
);
pub(in crate::check) const SCREW_PILOT: Lever = length(
    "machines.screws.pilot",
    |d| d.machines.screws.as_ref().map(|screws| screws.pilot),
    |d, v| {
        if let Some(screws) = &mut d.machines.screws {
            screws.pilot = v;
        }
    },
);
/// Whether the bass side's first barrel follows the treble's: its key need only stand in the file, even with the
/// same number, for that side to stay where it is.
fn bass_first_follows(design: &Design, y: &PerSide<f64>) -> bool {
    follows(design, "placement.bass.first_barrel", y.bass, y.treble)
}

fn set_both_firsts(design: &mut Design, value: f64) {
    design.placement.along = Along::FirstBarrel(PerSide {
        treble: value,
        bass: value,
    });
}

/// Both sides' first barrel, where the bass side has none of its own.
pub(in crate::check) const FIRST_BARREL: Lever = length(
    "placement.first_barrel",
    |d| match d.placement.along {
        Along::FirstBarrel(y) if bass_first_follows(d, &y) => Some(y.treble),
        _ => None,
    },
    set_both_firsts,
);
/// The same where both keys stand in the file with one number.
pub(in crate::check) const FIRST_BARRELS: Lever = length(
    "placement.first_barrel and placement.bass.first_barrel",
    |d| match d.placement.along {
        Along::FirstBarrel(y) if same(y.treble, y.bass) && !bass_first_follows(d, &y) => {
            Some(y.treble)
        }
        _ => None,
    },
    set_both_firsts,
);
/// The same where the numbers differ: each by so much.
pub(in crate::check) const FIRST_BARRELS_BY: Lever = Lever {
    key: "placement.first_barrel and placement.bass.first_barrel each",
    kind: Kind::Change,
    get: |d| match d.placement.along {
        Along::FirstBarrel(y) => (!same(y.treble, y.bass)).then_some(0.0),
        Along::Centred => None,
    },
    set: |d, v| {
        if let Along::FirstBarrel(y) = &mut d.placement.along {
            y.treble += v;
            y.bass += v;
        }
    },
};
/// A place for the first barrel where the plate is centred along the side now.
pub(in crate::check) const FIRST_BARREL_INSTEAD: Lever = length(
    "placement.first_barrel (in place of along)",
    |d| {
        (d.placement.along == Along::Centred)
            .then(|| Layout::new(d, Copy::Finished))
            .and_then(|layout| layout.bores().next().map(|bore| bore.entry.y))
    },
    set_both_firsts,
);
pub(in crate::check) const BASS_FIRST_BARREL: Lever = length(
    "placement.bass.first_barrel",
    |d| match d.placement.along {
        Along::FirstBarrel(y) => Some(*y.get(Side::Bass)),
        Along::Centred => None,
    },
    |d, v| {
        if let Along::FirstBarrel(y) = &mut d.placement.along {
            y.bass = v;
        }
    },
);
/// A place for the axis where the plate is centred in the thickness now.
pub(in crate::check) const AXIS_INSTEAD: Lever = length(
    "placement.axis_below_face (in place of depth)",
    |d| {
        (d.placement.depth == Across::Centred)
            .then(|| Layout::new(d, Copy::Finished).axis_below_face)
    },
    |d, v| d.placement.depth = Across::AxisBelowFace(v),
);
pub(in crate::check) const AXIS_BELOW_FACE: Lever = length(
    "placement.axis_below_face",
    |d| match d.placement.depth {
        Across::AxisBelowFace(a) => Some(a),
        Across::Centred => None,
    },
    |d, v| d.placement.depth = Across::AxisBelowFace(v),
);
