//! `[drilling]`: how far the maker's drilling and the maker of the machines scatter. What `fit`
//! reckons with; no position depends on it.

use super::defaults::{
    DRILLING_GROWTH, DRILLING_PITCH, DRILLING_POSITION, DRILLING_SQUARENESS, DRILLING_WANDER,
    SQUARENESS_BELOW,
};
use super::field::Sign;
use super::reader::Reader;

/// Scatter of bores and barrels. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drilling {
    /// A bore's centre at the side, along and across: standard deviation of each.
    pub position: f64,
    /// Lean of the rig against the side, along and across: standard deviation of each, radians.
    pub squareness: f64,
    /// Drift of the bit by the barrel's end, along and across: standard deviation of each.
    pub wander: f64,
    /// How much wider than its bit a bore comes out on average.
    pub growth: f64,
    /// A barrel's place on its plate, along it: standard deviation.
    pub pitch: f64,
}

pub(crate) fn read(r: Reader<'_>) -> Option<Drilling> {
    let length = |name: &str, default: f64| r.length(name, Sign::ZeroOrMore).or(default);
    let position = length("position", DRILLING_POSITION);
    let fits = |degrees: f64| (0.0..SQUARENESS_BELOW).contains(&degrees);
    let squareness = r
        .degrees("squareness", "at least 0 and below 5 degrees", fits)
        .or(DRILLING_SQUARENESS);
    let wander = length("wander", DRILLING_WANDER);
    let growth = length("growth", DRILLING_GROWTH);
    let pitch = length("pitch", DRILLING_PITCH);
    Some(Drilling {
        position: position?,
        squareness: squareness?.to_radians(),
        wander: wander?,
        growth: growth?,
        pitch: pitch?,
    })
}
