//! Screw pilots: flat-ended bores square to the side.

use glam::DVec3;

use crate::input::{Design, Side};

use super::plate::Plate;
use super::{Copy, SideLine};

/// One pilot.
#[derive(Debug, Clone, PartialEq)]
pub struct Pilot {
    /// Side it enters.
    pub side: Side,
    /// 1-based, in the order of the parameter file.
    pub number: usize,
    /// Distance along the side line from y = 0.
    pub s: f64,
    /// Centre of its mouth on the side.
    pub entry: DVec3,
    /// Unit vector into the wood.
    pub direction: DVec3,
    /// Diameter.
    pub diameter: f64,
    /// Depth, flat-bottomed.
    pub depth: f64,
}

/// Pilots of one side: points are given from the first barrel's axis, along the side towards the
/// crest and across it towards the face, alike on both sides.
pub(super) fn pilots(
    design: &Design,
    copy: Copy,
    line: &SideLine,
    plate: &Plate,
    axis_below_face: f64,
) -> Vec<Pilot> {
    let Some(screws) = &design.machines.screws else {
        return Vec::new();
    };
    let allowance = match copy {
        Copy::Finished => 0.0,
        Copy::Printed => design.print.head_allowance,
    };
    let first = plate.stations.first().copied().unwrap_or_default();
    screws
        .points
        .iter()
        .enumerate()
        .map(|(index, &[along, across])| Pilot {
            side: line.side,
            number: index + 1,
            s: first + along,
            entry: line.at(first + along).extend(across - axis_below_face),
            direction: line.inward.extend(0.0),
            diameter: screws.pilot + allowance,
            depth: screws.depth,
        })
        .collect()
}
