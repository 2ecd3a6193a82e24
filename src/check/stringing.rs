//! `string-wood`, `string-barrel`, `string-neighbour`, `winding-wall`: what the strings pass on
//! their way, and how their windings lie in the slots. Only with `[strings]`.

use crate::layout::{Clearance, Layout};

use super::at::{Word, words};
use super::measure::Measure;
use super::{Basis, limits::Bound};

/// Strings of one course run side by side by design: they must only not touch, mm.
const COURSE: f64 = 0.5;

const WOOD: &[&str] = &["slots.ramp", "slots.rib", "slots.cheek", "strings"];
const BARREL: &[&str] = &["strings.turns", "nut.string_height", "strings"];
const NEIGHBOUR: &[&str] = &[
    "strings.barrels",
    "nut.strings",
    "nut.string_span",
    "strings",
];
const WALL: &[&str] = &[
    "strings.turns",
    "slots.width",
    "machines.string_hole",
    "strings",
];

fn measures(
    layout: &Layout,
    near: impl Fn(&Layout, &crate::layout::StringPath) -> Vec<Clearance>,
    keys: &'static [&'static str],
) -> Vec<Measure> {
    let mut list = Vec::new();
    for string in &layout.strings {
        for clearance in near(layout, string) {
            let at = words!(string, " to ", clearance.to);
            list.push(Measure::new(clearance.distance, at, keys));
        }
    }
    list
}

/// Every string to the wood round its slot: walls, edges, ramp.
pub(super) fn wood(layout: &Layout) -> Vec<Measure> {
    measures(layout, Layout::string_to_wood, WOOD)
}

/// Every string to the other barrels and their windings.
pub(super) fn barrel(layout: &Layout) -> Vec<Measure> {
    measures(layout, Layout::string_to_barrels, BARREL)
}

/// Every two strings to one another, from the nut to their barrels.
pub(super) fn neighbour(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for string in &layout.strings {
        let later = layout.strings.get(string.number..).unwrap_or_default();
        let near = layout.string_to_strings(string);
        for other in later {
            let to = crate::layout::Near::String(other.number);
            let Some(clearance) = near.iter().find(|clearance| clearance.to == to) else {
                continue;
            };
            let at = words!(string, " to ", other);
            let measure = Measure::new(clearance.distance, at, NEIGHBOUR);
            list.push(if layout.one_course(string, other) {
                let own = Bound::AtLeast(COURSE);
                measure.caution_by(own, Basis::Assumed)
            } else {
                measure
            });
        }
    }
    list
}

/// The ends of every winding to the walls of its slot, square to them.
pub(super) fn winding_wall(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for string in &layout.strings {
        let bore = layout.sides.get(string.side).bores.get(string.barrel - 1);
        let (Some(strung), Some(bore)) = (&string.strung, bore) else {
            continue;
        };
        let Some(crossing) = bore.slot else { continue };
        let (sin, cos) = crossing.skew.sin_cos();
        let [from, to] = strung.winding;
        for (room, wall) in [
            (from - crossing.outer, "outer"),
            (crossing.inner - to, "inner"),
        ] {
            list.push(Measure::new(
                room * cos - strung.winding_radius * sin.abs(),
                words!(
                    "winding on ",
                    Word::Barrel(string.side, string.barrel),
                    ", ",
                    wall,
                    " wall"
                ),
                WALL,
            ));
        }
    }
    list
}
