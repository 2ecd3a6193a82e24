//! STEP files: ISO 10303-21 text of an AP242 edition 3 model.
//!
//! One product a file, its solid as an exact boundary representation in millimetres and radians,
//! with a colour and the geometric validation properties. The same part gives the same bytes: no
//! clock and no randomness enters.

mod colour;
mod geometry;
mod header;
mod part21;
mod product;
mod strings;
mod topology;
mod validation;

pub use header::Header;

use crate::solid::brep::{Brep, Measures};
use glam::DVec3;
use part21::Data;

/// A part to write.
#[derive(Debug, Clone, Copy)]
pub struct Part<'a> {
    /// Name of product and solid: title and part, `"Sandpiper head"`.
    pub name: &'a str,
    /// The solid, in the part's own frame, mm.
    pub brep: &'a Brep,
    /// What a reader should measure.
    pub measures: &'a Measures,
    /// Red, green and blue, each from 0 to 1.
    pub colour: [f64; 3],
}

/// Why a part cannot be written. None of these comes from a maker's file: a solid that was
/// proved before it is written raises none.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StepError {
    /// The solid has no face.
    #[error("the solid has no face")]
    NoFaces,
    /// A face has no loop, or a loop no edge.
    #[error("face \"{face}\" has a boundary without edges")]
    NoEdges {
        /// The face's name.
        face: String,
    },
    /// An edge names a vertex that is not there.
    #[error("an edge names vertex {index}, which is not there")]
    NoSuchVertex {
        /// The vertex named.
        index: usize,
    },
    /// A loop names an edge that is not there.
    #[error("a face names edge {index}, which is not there")]
    NoSuchEdge {
        /// The edge named.
        index: usize,
    },
    /// An edge whose ends are one point.
    #[error("the edge at {at} mm has no length")]
    NoLength {
        /// Its start, mm.
        at: DVec3,
    },
    /// An arc that does not run from its edge's start to its end.
    #[error("the arc of the edge at {at} mm does not end in the edge's vertices")]
    ArcOffVertex {
        /// The edge's start, mm.
        at: DVec3,
    },
    /// Semi-axes that are zero or not square to each other.
    #[error("the arc about {at} mm has no two semi-axes square to each other")]
    BadAxes {
        /// The arc's centre, mm.
        at: DVec3,
    },
    /// A colour outside 0 to 1.
    #[error("a colour's red, green and blue must each be from 0 to 1")]
    BadColour,
    /// A number that is not finite.
    #[error("an instance of {keyword} holds a number that is not finite")]
    NotFinite {
        /// Entity type that was to hold it.
        keyword: String,
    },
}

/// The whole text of a STEP file with one part.
///
/// # Errors
/// [`StepError`] where the part is no proper solid; nothing of it is written then.
pub fn step_file(part: &Part<'_>, header: &Header<'_>) -> Result<String, StepError> {
    if !part.colour.iter().all(|c| (0.0..=1.0).contains(c)) {
        return Err(StepError::BadColour);
    }
    let mut data = Data::default();
    let frame = product::frame(&mut data);
    let product = product::product(&mut data, &frame, part.name);
    let solid = topology::solid(&mut data, part.name, part.brep)?;
    product::shape(&mut data, &frame, product, part.name, solid);
    validation::properties(&mut data, &frame, product, part.measures);
    let styled = colour::styled(&mut data, solid, part.colour);
    colour::presentation(&mut data, vec![styled], frame.context);
    let lines = data
        .finish()
        .map_err(|keyword| StepError::NotFinite { keyword })?;
    Ok(format!(
        "ISO-10303-21;\n{}DATA;\n{lines}ENDSEC;\nEND-ISO-10303-21;\n",
        header.section()
    ))
}
