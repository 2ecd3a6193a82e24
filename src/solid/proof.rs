//! Proof of our own work: nothing is written that did not pass.

use super::brep::{Brep, Measures};
use super::closed_form::ClosedForm;
use super::mesh::{MeshFault, mesh};
use super::mesh_data::Mesh;
use super::{integrate, kernel};
use crate::tolerance::{MERGE, MESH_CHORD, PROOF_RELATIVE};

/// A solid that failed its proof: a fault of ours, not of the design.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ProofFault {
    /// The topology kernel rejects the shell.
    #[error("{solid}: the shell is not a closed, oriented manifold: {what}")]
    Shell {
        /// Which solid.
        solid: String,
        /// The kernel's reason.
        what: String,
    },
    /// An edge leaves a surface or its vertices.
    #[error("{solid}: an edge of face \"{face}\" lies {off:.3e} mm off its surface")]
    Incidence {
        /// Which solid.
        solid: String,
        /// Which face.
        face: String,
        /// How far, mm.
        off: f64,
    },
    /// Closed form and integral over the faces differ.
    #[error("{solid}: {what} is {closed} in closed form, {integral} over the faces")]
    ClosedForm {
        /// Which solid.
        solid: String,
        /// Volume, area or centroid.
        what: &'static str,
        /// In closed form.
        closed: f64,
        /// Integrated over the faces.
        integral: f64,
    },
    /// The mesh could not be made or is not closed.
    #[error("{solid}: {what}")]
    Mesh {
        /// Which solid.
        solid: String,
        /// The reason.
        what: String,
    },
    /// The mesh's volume is farther from the closed form than its chord allows.
    #[error("{solid}: the mesh holds {mesh} mm³, the solid {closed} mm³, more than {bound} apart")]
    MeshVolume {
        /// Which solid.
        solid: String,
        /// Volume of the mesh, mm³.
        mesh: f64,
        /// Closed form, mm³.
        closed: f64,
        /// Largest difference the chord allows, mm³.
        bound: f64,
    },
}

/// Proves a boundary representation against its closed form and returns its measures.
pub(super) fn prove_solid(
    solid: &str,
    brep: &Brep,
    closed: &ClosedForm,
) -> Result<Measures, ProofFault> {
    kernel::judge_shell(brep).map_err(|what| ProofFault::Shell {
        solid: solid.to_owned(),
        what,
    })?;
    prove_incidence(solid, brep)?;
    let over_faces = integrate::measure(brep);
    let agree = |what: &'static str, closed: f64, integral: f64, scale: f64| {
        if (closed - integral).abs() <= PROOF_RELATIVE * scale {
            Ok(())
        } else {
            Err(ProofFault::ClosedForm {
                solid: solid.to_owned(),
                what,
                closed,
                integral,
            })
        }
    };
    let centroid = closed.centroid();
    let size = over_faces.max.distance(over_faces.min);
    agree(
        "volume",
        closed.body.volume,
        over_faces.volume,
        closed.body.volume,
    )?;
    agree("area", closed.area, over_faces.area, closed.area)?;
    for axis in 0..3 {
        agree("centroid", centroid[axis], over_faces.centroid[axis], size)?;
    }
    Ok(Measures {
        volume: closed.body.volume,
        area: closed.area,
        centroid,
        min: over_faces.min,
        max: over_faces.max,
    })
}

/// Every edge lies on the surfaces of its faces and ends in its vertices, to the merge distance.
fn prove_incidence(solid: &str, brep: &Brep) -> Result<(), ProofFault> {
    for face in &brep.faces {
        for used in face.loops.iter().flatten() {
            let edge = &brep.edges[used.edge];
            let ends = [(edge.start, 0.0), (edge.end, 1.0)]
                .map(|(vertex, f)| brep.vertices[vertex].distance(brep.edge_at(edge, f)));
            let on_surface = [0.0, 0.2, 0.4, 0.6, 0.8, 1.0]
                .map(|f| face.surface.distance(brep.edge_at(edge, f)).abs());
            let off = ends
                .into_iter()
                .chain(on_surface)
                .fold(0.0, |a: f64, b| if b.is_nan() { b } else { a.max(b) });
            if off.is_nan() || off > MERGE / 10.0 {
                return Err(ProofFault::Incidence {
                    solid: solid.to_owned(),
                    face: face.name.clone(),
                    off,
                });
            }
        }
    }
    Ok(())
}

/// Meshes a proved solid and proves the mesh: closed, oriented, volume within what the chord
/// allows. `curved_area` is the area of the curved faces, mm².
pub(super) fn prove_mesh(
    solid: &str,
    brep: &Brep,
    measures: &Measures,
    chord: f64,
) -> Result<Mesh, ProofFault> {
    let made = mesh(brep, chord).map_err(|fault: MeshFault| ProofFault::Mesh {
        solid: solid.to_owned(),
        what: fault.to_string(),
    })?;
    let volume = kernel::judge_mesh(&made).map_err(|what| ProofFault::Mesh {
        solid: solid.to_owned(),
        what,
    })?;
    let bound =
        integrate::curved_area(brep) * chord.min(MESH_CHORD) + PROOF_RELATIVE * measures.volume;
    if (volume - measures.volume).abs() <= bound {
        Ok(made)
    } else {
        Err(ProofFault::MeshVolume {
            solid: solid.to_owned(),
            mesh: volume,
            closed: measures.volume,
            bound,
        })
    }
}
