//! Vertices, edges, loops, faces and the solid.
//!
//! Loops of a [`Brep`] run anticlockwise seen from outside, which is what a bound of orientation
//! true means for a face whose topological normal points out; so bounds are always true, and a
//! face's `same_sense` alone carries how its surface's own normal lies.

use super::StepError;
use super::geometry::{curve, point, surface};
use super::part21::{Data, Id, Value};
use crate::solid::brep::{Brep, EdgeUse, Face};

/// A solid of one closed shell.
///
/// # Errors
/// An index of the solid that names nothing, a loop without edges, a solid without faces, or an
/// edge that has no proper curve.
pub(super) fn solid(data: &mut Data, name: &str, brep: &Brep) -> Result<Id, StepError> {
    if brep.faces.is_empty() {
        return Err(StepError::NoFaces);
    }
    let vertices: Vec<Id> = brep
        .vertices
        .iter()
        .map(|&at| {
            let at = point(data, "", at);
            data.add("VERTEX_POINT", &["".into(), at.into()])
        })
        .collect();
    let vertex = |index: usize| {
        let found = vertices.get(index).copied();
        found.ok_or(StepError::NoSuchVertex { index })
    };
    let mut edges = Vec::with_capacity(brep.edges.len());
    for edge in &brep.edges {
        let curve = curve(data, brep, edge)?;
        let values = [
            "".into(),
            vertex(edge.start)?.into(),
            vertex(edge.end)?.into(),
            curve.into(),
            true.into(),
        ];
        edges.push(data.add("EDGE_CURVE", &values));
    }
    let mut faces = Vec::with_capacity(brep.faces.len());
    for one in &brep.faces {
        faces.push(face(data, &edges, one)?);
    }
    let shell = data.add("CLOSED_SHELL", &["".into(), faces.into()]);
    Ok(data.add("MANIFOLD_SOLID_BREP", &[name.into(), shell.into()]))
}

fn face(data: &mut Data, edges: &[Id], face: &Face) -> Result<Id, StepError> {
    let mut bounds = Vec::with_capacity(face.loops.len());
    for (i, uses) in face.loops.iter().enumerate() {
        let keyword = if i == 0 {
            "FACE_OUTER_BOUND"
        } else {
            "FACE_BOUND"
        };
        let edge_loop = edge_loop(data, edges, face, uses)?;
        let values = ["".into(), edge_loop.into(), true.into()];
        bounds.push(data.add(keyword, &values));
    }
    if bounds.is_empty() {
        return Err(StepError::NoEdges {
            face: face.name.clone(),
        });
    }
    let values = [
        face.name.as_str().into(),
        bounds.into(),
        surface(data, &face.surface).into(),
        face.same_sense.into(),
    ];
    Ok(data.add("ADVANCED_FACE", &values))
}

fn edge_loop(
    data: &mut Data,
    edges: &[Id],
    face: &Face,
    uses: &[EdgeUse],
) -> Result<Id, StepError> {
    if uses.is_empty() {
        return Err(StepError::NoEdges {
            face: face.name.clone(),
        });
    }
    let mut oriented = Vec::with_capacity(uses.len());
    for used in uses {
        let index = used.edge;
        let edge = edges.get(index).copied();
        let edge = edge.ok_or(StepError::NoSuchEdge { index })?;
        let values = [
            "".into(),
            Value::Derived,
            Value::Derived,
            edge.into(),
            used.forward.into(),
        ];
        oriented.push(data.add("ORIENTED_EDGE", &values));
    }
    Ok(data.add("EDGE_LOOP", &["".into(), oriented.into()]))
}
