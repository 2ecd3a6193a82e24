//! The design: what the parameter file means. Every length is in millimetres, every angle in
//! radians, every default filled in, every "or" decided. Only `input` makes one, so code that
//! holds a `Design` need not ask again whether a number is finite or above zero.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use super::drilled::Drilled;
use super::drilling::Drilling;
use super::readings::Measurements;
pub use super::sides::{PerSide, Place, Side, Unit};
use super::strings::Strings;
use super::template::Template;
use super::tolerances::Tolerances;
use super::wood::Wood;
use crate::units::Lengths;

impl Design {
    /// How lengths are shown on screen and papers: as asked for, else inches too for a file in inches.
    /// What is to be typed into the file stays in the file's own unit.
    #[must_use]
    pub fn lengths(&self) -> Lengths {
        Lengths {
            inches: self.inches.unwrap_or(self.unit == Unit::Inch),
        }
    }
}

/// Where keys were set, by key path; shared by all designs that are tried with other values there.
pub type Places = Arc<BTreeMap<String, Place>>;

/// A whole validated design.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Title; the file's stem by default.
    pub title: String,
    /// Unit of the parameter file.
    pub unit: Unit,
    /// Inches beside the millimetres, or millimetres alone, where a person asked for either.
    pub inches: Option<bool>,
    /// Text for title blocks and the shop.
    pub job: Job,
    /// The head.
    pub head: Head,
    /// The nut and its strings.
    pub nut: Nut,
    /// The tuning machines.
    pub machines: Machines,
    /// Where the machines sit.
    pub placement: Placement,
    /// The barrel bores.
    pub bores: Bores,
    /// String slots; `None` for a head drilled but not yet slotted.
    pub slots: Option<Slots>,
    /// The strings from nut to barrel; `None`: the contract's plain paths.
    pub strings: Option<Strings>,
    /// The guide block.
    pub guide: Guide,
    /// The drill press, if described.
    pub press: Option<Press>,
    /// Allowances and chord of the printed copies.
    pub print: Print,
    /// Tolerances stated on the drawing.
    pub tolerances: Tolerances,
    /// How far drilling and plates scatter, for `fit`.
    pub drilling: Drilling,
    /// Bores as they are in the wood, treble first, each side from the nut; only those recorded.
    pub drilled: Vec<Drilled>,
    /// Bit and guide of the routing template; `None` for a head without slots.
    pub template: Option<Template>,
    /// The rig at the drill press.
    pub rig: Rig,
    /// What the head is made of, and the climates it will live between.
    pub wood: Option<Wood>,
    /// The maker's own caution limits, by check code.
    pub limits: BTreeMap<String, OwnLimit>,
    /// Lengths that were measured more than once.
    pub measurements: Measurements,
    /// Key path (`"slots.rib"`, `"machines.bass.pitches"`) to the place that set it; shared, since a
    /// design is copied many times to be changed and judged.
    pub places: Places,
    /// The files read, the parameter file first.
    pub files: Vec<PathBuf>,
}

impl Design {
    /// The place that set `key`, or else the nearest table or key it belongs to that the file
    /// holds.
    #[must_use]
    pub fn place_near(&self, key: &str) -> Option<&Place> {
        let mut key = key;
        loop {
            if let Some(place) = self.places.get(key) {
                return Some(place);
            }
            key = key.rsplit_once('.')?.0;
        }
    }
}

/// `[job]`: free text.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Job {
    /// Job or drawing number.
    pub number: String,
    /// Revision.
    pub revision: String,
    /// Date as typed; the only date that ever enters a file.
    pub date: String,
    /// Material.
    pub material: String,
    /// Quantity.
    pub quantity: String,
    /// Contact.
    pub contact: String,
    /// Legal owner of the drawing.
    pub owner: String,
    /// Who made it.
    pub creator: String,
    /// Who approved it.
    pub approver: String,
}

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

/// `[guide]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Guide {
    /// Along the bores.
    pub depth: f64,
    /// Away from the upright.
    pub height: f64,
    /// Axis height above the upright; `None`: the head's own h (contract 3.6).
    pub axis_height: Option<f64>,
    /// Outer bore centre to the block's end.
    pub end_margin: f64,
    /// Bore that guides the bit.
    pub bore_diameter: f64,
    /// Outside diameter of pressed-in bushes.
    pub bush_diameter: Option<f64>,
    /// Scribe grooves.
    pub scribe: Option<Scribe>,
}

/// Scribe groove of triangular section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scribe {
    /// Width at the surface.
    pub width: f64,
    /// Depth.
    pub depth: f64,
}

/// `[press]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Press {
    /// Quill travel.
    pub travel: f64,
    /// Largest opening between chuck and table.
    pub daylight: Option<f64>,
    /// Bit length, if given; else from the jobber table.
    pub bit_length: Option<f64>,
    /// Flute length, if given; else from the jobber table.
    pub flute_length: Option<f64>,
}

/// `[print]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Print {
    /// Added to the diameter of the head's bores.
    pub head_allowance: f64,
    /// Added to the block's guide holes.
    pub block_allowance: f64,
    /// Added to bush holes instead.
    pub bush_allowance: f64,
    /// Largest distance between a facet and the true surface.
    pub chord: f64,
    /// What the printer can hold, x, y and height; `None`: everything fits.
    pub bed: Option<[f64; 3]>,
}

/// `[rig]`: base, upright and wedge that hold head and block at the drill press. All lengths above
/// zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Rig {
    /// Thickness of the base.
    pub base: f64,
    /// Thickness of the upright.
    pub upright: f64,
    /// Base in front of the upright's face.
    pub front: f64,
    /// Base behind the upright, where the braces stand.
    pub behind: f64,
    /// How far base and upright go on beyond the nut line, at both ends.
    pub beyond: f64,
    /// How deep the upright's face is cut back beyond the nut line; below `upright`.
    pub relief: f64,
    /// Room for packing between base and wedge, under the widest end of the head.
    pub packing: f64,
    /// Height of the wedge's thin end.
    pub wedge_thin_end: f64,
    /// Thread of the rig's screws, a name of [`crate::standards::iso273`].
    pub fixing: String,
}

/// A maker's own caution limit: lengths in mm, degrees and ratios bare.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OwnLimit {
    /// One-sided.
    Single(f64),
    /// Two-sided.
    Band {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
    },
}
