//! `wood-over`, `wood-under`: wood between the bores and the two surfaces of the head.
//!
//! Measured from each bore as built (full diameter, point, end plane) to the unbounded plane of
//! the face and of the back, square to that plane, so a back that slopes is met at its slope. Where
//! the veneers are glued on after drilling, the core that is drilled must hold too: its own planes
//! count, and the core's back lies `back_veneer` inside the finished back, measured like the
//! thickness. Counterbores have their own check.

use crate::input::defaults::SHORTEST;
use crate::layout::Layout;
use crate::plane::Piece;

use super::at::words;
use super::measure::{Measure, guard};
use super::shapes::Distance;

/// Thinner than this at its thinnest, a head is no body.
const THINNEST: f64 = SHORTEST;

pub(super) fn over(layout: &Layout) -> Vec<Measure> {
    let head = &layout.design.head;
    let face = (0.0, "the face");
    let core = (-head.face_veneer, "the face of the core");
    surfaces(face, core, head.veneers_on)
        .flat_map(|(z, name)| {
            layout.bores().map(move |bore| {
                Measure::new(
                    Distance::below(z).over_bore(bore),
                    words!(bore, " to ", name),
                    &[
                        "placement.axis_below_face",
                        "bores.diameter",
                        "bores.clearance",
                        "head.thickness",
                    ],
                )
            })
        })
        .collect()
}

pub(super) fn under(layout: &Layout) -> Vec<Measure> {
    let head = &layout.design.head;
    let back = (0.0, "the back");
    let core = (head.back_veneer, "the back of the core");
    let mut list: Vec<Measure> = surfaces(back, core, head.veneers_on)
        .flat_map(|(into, name)| {
            layout.bores().map(move |bore| {
                Measure::new(
                    Distance::from_back(&layout.outline, into).over_bore(bore),
                    words!(bore, " to ", name),
                    &[
                        "head.thickness",
                        "head.thickness_at_crest",
                        "bores.diameter",
                        "bores.clearance",
                    ],
                )
            })
        })
        .collect();
    // An arched crest may stand beyond the point where an evenly thinning head has any thickness.
    let outline = layout.outline.region();
    let thinnest = outline
        .boundary
        .iter()
        .map(Piece::start)
        .chain([glam::DVec2::new(0.0, outline.reach(glam::DVec2::Y))])
        .map(|point| layout.outline.thickness.at(point))
        .fold(f64::INFINITY, f64::min);
    guard(
        &mut list,
        Measure::new(
            thinnest,
            "the head's own thickness",
            &["head.thickness_at_crest"],
        )
        .stop_below(THINNEST),
    );
    list
}

/// The finished surface, and the core's where the veneers come later and there is one.
fn surfaces(
    finished: (f64, &'static str),
    core: (f64, &'static str),
    veneers_on: bool,
) -> impl Iterator<Item = (f64, &'static str)> {
    let core = (!veneers_on && core.0 != 0.0).then_some(core);
    std::iter::once(finished).chain(core)
}
