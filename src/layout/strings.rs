//! Strings, until a study says more (contract, section 4): straight in plan from the nut to the
//! string hole's centre; in side view from the string height at the nut line to the top of the
//! bare barrel.

use glam::DVec2;

use crate::input::{Design, PerSide, Side};

use super::SideLayout;

/// One string.
#[derive(Debug, Clone, PartialEq)]
pub struct StringPath {
    /// 1-based, bass to treble.
    pub number: usize,
    /// Side of its barrel.
    pub side: Side,
    /// Number of its barrel, from the nut.
    pub barrel: usize,
    /// Where it crosses the nut line, in plan.
    pub at_nut: DVec2,
    /// Centre of its string hole, in plan.
    pub at_hole: DVec2,
    /// Height above the face at the nut line.
    pub height: f64,
    /// Top of the bare barrel below the face; negative where the barrel stands out of it.
    pub top_below_face: f64,
    /// Sideways angle at the nut, radians, unsigned.
    pub side_pull: f64,
    /// Break angle over the nut in side view, radians: the head's angle and the string's own fall.
    pub nut_break: f64,
    /// Where its line meets the plane of the face, in plan; `None` where it never does before the
    /// barrel.
    pub at_face: Option<DVec2>,
}

/// Outer strings go to the nut-end barrels, inner ones to the crest end, counted on each side.
pub(super) fn strings(
    design: &Design,
    sides: &PerSide<SideLayout>,
    axis_below_face: f64,
) -> Vec<StringPath> {
    let bass_count = sides.bass.bores.len();
    let total = design.nut.strings.len();
    let top_below_face = axis_below_face - design.machines.barrel_diameter / 2.0;
    let height = design.nut.string_height;
    design
        .nut
        .strings
        .iter()
        .enumerate()
        .filter_map(|(index, &x)| {
            let (side, barrel) = if index < bass_count {
                (Side::Bass, index + 1)
            } else {
                (Side::Treble, total - index)
            };
            let bore = sides.get(side).bores.get(barrel - 1)?;
            let at_nut = DVec2::new(x, 0.0);
            let at_hole = bore.axis_at(design.machines.string_hole).truncate();
            let run = at_hole - at_nut;
            let fall = height + top_below_face;
            let reaches_face = fall > 0.0 && top_below_face > 0.0;
            Some(StringPath {
                number: index + 1,
                side,
                barrel,
                at_nut,
                at_hole,
                height,
                top_below_face,
                side_pull: run.x.abs().atan2(run.y),
                nut_break: design.head.angle + fall.atan2(run.y),
                at_face: reaches_face.then(|| at_nut + run * (height / fall)),
            })
        })
        .collect()
}
