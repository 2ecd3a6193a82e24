//! Where parts with a frame of their own stand in the head frame: guide blocks, sets of machines.

use glam::DVec3;

use crate::input::Side;

use super::{Block, Layout, Serves};

/// Air between parts that are drawn apart, mm: enough to see between them (our choice).
pub const APART: f64 = 10.0;

/// A right-handed frame: where a part's origin stands and where its axes point. No part is turned
/// inside out or scaled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// The part's origin, mm.
    pub origin: DVec3,
    /// Unit direction of the part's +x.
    pub x: DVec3,
    /// Unit direction of the part's +y.
    pub y: DVec3,
    /// Unit direction of the part's +z.
    pub z: DVec3,
}

impl Pose {
    /// The part where it was drawn.
    pub const IDENTITY: Pose = Pose {
        origin: DVec3::ZERO,
        x: DVec3::X,
        y: DVec3::Y,
        z: DVec3::Z,
    };

    /// A part that is only moved.
    #[must_use]
    pub fn moved(origin: DVec3) -> Pose {
        Pose {
            origin,
            ..Pose::IDENTITY
        }
    }

    /// A point of the part, in the outer frame.
    #[must_use]
    pub fn point(&self, own: DVec3) -> DVec3 {
        self.origin + self.direction(own)
    }

    /// A direction of the part, in the outer frame.
    #[must_use]
    pub fn direction(&self, own: DVec3) -> DVec3 {
        self.x * own.x + self.y * own.y + self.z * own.z
    }

    /// A point of the outer frame, in the part's own.
    #[must_use]
    pub fn own(&self, outer: DVec3) -> DVec3 {
        let from = outer - self.origin;
        DVec3::new(from.dot(self.x), from.dot(self.y), from.dot(self.z))
    }

    /// The pose of the outer frame as the part sees it.
    #[must_use]
    pub fn inverse(&self) -> Pose {
        Pose {
            origin: self.own(DVec3::ZERO),
            x: DVec3::new(self.x.x, self.y.x, self.z.x),
            y: DVec3::new(self.x.y, self.y.y, self.z.y),
            z: DVec3::new(self.x.z, self.y.z, self.z.z),
        }
    }

    /// The same pose, farther along a direction of the outer frame.
    #[must_use]
    pub fn drawn(&self, along: DVec3) -> Pose {
        Pose {
            origin: self.origin + along,
            ..*self
        }
    }
}

impl Layout {
    /// Where a block stands when it drills a side: its hole's axes are the bores' axes, its foot
    /// lies in the side's plane, its +z points from the face into the head. The block's face to the
    /// upright then lies `shim` below the face that lies against the upright; the model is the
    /// finished head's, whether or not the veneers are on. `None` where the block does not serve the
    /// side.
    #[must_use]
    pub fn block_pose(&self, block: &Block, side: Side) -> Option<Pose> {
        let own = self.sides.get(side);
        let (first, last) = (own.bores.first()?, own.bores.last()?);
        // Along +x: from nut to crest on the treble side, from crest to nut on the bass side.
        let (nearest, along) = match side {
            Side::Treble => (first, own.line.along),
            Side::Bass => (last, -own.line.along),
        };
        let hole = block.hole_for(side, nearest.number)?;
        let (x, y) = (along.extend(0.0), -own.line.inward.extend(0.0));
        let origin = nearest.entry - x * hole.x + DVec3::Z * hole.z;
        Some(Pose {
            origin,
            x,
            y,
            z: -DVec3::Z,
        })
    }

    /// The block that drills a side.
    #[must_use]
    pub fn block_of(&self, side: Side) -> Option<&Block> {
        self.blocks.iter().find(|block| match block.serves {
            Serves::Both => true,
            Serves::Only(own) => own == side,
        })
    }

    /// Where a side's set of machines sits when it is mounted: origin where the first barrel's axis
    /// meets the underside of the plate, +x along the side to the crest, +y out of the wood.
    #[must_use]
    pub fn set_pose(&self, side: Side) -> Option<Pose> {
        let own = self.sides.get(side);
        let x = own.line.along.extend(0.0);
        let y = -own.line.inward.extend(0.0);
        Some(Pose {
            origin: own.bores.first()?.entry,
            x,
            y,
            z: x.cross(y),
        })
    }

    /// How far a set is drawn out of its bores so that its barrels' ends stand [`APART`] clear of
    /// the block on that side.
    #[must_use]
    pub fn set_draw(&self) -> f64 {
        self.design.machines.barrel_length + self.design.guide.depth + APART
    }

    /// How far a block is drawn off the side so that it stands [`APART`] clear of the plate of the
    /// mounted set.
    #[must_use]
    pub fn block_draw(&self) -> f64 {
        self.design.machines.plate_thickness + APART
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn every_hole_lies_over_its_bore_on_either_side() {
        let mut uneven = six_string();
        uneven.head.half_width_at_end.bass = 34.0;
        uneven.machines.pitches.bass = vec![30.0, 41.0];
        uneven.guide.axis_height = Some(9.5);
        uneven.head.veneers_on = false;
        for design in [six_string(), uneven] {
            let layout = Layout::new(&design, Copy::Finished);
            let mut found = 0;
            for bore in layout.bores() {
                let block = layout.block_of(bore.side).unwrap();
                let pose = layout.block_pose(block, bore.side).unwrap();
                let hole = block.hole_for(bore.side, bore.number).unwrap();
                let mouth = pose.point(DVec3::new(hole.x, 0.0, hole.z));
                assert!(mouth.distance(bore.entry) < 1e-9, "{mouth} {}", bore.entry);
                assert!(pose.y.distance(-bore.direction) < 1e-12);
                found += 1;
            }
            assert_eq!(found, 6);
        }
    }

    #[test]
    fn poses_are_right_handed_and_come_back() {
        let layout = Layout::new(&six_string(), Copy::Finished);
        for side in [Side::Treble, Side::Bass] {
            let block = layout.block_pose(&layout.blocks[0], side).unwrap();
            for pose in [block, layout.set_pose(side).unwrap()] {
                assert!(pose.x.cross(pose.y).distance(pose.z) < 1e-12);
                let p = DVec3::new(3.0, -4.0, 5.0);
                assert!(pose.own(pose.point(p)).distance(p) < 1e-12);
                assert!(pose.inverse().point(p).distance(pose.own(p)) < 1e-12);
            }
        }
    }

    #[test]
    fn the_block_meets_the_upright_where_the_face_does_but_for_the_shim() {
        let mut design = six_string();
        design.guide.axis_height = Some(9.0);
        let layout = Layout::new(&design, Copy::Finished);
        let block = &layout.blocks[0];
        let pose = layout.block_pose(block, Side::Treble).unwrap();
        // The face lies at z = 0; the block's own z runs into the head.
        assert!((block.shim - 1.2).abs() < 1e-12);
        assert!((pose.origin.z + block.shim).abs() < 1e-12);
    }

    #[test]
    fn a_block_for_one_side_has_no_place_on_the_other() {
        let mut design = six_string();
        design.machines.pitches.bass = vec![30.0, 41.0];
        let layout = Layout::new(&design, Copy::Finished);
        assert!(layout.block_pose(&layout.blocks[0], Side::Bass).is_none());
        assert!(layout.block_pose(&layout.blocks[1], Side::Treble).is_none());
    }
}
