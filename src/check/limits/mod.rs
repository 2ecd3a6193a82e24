//! The one table of limits: every check with its code, its limits and their basis.
//!
//! The codes, measures and limits are the contract's (section 4); stops are that closed list. Where
//! the contract marks a limit as common practice so does the table, every other limit is our own
//! assumption. No stop is marked, so every stop is an assumption. The limits of the press are what
//! the file, or the drill table, says the press and the bit have; the table holds none of its own.

mod bores;
mod guide_and_press;
mod plates;
mod strings;
mod wood;

pub use super::rule::{Bound, Rule};

/// The rule with this code.
#[must_use]
pub fn rule(code: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.code == code)
}

/// Every check, in the order of the contract's table, then our own additions.
pub const RULES: &[Rule] = &[
    wood::WOOD_OVER,
    wood::WOOD_UNDER,
    wood::WEB,
    wood::CHEEK,
    wood::RIB,
    wood::END_WOOD,
    wood::SLOT_END,
    wood::BEARING,
    wood::RIM,
    wood::EDGES,
    wood::COUNTERBORE,
    bores::BORE_DEPTH,
    bores::CLEARANCE,
    bores::BARRELS_APART,
    bores::FAR_WOOD,
    bores::PAIR_OFFSET,
    plates::PLATE_THICKNESS,
    plates::PLATE_EVEN,
    plates::PLATE_SIDE,
    plates::EDGE_RADIUS,
    strings::HOLE_IN_SLOT,
    strings::STRING_FACE,
    strings::STRING_EDGE,
    strings::SIDE_PULL,
    strings::NUT_BREAK,
    wood::RAMP_DEPTH,
    plates::SCREW_SLOT,
    plates::SCREW_BORE,
    guide_and_press::BLOCK_WOOD,
    guide_and_press::BLOCK_GUIDED,
    guide_and_press::BLOCK_BORE,
    guide_and_press::BLOCK_AXIS,
    guide_and_press::PRESS_TRAVEL,
    guide_and_press::PRESS_FLUTES,
    guide_and_press::PRESS_DAYLIGHT,
    bores::BIT_SIZE,
    // Not in the contract's table.
    strings::STRING_WOOD,
    strings::STRING_BARREL,
    strings::STRING_NEIGHBOUR,
    strings::WINDING_WALL,
];
