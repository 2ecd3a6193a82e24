//! What can be done, in words: reaming, plugs, single machines, and which of them to do.

use crate::check::Verdict;
use crate::tolerance::NOISE;
use crate::units::{Lengths, show_degrees};
use crate::wording::capital;

use super::super::{Centred, PLUG_WALL, Plug, Reaming, Remedy, Rescue, Single, WoodLeft};
use super::{beyond, bores, shift, size};

pub(super) fn reaming(rescue: &Rescue, lengths: Lengths) -> String {
    let limit = format!(
        "{} ({})",
        lengths.show(rescue.loosest.clearance),
        rescue.loosest.basis.name()
    );
    let mut text = match &rescue.reaming {
        Some(reaming) => format!(
            "{} with a bit of {}: then at least {} is left all round, the plate {}. A barrel is {} loose in \
             it, no more than {limit}, and can lean {}.{}",
            capital(&bores(&reaming.numbers)),
            size(&reaming.bit, lengths),
            lengths.show(reaming.settled.gap),
            shift(reaming.settled.shift, reaming.settled.turn, lengths),
            lengths.show(reaming.clearance),
            show_degrees(reaming.lean),
            after(reaming, lengths)
        ),
        None if !rescue.faulty.is_empty() => {
            let numbers: Vec<usize> = rescue.faulty.iter().map(|bore| bore.number).collect();
            let is = if numbers.len() == 1 { "is" } else { "are" };
            let what = match rescue.too_wide_and_open() {
                [_, open] if open.is_empty() => "too wide",
                [wide, _] if wide.is_empty() => "open",
                _ => "too wide or open",
            };
            format!(
                "No bit will do: {} {is} {what} already, and reaming only widens.",
                bores(&numbers)
            )
        }
        None => format!(
            "No bit frees it without leaving a barrel looser than {limit}: it would lean under the string."
        ),
    };
    if let Some(loose) = &rescue.too_loose {
        text.push_str(&format!(
            " {}{} would want a bit of {}: {} loose, more than {limit}.",
            capital(&bores(&loose.numbers)),
            if loose.numbers.len() < rescue.bores.len() {
                " alone"
            } else {
                ""
            },
            size(&loose.bit, lengths),
            lengths.show(loose.clearance)
        ));
    }
    text
}

/// Cover and wood after reaming.
fn after(reaming: &Reaming, lengths: Lengths) -> String {
    let mut text = if reaming.covered >= 0.0 {
        format!(
            " The plate still reaches {} past it.",
            lengths.show(reaming.covered)
        )
    } else {
        format!(
            " But it shows {} beside the plate, so this will not do.",
            lengths.show(-reaming.covered)
        )
    };
    let over = beyond(&reaming.room, lengths);
    if !over.is_empty() {
        text.push_str(&format!(
            " But it then stands {}, so this will not do.",
            over.join(", ")
        ));
    }
    text.push_str(&wood(&reaming.wood, lengths, false));
    text
}

/// Wood left: what is not clear, or all of it.
fn wood(left: &[WoodLeft], lengths: Lengths, all: bool) -> String {
    let mut text = String::new();
    for wood in left {
        if wood.verdict == Verdict::Clear && !all {
            continue;
        }
        let word = match wood.verdict {
            Verdict::Clear => "clear",
            Verdict::Caution => "caution",
            Verdict::Stop => "stop",
        };
        text.push_str(&format!(
            " {}: {} left, at least {} wanted ({}): {word}.",
            wood.title,
            lengths.show(wood.value),
            lengths.show(wood.limit),
            wood.basis.name()
        ));
    }
    text
}

pub(super) fn plugging(rescue: &Rescue, lengths: Lengths) -> String {
    let numbers: Vec<usize> = rescue.plugs.iter().map(|plug| plug.old.number).collect();
    let mut text = if rescue.remedy == Remedy::Neither {
        format!("It would take plugs in {}, drilled anew", bores(&numbers))
    } else {
        format!("Plug {} and drill anew", bores(&numbers))
    };
    if let Some(plugged) = &rescue.plugged {
        text.push_str(&format!(
            "; the plate then sits {}.",
            shift(plugged.shift, plugged.turn, lengths)
        ));
    }
    for plug in &rescue.plugs {
        text.push_str(&format!(
            " Bore {}: {}",
            plug.old.number,
            one_plug(plug, lengths)
        ));
    }
    text
}

/// One plug in words: size, overlap, cover, wood.
#[must_use]
pub fn one_plug(plug: &Plug, lengths: Lengths) -> String {
    let about = match plug.centred {
        Centred::New => "about the new centre",
        Centred::Old => "about the old bore",
    };
    let overlap = if plug.overlap.width > 0.0 {
        format!(
            "old and new overlap over {} ({:.0} % of the new bore's area)",
            lengths.show(plug.overlap.width),
            plug.overlap.share * 100.0
        )
    } else {
        format!(
            "{} of wood stands between old and new",
            lengths.show(-plug.overlap.width)
        )
    };
    let ring = if plug.ring >= PLUG_WALL - NOISE {
        format!(
            "{} of plug stays round the new bore",
            lengths.show(plug.ring)
        )
    } else if plug.ring > 0.0 {
        format!(
            "only {} of plug stays at its thinnest, and may break up under the bit",
            lengths.show(plug.ring)
        )
    } else {
        format!(
            "the new bore runs {} past the plug into the wood: the glue must have set",
            lengths.show(-plug.ring)
        )
    };
    let hidden = if plug.covered >= 0.0 {
        format!("the plate hides it by {}", lengths.show(plug.covered))
    } else {
        format!(
            "the repair shows {} beside the plate",
            lengths.show(-plug.covered)
        )
    };
    format!(
        "plug {} {about}; {overlap}; {ring}; {hidden}.{}",
        plug.size.name,
        wood(&plug.wood, lengths, true)
    )
}

pub(super) fn single_machines(single: &Single, lengths: Lengths) -> String {
    let length = single.nearest.map_or(String::new(), |nearest| {
        format!(
            " Their plates may be no longer than {}.",
            lengths.show(nearest)
        )
    });
    if !single.spares() {
        // One that stays may be as loose as the design's own; one that leans is loose only once it is reamed.
        let mut by: Vec<(bool, f64, Vec<usize>)> = Vec::new();
        for &(number, most) in &single.too_loose {
            let reamed = single.ream.iter().any(|(ream, _)| *ream == number);
            let same = |one: &&mut (bool, f64, Vec<usize>)| {
                one.0 == reamed && (one.1 - most).abs() < NOISE
            };
            match by.iter_mut().find(same) {
                Some((_, _, numbers)) => numbers.push(number),
                None => by.push((reamed, most, vec![number])),
            }
        }
        let each: Vec<String> = by
            .iter()
            .map(|(reamed, most, numbers)| {
                let (most, bores) = (lengths.show(*most), bores(numbers));
                if *reamed {
                    format!("{bores}, reamed until a barrel goes in, would leave it more than {most} loose")
                } else {
                    format!("in {bores} a barrel would be more than {most} loose")
                }
            })
            .collect();
        return format!(
            "With a plate each they would not spare the wood: {}.",
            each.join(", ")
        );
    }
    if single.ream.is_empty() {
        return format!(
            "With a plate each, and barrels alike, they would go into the bores as they are: no plug, no reaming.{length}"
        );
    }
    let each: Vec<String> = single
        .ream
        .iter()
        .map(|(number, bit)| format!("bore {number} with a bit of {}", size(bit, lengths)))
        .collect();
    format!(
        "With a plate each, and barrels alike, they would spare the wood: only ream {}.{length}",
        each.join(", ")
    )
}

pub(super) fn what_to_do(rescue: &Rescue) -> String {
    match (rescue.remedy, &rescue.reaming) {
        (Remedy::Nothing, _) => "Nothing: fit the machines as the head is.".to_owned(),
        (Remedy::Ream, Some(reaming)) => {
            format!(
                "Ream {} with a {} bit.",
                bores(&reaming.numbers),
                reaming.bit.name
            )
        }
        (Remedy::Neither, _) => {
            let single = rescue.single.as_ref().is_some_and(Single::spares);
            let [wide, open] = rescue.too_wide_and_open();
            // What shows beside the plate no thicker barrel of such a plate would fill.
            let instead = if !open.is_empty() || !(wide.is_empty() || rescue.shows.is_empty()) {
                "Let new wood into the head before it is drilled again, or make it anew"
            } else if !wide.is_empty() {
                "Look for a set with thicker barrels"
            } else if single {
                "Take single machines"
            } else {
                "Look for a set nearer to these bores"
            };
            format!("Neither reaming nor plugs will do with this set. {instead}.")
        }
        _ => {
            let each: Vec<String> = rescue
                .plugs
                .iter()
                .map(|plug| format!("bore {} with a plug of {}", plug.old.number, plug.size.name))
                .collect();
            format!("Plug and drill anew: {}.", each.join(", "))
        }
    }
}
