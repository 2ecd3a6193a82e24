//! The tables of the workshop: guide block, press, printer and rig, and the texts of the job.

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
