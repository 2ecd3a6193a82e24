//! Settling a mesh in single precision, the precision of the printer's files.
//!
//! Rounding moves a corner by a few hundred-thousandths of a millimetre. Where a design has
//! features as small as that, corners fall together and triangles lose their area. Such triangles
//! are taken out without opening the surface: by collapsing an edge of almost no length, or by
//! exchanging the diagonal of two triangles. What comes out is judged as closed again.

use std::collections::BTreeSet;

use glam::DVec3;

use super::kernel;
use super::mesh_data::Mesh;
use crate::tolerance::FLAT_TRIANGLE;

/// Rounds of mending before giving up; every round mends all that it can.
const ROUNDS: usize = 50;

/// Corners farther apart than this are never made one, mm: what a file can hold at all, a few times
/// over, and far below what a printer can show.
pub(super) const NEAR: f64 = 1e-3;

/// The nearest point that single precision holds, minus zero as zero.
#[must_use]
pub fn single(point: DVec3) -> DVec3 {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "this is where precision is given up"
    )]
    DVec3::from_array(point.to_array().map(|c| f64::from(c as f32 + 0.0)))
}

/// The mesh with every coordinate a number of single precision, every triangle with an area of its
/// own and turned as before, still closed.
///
/// # Errors
/// In words, where a triangle without area cannot be taken out or the surface would not be closed.
pub fn settle(mesh: &Mesh) -> Result<Mesh, String> {
    let mut work = Work::new(mesh);
    for _ in 0..ROUNDS {
        if !work.round() {
            break;
        }
    }
    if let Some(left) = (0..work.triangles.len()).find(|&t| work.is_flat(t)) {
        let at = work.points[work.triangles[left].map_or(0, |corners| corners[0])];
        return Err(format!(
            "a triangle at {at} mm has no area in single precision"
        ));
    }
    let triangles: Vec<[usize; 3]> = work.triangles.iter().flatten().copied().collect();
    let settled = Mesh::compact(&work.points, &triangles);
    kernel::judge_mesh(&settled)?;
    Ok(settled)
}

struct Work {
    points: Vec<DVec3>,
    /// `None` once taken out.
    triangles: Vec<Option<[usize; 3]>>,
    /// Outward normal of the surface where each triangle lies, from the exact points.
    normals: Vec<DVec3>,
    /// Triangles round each point.
    around: Vec<BTreeSet<usize>>,
}

impl Work {
    fn new(mesh: &Mesh) -> Work {
        let mut around = vec![BTreeSet::new(); mesh.points.len()];
        for (number, corners) in mesh.triangles.iter().enumerate() {
            for &corner in corners {
                around[corner].insert(number);
            }
        }
        Work {
            points: mesh.points.iter().map(|point| single(*point)).collect(),
            triangles: mesh.triangles.iter().copied().map(Some).collect(),
            normals: mesh
                .triangles
                .iter()
                .map(|corners| turn(corners.map(|id| mesh.points[id])).normalize_or_zero())
                .collect(),
            around,
        }
    }

    /// Whether a triangle has next to no area or is turned over.
    fn is_flat(&self, triangle: usize) -> bool {
        self.triangles[triangle]
            .is_some_and(|corners| self.is_flat_as(corners, self.normals[triangle]))
    }

    fn is_flat_as(&self, corners: [usize; 3], normal: DVec3) -> bool {
        let twice = turn(corners.map(|id| self.points[id]));
        // Written so that NaN is flat as well.
        let upright = twice.length() > 2.0 * FLAT_TRIANGLE && twice.dot(normal) > 0.0;
        !upright
    }

    /// Mends what it can once; false where nothing could be, or need be, mended.
    fn round(&mut self) -> bool {
        let mut mended = false;
        for triangle in 0..self.triangles.len() {
            if self.is_flat(triangle) {
                mended |= self.exchange(triangle) || self.collapse(triangle);
            }
        }
        mended
    }

    /// Exchanges the diagonal over the longest edge of a flat triangle, if both new triangles have
    /// area.
    fn exchange(&mut self, flat: usize) -> bool {
        let Some(corners) = self.triangles[flat] else {
            return false;
        };
        let length =
            |i: usize| self.points[corners[i]].distance_squared(self.points[corners[(i + 1) % 3]]);
        let longest = (0..3)
            .max_by(|&i, &j| length(i).total_cmp(&length(j)))
            .unwrap_or_default();
        let [a, b, v] = [0, 1, 2].map(|i| corners[(longest + i) % 3]);
        let Some((other, w)) = self.neighbour(flat, a, b) else {
            return false;
        };
        if self.are_joined(v, w) {
            return false;
        }
        let normal = self.normals[other];
        let (one, two) = ([a, w, v], [w, b, v]);
        if self.points[v].distance(self.points[w]) <= NEAR {
            // The two tips fall together across the edge: both triangles go, and the tips become one.
            let before = (self.triangles[other], self.normals[flat]);
            self.replace(flat, one, normal);
            self.replace(other, two, normal);
            if self.draw_together(v, w) || self.draw_together(w, v) {
                return true;
            }
            let (Some(old), flat_normal) = before else {
                return false;
            };
            self.replace(flat, corners, flat_normal);
            self.replace(other, old, normal);
            return false;
        }
        if self.is_flat_as(one, normal) || self.is_flat_as(two, normal) {
            return false;
        }
        self.replace(flat, one, normal);
        self.replace(other, two, normal);
        true
    }

    /// Draws the shortest edge of a flat triangle together into one of its ends, if nothing round
    /// it turns over and the surface stays as simple as it was.
    fn collapse(&mut self, flat: usize) -> bool {
        let Some(corners) = self.triangles[flat] else {
            return false;
        };
        let mut edges = [0, 1, 2].map(|i| (corners[i], corners[(i + 1) % 3]));
        edges.sort_by(|x, y| {
            let length = |&(a, b): &(usize, usize)| self.points[a].distance(self.points[b]);
            length(x).total_cmp(&length(y))
        });
        let (a, b) = edges[0];
        self.points[a].distance(self.points[b]) <= NEAR
            && [(a, b), (b, a)]
                .into_iter()
                .any(|(from, to)| self.draw_together(from, to))
    }

    fn draw_together(&mut self, from: usize, to: usize) -> bool {
        // Exactly the two triangles beside the edge may vanish, or the surface would pinch.
        let common: BTreeSet<usize> = self
            .ring(from)
            .intersection(&self.ring(to))
            .copied()
            .collect();
        let beside: Vec<usize> = self.around[from]
            .intersection(&self.around[to])
            .copied()
            .collect();
        if common.len() != 2 || beside.len() != 2 {
            return false;
        }
        let moved: Vec<(usize, [usize; 3])> = self.around[from]
            .iter()
            .filter(|triangle| !beside.contains(triangle))
            .filter_map(|&triangle| {
                let corners = self.triangles[triangle]?;
                Some((triangle, corners.map(|id| if id == from { to } else { id })))
            })
            .collect();
        // A neighbour that is flat already may stay so; it has its own turn.
        let spoilt = moved.iter().any(|&(triangle, corners)| {
            self.is_flat_as(corners, self.normals[triangle]) && !self.is_flat(triangle)
        });
        if spoilt {
            return false;
        }
        for triangle in beside {
            self.take_out(triangle);
        }
        for (triangle, corners) in moved {
            let normal = self.normals[triangle];
            self.replace(triangle, corners, normal);
        }
        true
    }

    /// Points joined to this one by an edge.
    fn ring(&self, point: usize) -> BTreeSet<usize> {
        self.around[point]
            .iter()
            .filter_map(|&triangle| self.triangles[triangle])
            .flatten()
            .filter(|&id| id != point)
            .collect()
    }

    fn are_joined(&self, one: usize, other: usize) -> bool {
        self.around[one]
            .intersection(&self.around[other])
            .next()
            .is_some()
    }

    /// The triangle on the other side of the edge a → b, and its third corner.
    fn neighbour(&self, triangle: usize, a: usize, b: usize) -> Option<(usize, usize)> {
        let other = self.around[a]
            .intersection(&self.around[b])
            .copied()
            .find(|&other| other != triangle)?;
        let third = self.triangles[other]?
            .into_iter()
            .find(|&id| id != a && id != b)?;
        Some((other, third))
    }

    fn take_out(&mut self, triangle: usize) {
        if let Some(corners) = self.triangles[triangle].take() {
            for corner in corners {
                self.around[corner].remove(&triangle);
            }
        }
    }

    fn replace(&mut self, triangle: usize, corners: [usize; 3], normal: DVec3) {
        self.take_out(triangle);
        for corner in corners {
            self.around[corner].insert(triangle);
        }
        self.triangles[triangle] = Some(corners);
        self.normals[triangle] = normal;
    }
}

/// Twice the area of a triangle, along its normal.
fn turn([a, b, c]: [DVec3; 3]) -> DVec3 {
    (b - a).cross(c - a)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A box of 10 by 10 by 10 mm near 200 mm from the origin, its top face with one corner more.
    fn box_with(extra: DVec3, top: &[[usize; 3]]) -> Mesh {
        let at = DVec3::new(200.0, 200.0, 200.0);
        let mut points: Vec<DVec3> = [0.0, 10.0]
            .into_iter()
            .flat_map(|z| {
                [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]]
                    .map(|[x, y]| at + DVec3::new(x, y, z))
            })
            .collect();
        points.push(at + extra);
        let mut triangles = vec![[0, 2, 1], [0, 3, 2]];
        for (i, j) in [(0, 1), (1, 2), (2, 3), (3, 0)] {
            triangles.push([i, j, j + 4]);
            triangles.push([i, j + 4, i + 4]);
        }
        triangles.extend_from_slice(top);
        Mesh { points, triangles }
    }

    fn holds(mesh: &Mesh, triangles: usize) {
        assert!((kernel::judge_mesh(mesh).unwrap() - 1000.0).abs() < 1e-3);
        assert!(crate::write::stl::stl_file(mesh).is_ok());
        let settled = settle(mesh).unwrap();
        assert_eq!(settled.triangles.len(), triangles);
        assert!((kernel::judge_mesh(&settled).unwrap() - 1000.0).abs() < 2e-2);
        for corners in &settled.triangles {
            let [a, b, c] = corners.map(|id| settled.points[id]);
            assert_eq!(a, single(a));
            assert!(turn([a, b, c]).length() > 2.0 * FLAT_TRIANGLE);
        }
    }

    const FAN: [[usize; 3]; 4] = [[4, 5, 8], [5, 6, 8], [6, 7, 8], [7, 4, 8]];

    #[test]
    fn a_sound_mesh_keeps_its_triangles() {
        holds(&box_with(DVec3::new(5.0, 5.0, 10.0), &FAN), 14);
    }

    #[test]
    fn a_sliver_along_an_edge_exchanges_its_diagonal() {
        // A micrometre from the edge 4–5: nothing at 200 mm, where numbers step by 15.
        holds(&box_with(DVec3::new(5.0, 1e-6, 10.0), &FAN), 14);
    }

    #[test]
    fn corners_that_fall_together_become_one() {
        // Single precision steps by 0.000015 mm at 200 mm: nearer corners are one, others stay two.
        for (x, y, triangles) in [
            (1e-6, 1e-6, 12),
            (9.999_999, 9.999_999, 12),
            (2e-5, 2e-5, 14),
            (1e-4, 1e-4, 14),
        ] {
            holds(&box_with(DVec3::new(x, y, 10.0), &FAN), triangles);
        }
    }

    #[test]
    fn an_open_mesh_is_refused() {
        let mut mesh = box_with(DVec3::new(1e-6, 1e-6, 10.0), &FAN);
        mesh.triangles.pop();
        assert!(settle(&mesh).is_err());
    }
}
