//! The guide block's depth and the bushes it holds.

use crate::layout::Layout;

use super::{Movable, Number};

/// Shortest block searched, mm.
const SHORTEST: f64 = 0.5;
/// Widest bush and deepest block searched, mm.
const GREATEST: f64 = 100.0;

/// The block along the bores: what guides the bit, and what the press has room for.
pub(super) fn depth(layout: &Layout) -> Movable<'_> {
    let here = layout.design.guide.depth;
    Movable {
        number: Number::BlockDepth,
        here: Some(here),
        span: [SHORTEST, GREATEST.max(2.0 * here)],
        checks: vec![
            "block-guided",
            "press-travel",
            "press-flutes",
            "press-daylight",
        ],
        change: Box::new(move |value| {
            let mut design = layout.design.clone();
            design.guide.depth = value;
            design
        }),
    }
}

/// Outside of bushes pressed into the block, from the bit's diameter up.
pub(super) fn bush(layout: &Layout) -> Movable<'_> {
    let from = layout.design.bores.diameter;
    Movable {
        number: Number::Bush,
        here: layout.design.guide.bush_diameter,
        span: [from, GREATEST.max(2.0 * from)],
        checks: vec!["block-wood"],
        change: Box::new(move |value| {
            let mut design = layout.design.clone();
            design.guide.bush_diameter = Some(value);
            design
        }),
    }
}
