//! How the head stands in the rig with either side up.

use glam::DVec3;

use crate::input::Side;
use crate::layout::{Frame, Layout, OutlinePart};

use super::Wedge;

/// How the head stands with one side up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stance {
    /// The side that is up.
    pub side: Side,
    /// Where the head frame stands in the rig.
    pub head: Frame,
    /// Where the block stands in the rig.
    pub block: Frame,
    /// Packing between base and wedge, or between base and head where there is no wedge.
    pub packing: f64,
    /// x of the lower side's support: from and to.
    pub support: [f64; 2],
    /// True where the wedge's thick end lies towards +x.
    pub thick_towards_x: bool,
}

/// What one side up asks of the rig, before heights are known; x as in the rig.
pub(super) struct Raw {
    side: Side,
    /// Head in the block's own frame.
    head: Frame,
    shim: f64,
    /// Least and greatest x of the nut line's ends.
    pub nut: [f64; 2],
    /// Least and greatest x of the whole outline.
    pub reach: [f64; 2],
    /// How far the outline reaches below the upper side.
    pub deepest: f64,
    /// Ends of the straight lower side as (x, depth below the upper side), x rising.
    pub lower: [(f64, f64); 2],
}

impl Raw {
    pub fn new(layout: &Layout, side: Side) -> Option<Raw> {
        let standing = layout.standing(side)?;
        let (block, pose) = (standing.block, standing.frame);
        let head = pose.inverse();
        let (along, inward) = (pose.x.truncate(), -pose.y.truncate());
        let from = pose.origin.truncate();
        let reach = |direction: glam::DVec2| {
            let pieces = layout.outline.pieces.iter();
            let far = pieces.map(|(_, piece)| piece.reach(direction));
            far.fold(f64::NEG_INFINITY, f64::max) - from.dot(direction)
        };
        let nut = layout.outline.part(OutlinePart::Nut)?;
        let x_of = |p: glam::DVec2| (p - from).dot(along);
        let nut = [x_of(nut.start()), x_of(nut.end())];
        let other = match side {
            Side::Treble => &layout.sides.bass.line,
            Side::Bass => &layout.sides.treble.line,
        };
        let mut lower = [other.start_s, other.end_s].map(|s| {
            let p = other.at(s);
            (x_of(p), (p - from).dot(inward))
        });
        if lower[0].0 > lower[1].0 {
            lower.swap(0, 1);
        }
        Some(Raw {
            side,
            head,
            shim: block.shim.max(0.0),
            nut: [nut[0].min(nut[1]), nut[0].max(nut[1])],
            reach: [-reach(-along), reach(along)],
            deepest: reach(inward),
            lower,
        })
    }

    pub fn stance(&self, block_foot: f64, wedge: Option<&Wedge>) -> Stance {
        // Between block and upright, or (shim below zero) between head and upright.
        let raised = DVec3::new(0.0, block_foot, self.shim);
        let thick_towards_x = self.lower[0].1 > self.lower[1].1;
        let deep = self.lower[0].1.max(self.lower[1].1);
        let [start, end] = [self.lower[0].0, self.lower[1].0];
        let support = match wedge {
            // The thin end lies under the lowest end of the lower side.
            Some(wedge) if thick_towards_x => [start, start + wedge.length],
            Some(wedge) => [end - wedge.length, end],
            None => [start, end],
        };
        Stance {
            side: self.side,
            head: self.head.drawn(raised),
            block: Frame::moved(raised),
            packing: block_foot - deep - wedge.map_or(0.0, |wedge| wedge.thin),
            support,
            thick_towards_x,
        }
    }
}
