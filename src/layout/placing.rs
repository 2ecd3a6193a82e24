//! Where the sets of machines sit, and how far parts are drawn apart to be seen, in the head frame.

use crate::input::Side;

use super::{Frame, Layout};

/// Air between parts that are drawn apart, mm: enough to see between them (our choice).
pub const APART: f64 = 10.0;

impl Layout {
    /// Where a side's set of machines sits when it is mounted: origin where the first barrel's axis
    /// meets the underside of the plate, +x along the side to the crest, +y out of the wood. `None`
    /// for a side without a bore.
    #[must_use]
    pub fn set_frame(&self, side: Side) -> Option<Frame> {
        let own = self.sides.get(side);
        let x = own.line.along.extend(0.0);
        let y = -own.line.inward.extend(0.0);
        Some(Frame {
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
    use glam::DVec3;

    #[test]
    fn barrels_run_along_their_bores() {
        let mut design = six_string();
        design.head.half_width_at_end.bass = 34.0;
        let layout = Layout::new(&design, Copy::Finished);
        for side in Side::BOTH {
            let frame = layout.set_frame(side).unwrap();
            let own = layout.sides.get(side);
            assert!(frame.x.cross(frame.y).distance(frame.z) < 1e-12);
            for (bore, s) in own.bores.iter().zip(&own.plate.stations) {
                let axis = DVec3::X * (s - own.plate.stations[0]);
                assert!(frame.point(axis).distance(bore.entry) < 1e-9);
                assert!(frame.direction(-DVec3::Y).distance(bore.direction) < 1e-12);
            }
        }
    }
}
