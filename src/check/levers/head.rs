//! Keys of head, nut, machines and placement.

use super::{Kind, Lever, angle, follows, length, same};
use crate::input::{Across, Along, Crest, Design, PerSide, Side};

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

pub(in crate::check) const THICKNESS: Lever =
    length("head.thickness", |d| Some(d.head.thickness), set_thickness);
pub(in crate::check) const THICKNESS_AT_CREST: Lever = length(
    "head.thickness_at_crest",
    |d| (!same(d.head.thickness, d.head.thickness_at_crest)).then_some(d.head.thickness_at_crest),
    |d, v| d.head.thickness_at_crest = v,
);
pub(in crate::check) const LENGTH: Lever = length(
    "head.length",
    |d| (d.head.crest == Crest::Arch).then_some(d.head.length),
    |d, v| d.head.length = v,
);
pub(in crate::check) const SIDE_END: Lever = length(
    "head.side_end",
    |d| (d.head.crest == Crest::Arch).then_some(d.head.side_end),
    |d, v| d.head.side_end = v,
);
pub(in crate::check) const BOTH_WIDTHS: Lever = Lever {
    key: "both widths of the head",
    kind: Kind::Change,
    get: |_| Some(0.0),
    set: |d, v| {
        for half in [
            &mut d.head.half_width_at_start,
            &mut d.head.half_width_at_end,
        ] {
            half.treble += v / 2.0;
            half.bass += v / 2.0;
        }
    },
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
pub(in crate::check) const PITCHES: Lever = length(
    "machines.pitches",
    |d| {
        let pitches = &d.machines.pitches;
        pitches
            .treble
            .iter()
            .chain(&pitches.bass)
            .copied()
            .min_by(f64::total_cmp)
    },
    |d, v| {
        let pitches = &mut d.machines.pitches;
        for pitch in pitches.treble.iter_mut().chain(&mut pitches.bass) {
            *pitch = pitch.max(v);
        }
    },
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
/// Both sides' first barrel, where the bass side has none of its own.
pub(in crate::check) const FIRST_BARREL: Lever = length(
    "placement.first_barrel",
    |d| match d.placement.along {
        Along::FirstBarrel(y) if same(y.treble, y.bass) => Some(y.treble),
        _ => None,
    },
    |d, v| d.placement.along = Along::FirstBarrel(PerSide { treble: v, bass: v }),
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
pub(in crate::check) const AXIS_BELOW_FACE: Lever = length(
    "placement.axis_below_face",
    |d| match d.placement.depth {
        Across::AxisBelowFace(a) => Some(a),
        Across::Centred => None,
    },
    |d, v| d.placement.depth = Across::AxisBelowFace(v),
);
