//! The only place that names truck: its topology judges our shells, its mesh analysers judge our
//! meshes. Neither knows our closed forms.

use truck_meshalgo::analyzers::{CalcVolume, Topology};
use truck_meshalgo::prelude::{Faces, Point3, PolygonMesh, StandardAttributes};
use truck_topology::shell::ShellCondition;
use truck_topology::{Edge, Face, Shell, Solid, Vertex, Wire};

use super::brep::{Brep, Curve, Surface};
use super::mesh_data::Mesh;

/// Judges a boundary representation: every loop closed and simple, the shell connected, closed,
/// consistently oriented, and a manifold at every vertex. The error is the kernel's own text.
pub(super) fn judge_shell(brep: &Brep) -> Result<(), String> {
    let vertices: Vec<Vertex<usize>> = (0..brep.vertices.len()).map(Vertex::new).collect();
    let mut edges: Vec<Edge<usize, Curve>> = Vec::with_capacity(brep.edges.len());
    for edge in &brep.edges {
        let made = Edge::try_new(&vertices[edge.start], &vertices[edge.end], edge.curve)
            .map_err(|error| format!("edge {}: {error}", edges.len()))?;
        edges.push(made);
    }
    let mut shell: Shell<usize, Curve, Surface> = Shell::new();
    for face in &brep.faces {
        let wires: Vec<Wire<usize, Curve>> = face
            .loops
            .iter()
            .map(|uses| {
                uses.iter()
                    .map(|used| {
                        let edge = &edges[used.edge];
                        if used.forward {
                            edge.clone()
                        } else {
                            edge.inverse()
                        }
                    })
                    .collect()
            })
            .collect();
        let made = Face::try_new(wires, face.surface)
            .map_err(|error| format!("face \"{}\": {error}", face.name))?;
        shell.push(made);
    }
    Solid::try_new(vec![shell])
        .map(|_| ())
        .map_err(|error| error.to_string())
}

/// Judges a mesh and returns its volume: every edge shared by exactly two triangles, once each
/// way.
pub(super) fn judge_mesh(mesh: &Mesh) -> Result<f64, String> {
    let positions = mesh
        .points
        .iter()
        .map(|p| Point3::new(p.x, p.y, p.z))
        .collect();
    let faces = Faces::from_iter(&mesh.triangles);
    let polygons = PolygonMesh::try_new(
        StandardAttributes {
            positions,
            ..Default::default()
        },
        faces,
    )
    .map_err(|error| error.to_string())?;
    match polygons.shell_condition() {
        ShellCondition::Closed => Ok(polygons.volume()),
        other => Err(format!("the mesh is {other:?} where it should be closed")),
    }
}
