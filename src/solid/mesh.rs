//! Triangles from a boundary representation.
//!
//! Every edge is divided once and both its faces use the same points, so the mesh is watertight
//! by construction and nothing is welded afterwards. Curved faces are ruled: triangles run from
//! generator to generator with no point inside. Plane faces are triangulated from their boundary
//! points alone by a constrained Delaunay triangulation, which adds no point and makes no
//! triangle of no area.

use std::collections::VecDeque;
use std::ops::Range;

use glam::{DVec2, DVec3};
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

use super::brep::{Brep, Curve, Edge, EdgeUse, Face, Surface};
use super::mesh_data::Mesh;
use crate::tolerance::{FINEST_CHORD, MESH_ANGLE, MESH_CHORD};

/// A face that could not be triangulated: a fault of ours, not of the design.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("face \"{face}\": {what}")]
pub struct MeshFault {
    /// Name of the face.
    pub face: String,
    /// What went wrong.
    pub what: String,
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
        match mesh_at(brep, chord) {
            // Two circles of a ring narrower than the chord, differently divided, cross one another:
            // a finer chord parts them.
            Err(_) if chord > FINEST_CHORD => chord /= 4.0,
            done => return done,
        }
    }
}

fn mesh_at(brep: &Brep, chord: f64) -> Result<(Mesh, Vec<Range<usize>>), MeshFault> {
    let mut points = brep.vertices.clone();
    let divided = divide_edges(brep, chord, &mut points);
    let mut triangles = Vec::new();
    let mut ranges = Vec::with_capacity(brep.faces.len());
    for face in &brep.faces {
        let first = triangles.len();
        let loops: Vec<Vec<usize>> = face
            .loops
            .iter()
            .map(|edges| loop_points(edges, &divided))
            .collect();
        let fault = |what: &str| MeshFault {
            face: face.name.clone(),
            what: what.to_owned(),
        };
        match face.surface {
            Surface::Plane { normal, x_axis, .. } => {
                plane_face(&points, &loops, normal, x_axis, &mut triangles)
                    .map_err(|what| fault(&what))?;
            }
            Surface::Cylinder { .. } | Surface::Cone { .. } => {
                ruled_face(brep, face, &divided, &mut triangles)
                    .ok_or_else(|| fault("its edges do not bound a ruled strip"))?;
            }
        }
        ranges.push(first..triangles.len());
    }
    Ok((Mesh { points, triangles }, ranges))
}

/// Points along every edge, from its start to its end.
fn divide_edges(brep: &Brep, chord: f64, points: &mut Vec<DVec3>) -> Vec<Vec<usize>> {
    // The curved surfaces at each edge say how finely and where it is divided.
    let mut pieces = vec![1usize; brep.edges.len()];
    let mut cones: Vec<Option<Surface>> = vec![None; brep.edges.len()];
    for face in &brep.faces {
        let radius = match face.surface {
            Surface::Plane { .. } => continue,
            Surface::Cylinder { radius, .. } | Surface::Cone { radius, .. } => radius,
        };
        for used in face.loops.iter().flatten() {
            if let Curve::Arc { from, to, .. } = brep.edges[used.edge].curve {
                let step = (2.0 * (1.0 - chord / radius).max(-1.0).acos()).min(MESH_ANGLE);
                let count = ((to - from).abs() / step - 1e-9).ceil().max(1.0) as usize;
                pieces[used.edge] = pieces[used.edge].max(count);
                if matches!(face.surface, Surface::Cone { .. }) {
                    cones[used.edge] = Some(face.surface);
                }
            }
        }
    }
    brep.edges
        .iter()
        .zip(pieces)
        .zip(cones)
        .map(|((edge, count), cone)| {
            let mut along = vec![edge.start];
            for k in 1..count {
                let f = k as f64 / count as f64;
                let point = match cone {
                    Some(surface) => on_generator(brep, edge, &surface, f),
                    None => brep.edge_at(edge, f),
                };
                points.push(point);
                along.push(points.len() - 1);
            }
            along.push(edge.end);
            along
        })
        .collect()
}

/// The point of an arc on a cone at fraction `f` of its turn about the cone's axis: both edges of
/// a strip are then divided on the same generators.
fn on_generator(brep: &Brep, edge: &Edge, cone: &Surface, f: f64) -> DVec3 {
    let (
        Surface::Cone {
            origin,
            axis,
            x_axis,
            radius,
            half_angle,
        },
        Curve::Arc {
            center,
            axis_a,
            axis_b,
            ..
        },
    ) = (*cone, edge.curve)
    else {
        return brep.edge_at(edge, f);
    };
    let y_axis = axis.cross(x_axis);
    let angle = |p: DVec3| (p - origin).dot(y_axis).atan2((p - origin).dot(x_axis));
    let (from, middle) = (
        angle(brep.edge_at(edge, 0.0)),
        angle(brep.edge_at(edge, 0.5)),
    );
    let turn = std::f64::consts::TAU;
    let half = (middle - from).rem_euclid(turn);
    // Arcs go at most half way round: the way that passes the middle.
    let sweep = if half < std::f64::consts::PI {
        1.0
    } else {
        -1.0
    };
    let to = angle(brep.edge_at(edge, 1.0));
    let total = ((to - from) * sweep).rem_euclid(turn) * sweep;
    let aside = DVec2::from_angle(from + total * f);
    let apex = origin - axis * (radius / half_angle.tan());
    let generator =
        axis * half_angle.cos() + (x_axis * aside.x + y_axis * aside.y) * half_angle.sin();
    let normal = axis_a.cross(axis_b);
    apex + generator * ((center - apex).dot(normal) / generator.dot(normal))
}

/// The points of an edge as a loop uses it.
fn used_points(used: EdgeUse, divided: &[Vec<usize>]) -> Vec<usize> {
    let mut along = divided[used.edge].clone();
    if !used.forward {
        along.reverse();
    }
    along
}

/// The points round a loop, each once.
fn loop_points(edges: &[EdgeUse], divided: &[Vec<usize>]) -> Vec<usize> {
    let mut round = Vec::new();
    for used in edges {
        let along = used_points(*used, divided);
        round.extend_from_slice(&along[..along.len() - 1]);
    }
    round
}

/// A ruled face: one loop of an arc, a generator, an arc back, a generator; or, over an apex, of
/// one arc and two generators.
fn ruled_face(
    brep: &Brep,
    face: &Face,
    divided: &[Vec<usize>],
    triangles: &mut Vec<[usize; 3]>,
) -> Option<()> {
    let [edges] = face.loops.as_slice() else {
        return None;
    };
    let arcs: Vec<usize> = (0..edges.len())
        .filter(|&i| matches!(brep.edges[edges[i].edge].curve, Curve::Arc { .. }))
        .collect();
    match *arcs.as_slice() {
        [only] => {
            let rim = used_points(edges[only], divided);
            let apex = brep.ends(*edges.get((only + 1) % edges.len())?).1;
            triangles.extend(rim.windows(2).map(|pair| [pair[0], pair[1], apex]));
            Some(())
        }
        [first, second] => {
            let near = used_points(edges[first], divided);
            let mut far = used_points(edges[second], divided);
            far.reverse();
            (near.len() == far.len()).then_some(())?;
            for i in 0..near.len() - 1 {
                let (a, b, c, d) = (near[i], near[i + 1], far[i + 1], far[i]);
                triangles.push([a, b, c]);
                triangles.push([a, c, d]);
            }
            Some(())
        }
        _ => None,
    }
}

/// A plane face: its outer loop less its holes.
pub(super) fn plane_face(
    points: &[DVec3],
    loops: &[Vec<usize>],
    normal: DVec3,
    x_axis: DVec3,
    triangles: &mut Vec<[usize; 3]>,
) -> Result<(), String> {
    if let [corners] = loops
        && let [a, b, c] = *corners.as_slice()
    {
        triangles.push([a, b, c]);
        return Ok(());
    }
    let y_axis = normal.cross(x_axis);
    let ids: Vec<usize> = loops.iter().flatten().copied().collect();
    let flat: Vec<Point2<f64>> = ids
        .iter()
        .map(|&id| Point2::new(points[id].dot(x_axis), points[id].dot(y_axis)))
        .collect();
    let mut constraints = Vec::with_capacity(ids.len());
    let mut start = 0;
    for corners in loops {
        let count = corners.len();
        constraints.extend((0..count).map(|i| [start + i, start + (i + 1) % count]));
        start += count;
    }
    let mut crossing = 0;
    let net = ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(
        flat,
        constraints,
        |_| crossing += 1,
    )
    .map_err(|error| error.to_string())?;
    if crossing > 0 || net.num_vertices() != ids.len() {
        return Err("its boundary touches or crosses itself".to_owned());
    }
    // From outside inwards: every constrained edge crossed changes between outside and inside.
    let mut inside: Vec<Option<bool>> = vec![None; net.num_all_faces()];
    let outer = net.outer_face();
    inside[outer.fix().index()] = Some(false);
    let mut queue = VecDeque::new();
    for edge in net.convex_hull() {
        queue.push_back((edge.rev(), false));
    }
    while let Some((edge, was_inside)) = queue.pop_front() {
        let now_inside = was_inside != edge.is_constraint_edge();
        let face = edge.face();
        if inside[face.fix().index()].is_some() {
            continue;
        }
        inside[face.fix().index()] = Some(now_inside);
        if let Some(inner) = face.as_inner() {
            for side in inner.adjacent_edges() {
                queue.push_back((side.rev(), now_inside));
            }
        }
    }
    for face in net.inner_faces() {
        if inside[face.fix().index()] == Some(true) {
            triangles.push(face.vertices().map(|vertex| ids[vertex.fix().index()]));
        }
    }
    Ok(())
}
