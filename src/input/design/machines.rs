//! The tables that describe a set of machines.

use crate::input::sides::PerSide;

/// `[machines]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Machines {
    /// Barrel diameter.
    pub barrel_diameter: f64,
    /// Underside of the plate to the barrel's end.
    pub barrel_length: f64,
    /// Underside of the plate to the string-hole centre.
    pub string_hole: f64,
    /// Across the thickness of the head, at its widest.
    pub plate_width: f64,
    /// Plate thickness.
    pub plate_thickness: f64,
    /// Barrel axis from the plate's mid-width, + towards the face.
    pub axis_offset: f64,
    /// Gaps between neighbouring barrels, nut end first.
    pub pitches: PerSide<Vec<f64>>,
    /// Outer barrel centre to the plate's end: nut end, crest end.
    pub overhang: PerSide<[f64; 2]>,
    /// Screw pilots, if given.
    pub screws: Option<Screws>,
}

/// Screw pilots, given from the first barrel's axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Screws {
    /// (along the side, + to the crest; across, + to the face).
    pub points: Vec<[f64; 2]>,
    /// Pilot diameter.
    pub pilot: f64,
    /// Pilot depth.
    pub depth: f64,
}
