//! What the rig's papers say.

use crate::input::Side;
use crate::layout::{Block, Layout, RigLayout};
use crate::paper::dimension::figure_in;
use crate::tolerance::NOISE;
use crate::units::{Lengths, show_degrees};

/// How the rig is made.
pub(super) fn making(layout: &Layout, rig: &RigLayout, lengths: Lengths) -> Vec<String> {
    let mut lines = vec![
        "Plywood that lies flat. The upright's face and the base's top are the two surfaces that \
         count: keep glue and screw heads off them."
            .to_owned(),
        format!(
            "Clearance holes by ISO 273, medium: Ø{} for {}. Screws from below hold upright and \
             braces; sink their heads so that the base lies flat on the table.",
            figure_in(rig.thread.medium, lengths),
            rig.thread.thread
        ),
        "Glue and screw the braces behind the upright with a square standing on the base in front: \
         the upright must be square to the base over its whole length."
            .to_owned(),
    ];
    // A shim behind the block is there before the block is marked and fixed.
    let behind = layout.blocks.first().and_then(Block::shim_behind_block);
    let shim = behind.map_or_else(String::new, |thick| {
        format!(
            ", a shim of {} between the two over the full length,",
            lengths.show(thick)
        )
    });
    lines.push(if rig.block_screws.is_empty() {
        format!(
            "The block has no room for a screw between its holes: clamp it to the upright{}.",
            shim.trim_end_matches(',')
        )
    } else {
        format!(
            "Set the block on the upright{shim} with its foot {} above the base and level with it, its \
             left end {} from the upright's left end; mark its screws through the holes of the \
             upright, bore them small, and screw it on from behind with washers.",
            lengths.show(rig.block_foot),
            lengths.show(-rig.ends[0])
        )
    });
    if layout.blocks.len() > 1 {
        lines.push(
            "The two sides have a block each: the bass block goes on in the same place, left end \
             to left end. Mark its screws through the holes that lie behind its wood; clamp it \
             where only one does."
                .to_owned(),
        );
    }
    lines.push(format!(
        "Beyond the nut lines the upright is cut back by {}, so that nut and fingerboard clear it, \
         and the rig is open at both ends for the neck.",
        lengths.show(rig.relief)
    ));
    lines
}

/// How the rig is used.
pub(super) fn using(layout: &Layout, rig: &RigLayout, lengths: Lengths) -> Vec<String> {
    let mut steps = vec![format!(
        "Stand the rig on the press table. The block's top is {} above the table, and the bit comes \
         on top of that. Check with a square that table, upright and quill agree. For every hole: \
         lower the still bit into the block, let the rig find its place, clamp the base to the \
         table, and only then start.",
        lengths.show(rig.height_over_table())
    )];
    let block = layout.standing(Side::Treble).map(|standing| standing.block);
    if let Some(thick) = block.and_then(Block::shim_behind_block) {
        steps.push(format!(
            "Between block and upright lies the shim of {}, over the full length: it goes in before \
             the block is fixed, and stays.",
            lengths.show(thick)
        ));
    } else if let Some((thick, between)) = block.and_then(Block::shim_to_lay) {
        steps.push(format!(
            "Put a shim of {} between {between}.",
            lengths.show(thick)
        ));
    }
    if !layout.design.head.veneers_on {
        steps.push(
            "The head comes here before its veneers: the face of its core lies on the upright."
                .to_owned(),
        );
    }
    let packing = match super::one_packing(rig) {
        Some(both) => lengths.show(both),
        None => {
            let stances = [&rig.stances.treble, &rig.stances.bass];
            let [treble, bass] = stances.map(|stance| lengths.show(stance.packing));
            format!("{treble}, bass side up {bass}")
        }
    };
    steps.push(format!(
        "Stand the head on edge, its face flat to the upright, treble side up, the neck out to the \
         left. Heads differ in width while the block stays where it is: packing makes up the \
         difference. This head wants {packing}."
    ));
    steps.push(match rig.wedge {
        Some(wedge) => format!(
            "Slide the wedge of {} ({}) between packing and head until the upper side \
             presses up under the block, its thick end towards the {}. Ten millimetres of sliding \
             lift the head by {}. No light may show anywhere between side and block.",
            show_degrees(wedge.angle),
            layout.wedge_words(),
            if layout.wedge_angle() > 0.0 {
                "nut"
            } else {
                "crest"
            },
            lengths.show(10.0 * wedge.angle.tan())
        ),
        None if layout.wedge_angle().abs() <= NOISE => {
            "The sides are parallel: no wedge. Add card or veneer to the packing until the upper \
             side presses up under the block and no light shows between."
                .to_owned()
        }
        None => format!(
            "The sides lie {} to one another, which a loose wedge of this rig does not serve: \
             shape the packing to the lower side, so that the upper one lies level under the block.",
            show_degrees(layout.wedge_angle().abs())
        ),
    });
    let mark = match layout.sides_with_pitches() {
        0 => "the mark",
        _ => "every mark",
    };
    steps.push(format!(
        "Slide the head until {mark} on its back edge meets its line on the block, clamp the head to \
         the upright, and look at {mark} again before drilling by the setup sheet."
    ));
    // Packing that is shaped to a side lies as the wedge would.
    let turned = match rig.wedge {
        Some(_) => "head and wedge",
        None if layout.wedge_angle().abs() <= NOISE => "the head",
        None => "head and packing",
    };
    steps.push(format!(
        "For the bass side turn {turned} end for end: bass side up, the neck out to the right."
    ));
    steps
}

/// Cautions for people, the rig's own first; only of what this rig has.
pub(super) fn cautions(rig: &RigLayout) -> Vec<String> {
    let under = if rig.wedge.is_some() {
        "wedge"
    } else {
        "packing"
    };
    let mut lines = vec![
        "Never drill with the base loose: a bit that catches swings rig and head round. Clamp the \
         base at two places; a hand never holds rig, head or block."
            .to_owned(),
        format!(
            "Before every hole look whether the {under} is still tight and the head's clamp still \
             holds. Stop the machine before moving anything."
        ),
    ];
    if !rig.block_screws.is_empty() {
        lines.push(
            "The block's screws end inside the block: see that none reaches a guide hole before a \
             bit goes in."
                .to_owned(),
        );
    }
    lines.push(
        "Eye protection on; chuck key out of the chuck; no gloves, loose sleeves or cords, long \
         hair tied back; extract the dust. The machine's own manual, the rules where you work and \
         trained practice come before this sheet."
            .to_owned(),
    );
    lines
}
