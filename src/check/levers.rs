//! Keys of the parameter file that advice may turn, and what typing a number for one does to the
//! design, defaults that follow it included.

use crate::input::{Across, Along, BoreDepth, Design, Lie, Side};
use crate::tolerance::NOISE;

/// How a lever's number is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A length.
    Length,
    /// An angle, held in radians, written in degrees.
    Angle,
    /// A change of a length by so much, added to what is there.
    Change,
}

/// One key.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lever {
    /// Dotted key, or words for a change of several keys.
    pub key: &'static str,
    pub kind: Kind,
    /// Present value; `None` where this design does not use the key.
    pub get: fn(&Design) -> Option<f64>,
    pub set: fn(&mut Design, f64),
}

const fn length(
    key: &'static str,
    get: fn(&Design) -> Option<f64>,
    set: fn(&mut Design, f64),
) -> Lever {
    Lever {
        key,
        kind: Kind::Length,
        get,
        set,
    }
}

const fn angle(
    key: &'static str,
    get: fn(&Design) -> Option<f64>,
    set: fn(&mut Design, f64),
) -> Lever {
    Lever {
        key,
        kind: Kind::Angle,
        get,
        set,
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= NOISE
}

/// Whether `key` was left to its default, so that it follows what the default is made of.
fn follows(design: &Design, key: &str, value: f64, default: f64) -> bool {
    !design.places.contains_key(key) && same(value, default)
}

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

fn set_bore(design: &mut Design, value: f64) {
    if follows(
        design,
        "guide.bore_diameter",
        design.guide.bore_diameter,
        design.bores.diameter,
    ) {
        design.guide.bore_diameter = value;
    }
    design.bores.diameter = value;
}

fn bore_by_clearance(design: &Design) -> bool {
    design.places.contains_key("bores.clearance")
}

fn set_slot_width(design: &mut Design, value: f64) {
    let Some(slots) = &design.slots else { return };
    let follow = follows(
        design,
        "slots.corner_radius",
        slots.corner_radius,
        slots.width / 2.0,
    );
    if let Some(slots) = &mut design.slots {
        if follow {
            slots.corner_radius = value / 2.0;
        }
        slots.width = value;
    }
}

pub(super) const THICKNESS: Lever =
    length("head.thickness", |d| Some(d.head.thickness), set_thickness);
pub(super) const THICKNESS_AT_CREST: Lever = length(
    "head.thickness_at_crest",
    |d| (!same(d.head.thickness, d.head.thickness_at_crest)).then_some(d.head.thickness_at_crest),
    |d, v| d.head.thickness_at_crest = v,
);
pub(super) const LENGTH: Lever = length(
    "head.length",
    |d| (d.head.crest == crate::input::Crest::Arch).then_some(d.head.length),
    |d, v| d.head.length = v,
);
pub(super) const SIDE_END: Lever = length(
    "head.side_end",
    |d| (d.head.crest == crate::input::Crest::Arch).then_some(d.head.side_end),
    |d, v| d.head.side_end = v,
);
pub(super) const BOTH_WIDTHS: Lever = Lever {
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
pub(super) const EDGE_RADIUS: Lever = length(
    "head.edge_radius",
    |d| Some(d.head.edge_radius),
    |d, v| d.head.edge_radius = v,
);
pub(super) const ANGLE: Lever = angle(
    "head.angle",
    |d| Some(d.head.angle),
    |d, v| d.head.angle = v,
);
pub(super) const STRING_HEIGHT: Lever = length(
    "nut.string_height",
    |d| Some(d.nut.string_height),
    |d, v| d.nut.string_height = v,
);
pub(super) const STRING_SPAN: Lever = length(
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
pub(super) const BARREL_LENGTH: Lever = length(
    "machines.barrel_length",
    |d| Some(d.machines.barrel_length),
    |d, v| d.machines.barrel_length = v,
);
pub(super) const STRING_HOLE: Lever = length(
    "machines.string_hole",
    |d| Some(d.machines.string_hole),
    |d, v| d.machines.string_hole = v,
);
pub(super) const PLATE_WIDTH: Lever = length(
    "machines.plate_width",
    |d| Some(d.machines.plate_width),
    |d, v| d.machines.plate_width = v,
);
pub(super) const PITCHES: Lever = length(
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
pub(super) const SCREW_DEPTH: Lever = length(
    "machines.screws.depth",
    |d| d.machines.screws.as_ref().map(|screws| screws.depth),
    |d, v| {
        if let Some(screws) = &mut d.machines.screws {
            screws.depth = v;
        }
    },
);
pub(super) const SCREW_PILOT: Lever = length(
    "machines.screws.pilot",
    |d| d.machines.screws.as_ref().map(|screws| screws.pilot),
    |d, v| {
        if let Some(screws) = &mut d.machines.screws {
            screws.pilot = v;
        }
    },
);
/// Both sides' first barrel, where the bass side has none of its own.
pub(super) const FIRST_BARREL: Lever = length(
    "placement.first_barrel",
    |d| match d.placement.along {
        Along::FirstBarrel(y) if same(y.treble, y.bass) => Some(y.treble),
        _ => None,
    },
    |d, v| d.placement.along = Along::FirstBarrel(crate::input::PerSide { treble: v, bass: v }),
);
pub(super) const BASS_FIRST_BARREL: Lever = length(
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
pub(super) const AXIS_BELOW_FACE: Lever = length(
    "placement.axis_below_face",
    |d| match d.placement.depth {
        Across::AxisBelowFace(a) => Some(a),
        Across::Centred => None,
    },
    |d, v| d.placement.depth = Across::AxisBelowFace(v),
);
pub(super) const BORE_DIAMETER: Lever = length(
    "bores.diameter",
    |d| (!bore_by_clearance(d)).then_some(d.bores.diameter),
    set_bore,
);
pub(super) const BORE_CLEARANCE: Lever = length(
    "bores.clearance",
    |d| bore_by_clearance(d).then_some(d.bores.diameter - d.machines.barrel_diameter),
    |d, v| set_bore(d, d.machines.barrel_diameter + v),
);
pub(super) const BEYOND_BARREL: Lever = length(
    "bores.beyond_barrel",
    |d| match d.bores.depth {
        BoreDepth::BeyondBarrel(v) => Some(v),
        BoreDepth::BeyondCentre(_) => None,
    },
    |d, v| d.bores.depth = BoreDepth::BeyondBarrel(v),
);
pub(super) const BEYOND_CENTRE: Lever = length(
    "bores.beyond_centre",
    |d| match d.bores.depth {
        BoreDepth::BeyondCentre(v) => Some(v),
        BoreDepth::BeyondBarrel(_) => None,
    },
    |d, v| d.bores.depth = BoreDepth::BeyondCentre(v),
);
pub(super) const COUNTERBORE_DIAMETER: Lever = length(
    "bores.counterbore.diameter",
    |d| d.bores.counterbore.map(|mouth| mouth.diameter),
    |d, v| {
        if let Some(mouth) = &mut d.bores.counterbore {
            mouth.diameter = v;
        }
    },
);
pub(super) const COUNTERBORE_DEPTH: Lever = length(
    "bores.counterbore.depth",
    |d| d.bores.counterbore.map(|mouth| mouth.depth),
    |d, v| {
        if let Some(mouth) = &mut d.bores.counterbore {
            mouth.depth = v;
        }
    },
);
pub(super) const RIB: Lever = length(
    "slots.rib",
    |d| match d.slots.as_ref()?.lie {
        Lie::Rib(v) => Some(v),
        Lie::Cheek(_) => None,
    },
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.lie = Lie::Rib(v);
        }
    },
);
pub(super) const CHEEK: Lever = length(
    "slots.cheek",
    |d| match d.slots.as_ref()?.lie {
        Lie::Cheek(v) => Some(v),
        Lie::Rib(_) => None,
    },
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.lie = Lie::Cheek(v);
        }
    },
);
pub(super) const SLOT_WIDTH: Lever = length(
    "slots.width",
    |d| d.slots.as_ref().map(|slots| slots.width),
    set_slot_width,
);
pub(super) const CORNER_RADIUS: Lever = length(
    "slots.corner_radius",
    |d| d.slots.as_ref().map(|slots| slots.corner_radius),
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.corner_radius = v;
        }
    },
);
pub(super) const NUT_MARGIN: Lever = length(
    "slots.end_margin (nut end)",
    |d| d.slots.as_ref().map(|slots| slots.end_margin[0]),
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.end_margin[0] = v;
        }
    },
);
pub(super) const CREST_MARGIN: Lever = length(
    "slots.end_margin (crest end)",
    |d| d.slots.as_ref().map(|slots| slots.end_margin[1]),
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.end_margin[1] = v;
        }
    },
);
pub(super) const RAMP_MOUTH: Lever = length(
    "slots.ramp.mouth",
    |d| d.slots.as_ref()?.ramp.map(|ramp| ramp.mouth),
    |d, v| {
        if let Some(ramp) = d.slots.as_mut().and_then(|slots| slots.ramp.as_mut()) {
            ramp.mouth = v;
        }
    },
);
pub(super) const RAMP_ANGLE: Lever = angle(
    "slots.ramp.angle",
    |d| d.slots.as_ref()?.ramp.map(|ramp| ramp.angle),
    |d, v| {
        if let Some(ramp) = d.slots.as_mut().and_then(|slots| slots.ramp.as_mut()) {
            ramp.angle = v;
        }
    },
);
pub(super) const GUIDE_DEPTH: Lever = length(
    "guide.depth",
    |d| Some(d.guide.depth),
    |d, v| d.guide.depth = v,
);
pub(super) const GUIDE_HEIGHT: Lever = length(
    "guide.height",
    |d| Some(d.guide.height),
    |d, v| d.guide.height = v,
);
pub(super) const GUIDE_END_MARGIN: Lever = length(
    "guide.end_margin",
    |d| Some(d.guide.end_margin),
    |d, v| d.guide.end_margin = v,
);
pub(super) const GUIDE_BORE: Lever = length(
    "guide.bore_diameter",
    |d| Some(d.guide.bore_diameter),
    |d, v| d.guide.bore_diameter = v,
);
pub(super) const BUSH_DIAMETER: Lever = length(
    "guide.bush_diameter",
    |d| d.guide.bush_diameter,
    |d, v| d.guide.bush_diameter = Some(v),
);
pub(super) const AXIS_HEIGHT: Lever = length(
    "guide.axis_height",
    |d| d.guide.axis_height,
    |d, v| d.guide.axis_height = Some(v),
);
pub(super) const SCRIBE_DEPTH: Lever = length(
    "guide.scribe.depth",
    |d| d.guide.scribe.map(|scribe| scribe.depth),
    |d, v| {
        if let Some(scribe) = &mut d.guide.scribe {
            scribe.depth = v;
        }
    },
);
pub(super) const TRAVEL: Lever = length(
    "press.travel",
    |d| d.press.as_ref().map(|press| press.travel),
    |d, v| {
        if let Some(press) = &mut d.press {
            press.travel = v;
        }
    },
);
pub(super) const FLUTE_LENGTH: Lever = length(
    "press.flute_length",
    |d| {
        let press = d.press.as_ref()?;
        press
            .flute_length
            .or_else(|| crate::standards::jobber::jobber(d.bores.diameter).map(|row| row.flute))
    },
    |d, v| {
        if let Some(press) = &mut d.press {
            press.flute_length = Some(v);
        }
    },
);
pub(super) const BIT_LENGTH: Lever = length(
    "press.bit_length",
    |d| {
        let press = d.press.as_ref()?;
        press
            .bit_length
            .or_else(|| crate::standards::jobber::jobber(d.bores.diameter).map(|row| row.overall))
    },
    |d, v| {
        if let Some(press) = &mut d.press {
            press.bit_length = Some(v);
        }
    },
);
pub(super) const DAYLIGHT: Lever = length(
    "press.daylight",
    |d| d.press.as_ref()?.daylight,
    |d, v| {
        if let Some(press) = &mut d.press {
            press.daylight = Some(v);
        }
    },
);
