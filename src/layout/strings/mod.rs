//! Strings from the nut to their barrels.
//!
//! Without `[strings]` a path is the contract's (section 4): straight in plan from the nut to the
//! string hole's centre; in side view from the string height at the nut line to the top of the bare
//! barrel. With `[strings]` it is the string's own centre line, to where it touches its winding
//! (`strung`), and its distances to wood (`wood`) and to barrels, windings and other strings
//! (`near`) can be asked for.

mod near;
mod segment;
mod strung;
#[cfg(test)]
mod tests;
mod wood;

use glam::{DVec2, DVec3};

use crate::input::{Design, PerSide, Side};

use super::SideLayout;

pub use near::{Clearance, Near};
pub use segment::Segment;
pub use strung::Strung;

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
    /// Height above the face at the nut line: of the string's centre.
    pub height: f64,
    /// Where its straight run ends: above the string hole on top of the bare barrel, or, with
    /// `[strings]`, where its centre line touches its winding.
    pub at_barrel: DVec3,
    /// Sideways angle at the nut, radians, unsigned.
    pub side_pull: f64,
    /// Break angle over the nut in side view, radians: the head's angle and the string's own fall.
    pub nut_break: f64,
    /// Where its line meets the plane of the face, in plan; `None` where it never does before the
    /// barrel.
    pub at_face: Option<DVec2>,
    /// How it lies on its barrel; only with `[strings]`.
    pub strung: Option<Strung>,
}

impl StringPath {
    /// Its straight run, from the nut to the barrel.
    #[must_use]
    pub fn run(&self) -> Segment {
        Segment {
            from: self.at_nut.extend(self.height),
            to: self.at_barrel,
        }
    }
}

/// The strings of a design, bass to treble.
pub(super) fn strings(
    design: &Design,
    sides: &PerSide<SideLayout>,
    axis_below_face: f64,
) -> Vec<StringPath> {
    let top_below_face = axis_below_face - design.machines.barrel_diameter / 2.0;
    let height = design.nut.string_height;
    let bass_count = sides.bass.bores.len();
    let total = design.nut.strings.len();
    design
        .nut
        .strings
        .iter()
        .enumerate()
        .filter_map(|(index, &x)| {
            let (side, barrel) = match &design.strings {
                Some(strings) => *strings.barrels.get(index)?,
                // Outer strings go to the nut-end barrels, inner ones to the crest end, counted on
                // each side.
                None if index < bass_count => (Side::Bass, index + 1),
                None => (Side::Treble, total - index),
            };
            let bore = sides.get(side).bores.get(barrel - 1)?;
            let at_nut = DVec2::new(x, 0.0);
            let at_hole = bore.axis_at(design.machines.string_hole).truncate();
            let strung = design
                .strings
                .as_ref()
                .and_then(|strings| Strung::new(design, strings, index, bore));
            let at_barrel = match &strung {
                Some(strung) => strung.touches(at_nut.extend(height)),
                None => at_hole.extend(-top_below_face),
            };
            let run = at_barrel.truncate() - at_nut;
            let fall = height - at_barrel.z;
            let reaches_face = fall > 0.0 && at_barrel.z < 0.0;
            Some(StringPath {
                number: index + 1,
                side,
                barrel,
                at_nut,
                at_hole,
                height,
                at_barrel,
                side_pull: run.x.abs().atan2(run.y),
                nut_break: design.head.angle + fall.atan2(run.y),
                at_face: reaches_face.then(|| at_nut + run * (height / fall)),
                strung,
            })
        })
        .collect()
}
