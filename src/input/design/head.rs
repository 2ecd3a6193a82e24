//! The tables that shape the head: its outline, nut, bores and slots, and where the machines sit.

use crate::input::sides::PerSide;

/// `[head]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Head {
    /// Nut line to crest on the centre line.
    pub length: f64,
    /// y at which the straight sides begin.
    pub side_start: f64,
    /// y at which they end.
    pub side_end: f64,
    /// Half width at `side_start`, each side.
    pub half_width_at_start: PerSide<f64>,
    /// Half width at `side_end`, each side.
    pub half_width_at_end: PerSide<f64>,
    /// Width at the nut line where straight shoulders begin; only with `side_start` > 0. `None`:
    /// the side lines prolonged.
    pub shoulder_width: Option<f64>,
    /// Finished thickness at y = 0.
    pub thickness: f64,
    /// Finished thickness at y = `length`.
    pub thickness_at_crest: f64,
    /// Face veneer, inside thickness.
    pub face_veneer: f64,
    /// Back veneer, inside thickness.
    pub back_veneer: f64,
    /// False: the veneers are glued on after drilling.
    pub veneers_on: bool,
    /// Head face to playing surface, radians.
    pub angle: f64,
    /// Shape of the crest.
    pub crest: Crest,
    /// Rounding given to the side's edges later; 0 for none.
    pub edge_radius: f64,
}

/// Shape of the head's free end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Crest {
    /// Straight across; `side_end` = `length`.
    Flat,
    /// One arc through both side ends and (0, length).
    Arch,
}

/// `[nut]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Nut {
    /// Every string's x at the nut line, bass to treble (ascending).
    pub strings: Vec<f64>,
    /// String above the plane of the face at the nut line.
    pub string_height: f64,
}

/// `[placement]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Placement {
    /// Along the side.
    pub along: Along,
    /// Across the thickness.
    pub depth: Across,
}

/// Where the first bore sits along the side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Along {
    /// The plate centred on the straight side line.
    Centred,
    /// y of the first bore's centre on the side line.
    FirstBarrel(PerSide<f64>),
}

/// Where the axes sit across the thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Across {
    /// The plate centred in the thickness at the plate's middle.
    Centred,
    /// Axis below the face.
    AxisBelowFace(f64),
}

/// `[bores]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Bores {
    /// Bore diameter.
    pub diameter: f64,
    /// Depth rule.
    pub depth: BoreDepth,
    /// End of the bore.
    pub point: Point,
    /// Wider mouth at the side.
    pub counterbore: Option<Counterbore>,
}

/// How deep the full diameter goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoreDepth {
    /// This much deeper than the barrel's end.
    BeyondBarrel(f64),
    /// This far past the centre line at the side's widest station.
    BeyondCentre(f64),
}

/// Shape of the bit's end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Point {
    /// Flat bottom.
    Flat,
    /// Included angle, radians, π/3 to below π.
    Angle(f64),
}

/// Counterbore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Counterbore {
    /// Diameter, above the bore's.
    pub diameter: f64,
    /// Depth from the side, below D.
    pub depth: f64,
}

/// `[slots]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Slots {
    /// Slot width.
    pub width: f64,
    /// How the slots lie.
    pub lie: Lie,
    /// Outer bore's axis to the slot's extreme end, on the mid-line: nut end, crest end.
    pub end_margin: [f64; 2],
    /// Corner radius in plan, 0 to width/2.
    pub corner_radius: f64,
    /// Ramp at the nut end.
    pub ramp: Option<Ramp>,
}

/// How the slots lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lie {
    /// Parallel to the centre line with this much wood between them.
    Rib(f64),
    /// Parallel to the sides with this much wood outside.
    Cheek(f64),
}

/// Ramp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ramp {
    /// Mouth line nearer the nut than the slot's extreme end by this much.
    pub mouth: f64,
    /// Angle below the face, radians, above 0 and below 80°.
    pub angle: f64,
}
