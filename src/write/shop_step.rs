//! `shop/assembly.step` and `shop/rig.step`: placed solids as named, coloured components.

use crate::layout::Layout;
use crate::solid::assembly::{PlacedPart, Role, assembly};
use crate::solid::rig::{RigSolids, rig_parts};
use crate::solid::{ProofFault, Solids};

use super::step::{Component, Header, Part, Schema, StepError, assembly_file};

/// Why a file of several parts was not written: a fault of ours, not of the design.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ShopStepError {
    /// A solid failed its proof.
    #[error(transparent)]
    Proof(#[from] ProofFault),
    /// A proved solid cannot be written.
    #[error(transparent)]
    Step(#[from] StepError),
}

/// Colour of a part in every STEP file: red, green and blue from 0 to 1.
#[must_use]
pub fn colour(role: Role) -> [f64; 3] {
    match role {
        // Wood, and a cooler grey-green for the block.
        Role::Head => [0.72, 0.52, 0.33],
        Role::Block => [0.45, 0.56, 0.52],
        // Brass.
        Role::Machines => [0.78, 0.68, 0.36],
        // Lighter than the head: it is cut off again.
        Role::NeckStub => [0.86, 0.76, 0.62],
        // Plywood, and a printed wedge.
        Role::Rig => [0.82, 0.74, 0.60],
        Role::Wedge => [0.35, 0.45, 0.62],
    }
}

/// `shop/assembly.step`: head, guide blocks and both sets of machines. `neck_stub` adds holding stock
/// beyond the nut line, mm above zero along its back.
///
/// # Errors
/// [`ShopStepError`] where our own work fails; nothing is to be written then.
pub fn assembly_step(
    layout: &Layout,
    solids: &Solids,
    schema: Schema,
    neck_stub: Option<f64>,
) -> Result<Vec<u8>, ShopStepError> {
    let parts = assembly(layout, solids, neck_stub)?;
    let name = format!("{} assembly", layout.design.title);
    file(layout, &parts, schema, ["assembly.step", &name])
}

/// `shop/rig.step`: the rig with block and head in it, the treble side up.
///
/// # Errors
/// [`ShopStepError`] where our own work fails; nothing is to be written then.
pub fn rig_step(
    layout: &Layout,
    solids: &Solids,
    rig: &RigSolids,
    schema: Schema,
) -> Result<Vec<u8>, ShopStepError> {
    let parts = rig_parts(layout, solids, rig);
    let name = format!("{} rig", layout.design.title);
    file(layout, &parts, schema, ["rig.step", &name])
}

fn file(
    layout: &Layout,
    parts: &[PlacedPart],
    schema: Schema,
    [file_name, name]: [&str; 2],
) -> Result<Vec<u8>, ShopStepError> {
    let components: Vec<Component<'_>> = parts
        .iter()
        .map(|part| Component {
            part: Part {
                name: &part.name,
                brep: &part.brep,
                measures: &part.measures,
                colour: colour(part.role),
            },
            pose: part.pose,
        })
        .collect();
    let date = Some(layout.design.job.date.as_str()).filter(|date| !date.is_empty());
    let header = Header {
        file_name,
        description: name,
        date,
    };
    Ok(assembly_file(schema, name, &components, &header)?.into_bytes())
}
