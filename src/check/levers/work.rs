//! Keys of bores, slots, guide block and press.

use super::{Lever, angle, follows, length};
use crate::input::{BoreDepth, Design, Lie};
use crate::standards::jobber::jobber;

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

pub(in crate::check) const BORE_DIAMETER: Lever = length(
    "bores.diameter",
    |d| (!bore_by_clearance(d)).then_some(d.bores.diameter),
    set_bore,
);
pub(in crate::check) const BORE_CLEARANCE: Lever = length(
    "bores.clearance",
    |d| bore_by_clearance(d).then_some(d.bores.diameter - d.machines.barrel_diameter),
    |d, v| set_bore(d, d.machines.barrel_diameter + v),
);
pub(in crate::check) const BEYOND_BARREL: Lever = length(
    "bores.beyond_barrel",
    |d| match d.bores.depth {
        BoreDepth::BeyondBarrel(v) => Some(v),
        BoreDepth::BeyondCentre(_) => None,
    },
    |d, v| d.bores.depth = BoreDepth::BeyondBarrel(v),
);
pub(in crate::check) const BEYOND_CENTRE: Lever = length(
    "bores.beyond_centre",
    |d| match d.bores.depth {
        BoreDepth::BeyondCentre(v) => Some(v),
        BoreDepth::BeyondBarrel(_) => None,
    },
    |d, v| d.bores.depth = BoreDepth::BeyondCentre(v),
);
pub(in crate::check) const COUNTERBORE_DIAMETER: Lever = length(
    "bores.counterbore.diameter",
    |d| d.bores.counterbore.map(|mouth| mouth.diameter),
    |d, v| {
        if let Some(mouth) = &mut d.bores.counterbore {
            mouth.diameter = v;
        }
    },
);
pub(in crate::check) const COUNTERBORE_DEPTH: Lever = length(
    "bores.counterbore.depth",
    |d| d.bores.counterbore.map(|mouth| mouth.depth),
    |d, v| {
        if let Some(mouth) = &mut d.bores.counterbore {
            mouth.depth = v;
        }
    },
);
pub(in crate::check) const RIB: Lever = length(
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
pub(in crate::check) const CHEEK: Lever = length(
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
pub(in crate::check) const SLOT_WIDTH: Lever = length(
    "slots.width",
    |d| d.slots.as_ref().map(|slots| slots.width),
    set_slot_width,
);
pub(in crate::check) const CORNER_RADIUS: Lever = length(
    "slots.corner_radius",
    |d| d.slots.as_ref().map(|slots| slots.corner_radius),
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.corner_radius = v;
        }
    },
);
pub(in crate::check) const NUT_MARGIN: Lever = length(
    "slots.end_margin (nut end)",
    |d| d.slots.as_ref().map(|slots| slots.end_margin[0]),
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.end_margin[0] = v;
        }
    },
);
pub(in crate::check) const CREST_MARGIN: Lever = length(
    "slots.end_margin (crest end)",
    |d| d.slots.as_ref().map(|slots| slots.end_margin[1]),
    |d, v| {
        if let Some(slots) = &mut d.slots {
            slots.end_margin[1] = v;
        }
    },
);
pub(in crate::check) const RAMP_MOUTH: Lever = length(
    "slots.ramp.mouth",
    |d| d.slots.as_ref()?.ramp.map(|ramp| ramp.mouth),
    |d, v| {
        if let Some(ramp) = d.slots.as_mut().and_then(|slots| slots.ramp.as_mut()) {
            ramp.mouth = v;
        }
    },
);
pub(in crate::check) const RAMP_ANGLE: Lever = angle(
    "slots.ramp.angle",
    |d| d.slots.as_ref()?.ramp.map(|ramp| ramp.angle),
    |d, v| {
        if let Some(ramp) = d.slots.as_mut().and_then(|slots| slots.ramp.as_mut()) {
            ramp.angle = v;
        }
    },
);
pub(in crate::check) const GUIDE_DEPTH: Lever = length(
    "guide.depth",
    |d| Some(d.guide.depth),
    |d, v| d.guide.depth = v,
);
pub(in crate::check) const GUIDE_HEIGHT: Lever = length(
    "guide.height",
    |d| Some(d.guide.height),
    |d, v| d.guide.height = v,
);
pub(in crate::check) const GUIDE_END_MARGIN: Lever = length(
    "guide.end_margin",
    |d| Some(d.guide.end_margin),
    |d, v| d.guide.end_margin = v,
);
pub(in crate::check) const GUIDE_BORE: Lever = length(
    "guide.bore_diameter",
    |d| Some(d.guide.bore_diameter),
    |d, v| d.guide.bore_diameter = v,
);
pub(in crate::check) const BUSH_DIAMETER: Lever = length(
    "guide.bush_diameter",
    |d| d.guide.bush_diameter,
    |d, v| d.guide.bush_diameter = Some(v),
);
pub(in crate::check) const AXIS_HEIGHT: Lever = length(
    "guide.axis_height",
    |d| d.guide.axis_height,
    |d, v| d.guide.axis_height = Some(v),
);
pub(in crate::check) const SCRIBE_DEPTH: Lever = length(
    "guide.scribe.depth",
    |d| d.guide.scribe.map(|scribe| scribe.depth),
    |d, v| {
        if let Some(scribe) = &mut d.guide.scribe {
            scribe.depth = v;
        }
    },
);
pub(in crate::check) const SCRIBE_WIDTH: Lever = length(
    "guide.scribe.width",
    |d| d.guide.scribe.map(|scribe| scribe.width),
    |d, v| {
        if let Some(scribe) = &mut d.guide.scribe {
            scribe.width = v;
        }
    },
);
pub(in crate::check) const TRAVEL: Lever = length(
    "press.travel",
    |d| d.press.as_ref().map(|press| press.travel),
    |d, v| {
        if let Some(press) = &mut d.press {
            press.travel = v;
        }
    },
);
pub(in crate::check) const FLUTE_LENGTH: Lever = length(
    "press.flute_length",
    |d| {
        let press = d.press.as_ref()?;
        press
            .flute_length
            .or_else(|| jobber(d.bores.diameter).map(|row| row.flute))
    },
    |d, v| {
        if let Some(press) = &mut d.press {
            press.flute_length = Some(v);
        }
    },
);
pub(in crate::check) const BIT_LENGTH: Lever = length(
    "press.bit_length",
    |d| {
        let press = d.press.as_ref()?;
        press
            .bit_length
            .or_else(|| jobber(d.bores.diameter).map(|row| row.overall))
    },
    |d, v| {
        if let Some(press) = &mut d.press {
            press.bit_length = Some(v);
        }
    },
);
pub(in crate::check) const DAYLIGHT: Lever = length(
    "press.daylight",
    |d| d.press.as_ref()?.daylight,
    |d, v| {
        if let Some(press) = &mut d.press {
            press.daylight = Some(v);
        }
    },
);
