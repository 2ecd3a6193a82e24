//! Bores that serve no plate, however freely it goes in: too wide for their barrel, or open to a face
//! of the head.

use glam::DVec2;

use crate::input::Side;
use crate::layout::{Layout, OldBore};
use crate::study::fit;
use crate::tolerance::NOISE;

use super::{Loosest, Settled, covered, middle};

/// A bore that may not be left as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Faulty {
    /// 1-based, from the nut.
    pub number: usize,
    /// Wider than its barrel by so much, mm, where that is more than [`Loosest`] and the design allow.
    pub too_wide: Option<f64>,
    /// Where it breaks out, and by how much, mm.
    pub breaks: Vec<(&'static str, f64)>,
}

/// The most that a bore may be wider than its barrel and stay: as for a reamed one, but never less
/// than the design's own bore, of which the check `clearance` speaks.
pub(super) fn most_left(layout: &Layout, loosest: &Loosest) -> f64 {
    let bores = &layout.design.bores;
    loosest
        .clearance
        .max(bores.diameter - layout.design.machines.barrel_diameter)
}

/// The bores of a side that may not be left as they are; what is as designed is the checks' to judge.
pub(super) fn faulty(
    layout: &Layout,
    side: Side,
    bores: &[OldBore],
    plate: &fit::Plate,
    most: f64,
) -> Vec<Faulty> {
    let recorded = bores.iter().filter(|bore| bore.recorded);
    let all = recorded.map(|bore| {
        let clearance = bore.diameter - plate.barrel_diameter;
        Faulty {
            number: bore.number,
            too_wide: (clearance > most + NOISE).then_some(clearance),
            breaks: breaks(layout, side, bore),
        }
    });
    all.filter(|bore| bore.too_wide.is_some() || !bore.breaks.is_empty())
        .collect()
}

/// Where a bore is open that should be closed: at the side, or at its depth, to which it leans.
fn breaks(layout: &Layout, side: Side, bore: &OldBore) -> Vec<(&'static str, f64)> {
    let line = &layout.sides.get(side).line;
    let thickness = layout.outline.thickness_at(line.at(bore.centre.x).y);
    let radius = bore.diameter / 2.0;
    let ends = [bore.centre.y, bore.centre.y + bore.slope.y * bore.depth];
    let below = ends.map(|across| layout.axis_below_face - across);
    let left = [
        ("the face", below[0].min(below[1]) - radius),
        ("the back", thickness - below[0].max(below[1]) - radius),
        (
            "the start of the straight side",
            bore.centre.x - layout.straight_from(side) - radius,
        ),
        (
            "the end of the straight side",
            line.end_s - bore.centre.x - radius,
        ),
    ];
    let open = left.into_iter().filter(|(_, left)| *left < -NOISE);
    open.map(|(what, left)| (what, -left)).collect()
}

/// Bores that show beside the plate where it settles, and by how much, mm.
pub(super) fn showing(
    layout: &Layout,
    side: Side,
    bores: &[OldBore],
    (plate, settled): (&fit::Plate, &Settled),
) -> Vec<(usize, f64)> {
    let about: DVec2 = middle(&plate.stations);
    let recorded = bores.iter().filter(|bore| bore.recorded);
    let all = recorded.map(|bore| {
        let circle = (bore.centre, bore.diameter / 2.0);
        (
            bore.number,
            -covered(layout, side, (about, settled), circle),
        )
    });
    all.filter(|(_, shows)| *shows > NOISE).collect()
}
