//! The head cut in three clampings: each an origin, axes and its features as numbers in them, so
//! that cards, lists and programs read one set of figures.
//!
//! +z points to the spindle, z = 0 on the surface that is up; +y runs to the crest in all three.
//! Face up the axes are the head's own. With a side up the origin lies on that side's line,
//! prolonged to the nut line, in the plane of the finished face.

use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3};

use crate::input::{Point, Side};
use crate::plane::Piece;

use super::{BoreEnd, Frame, Layout, OutlinePart, SideLayout};

/// What faces the spindle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clamping {
    /// The front face.
    FaceUp,
    /// A side.
    SideUp(Side),
}

impl Clamping {
    /// Name for people.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Clamping::FaceUp => "face up",
            Clamping::SideUp(Side::Treble) => "treble side up",
            Clamping::SideUp(Side::Bass) => "bass side up",
        }
    }
}

/// An axis of the head frame to turn about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnAxis {
    /// +y, nut to crest.
    Y,
    /// +z, out of the face.
    Z,
}

/// A turn about an axis of the head frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// Axis.
    pub axis: TurnAxis,
    /// Angle, radians; positive anticlockwise seen from the axis's point, looking back along it.
    pub angle: f64,
}

/// What kind of hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoleKind {
    /// Barrel bore.
    Bore,
    /// Wider mouth of a bore.
    Counterbore,
    /// Screw pilot.
    Pilot,
}

impl HoleKind {
    /// Name for people and lists.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            HoleKind::Bore => "bore",
            HoleKind::Counterbore => "counterbore",
            HoleKind::Pilot => "pilot",
        }
    }
}

/// A round hole straight down, along −z.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrilledHole {
    /// Kind.
    pub kind: HoleKind,
    /// Side it enters.
    pub side: Side,
    /// Number on its side, from 1.
    pub number: usize,
    /// Centre of its mouth, in the operation's frame.
    pub at: DVec3,
    /// Diameter, mm.
    pub diameter: f64,
    /// Depth of the full diameter below the mouth, mm.
    pub depth: f64,
    /// Shape of its end.
    pub point: Point,
    /// Length of the point beyond the depth, mm; 0 where flat.
    pub point_height: f64,
    /// How it ends in the model.
    pub end: BoreEnd,
}

/// A string slot, right through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlotCut {
    /// Side.
    pub side: Side,
    /// Mid-line at the extreme end towards the nut.
    pub nut_end: DVec3,
    /// Mid-line at the extreme end towards the crest.
    pub crest_end: DVec3,
    /// Width, mm.
    pub width: f64,
    /// Corner radius in plan, mm.
    pub corner_radius: f64,
}

/// A ramp: its floor falls from the mouth line towards the slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RampCut {
    /// Side.
    pub side: Side,
    /// The mouth line, in the face: end nearer the centre line, end nearer the side.
    pub mouth: [DVec3; 2],
    /// Mid-line at the slot's extreme end, down on the ramp's floor.
    pub floor: DVec3,
    /// Width, mm.
    pub width: f64,
    /// Angle of the floor below the face, radians.
    pub angle: f64,
}

/// A piece of the outline, down the whole thickness; they follow one another anticlockwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeCut {
    /// What it is.
    pub part: OutlinePart,
    /// Start.
    pub from: DVec3,
    /// End.
    pub to: DVec3,
    /// Centre and radius of an arc; `None` where straight.
    pub arc: Option<(DVec3, f64)>,
}

/// One clamping.
#[derive(Debug, Clone, PartialEq)]
pub struct Operation {
    /// What is up.
    pub clamping: Clamping,
    /// Its frame, laid into the head frame.
    pub frame: Frame,
    /// The turns that carry the head frame's axes to this frame's, one after the other.
    pub turns: Vec<Turn>,
    /// Holes, bores first.
    pub holes: Vec<DrilledHole>,
    /// Slots.
    pub slots: Vec<SlotCut>,
    /// Ramps.
    pub ramps: Vec<RampCut>,
    /// Outline.
    pub edges: Vec<EdgeCut>,
}

impl Layout {
    /// The three clampings: face up, treble side up, bass side up.
    #[must_use]
    pub fn operations(&self) -> Vec<Operation> {
        let mut all = vec![self.face_up()];
        all.extend(self.each_side().map(side_up));
        all
    }

    fn face_up(&self) -> Operation {
        let frame = Frame::HEAD;
        let local = |p: DVec2| frame.local(p.extend(0.0));
        let slots = || self.each_side().filter_map(|side| side.slot.as_ref());
        let cut = slots().map(|slot| SlotCut {
            side: slot.side,
            nut_end: local(slot.at(0.0, 0.0)),
            crest_end: local(slot.at(slot.length, 0.0)),
            width: slot.width,
            corner_radius: slot.corner_radius,
        });
        let ramps = slots().filter_map(|slot| {
            let ramp = slot.ramp?;
            let (mouth, half) = (-ramp.mouth, slot.width / 2.0);
            let end = slot.at(0.0, 0.0);
            Some(RampCut {
                side: slot.side,
                mouth: [local(slot.at(mouth, -half)), local(slot.at(mouth, half))],
                floor: frame.local(end.extend(-slot.ramp_depth()?.at(end))),
                width: slot.width,
                angle: ramp.angle,
            })
        });
        let edges = self.outline.pieces.iter().map(|&(part, piece)| EdgeCut {
            part,
            from: local(piece.start()),
            to: local(piece.end()),
            arc: match piece {
                Piece::Arc { center, radius, .. } => Some((local(center), radius)),
                Piece::Line { .. } => None,
            },
        });
        Operation {
            clamping: Clamping::FaceUp,
            frame,
            turns: Vec::new(),
            holes: Vec::new(),
            slots: cut.collect(),
            ramps: ramps.collect(),
            edges: edges.collect(),
        }
    }
}

fn side_up(side: &SideLayout) -> Operation {
    let line = &side.line;
    let (y, z) = (line.along.extend(0.0), -line.inward.extend(0.0));
    let frame = Frame {
        origin: line.origin.extend(0.0),
        x: y.cross(z),
        y,
        z,
    };
    let sign = side.side.sign();
    let turns = vec![
        Turn {
            axis: TurnAxis::Y,
            angle: sign * FRAC_PI_2,
        },
        Turn {
            axis: TurnAxis::Z,
            angle: -sign * line.taper,
        },
    ];
    let bores = side.bores.iter().map(|bore| DrilledHole {
        kind: HoleKind::Bore,
        side: bore.side,
        number: bore.number,
        at: frame.local(bore.entry),
        diameter: bore.diameter,
        depth: bore.depth,
        point: bore.point,
        point_height: bore.point_height,
        end: bore.end,
    });
    let counterbores = side.bores.iter().filter_map(|bore| {
        let mouth = bore.counterbore?;
        Some(flat(
            HoleKind::Counterbore,
            bore.side,
            bore.number,
            frame.local(bore.entry),
            mouth.diameter,
            mouth.depth,
        ))
    });
    let pilots = side.pilots.iter().map(|pilot| {
        flat(
            HoleKind::Pilot,
            pilot.side,
            pilot.number,
            frame.local(pilot.entry),
            pilot.diameter,
            pilot.depth,
        )
    });
    Operation {
        clamping: Clamping::SideUp(side.side),
        frame,
        turns,
        holes: bores.chain(counterbores).chain(pilots).collect(),
        slots: Vec::new(),
        ramps: Vec::new(),
        edges: Vec::new(),
    }
}

/// A flat-bottomed hole that ends in the wood.
fn flat(
    kind: HoleKind,
    side: Side,
    number: usize,
    at: DVec3,
    diameter: f64,
    depth: f64,
) -> DrilledHole {
    DrilledHole {
        kind,
        side,
        number,
        at,
        diameter,
        depth,
        point: Point::Flat,
        point_height: 0.0,
        end: BoreEnd::Blind,
    }
}

#[cfg(test)]
mod tests;
