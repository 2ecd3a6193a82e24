//! Triangles from a boundary representation.
//!
//! Every edge is divided once and both its faces use the same points, so the mesh is watertight
//! by construction and nothing is welded afterwards. Curved faces are ruled: triangles run from
//! generator to generator with no point inside. Plane faces are triangulated from their boundary
//! points alone by a constrained Delaunay triangulation, which adds no point and makes no
//! triangle of no area.

mod divide;
mod net;
mod plane_face;
mod rods;
mod sweep;

use std::ops::Range;

use super::brep::{Brep, Curve, Face, Surface};
use super::mesh_data::Mesh;
use crate::tolerance::{FINEST_CHORD, MESH_CHORD};
use divide::{Divided, divide_edges};
pub(super) use plane_face::PlaneFaces;

/// A face that could not be triangulated: a fault of ours, not of the design.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MeshFault {
    /// The boundary of a plane face touches or crosses itself, or runs the wrong way.
    #[error("face \"{face}\": its boundary touches or crosses itself")]
    Boundary {
        /// Name of the face.
        face: String,
    },
    /// A curved face is no strip between two arcs.
    #[error("face \"{face}\": its edges do not bound a ruled strip")]
    NoStrip {
        /// Name of the face.
        face: String,
    },
}

/// Meshes a solid. `chord` is the largest distance of a facet from the true surface, mm; steps
/// are also never coarser than [`MESH_ANGLE`] or than a chord of [`MESH_CHORD`], and finer where a face
/// is too narrow for the chord.
pub fn mesh(brep: &Brep, chord: f64) -> Result<Mesh, MeshFault> {
    mesh_by_face(brep, chord).map(|(mesh, _)| mesh)
}

/// The same, with the range of triangles that belongs to each face of the solid, in the order of
/// its faces: pictures shade a face by its own surface.
pub fn mesh_by_face(brep: &Brep, chord: f64) -> Result<(Mesh, Vec<Range<usize>>), MeshFault> {
    let mut chord = chord.min(MESH_CHORD);
    loop {
        let made = mesh_at(brep, chord);
        match (&made, finer(chord)) {
            // Two circles of a ring narrower than the chord, differently divided, cross one another:
            // a finer chord parts them.
            (Err(MeshFault::Boundary { .. }), Some(next)) => chord = next,
            _ => return made,
        }
    }
}

/// The chord to try after one that is too coarse for a narrow ring; none beyond [`FINEST_CHORD`].
fn finer(chord: f64) -> Option<f64> {
    (chord > FINEST_CHORD).then(|| (chord / 4.0).max(FINEST_CHORD))
}

fn mesh_at(brep: &Brep, chord: f64) -> Result<(Mesh, Vec<Range<usize>>), MeshFault> {
    let mut points = brep.vertices.clone();
    let divided = divide_edges(brep, chord, &mut points);
    let mut triangles = Vec::new();
    let mut ranges = Vec::with_capacity(brep.faces.len());
    let mut planes = PlaneFaces::default();
    for face in &brep.faces {
        let first = triangles.len();
        let name = || face.name.clone();
        match face.surface {
            Surface::Plane { normal, x_axis, .. } => {
                let loops = face.loops.iter().map(|edges| {
                    edges.iter().flat_map(|used| {
                        let along = divided[used.edge];
                        (0..along.pieces).map(move |k| along.used(*used, k))
                    })
                });
                planes
                    .divide(
                        &points,
                        loops,
                        [x_axis, normal.cross(x_axis)],
                        &mut triangles,
                    )
                    .map_err(|_| MeshFault::Boundary { face: name() })?;
            }
            Surface::Cylinder { .. } | Surface::Cone { .. } => {
                ruled_face(brep, face, &divided, &mut triangles)
                    .ok_or_else(|| MeshFault::NoStrip { face: name() })?;
            }
        }
        ranges.push(first..triangles.len());
    }
    Ok((Mesh { points, triangles }, ranges))
}

/// A ruled face: one loop of an arc, a generator, an arc back, a generator; or, over an apex, of
/// one arc and two generators.
fn ruled_face(
    brep: &Brep,
    face: &Face,
    divided: &[Divided],
    triangles: &mut Vec<[usize; 3]>,
) -> Option<()> {
    let [edges] = face.loops.as_slice() else {
        return None;
    };
    let mut arcs = edges
        .iter()
        .enumerate()
        .filter(|(_, used)| matches!(brep.edges[used.edge].curve, Curve::Arc { .. }));
    match (arcs.next(), arcs.next(), arcs.next()) {
        (Some((only, rim)), None, None) => {
            let apex = brep.ends(*edges.get((only + 1) % edges.len())?).1;
            let along = divided[rim.edge];
            triangles.extend((0..along.pieces).map(|k| {
                let [a, b] = [k, k + 1].map(|k| along.used(*rim, k));
                [a, b, apex]
            }));
            Some(())
        }
        (Some((_, first)), Some((_, second)), None) => {
            let (near, far) = (divided[first.edge], divided[second.edge]);
            let pieces = near.pieces;
            (pieces == far.pieces).then_some(())?;
            for k in 0..pieces {
                let [a, b] = [k, k + 1].map(|k| near.used(*first, k));
                let [d, c] = [k, k + 1].map(|k| far.used(*second, pieces - k));
                triangles.push([a, b, c]);
                triangles.push([a, c, d]);
            }
            Some(())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
