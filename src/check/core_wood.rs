//! Counterbores and screw pilots against face and back. The contract holds them to the finished head alone, while
//! bores are held to the core as well: where veneers are glued on after drilling, what the core has there is told
//! in a remark.

use crate::layout::Layout;

use super::at::{At, Words};
use super::measure::Measure;
use super::shapes::Distance;

/// What is drilled to the finished face and back: `of` measures to a plane, `to` names a surface.
pub(super) fn to_surfaces(
    layout: &Layout,
    of: impl Fn(Distance) -> f64,
    to: impl Fn(&'static str) -> Words,
    keys: &'static [&'static str],
) -> [Measure; 2] {
    let head = &layout.design.head;
    let back = |into| Distance::from_back(&layout.outline, into);
    let measure = |finished: Distance, core: Distance, veneer: f64, name| {
        let value = of(finished);
        if head.veneers_on || veneer == 0.0 {
            return Measure::new(value, to(name), keys);
        }
        let note = if layout.design.lengths().inches {
            |measure: &Measure| in_the_core(measure, true)
        } else {
            |measure: &Measure| in_the_core(measure, false)
        };
        Measure::new(value, At::OverCore(to(name), of(core)), keys).note(note)
    };
    [
        measure(
            Distance::below(0.0),
            Distance::below(-head.face_veneer),
            head.face_veneer,
            "the face",
        ),
        measure(
            back(0.0),
            back(head.back_veneer),
            head.back_veneer,
            "the back",
        ),
    ]
}

fn in_the_core(measure: &Measure, inches: bool) -> String {
    let At::OverCore(_, left) = measure.at else {
        return String::new();
    };
    let by = crate::units::Lengths { inches }.show(left.abs());
    if left > 0.0 {
        format!("in the core, drilled before its veneers are on, {by} is left there")
    } else {
        format!("it breaks out of the core, drilled before its veneers are on, by {by}")
    }
}
