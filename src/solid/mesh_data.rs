//! A triangle mesh as plain arrays, in double precision.

use glam::DVec3;

/// A triangle mesh. Corners are shared by index, so two triangles meet along an edge exactly
/// where they name the same two points. No triangle, or no point, is the empty mesh.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// Corners, mm.
    pub points: Vec<DVec3>,
    /// Triangles as indices into [`Mesh::points`], anticlockwise seen from outside the solid.
    pub triangles: Vec<[usize; 3]>,
}
