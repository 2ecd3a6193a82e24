//! Origin, axes, turns and notes of a card in words.

use crate::input::Side;
use crate::layout::{BoreEnd, Clamping, Layout, Operation, TurnAxis};
use crate::tolerance::NOISE;
use crate::units::{Lengths, number};

/// Degrees to a ten-thousandth with their sign: what a turntable can be set to.
fn signed_degrees(radians: f64) -> String {
    let degrees = radians.to_degrees();
    if degrees.abs() < 0.000_05 {
        return "0.0000°".to_owned();
    }
    let sign = if degrees < 0.0 { '\u{2212}' } else { '+' };
    format!("{sign}{:.4}°", degrees.abs())
}

/// Origin, axes, rotation, and how the work gets there.
pub(super) fn frame(
    layout: &Layout,
    operation: &Operation,
    lengths: Lengths,
) -> Vec<(&'static str, String)> {
    let o = operation.frame.origin;
    // Each with its inches; the head's own origin is nothing in either unit.
    let place = if lengths.inches && o.length() > NOISE {
        let [x, y, z] = o.to_array().map(|mm| lengths.show(mm));
        format!("x {x}, y {y}, z {z} in the head frame")
    } else {
        let [x, y, z] = o.to_array().map(number);
        format!("x {x}, y {y}, z {z} mm in the head frame")
    };
    match operation.clamping {
        Clamping::FaceUp => vec![
            (
                "Origin",
                format!(
                    "{place}: where nut line, centre line and finished front face meet."
                ),
            ),
            (
                "Axes",
                "+x to the treble side, +y along the centre line to the crest, +z out of the face, to the spindle. These are the head frame's own."
                    .to_owned(),
            ),
            ("Rotation", "none.".to_owned()),
        ],
        Clamping::SideUp(side) => {
            let to = match side {
                Side::Treble => "from the face to the back",
                Side::Bass => "from the back to the face; the head lies at negative x",
            };
            let turns: Vec<String> = operation
                .turns
                .iter()
                .map(|turn| {
                    let axis = match turn.axis {
                        TurnAxis::Y => "y",
                        TurnAxis::Z => "z",
                    };
                    format!("{} about the head's {axis}", signed_degrees(turn.angle))
                })
                .collect();
            let wedge = layout.wedge_angle();
            let level = if wedge.abs() <= NOISE {
                "the sides are parallel, so it is level".to_owned()
            } else {
                format!(
                    "a wedge of {} under the other side, thick end at the {}, brings it level",
                    signed_degrees(wedge.abs()).trim_start_matches('+'),
                    if wedge > 0.0 { "nut" } else { "crest" }
                )
            };
            vec![
                (
                    "Origin",
                    format!(
                        "{place}: on the {} side line, prolonged to the nut line, in the plane of the finished face.",
                        side.name()
                    ),
                ),
                (
                    "Axes",
                    format!(
                        "+x square to the face, {to}; +y along the {} side to the crest; +z out of that side, to the spindle.",
                        side.name()
                    ),
                ),
                (
                    "Rotation",
                    format!(
                        "axes of the head frame turned {}. Positive is anticlockwise seen from the axis's point.",
                        turns.join(", then ")
                    ),
                ),
                (
                    "The work",
                    format!(
                        "from face up, roll the head a quarter turn about its length until the {} side is up; {level}.",
                        side.name()
                    ),
                ),
            ]
        }
    }
}

/// Why bores come before slots.
const SOLID: &str = " A bore drilled through solid wood does not splinter; one drilled across an open slot does, unless the slot holds a fitted block.";

/// What the table alone does not say.
pub(super) fn notes(layout: &Layout, operation: &Operation) -> Vec<String> {
    let design = &layout.design;
    let head = &design.head;
    let mut list = Vec::new();
    match operation.clamping {
        Clamping::FaceUp => {
            let (last, why, through) =
                match (operation.slots.is_empty(), operation.ramps.is_empty()) {
                    (true, _) => ("", "", "The outline goes"),
                    (false, true) => (
                        ", and the slots last, face up again",
                        SOLID,
                        "Outline and slots go",
                    ),
                    (false, false) => (
                        ", and slots and ramps last, face up again",
                        SOLID,
                        "Outline and slots go",
                    ),
                };
            list.push(format!(
                "Order: the sides of the outline first, then cards 2 and 3{last}.{why}"
            ));
            list.push(format!(
                "{through} right through; sides stand square to the face. The neck goes on beyond y = 0: nothing is cut along the nut line."
            ));
            if !operation.ramps.is_empty() {
                list.push(
                    "A ramp's floor begins at z = 0 on the mouth line, square to the slot, and falls towards the crest at the angle given; its walls are straight and as far apart as the slot's."
                        .to_owned(),
                );
            }
        }
        Clamping::SideUp(_) => {
            list.push(
                "Every hole runs straight down, along \u{2212}z, from z = 0 on the finished side. Depth is that of the full diameter; the point goes beyond it."
                    .to_owned(),
            );
            let ends = |end: BoreEnd| operation.holes.iter().any(|hole| hole.end == end);
            if ends(BoreEnd::Opens) {
                list.push("Opens: the bore breaks into the one opposite.".to_owned());
            }
            if ends(BoreEnd::Web) {
                list.push(
                    "Web: the solid model keeps 0.50 mm between this bore and the one opposite; drilled to the depth given, the bit breaks through it."
                        .to_owned(),
                );
            }
            list.push("bores.csv holds the same figures to a millionth.".to_owned());
        }
    }
    if !head.veneers_on {
        list.push(format!(
            "Veneers are glued on after drilling: until then the core's face lies {} mm below the finished face, its back {} mm above the finished back.",
            number(head.face_veneer),
            number(head.back_veneer)
        ));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::Design;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn the_card_names_slots_and_ramps_only_where_there_are_some() {
        let of = |change: fn(&mut Design)| {
            let mut design = six_string();
            change(&mut design);
            let layout = Layout::new(&design, Copy::Finished);
            notes(&layout, &layout.operations()[0]).join(" ")
        };
        let both = of(|_| {});
        assert!(both.contains("and slots and ramps last"), "{both}");
        let slots = of(|design| design.slots.as_mut().unwrap().ramp = None);
        assert!(
            slots.contains("and the slots last, face up again."),
            "{slots}"
        );
        assert!(
            slots.contains("Outline and slots go right through"),
            "{slots}"
        );
        assert!(!slots.contains("ramp"), "{slots}");
        let neither = of(|design| design.slots = None);
        assert!(
            neither.contains("then cards 2 and 3. The outline goes right"),
            "{neither}"
        );
        assert!(
            !neither.contains("slot") && !neither.contains("ramp"),
            "{neither}"
        );
    }
}
