//! The only truth about positions: outline, stations, bores, slots, ramps, pilots, guide block,
//! strings, plates. Everything downstream reads from here and computes no position again.
//!
//! Frame (contract, section 1): origin where nut line, centre line and front face meet; +y to the
//! crest, +x to the treble side, +z out of the front face. Millimetres and radians.

mod block;
mod bore;
mod deeper;
mod drilled;
mod drilled_faults;
mod faults;
mod frame;
mod operation;
mod outline;
mod pair;
mod pilot;
mod placing;
mod plate;
mod rig;
mod rig_holes;
mod side_line;
mod slot;
mod standing;
mod stops;
mod strings;

use crate::input::{Across, Design, PerSide, Side};
use crate::tolerance::MERGE;

pub use block::{Block, Groove, Hole, Serves};
pub use bore::{Bore, BoreEnd, EndCut, SlotCrossing, point_height};
pub use deeper::Deeper;
pub use drilled::OldBore;
pub use faults::{LayoutFault, faults};
pub use frame::Frame;
pub use operation::{
    Clamping, DrilledHole, EdgeCut, HoleKind, Operation, RampCut, SlotCut, Turn, TurnAxis,
};
pub use outline::{Outline, OutlinePart};
pub use pair::Pair;
pub use pilot::Pilot;
pub use placing::APART;
pub use plate::Plate;
pub use rig::{RigLayout, Stance, Wedge};
pub use rig_holes::RigHole;
pub use side_line::SideLine;
pub use slot::{RampLayout, Slot};
pub use standing::Standing;
pub use stops::DepthStop;
pub use strings::{Clearance, Near, Segment, StringPath, Strung};

/// Which copy of the design a layout describes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Copy {
    /// As finished in wood: STEP, drawings, report.
    Finished,
    /// For the printer: section 3 worked anew with the enlarged diameters (contract, 3.9).
    Printed,
}

/// Everything of one side.
#[derive(Debug, Clone, PartialEq)]
pub struct SideLayout {
    /// Which side.
    pub side: Side,
    /// The straight side line.
    pub line: SideLine,
    /// The tuning machines' plate.
    pub plate: Plate,
    /// Bores from the nut, at least one.
    pub bores: Vec<Bore>,
    /// Screw pilots.
    pub pilots: Vec<Pilot>,
    /// The string slot, where the head has slots.
    pub slot: Option<Slot>,
}

/// Positions of a whole design.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The design it was worked out from.
    pub design: Design,
    /// Which copy.
    pub copy: Copy,
    /// Outline in plan and the back plane.
    pub outline: Outline,
    /// Bore axis below the face, mm; one figure for both sides (a).
    pub axis_below_face: f64,
    /// The two sides.
    pub sides: PerSide<SideLayout>,
    /// Opposite bores whose axes cross the centre line less than 1 mm apart.
    pub pairs: Vec<Pair>,
    /// The guide blocks: one that serves both sides, or one a side.
    pub blocks: Vec<Block>,
    /// Strings, bass to treble.
    pub strings: Vec<StringPath>,
}

impl Layout {
    /// Works out every position of `design` for the given copy. Total: a design that makes no
    /// sense gives positions that the checks, or [`faults`], then refuse.
    #[must_use]
    pub fn new(design: &Design, copy: Copy) -> Layout {
        let outline = Outline::new(&design.head);
        let lines = PerSide::from_fn(|side| SideLine::new(&design.head, side));
        let plates = PerSide::from_fn(|side| Plate::new(design, lines.get(side), &outline));
        let axis_below_face = match design.placement.depth {
            Across::AxisBelowFace(a) => a,
            Across::Centred => {
                plates.treble.thickness_at_middle / 2.0 - design.machines.axis_offset
            }
        };
        let mut sides = PerSide::from_fn(|side| {
            let line = lines.get(side);
            let plate = plates.get(side).placed(axis_below_face);
            let entries = bore::entries(line, &plate, axis_below_face);
            let slot = design
                .slots
                .as_ref()
                .map(|slots| Slot::new(slots, line, &entries));
            let bores = bore::bores(design, copy, line, &entries, slot.as_ref());
            let pilots = pilot::pilots(design, copy, line, &plate, axis_below_face);
            SideLayout {
                side,
                line: line.clone(),
                plate,
                bores,
                pilots,
                slot,
            }
        });
        let pairs = pair::end_pairs(&mut sides, copy);
        let blocks = block::blocks(design, copy, axis_below_face);
        let strings = strings::strings(design, &sides, axis_below_face);
        Layout {
            design: design.clone(),
            copy,
            outline,
            axis_below_face,
            sides,
            pairs,
            blocks,
            strings,
        }
    }

    /// All bores, treble from the nut, then bass.
    pub fn bores(&self) -> impl Iterator<Item = &Bore> {
        self.sides.treble.bores.iter().chain(&self.sides.bass.bores)
    }

    /// z of the wood's front when the head is marked and drilled: the face, or the core's face
    /// where the veneers are glued on afterwards.
    #[must_use]
    pub fn front_when_drilled(&self) -> f64 {
        let head = &self.design.head;
        if head.veneers_on {
            0.0
        } else {
            -head.face_veneer
        }
    }

    /// z of the wood's back at `y` when the head is marked and drilled.
    #[must_use]
    pub fn back_when_drilled(&self, y: f64) -> f64 {
        let head = &self.design.head;
        let still_to_come = if head.veneers_on {
            0.0
        } else {
            head.back_veneer
        };
        still_to_come - self.outline.thickness_at(y)
    }

    /// The two sides, treble first.
    pub fn each_side(&self) -> impl Iterator<Item = &SideLayout> {
        [&self.sides.treble, &self.sides.bass].into_iter()
    }

    /// Distance along the side line from y = 0 at which the straight edge of the outline begins: where
    /// the shoulder ends, or at the nut line where there is none.
    #[must_use]
    pub fn straight_from(&self, side: Side) -> f64 {
        match self.outline.part(OutlinePart::Shoulder(side)) {
            Some(_) => self.sides.get(side).line.start_s,
            None => 0.0,
        }
    }

    /// Whether bass side and treble side mirror one another in the centre line, to the kernel's
    /// merge distance: straight sides, bores and slots, and with them the pilots.
    #[must_use]
    pub fn is_mirrored(&self) -> bool {
        let (treble, bass) = (&self.sides.treble, &self.sides.bass);
        let flip = |point: glam::DVec2| glam::DVec2::new(-point.x, point.y);
        let alike = |a: glam::DVec2, b: glam::DVec2| flip(a).distance(b) <= MERGE;
        let ends = |side: &SideLayout| {
            [
                side.line.at(side.line.start_s),
                side.line.at(side.line.end_s),
            ]
        };
        let sides = ends(treble).into_iter().zip(ends(bass));
        let bores = treble.bores.iter().zip(&bass.bores);
        let bores = bores.map(|(a, b)| (a.entry.truncate(), b.entry.truncate()));
        let corner = |slot: &Slot| [slot.at(0.0, 0.0), slot.at(slot.length, 0.0)];
        let slots = treble.slot.iter().zip(&bass.slot);
        let slots = slots.flat_map(|(a, b)| corner(a).into_iter().zip(corner(b)));
        treble.bores.len() == bass.bores.len()
            && sides.chain(bores).chain(slots).all(|(a, b)| alike(a, b))
    }

    /// On how many sides bores have neighbours, so that there are pitches to keep and marks to tell apart:
    /// 0 for a head of one barrel a side.
    #[must_use]
    pub fn sides_with_pitches(&self) -> usize {
        self.each_side().filter(|side| side.bores.len() > 1).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;

    #[test]
    fn wood_at_the_press_lacks_the_veneers_that_come_later() {
        let mut design = six_string();
        let layout = Layout::new(&design, Copy::Finished);
        assert!(layout.front_when_drilled().abs() < 1e-12);
        assert!((layout.back_when_drilled(50.0) + 20.4).abs() < 1e-12);
        design.head.veneers_on = false;
        let layout = Layout::new(&design, Copy::Finished);
        assert!((layout.front_when_drilled() + 2.4).abs() < 1e-12);
        assert!((layout.back_when_drilled(50.0) + 19.8).abs() < 1e-12);
    }

    #[test]
    fn a_side_of_one_barrel_has_no_pitch() {
        let mut design = six_string();
        let sides = |design: &Design| Layout::new(design, Copy::Finished).sides_with_pitches();
        assert_eq!(sides(&design), 2);
        design.machines.pitches.bass.clear();
        assert_eq!(sides(&design), 1);
        design.machines.pitches.treble.clear();
        assert_eq!(sides(&design), 0);
    }

    #[test]
    fn a_true_head_is_mirrored_and_one_unequal_number_is_enough_to_spoil_it() {
        let mirrored = |design: &Design| Layout::new(design, Copy::Finished).is_mirrored();
        let design = six_string();
        assert!(mirrored(&design));
        let mut other = design.clone();
        other.machines.pitches.bass[1] += 0.001;
        assert!(!mirrored(&other));
        let mut other = design.clone();
        other.head.half_width_at_end.bass += 0.001;
        assert!(!mirrored(&other));
        let mut other = design;
        other.machines.pitches.bass.push(35.0);
        assert!(!mirrored(&other));
    }

    #[test]
    fn a_straight_edge_begins_at_the_shoulder_or_at_the_nut_line() {
        let mut design = six_string();
        design.head.side_start = 12.0;
        let from = |design: &Design| Layout::new(design, Copy::Finished).straight_from(Side::Bass);
        assert!(from(&design).abs() < f64::EPSILON);
        design.head.shoulder_width = Some(52.0);
        // 172 along the centre line, 4 outward.
        assert!((from(&design) - 12.0 * 172.0_f64.hypot(4.0) / 172.0).abs() < 1e-12);
    }
}
