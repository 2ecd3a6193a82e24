//! The guide block, its holes and the depth stop.

use crate::input::Side;
use crate::layout::{Block, Layout, Serves};
use crate::units::Lengths;

use super::escape::text;
use super::table::{Table, length, unit_note};

/// Blocks, holes, stops.
pub fn section(layout: &Layout, lengths: Lengths) -> String {
    let mut out = stops(layout, lengths);
    out.push_str(&sizes(layout, lengths));
    for block in &layout.blocks {
        out.push_str(&holes(layout, block, lengths));
    }
    out
}

fn stops(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!(
            "Depth stop, from the block's top to the tip of the bit ({})",
            unit_note(lengths)
        ),
        &["Side", "Block", "Deepest D", "Point", "Depth stop"],
    );
    for stop in layout.stops() {
        let side = match stop.serves {
            Serves::Both => "Both",
            Serves::Only(Side::Treble) => "Treble",
            Serves::Only(Side::Bass) => "Bass",
        };
        let cells = vec![
            length(stop.block, lengths),
            length(stop.deepest, lengths),
            length(stop.point, lengths),
            format!("<strong>{}</strong>", length(stop.figure, lengths)),
        ];
        table.row(side.to_owned(), cells);
    }
    let travel = layout.design.press.as_ref().map_or(String::new(), |press| {
        format!(
            "<p>The press has {} of travel.</p>\n",
            lengths.show(press.travel)
        )
    });
    format!("{}{travel}", table.draw())
}

fn sizes(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!("Guide block ({})", unit_note(lengths)),
        &[
            "Block",
            "Length",
            "Depth, along the bores",
            "Height, from the upright",
            "Axis above the upright",
            "The head asks for",
            "Shim",
        ],
    );
    for block in &layout.blocks {
        let figures = [
            block.length,
            block.depth,
            block.height,
            block.axis_height,
            block.axis_wanted,
            block.shim,
        ];
        let cells = figures.iter().map(|mm| length(*mm, lengths)).collect();
        table.row(text(block_name(block)), cells);
    }
    let first = layout.blocks.first();
    let shim = match first.and_then(Block::shim_to_lay) {
        Some((thick, between)) => format!(
            "<p>The shim of {} goes between {}{}.</p>\n",
            lengths.show(thick),
            text(between),
            if first.is_some_and(|block| block.shim < 0.0) {
                "; the table gives it with a minus"
            } else {
                ""
            }
        ),
        None => "<p>No shim is needed.</p>\n".to_owned(),
    };
    format!("{}{shim}", table.draw())
}

fn holes(layout: &Layout, block: &Block, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!(
            "Holes of the {}: from its end, above the upright, and the bores they guide ({})",
            block.title(),
            unit_note(lengths)
        ),
        &[
            "Hole",
            "x, along the block",
            "z, above the upright",
            "Diameter",
            "Guides",
        ],
    );
    for hole in &block.holes {
        let guides: Vec<String> = layout
            .bores()
            .filter(|bore| {
                block
                    .hole_for(bore.side, bore.number)
                    .is_some_and(|over| over.number == hole.number)
            })
            .map(|bore| format!("{} {}", bore.side.name(), bore.number))
            .collect();
        let cells = vec![
            length(hole.x, lengths),
            length(hole.z, lengths),
            length(hole.diameter, lengths),
            text(&guides.join(", ")),
        ];
        table.row(hole.number.to_string(), cells);
    }
    let ends = match block.serves {
        Serves::Both => {
            "x runs from the end that is nearest the nut on the treble side, and nearest the crest \
             on the bass side."
        }
        Serves::Only(Side::Treble) => "x runs from the end that is nearest the nut.",
        Serves::Only(Side::Bass) => "x runs from the end that is nearest the crest.",
    };
    format!("{}<p class=\"note\">{ends}</p>\n", table.draw())
}

/// Row head of a block.
fn block_name(block: &Block) -> &'static str {
    match block.serves {
        Serves::Both => "Both sides",
        Serves::Only(Side::Treble) => "Treble side",
        Serves::Only(Side::Bass) => "Bass side",
    }
}
