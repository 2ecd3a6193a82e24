//! The work at the bench, step by step.

use crate::layout::Layout;
use crate::tolerance::NOISE;
use crate::units::Lengths;

use super::words::{bores, size};
use super::{Centred, Remedy, Rescue};

/// Less than this no cutter tells apart, mm.
const SEEN: f64 = 0.05;

/// The work at the bench, step by step.
#[must_use]
pub fn steps(layout: &Layout, rescue: &Rescue, lengths: Lengths) -> Vec<String> {
    let dry = "Put the machines in dry. Every barrel must turn freely with the plate flat on the side, before a screw hole is made.";
    match (rescue.remedy, &rescue.reaming) {
        (Remedy::Nothing, _) => vec![dry.to_owned()],
        (Remedy::Neither, _) => vec![
            "Do not drill. The drawing shows what the plugs would come to; the words above say what stops them."
                .to_owned(),
        ],
        (Remedy::Ream, Some(reaming)) => vec![
            format!(
                "Measure the bit: {}. Try it in scrap, and a barrel in the hole.",
                size(&reaming.bit, lengths)
            ),
            "If the slots are cut, press a fitted block into each: the bit must not grab at their edges."
                .to_owned(),
            "Clamp the head with the side level. Let the still bit settle in the bore, so that it is led by the bore and not by the block."
                .to_owned(),
            format!(
                "Ream {} as deep as the bores are ({}), slowly, clearing the chips.{}",
                bores(&reaming.numbers),
                depths(rescue, &reaming.numbers, lengths),
                if reaming.numbers.len() < rescue.bores.len() {
                    " The others stay as they are."
                } else {
                    ""
                }
            ),
            dry.to_owned(),
        ],
        _ => plug_steps(layout, rescue, lengths, dry),
    }
}

/// The design's depth of these bores at the full diameter, each once.
fn depths(rescue: &Rescue, numbers: &[usize], lengths: Lengths) -> String {
    let own = rescue.bores.iter();
    let own = own.filter(|bore| numbers.contains(&bore.number));
    let mut shown: Vec<String> = own.map(|bore| lengths.show(bore.depth)).collect();
    shown.dedup();
    format!("{} by the design", shown.join(", "))
}

fn plug_steps(layout: &Layout, rescue: &Rescue, lengths: Lengths, dry: &str) -> Vec<String> {
    let mouth = layout.design.bores.counterbore;
    let mut list = vec![
        "If the slots are cut, press a fitted block into each; the plug runs through it, and the slot is cleared again afterwards."
            .to_owned(),
    ];
    for plug in &rescue.plugs {
        let centre = plug.centre();
        let deep = lengths.show(plug.old.depth);
        // A square bore that is wide but in its place leads the cutter; one as wide as its plug wants none.
        let in_place = centre.distance(plug.old.centre) < SEEN && plug.old.slope.length() < NOISE;
        if in_place && plug.size.diameter - plug.old.diameter < SEEN {
            list.push(format!(
                "Bore {}: it takes a plug of {} as it is, {deep} long. Clean its wall, and try the plug dry.",
                plug.old.number, plug.size.name
            ));
            continue;
        }
        let led = match plug.centred {
            Centred::New if !in_place => {
                "The old bore does not lead the cutter there: guide it with a block or a bush, clamped."
            }
            Centred::New | Centred::Old => "A pin in the old bore leads the cutter.",
        };
        list.push(format!(
            "Bore {}: open it to {} as deep as the bore is, {deep} (the length of its plug), its centre {} from the nut line along the side and {} below the face. {led}",
            plug.old.number,
            plug.size.name,
            lengths.show(centre.x),
            lengths.show(rescue.axis_below_face - centre.y)
        ));
    }
    list.push(
        "Glue in plugs of the same wood, their grain running with the head's, a hair proud; let the glue cure, then plane them level with the side."
            .to_owned(),
    );
    let numbers: Vec<usize> = rescue.plugs.iter().map(|plug| plug.old.number).collect();
    let kept: Vec<usize> = rescue
        .bores
        .iter()
        .map(|bore| bore.number)
        .filter(|number| !numbers.contains(number))
        .collect();
    let places: Vec<String> = rescue
        .plugs
        .iter()
        .map(|plug| {
            format!(
                "{} at {} and {} below the face",
                plug.old.number,
                lengths.show(plug.new.x),
                lengths.show(rescue.axis_below_face - plug.new.y)
            )
        })
        .collect();
    let guide = if kept.is_empty() {
        "Set the guide block as for a new head".to_owned()
    } else {
        format!("Pin the guide block through {}", bores(&kept))
    };
    list.push(format!(
        "{guide}, set the depth stop of the setup sheet ({} from the block's top to the bit's tip), and drill {} anew (along the side from the nut line: {}).",
        lengths.show(layout.stop(rescue.side).figure),
        bores(&numbers),
        places.join(", ")
    ));
    // The plug took the old mouth with it.
    if let Some(mouth) = mouth {
        list.push(format!(
            "Cut the counterbore of {} anew, {} across and {} deep from the side, with a cutter that is led by the new bore.",
            bores(&numbers),
            lengths.show(mouth.diameter),
            lengths.show(mouth.depth)
        ));
    }
    list.push(dry.to_owned());
    list
}
