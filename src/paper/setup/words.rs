//! What the setup sheet says in words: what to have ready, the order of work and its reasons, the
//! steps at the press, cautions.

use crate::check::words::limit_words;
use crate::check::{Report, Verdict};
use crate::input::{Point, Side};
use crate::layout::{Block, BoreEnd, Layout};
use crate::standards::nearest_stock;
use crate::standards::safety::of_body;
use crate::tolerance::NOISE;
use crate::units::{Lengths, show_degrees};
use crate::wording::capital;

use super::carry_on::next_step;
use super::figures;

/// What lies on the bench before anything is clamped.
pub(super) fn have_ready(layout: &Layout, lengths: Lengths) -> Vec<String> {
    let design = &layout.design;
    let mut list = vec![
        measured_machines(layout),
        "The head: sides planed, its marks drawn, the paper off again: it would lie under block and upright.".to_owned(),
    ];
    let bushes = match design.guide.bush_diameter {
        Some(bush) => format!(
            ", its bushes pressed in ({} outside), flush with its top",
            lengths.show(bush)
        ),
        None => String::new(),
    };
    let blocks = match layout.blocks.len() {
        1 => format!("The guide block, one for both sides{bushes}."),
        _ => format!("The guide blocks, treble and bass: they differ{bushes}."),
    };
    list.push(blocks);
    let wedge = layout.wedge_angle();
    let mut rig = "The rig: base and upright, straight and square".to_owned();
    if wedge.abs() > NOISE {
        rig.push_str(&format!(
            "; a wedge of {} ({})",
            show_degrees(wedge.abs()),
            layout.wedge_words()
        ));
    }
    if let Some(shim) = layout
        .blocks
        .first()
        .and_then(|b| figures::shim(b, lengths))
    {
        rig.push_str(&format!("; a shim of {shim}"));
    }
    list.push(format!("{rig}."));
    list.push(format!(
        "The bit, {}: sharp, straight, its size measured. A collar or a flag of tape for a hand drill.",
        figures::bit(layout, lengths)
    ));
    if layout.sides_with_pitches() > 0 {
        list.push(format!(
            "A pin, {} across (the shank of a like bit will do), long enough to stand in block and bore together.",
            nearest_stock(design.bores.diameter).name
        ));
    }
    list.push(
        "Clamps for block, head and neck; a square, a steel rule, a flat strip, scrap to try on."
            .to_owned(),
    );
    if layout.design.slots.is_some() {
        list.push("Only if the slots are cut already: a block fitted snugly into each.".to_owned());
    }
    list
}

/// The machines, with the barrel's diameter where it was read more than once.
fn measured_machines(layout: &Layout) -> String {
    let barrel = layout
        .design
        .measurements
        .readings
        .iter()
        .find(|readings| readings.key == "machines.barrel_diameter")
        .map_or(String::new(), |readings| {
            let of = readings.uncertainty();
            format!(
                " Barrels {:.2} ± {:.2} mm by {} readings.",
                of.mean,
                of.expanded,
                readings.values.len()
            )
        });
    format!("The tuning machines themselves, measured: they are what has to fit.{barrel}")
}

/// Order of work, each step with its reason.
pub(super) fn order_of_work(layout: &Layout, lengths: Lengths) -> Vec<String> {
    let design = &layout.design;
    let head = &design.head;
    let mut list = vec![
        "Sides true, and square to the face: the plates lie on them, and every bore is squared from them."
            .to_owned(),
    ];
    if head.face_veneer + head.back_veneer > NOISE {
        list.push(if head.veneers_on {
            "Veneers on: the axis is measured from the finished face.".to_owned()
        } else {
            "Veneers stay off until the bores are drilled; the core's face goes against the upright, and the figures on this sheet allow for it."
                .to_owned()
        });
    }
    list.push(
        "Mark out from three datums alone: the face for heights, the nut line along, the centre line across."
            .to_owned(),
    );
    list.push(if design.slots.is_some() {
        "Bores before slots: solid wood cannot splinter into an empty slot, and the slot's cutter leaves a clean edge across the bore afterwards. If a slot is cut already, fill it with a fitted block."
            .to_owned()
    } else {
        "Bores now, while the head is solid: there is no slot for the wood to splinter into."
            .to_owned()
    });
    if let Some(mouth) = design.bores.counterbore {
        list.push(format!(
            "Counterbores, {} across and {} deep from the side, with a cutter that is led by the bore: the bush seats on their floor.",
            lengths.show(mouth.diameter),
            lengths.show(mouth.depth)
        ));
    }
    if let Some(slots) = &design.slots {
        list.push(match slots.ramp {
            Some(_) => {
                "Then the slots, then their ramps: the ramp runs out into the slot.".to_owned()
            }
            None => "Then the slots.".to_owned(),
        });
    }
    list.push(match &design.machines.screws {
        Some(screws) => format!(
            "Fit the machines dry, every barrel turning freely, before the holes for the screws: {} across, {} deep. They cannot be moved afterwards.",
            lengths.show(screws.pilot),
            lengths.show(screws.depth)
        ),
        None => "Fit the machines dry, every barrel turning freely, before the screw holes: these are spotted through the plate and cannot be moved afterwards."
            .to_owned(),
    });
    list.push(if head.edge_radius > NOISE {
        format!(
            "Round the edges ({}) only now: the square edges were needed against upright and block.",
            lengths.show(head.edge_radius)
        )
    } else {
        "Break or round the edges only now: the square edges were needed against upright and block."
            .to_owned()
    });
    list.push(
        "Finish; then clear the bores of it by hand: a drop of hard finish binds a barrel."
            .to_owned(),
    );
    list
}

/// What is read before the steps.
pub(super) const FIRST: &str = "Read the other pages first. Eye protection on, head, block and rig clamped, chuck key out, no gloves, hair and sleeves tied back.";

/// The steps at the press.
pub(super) fn steps(layout: &Layout, lengths: Lengths) -> Vec<String> {
    let wedge = layout.wedge_angle();
    let block = layout.blocks.first();
    let behind = block.and_then(Block::shim_behind_block);
    let with_shim = behind.map_or_else(String::new, |thick| {
        format!(
            ", the shim of {} between the two over the full length,",
            lengths.show(thick)
        )
    });
    let mut list = vec![format!(
        "The block is screwed or clamped to the upright{with_shim} before the head goes in, as the rig's paper shows. Stand the head on edge as drawn: one side up under the block, the front face flat against the upright. You look at the head's back."
    )];
    if behind.is_none()
        && let Some(shim) = block.and_then(|block| figures::shim(block, lengths))
    {
        list.push(format!("Put the shim of {shim}, over the full length."));
    }
    list.push(if wedge.abs() > NOISE {
        format!(
            "Push the wedge of {} under the lower side until the upper side lies against the block from end to end and no light shows.",
            show_degrees(wedge.abs())
        )
    } else {
        "Press the upper side against the block from end to end until no light shows.".to_owned()
    });
    list.push(meet_marks(layout));
    let first = match layout.sides_with_pitches() {
        0 => "Bring the hole over the bore under the bit, table locked.",
        _ => {
            "Begin with the hole over bore 1, next to the nut (T1 on the treble side, B1 on the bass side): bring it under the bit, table locked (holes count from your left)."
        }
    };
    list.push(format!(
        "{first} Lower the still bit into the hole; it must slide in without pushing the rig. Then clamp the rig, and lift the bit out."
    ));
    list.push(format!(
        "Set the depth stop. At a press: machine off, bring the tip of the bit level with the block's top and let the quill travel {stop} from there. (Over a hole lay a flat strip across, touch it with the tip, and add the strip's thickness to the travel.) In a hand drill: collar {stop} from the tip; drill until it rests on the block. Lower the still bit into the hole, then start the machine.",
        stop = stop_in_words(layout, lengths)
    ));
    list.push(
        "Drill in short pecks down to the stop; draw back to clear the chips, but do not leave the block while the bit turns."
            .to_owned(),
    );
    list.push(
        "Stop the machine and let the bit stand still before you lift it out and move the rig."
            .to_owned(),
    );
    let pinned = layout.sides_with_pitches();
    let turn = "Turn the head round for the other side: the nut now points the other way.";
    let mut other = match pinned {
        0 => turn.to_owned(),
        _ => format!("Pin out. {turn}"),
    };
    if pinned > 0 {
        let more = if pinned == 1 {
            "Where the side has more than one bore: after bore 1"
        } else {
            "After bore 1"
        };
        list.push(format!(
            "{more} put a pin through block and bore. Look at the marks once more; leave the pin in, clear of the chuck, while you drill the other bores of this side: for each, bring its hole under the bit and clamp the rig anew."
        ));
    }
    if layout.blocks.len() > 1 {
        other.push_str(" Change the block: each side has its own.");
    }
    let (meeting, all) = (
        layout
            .bores()
            .filter(|bore| bore.end != BoreEnd::Blind)
            .count(),
        layout.bores().count(),
    );
    if meeting > 0 {
        let which = if meeting == all {
            "Bores of the two sides meet"
        } else {
            "Bores that have one opposite meet it"
        };
        other.push_str(&format!(
            " {which} in the middle: feed gently near the end, where the bit breaks through."
        ));
    }
    list.push(other);
    list
}

/// How the head is slid along until marks and lines agree.
fn meet_marks(layout: &Layout) -> String {
    let grooves = layout.blocks.iter().any(|block| !block.grooves.is_empty());
    let pitches = layout.sides_with_pitches();
    let hole = if pitches == 0 {
        "the hole"
    } else {
        "each hole"
    };
    let lines = if grooves {
        String::new()
    } else {
        format!("This block has no lines: square the middle of {hole} down its front first. ")
    };
    let on = if grooves { " on the block" } else { "" };
    // One mark alone meets its line wherever the set's pitch is wrong: it shows nothing.
    if pitches == 0 {
        return format!(
            "{lines}Slide the head until the mark on its back edge meets its line{on}. Clamp head and neck to the upright. Look at the mark again: clamping moves things."
        );
    }
    let all = match (pitches, grooves) {
        (1, _) => "where there is more than one, all of them, not the nearest one",
        (_, true) => "all marks against all lines, not the nearest one",
        (_, false) => "all of them, not the nearest one",
    };
    format!(
        "{lines}Slide the head until every mark on its back edge meets its line{on}: {all}. Clamp head and neck to the upright. Look at all marks again: clamping moves things. If one will not meet, stop: a mark or the set's pitch was measured wrong."
    )
}

/// One figure, or one for each side.
fn stop_in_words(layout: &Layout, lengths: Lengths) -> String {
    let stops = layout.stops();
    let each: Vec<String> = stops
        .iter()
        .map(|stop| {
            let figure = lengths.show(stop.figure);
            if stops.len() == 1 {
                figure
            } else {
                format!("{figure} ({})", stop.serves.name())
            }
        })
        .collect();
    each.join(" or ")
}

/// Whether the tip of the bit is a point or the cutting edge of a flat end.
pub(super) fn tip(layout: &Layout) -> &'static str {
    match layout.design.bores.point {
        Point::Flat => "The tip is the flat cutting edge; a centre spur does not count.",
        Point::Angle(_) => "The tip is the very point of the bit.",
    }
}

/// The checks that drew a caution: whether to carry on, and what was found.
pub(super) fn from_checks(report: &Report, lengths: Lengths) -> Vec<(&'static str, String)> {
    report
        .worst_first()
        .into_iter()
        .filter(|finding| finding.verdict != Verdict::Clear)
        .map(|finding| {
            // Some places are no place in a sentence ("from the block's top"), so it stands by the title.
            let place = if finding.at.is_empty() {
                String::new()
            } else {
                format!(", {}", finding.at)
            };
            let advice = finding
                .advice
                .as_ref()
                .map_or(String::new(), |advice| format!(" In the design: {advice}"));
            let (word, what) = next_step(finding.code);
            let text = format!(
                "{what} {} ({}){place}: {}, {} ({}).{advice}",
                finding.title,
                finding.code,
                lengths.value(finding.value, finding.unit),
                limit_words(finding, lengths),
                figures::basis_in_words(&finding.basis)
            );
            (word, text)
        })
        .collect()
}

/// Cautions for people.
pub(crate) const PEOPLE: [&str; 6] = [
    "Eyes: wear protection from the first hole to the last sweep.",
    "Clamping: head, block and rig are clamped; a hand never holds the work. If something catches, stop the machine first and do not reach in.",
    "Chuck key: out of the chuck and back in its place before the machine is switched on.",
    "No gloves, loose sleeves, ties, rings or cords near the spindle; long hair tied back and covered.",
    "Dust: extract it at the bit, wear a mask that fits; some tropical woods harm skin and lungs.",
    "The machine's own manual, the rules where you work and trained practice come before this sheet. Never done this? Drill scrap first, beside someone who has.",
];

/// Publications for people, by body.
pub(super) fn publications() -> [String; 2] {
    [of_body("OSHA"), of_body("HSE")]
}

/// Which way the nut points.
pub(super) fn nut_way(side: Side, nut_at_left: bool) -> String {
    let hand = if nut_at_left { "left" } else { "right" };
    format!("{} side up: nut to your {hand}", capital(side.name()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::Design;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    const MILLIMETRES: Lengths = Lengths { inches: false };

    fn of(change: impl FnOnce(&mut Design)) -> Layout {
        let mut design = six_string();
        change(&mut design);
        Layout::new(&design, Copy::Finished)
    }

    #[test]
    fn the_wedge_of_a_head_that_is_not_true_is_no_double() {
        let rig = |layout: &Layout| have_ready(layout, MILLIMETRES).join(" ");
        assert!(rig(&of(|_| {})).contains("(twice the taper)"));
        let uneven = rig(&of(|design| design.head.half_width_at_end.bass += 0.5));
        assert!(
            uneven.contains("(the tapers of both sides together)"),
            "{uneven}"
        );
    }

    #[test]
    fn one_barrel_a_side_has_no_other_marks_and_no_other_bores() {
        let said = |layout: &Layout| {
            let mut all = have_ready(layout, MILLIMETRES);
            all.extend(steps(layout, MILLIMETRES));
            all.join(" ")
        };
        for scribe in [true, false] {
            let alone = said(&of(|design| {
                design.machines.pitches.treble.clear();
                design.machines.pitches.bass.clear();
                if !scribe {
                    design.guide.scribe = None;
                }
            }));
            for none in [
                "all marks",
                "other bores",
                " pin ",
                "Pin ",
                "nearest",
                "pitch",
                "bore 1",
            ] {
                assert!(!alone.contains(none), "{none}: {alone}");
            }
            assert!(
                alone.contains("until the mark on its back edge meets its line"),
                "{alone}"
            );
        }
        let mixed = said(&of(|design| design.machines.pitches.bass.clear()));
        assert!(
            mixed.contains("where there is more than one, all of them"),
            "{mixed}"
        );
        assert!(
            mixed.contains("Where the side has more than one bore: after bore 1 put a pin"),
            "{mixed}"
        );
        let many = said(&of(|_| {}));
        assert!(
            many.contains("all of them, not the nearest one")
                || many.contains("all marks against all lines")
        );
        assert!(many.contains("After bore 1 put a pin"), "{many}");
    }

    #[test]
    fn a_shim_behind_the_block_goes_in_before_the_block_is_fixed() {
        let low = of(|design| design.guide.axis_height = Some(9.0));
        let list = steps(&low, MILLIMETRES);
        let wanted = "upright, the shim of 1.20 mm between the two over the full length, before";
        assert!(list[0].contains(wanted), "{}", list[0]);
        assert!(list[1].starts_with("Push the wedge"), "{}", list[1]);
        let high = of(|design| design.guide.axis_height = Some(11.0));
        let list = steps(&high, MILLIMETRES);
        assert!(!list[0].contains("shim"), "{}", list[0]);
        let wanted = "Put the shim of 0.80 mm between the head's face and the upright";
        assert!(list[1].starts_with(wanted), "{}", list[1]);
    }
}
