//! Thickness, widths and the first barrel's place.

use crate::input::{Along, Design, PerSide, Side};
use crate::layout::Layout;
use crate::tolerance::NOISE;

use super::{Movable, Number, most_barrels, rib};

/// Thickest head searched, mm.
const THICKEST: f64 = 60.0;
/// Wood left between the veneers by the thinnest head searched, mm.
const THINNEST: f64 = 0.5;

/// Thickness at the nut line; the one at the crest moves with it.
pub(super) fn thickness<'a>(
    layout: &'a Layout,
    given: &dyn Fn(&str) -> bool,
) -> Option<Movable<'a>> {
    let head = &layout.design.head;
    let slope = head.thickness_at_crest - head.thickness;
    let least = head.face_veneer + head.back_veneer + THINNEST - slope.min(0.0);
    let mut checks = vec![
        "wood-over",
        "wood-under",
        "counterbore",
        "plate-thickness",
        "plate-even",
        "edge-radius",
        "screw-bore",
    ];
    if given("slots.ramp.mouth") {
        checks.push("ramp-depth");
    }
    Some(Movable {
        number: Number::Thickness,
        here: Some(head.thickness),
        span: [least, THICKEST.max(head.thickness + least)],
        checks,
        change: Box::new(move |value| {
            let mut design = layout.design.clone();
            design.head.thickness = value;
            design.head.thickness_at_crest = value + slope;
            // The block is as high as the head unless its file says otherwise.
            if (head.thickness - design.guide.height).abs() <= NOISE {
                design.guide.height = value;
            }
            design
        }),
    })
}

/// Width at a pair of barrels, which are the only ones left in the design: the sides move outwards
/// alike and keep their taper, and every barrel its place along the side.
pub(super) fn width(layout: &Layout, number: Number) -> Option<Movable<'_>> {
    let (treble, bass) = facing(layout, number)?;
    let sides = &layout.sides;
    let bores = [sides.treble.bores.get(treble)?, sides.bass.bores.get(bass)?];
    let here: f64 = bores.iter().map(|bore| bore.half_width()).sum();
    let places = PerSide {
        treble: bores[0].entry.y,
        bass: bores[1].entry.y,
    };
    let length = layout.design.machines.barrel_length;
    Some(Movable {
        number,
        here: Some(here),
        span: [length, 4.0 * length],
        checks: vec!["barrels-apart"],
        change: Box::new(move |value| {
            let mut design = layout.design.clone();
            design.machines.pitches = PerSide::default();
            design.placement.along = Along::FirstBarrel(places);
            let outwards = (value - here) / 2.0;
            let head = &mut design.head;
            for half in [&mut head.half_width_at_start, &mut head.half_width_at_end] {
                half.treble += outwards;
                half.bass += outwards;
            }
            let outer = [
                layout.design.nut.strings.first(),
                layout.design.nut.strings.last(),
            ];
            design.nut.strings = outer.into_iter().flatten().copied().collect();
            design
        }),
    })
}

/// Indices of the two barrels meant: the first of both sides, or the last of the side with fewer
/// and the one nearest to it across the head.
fn facing(layout: &Layout, number: Number) -> Option<(usize, usize)> {
    if number == Number::WidthAtFirst {
        return Some((0, 0));
    }
    if most_barrels(layout) < 2 {
        return None;
    }
    let (treble, bass) = (&layout.sides.treble.bores, &layout.sides.bass.bores);
    let (own, other, swapped) = if treble.len() <= bass.len() {
        (treble, bass, false)
    } else {
        (bass, treble, true)
    };
    let y = own.last()?.centre_line_y();
    let nearest = (0..other.len()).min_by(|&a, &b| {
        let off = |index: usize| (other[index].centre_line_y() - y).abs();
        off(a).total_cmp(&off(b))
    })?;
    let last = own.len() - 1;
    Some(if swapped {
        (nearest, last)
    } else {
        (last, nearest)
    })
}

/// The first barrel's y on the treble side; the bass side's keeps its distance.
pub(super) fn first_barrel<'a>(
    layout: &'a Layout,
    given: &dyn Fn(&str) -> bool,
) -> Option<Movable<'a>> {
    let first = |side: Side| Some(layout.sides.get(side).bores.first()?.entry.y);
    let (treble, bass) = (first(Side::Treble)?, first(Side::Bass)?);
    // The nut stays where it is, given or assumed, so what it makes of the strings counts.
    let mut checks = vec![
        "plate-side",
        "edges",
        "end-wood",
        "barrels-apart",
        "side-pull",
        "nut-break",
    ];
    let lie = if rib(&layout.design).is_some() {
        "slots.rib"
    } else {
        "slots.cheek"
    };
    if given(lie) {
        checks.extend(["bearing", "rim"]);
    }
    let least = 1.0 - (bass - treble).min(0.0);
    Some(Movable {
        number: Number::FirstBarrel,
        here: Some(treble),
        span: [least, layout.design.head.length.max(least + 1.0)],
        checks,
        change: Box::new(move |value| {
            let mut design: Design = layout.design.clone();
            design.placement.along = Along::FirstBarrel(PerSide {
                treble: value,
                bass: value + bass - treble,
            });
            design
        }),
    })
}
