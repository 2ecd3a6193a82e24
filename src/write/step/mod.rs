//! STEP files: ISO 10303-21 text of an AP242 edition 3 model, or of an AP214 one for older readers.
//!
//! One product a file, or an assembly of several, each with its solid as an exact boundary
//! representation in millimetres and radians, a colour and the geometric validation properties. The same part gives the same bytes: no
//! clock and no randomness enters.

mod assembly;
mod colour;
mod geometry;
mod header;
mod part21;
mod product;
mod schema;
mod strings;
mod topology;
mod validation;

pub use assembly::{Component, assembly_file};
pub use header::Header;
pub use schema::Schema;

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
    /// An assembly without a part.
    #[error("the assembly has no part")]
    NoParts,
    /// Axes of a part's place that are not of length 1, not square to each other, or left-handed.
    #[error("the place of \"{part}\" is no right-handed frame")]
    BadPlace {
        /// The part's name.
        part: String,
    },
    /// A number that is not finite.
    #[error("an instance of {keyword} holds a number that is not finite")]
    NotFinite {
        /// Entity type that was to hold it.
        keyword: String,
    },
}

/// The whole text of an AP242 file with one part.
///
/// # Errors
/// [`StepError`] where the part is no proper solid; nothing of it is written then.
pub fn step_file(part: &Part<'_>, header: &Header<'_>) -> Result<String, StepError> {
    step_file_as(Schema::Ap242, part, header)
}

/// The whole text of a STEP file with one part, in the given schema.
///
/// # Errors
/// [`StepError`] where the part is no proper solid; nothing of it is written then.
pub fn step_file_as(
    schema: Schema,
    part: &Part<'_>,
    header: &Header<'_>,
) -> Result<String, StepError> {
    let mut data = Data::default();
    let frame = product::frame(&mut data, schema);
    let written = write_part(&mut data, &frame, part)?;
    colour::presentation(&mut data, vec![written.styled], frame.context);
    whole(data, header, schema)
}

/// A part in the data section.
struct Written {
    product: product::Product,
    shape: product::Shape,
    /// Its coloured solid, for the file's list of them.
    styled: part21::Id,
}

/// Product, solid, properties and colour of one part.
fn write_part(
    data: &mut Data,
    frame: &product::Frame,
    part: &Part<'_>,
) -> Result<Written, StepError> {
    if !part.colour.iter().all(|c| (0.0..=1.0).contains(c)) {
        return Err(StepError::BadColour);
    }
    let product = product::product(data, frame, part.name);
    let solid = topology::solid(data, part.name, part.brep)?;
    let shape = product::shape(data, frame, product, part.name, solid);
    validation::properties(data, frame, product, part.measures);
    let styled = colour::styled(data, solid, part.colour);
    Ok(Written {
        product,
        shape,
        styled,
    })
}

/// Header and data section as a file.
fn whole(data: Data, header: &Header<'_>, schema: Schema) -> Result<String, StepError> {
    let lines = data
        .finish()
        .map_err(|keyword| StepError::NotFinite { keyword })?;
    Ok(format!(
        "ISO-10303-21;\n{}DATA;\n{lines}ENDSEC;\nEND-ISO-10303-21;\n",
        header.section(schema)
    ))
}
