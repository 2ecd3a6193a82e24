//! The head as it stands at the press (contract, 3.6): on edge, face flat against the upright, one
//! side up under the block, the other on the table with a wedge between.

use glam::DVec3;

use crate::input::Side;
use crate::tolerance::NOISE;

use super::{Block, Frame, Layout};

/// One side under its block.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing<'a> {
    /// The side that is up.
    pub side: Side,
    /// The block that drills it.
    pub block: &'a Block,
    /// The block's own frame, laid into the head frame.
    pub frame: Frame,
    /// Where the upright's surface lies, along the block's z: 0, or below it by a shim that goes
    /// between block and upright.
    pub upright: f64,
    /// Where the head's face lies, along the block's z: on the upright, or above it by a shim that
    /// goes between. With the veneers still to come, the face of the core.
    pub face: f64,
    /// Where the head's back lies at the plate's middle, along the block's z; with the veneers still
    /// to come, the back of the core.
    pub back: f64,
    /// Bore and the hole that guides it, along the block's x: (bore number, hole number).
    pub guides: Vec<(usize, usize)>,
}

impl Standing<'_> {
    /// Whether the nut points to the left of a person in front of the press.
    #[must_use]
    pub fn nut_at_left(&self) -> bool {
        self.frame.x.y > 0.0
    }
}

impl Layout {
    /// One side as it stands at the press; `None` where no block serves it.
    #[must_use]
    pub fn standing(&self, side: Side) -> Option<Standing<'_>> {
        let of = self.sides.get(side);
        let first = of.bores.first()?;
        let (block, over_first) = self
            .blocks
            .iter()
            .find_map(|block| Some((block, block.hole_for(side, first.number)?)))?;
        // Treble: x runs to the crest; bass: to the nut.
        let (origin_s, x) = match side {
            Side::Treble => (first.s - over_first.x, of.line.along),
            Side::Bass => (first.s + over_first.x, -of.line.along),
        };
        let frame = Frame {
            origin: of
                .line
                .at(origin_s)
                .extend(block.axis_height - self.axis_below_face),
            x: x.extend(0.0),
            y: -of.line.inward.extend(0.0),
            z: DVec3::NEG_Z,
        };
        // With the veneers still to come, the core is as much thinner.
        let head = &self.design.head;
        let (face_veneer, back_veneer) = if head.veneers_on {
            (0.0, 0.0)
        } else {
            (head.face_veneer, head.back_veneer)
        };
        let below_face = |depth: f64| frame.local(DVec3::NEG_Z * depth).z;
        let mut guides: Vec<(usize, usize)> = of
            .bores
            .iter()
            .filter_map(|bore| Some((bore.number, block.hole_for(side, bore.number)?.number)))
            .collect();
        guides.sort_by_key(|&(_, hole)| hole);
        Some(Standing {
            side,
            block,
            frame,
            upright: -block.shim.max(0.0),
            face: below_face(face_veneer),
            back: below_face(of.plate.thickness_at_middle - back_veneer),
            guides,
        })
    }

    /// Angle between the two sides, radians: twice the taper of a true head. With one side level
    /// under the block, the other needs a wedge of this angle under it. Positive: its thick end at
    /// the nut; negative: at the crest.
    #[must_use]
    pub fn wedge_angle(&self) -> f64 {
        self.sides.treble.line.taper + self.sides.bass.line.taper
    }

    /// What that angle is, in words.
    #[must_use]
    pub fn wedge_words(&self) -> &'static str {
        let apart = self.sides.treble.line.taper - self.sides.bass.line.taper;
        if apart.abs() <= NOISE {
            "twice the taper"
        } else {
            "the tapers of both sides together"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn every_hole_stands_over_its_bore() {
        let mut design = six_string();
        design.machines.pitches.bass = vec![35.0, 36.0, 31.0];
        design.guide.axis_height = Some(9.0);
        let layout = Layout::new(&design, Copy::Finished);
        for side in Side::BOTH {
            let standing = layout.standing(side).unwrap();
            let f = standing.frame;
            assert!(f.x.cross(f.y).distance(f.z) < 1e-12, "right-handed");
            assert_eq!(standing.guides.len(), layout.sides.get(side).bores.len());
            for &(bore, hole) in &standing.guides {
                let bore = &layout.sides.get(side).bores[bore - 1];
                let hole = standing.block.holes[hole - 1];
                let mouth = f.local(bore.entry);
                assert!(mouth.distance(DVec3::new(hole.x, 0.0, hole.z)) < 1e-9);
                // The bit comes down along the block's −y.
                let down = f.local_direction(bore.direction);
                assert!(down.distance(DVec3::NEG_Y) < 1e-12);
            }
        }
        let treble = layout.standing(Side::Treble).unwrap();
        assert_eq!(treble.guides, [(1, 1), (2, 2), (3, 3)]);
        assert!(
            treble.nut_at_left(),
            "treble x runs from the nut to the crest"
        );
        let bass = layout.standing(Side::Bass).unwrap();
        assert_eq!(bass.guides, [(4, 1), (3, 2), (2, 3), (1, 4)]);
        assert!(!bass.nut_at_left(), "bass x runs from the crest to the nut");
    }

    #[test]
    fn the_face_meets_the_upright_or_the_shim() {
        let mut design = six_string();
        // h is half of 20.4. A lower block wants a shim behind itself; the face still touches.
        for (axis_height, upright, face) in [(9.0, -1.2, -1.2), (10.2, 0.0, 0.0), (11.0, 0.0, 0.8)]
        {
            design.guide.axis_height = Some(axis_height);
            let layout = Layout::new(&design, Copy::Finished);
            let standing = layout.standing(Side::Bass).unwrap();
            assert!((standing.upright - upright).abs() < 1e-9);
            assert!((standing.face - face).abs() < 1e-9);
            assert!((standing.back - face - 20.4).abs() < 1e-9);
        }
    }

    #[test]
    fn a_core_without_its_veneers_lies_on_the_upright_too() {
        let mut design = six_string();
        design.head.veneers_on = false;
        let layout = Layout::new(&design, Copy::Finished);
        let standing = layout.standing(Side::Treble).unwrap();
        assert!((standing.face - standing.upright).abs() < 1e-9);
        // 20.4 less 2.4 and 0.6.
        assert!((standing.back - standing.face - 17.4).abs() < 1e-9);
    }

    #[test]
    fn the_wedge_of_a_head_that_is_not_true_is_both_tapers_together() {
        let mut design = six_string();
        let words =
            |design: &crate::input::Design| Layout::new(design, Copy::Finished).wedge_words();
        assert_eq!(words(&design), "twice the taper");
        design.head.half_width_at_end.bass += 0.5;
        assert_eq!(words(&design), "the tapers of both sides together");
    }

    #[test]
    fn the_wedge_is_twice_the_taper() {
        let layout = Layout::new(&six_string(), Copy::Finished);
        // 4 mm of flare on each side over 184 mm.
        let by_hand = 2.0 * (4.0_f64 / 184.0).atan();
        assert!((layout.wedge_angle() - by_hand).abs() < 1e-12);
        // Laid on it, the lower side runs level: the upper side and the lower one differ by it.
        let standing = layout.standing(Side::Treble).unwrap();
        let lower = layout.sides.bass.line.along.extend(0.0);
        let slope = standing.frame.local_direction(lower);
        assert!((slope.y.atan2(slope.x) + by_hand).abs() < 1e-12);
    }
}
