//! `block-wood`, `block-guided`, `block-bore`, `block-axis`: the guide block.

use glam::DVec2;

use crate::input::Unit;
use crate::input::defaults::SHORTEST;
use crate::layout::{Block, Groove, Layout};
use crate::plane::Region;
use crate::tolerance::NOISE;
use crate::units::Lengths;

use super::at::{Words, words};
use super::measure::{Measure, guard};

/// A groove below this in width or depth is none. The reader takes no shorter length; this is for designs that
/// no reader saw.
const LEAST_GROOVE: f64 = SHORTEST;

/// Wood around each hole: to the upright, to the far face, to the ends, to the next hole, to every
/// scribe groove; and around the grooves: to the ends and to one another. Holes and grooves run
/// right through alike, so all of it is measured in the block's end view.
pub(super) fn wood(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    for block in &layout.blocks {
        holes(block, &mut list);
        grooves(block, &mut list);
    }
    list
}

fn holes(block: &Block, list: &mut Vec<Measure>) {
    let ends: &[&str] = &["guide.end_margin", "guide.bush_diameter"];
    let across: &[&str] = &["guide.height", "guide.axis_height", "guide.bush_diameter"];
    for hole in &block.holes {
        let radius = hole.diameter / 2.0;
        let mut add = |value: f64, to: Words, keys| {
            let at = words!(block.title(), ", hole ", hole.number, " to ").and_all(to);
            list.push(Measure::new(value - radius, at, keys));
        };
        add(hole.z, "the upright".into(), across);
        add(
            block.height - hole.z,
            "the face away from the upright".into(),
            across,
        );
        add(hole.x, "the block's end".into(), ends);
        add(block.length - hole.x, "the block's end".into(), ends);
        for next in block
            .holes
            .iter()
            .filter(|next| next.number == hole.number + 1)
        {
            add(
                next.x - hole.x - next.diameter / 2.0,
                words!("hole ", next.number),
                &["machines.pitches", "machines.over_outer_barrels"],
            );
        }
        // Grooves are all alike: one farther along than the nearest is farther off.
        let along = |groove: &Groove| (groove.x - hole.x).abs();
        let nearest = block
            .grooves
            .iter()
            .map(along)
            .fold(f64::INFINITY, f64::min);
        for groove in &block.grooves {
            if along(groove) > nearest + NOISE {
                continue;
            }
            let section = section(block, groove);
            let centre = DVec2::new(hole.x, hole.z);
            let distance = if section.contains(centre) {
                0.0
            } else {
                section
                    .boundary
                    .iter()
                    .map(|piece| piece.distance_to_point(centre))
                    .fold(f64::INFINITY, f64::min)
            };
            add(
                distance,
                "the scribe groove".into(),
                &["guide.scribe", "guide.height", "guide.bush_diameter"],
            );
        }
    }
}

/// A groove seen along its length.
fn section(block: &Block, groove: &Groove) -> Region {
    let half = groove.width / 2.0;
    Region::polygon(&[
        DVec2::new(groove.x - half, block.height),
        DVec2::new(groove.x, block.height - groove.depth),
        DVec2::new(groove.x + half, block.height),
    ])
}

fn grooves(block: &Block, list: &mut Vec<Measure>) {
    let keys = &["guide.scribe"];
    let name = block.title();
    for (index, groove) in block.grooves.iter().enumerate() {
        let half = groove.width / 2.0;
        let at = |to: Words| words!(name, ", groove ", index + 1, " to ").and_all(to);
        list.push(Measure::new(
            groove.x - half,
            at("the block's end".into()),
            keys,
        ));
        list.push(Measure::new(
            block.length - groove.x - half,
            at("the block's end".into()),
            keys,
        ));
        if let Some(next) = block.grooves.get(index + 1) {
            let flat = next.x - groove.x - half - next.width / 2.0;
            list.push(Measure::new(flat, at(words!("groove ", index + 2)), keys));
        }
        let least = groove.width.min(groove.depth);
        guard(
            list,
            Measure::new(least, at("nothing: it is too small".into()), keys)
                .stop_below(LEAST_GROOVE),
        );
    }
}

/// Guided length over the bit's diameter; a ratio. A bush guides over the same length.
pub(super) fn guided(layout: &Layout) -> Vec<Measure> {
    let design = &layout.design;
    vec![Measure::new(
        design.guide.depth / design.bores.diameter,
        "every guide hole",
        &["guide.depth"],
    )]
}

/// Guide bore less the bit's diameter: the bit is as wide as the head's bores. In a block that
/// takes bushes the guide bore is the bush's own, but the bit has to pass the block's hole as well.
/// In the printed copy the block's holes carry their allowance; bit and bush are what they are.
pub(super) fn bore(layout: &Layout) -> Vec<Measure> {
    let design = &layout.design;
    let hole = layout
        .blocks
        .iter()
        .flat_map(|block| &block.holes)
        .map(|hole| hole.diameter)
        .fold(f64::INFINITY, f64::min);
    let guiding = match design.guide.bush_diameter {
        Some(_) => design.guide.bore_diameter.min(hole),
        None => hole,
    };
    vec![Measure::new(
        guiding - design.bores.diameter,
        "every guide hole",
        &[
            "guide.bore_diameter",
            "guide.bush_diameter",
            "bores.diameter",
        ],
    )]
}

/// Height of the holes' axes against the height that the head asks for; the shim in words.
pub(super) fn axis(layout: &Layout) -> Vec<Measure> {
    layout
        .blocks
        .iter()
        .map(|block| {
            let lengths = Lengths {
                inches: layout.design.unit == Unit::Inch,
            };
            let where_to = block.shim_to_lay().map_or_else(
                || "no shim".to_owned(),
                |(thick, between)| format!("shim of {} between {between}", lengths.show(thick)),
            );
            Measure::new(
                block.shim.abs(),
                format!("{}, {where_to}", block.title()),
                &["guide.axis_height"],
            )
        })
        .collect()
}
