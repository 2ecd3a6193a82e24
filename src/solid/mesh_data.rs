//! A triangle mesh as plain arrays, in double precision.

use std::collections::BTreeMap;

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

impl Mesh {
    /// The mesh of these triangles with only the points they use, in their old order. Every corner
    /// must name a point.
    #[must_use]
    pub fn compact(points: &[DVec3], triangles: &[[usize; 3]]) -> Mesh {
        let mut used: BTreeMap<usize, usize> =
            triangles.iter().flatten().map(|&id| (id, 0)).collect();
        for (number, place) in used.values_mut().enumerate() {
            *place = number;
        }
        Mesh {
            points: used.keys().map(|&id| points[id]).collect(),
            triangles: triangles
                .iter()
                .map(|corners| corners.map(|id| used[&id]))
                .collect(),
        }
    }
}
