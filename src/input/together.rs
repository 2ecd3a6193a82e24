//! What numbers of a file must be to one another: the reader refuses a file by these rules, and whoever changes a
//! number of a design asks whether the file would still be read.

use super::defaults::{ANGLE_BELOW, LEAST_ARCH, RAMP_BELOW, SHORTEST};
use super::design::{Along, Crest, Design, Guide, Head, Print, Slots};
use crate::tolerance::NOISE;

pub(crate) fn veneers_leave_wood(veneers: [f64; 2], thicknesses: [f64; 2]) -> bool {
    let [nut, crest] = thicknesses;
    veneers.iter().sum::<f64>() < nut.min(crest) - NOISE
}

pub(crate) fn sides_have_length(start: f64, end: f64) -> bool {
    end > start + NOISE
}

pub(crate) fn arch_is_high_enough(rise: f64) -> bool {
    rise >= LEAST_ARCH - NOISE
}

pub(crate) fn arch_is_low_enough(rise: f64, half_width: f64) -> bool {
    rise <= half_width + NOISE
}

pub(crate) fn corner_fits(radius: f64, half_slot: f64) -> bool {
    radius <= half_slot + NOISE
}

pub(crate) fn cutter_fits(cutter: f64, slot: f64) -> bool {
    cutter <= slot + NOISE
}

pub(crate) fn flutes_fit(flutes: f64, bit: f64) -> bool {
    flutes <= bit
}

pub(crate) fn groove_is_shallow_enough(depth: f64, height: f64) -> bool {
    depth < height
}

/// `room`: pitches and twice the end margin.
pub(crate) fn groove_is_narrow_enough(width: f64, room: impl Iterator<Item = f64>) -> bool {
    width < room.fold(f64::INFINITY, f64::min)
}

pub(crate) fn hole_is_left(hole: f64, allowance: f64) -> bool {
    hole + allowance > 0.0
}

/// Whether a file with these numbers would be read, as far as that hangs on several of them or on the range of one.
/// Signs of single lengths are for whoever changes them.
#[must_use]
pub fn holds_together(design: &Design) -> bool {
    let slots = |slots: &Slots| {
        // Left to its default, the bit goes by the slots.
        let given = design.places.contains_key("template.cutter");
        let template = design.template.filter(|_| given);
        slots_hold(slots) && template.is_none_or(|own| cutter_fits(own.cutter, slots.width))
    };
    let press = design.press.as_ref().is_none_or(|press| {
        let both = press.flute_length.zip(press.bit_length);
        both.is_none_or(|(flutes, bit)| flutes_fit(flutes, bit))
    });
    let begun = match design.placement.along {
        Along::FirstBarrel(y) => y.treble >= SHORTEST && y.bass >= SHORTEST,
        Along::Centred => true,
    };
    let pitches = &design.machines.pitches;
    let mut pitches = pitches.treble.iter().chain(&pitches.bass);
    head_holds(&design.head)
        && begun
        && pitches.all(|pitch| *pitch >= SHORTEST)
        && design.slots.as_ref().is_none_or(slots)
        && guide_holds(design)
        && press
        && holes_are_left(&design.print, design.bores.diameter, &design.guide)
}

fn head_holds(head: &Head) -> bool {
    let (start, end) = (&head.half_width_at_start, &head.half_width_at_end);
    let wide = [start.treble, start.bass, end.treble, end.bass]
        .iter()
        .all(|half| 2.0 * half >= SHORTEST);
    let rise = head.length - head.side_end;
    let arch =
        arch_is_high_enough(rise) && arch_is_low_enough(rise, f64::midpoint(end.treble, end.bass));
    wide && (head.crest == Crest::Flat || arch)
        && sides_have_length(head.side_start, head.side_end)
        && veneers_leave_wood(
            [head.face_veneer, head.back_veneer],
            [head.thickness, head.thickness_at_crest],
        )
        && (0.0..ANGLE_BELOW).contains(&head.angle.to_degrees())
}

fn slots_hold(slots: &Slots) -> bool {
    let ramp = slots.ramp.map(|ramp| ramp.angle.to_degrees());
    corner_fits(slots.corner_radius, slots.width / 2.0)
        && ramp.is_none_or(|degrees| degrees > 0.0 && degrees < RAMP_BELOW)
}

fn guide_holds(design: &Design) -> bool {
    let guide = &design.guide;
    let pitches = &design.machines.pitches;
    let pitches = pitches.treble.iter().chain(&pitches.bass).copied();
    guide.scribe.is_none_or(|scribe| {
        groove_is_shallow_enough(scribe.depth, guide.height)
            && groove_is_narrow_enough(scribe.width, pitches.chain([2.0 * guide.end_margin]))
    })
}

fn holes_are_left(print: &Print, bore: f64, guide: &Guide) -> bool {
    let (hole, allowance) = guide
        .bush_diameter
        .map_or((guide.bore_diameter, print.block_allowance), |bush| {
            (bush, print.bush_allowance)
        });
    hole_is_left(bore, print.head_allowance) && hole_is_left(hole, allowance)
}
