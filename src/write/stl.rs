//! Binary STL.
//!
//! The format holds single-precision corners and no connections, so two corners that round to
//! one, or a facet that rounds to a line, would tear or pinch the surface. Such a mesh is settled
//! in single precision first, and refused where that cannot be done.

use crate::solid::mesh_data::Mesh;
use crate::solid::single::settle;
use glam::DVec3;
use std::collections::BTreeMap;
use stl_io::{Normal, Triangle, Vertex};

/// Why a mesh cannot be written.
#[derive(Debug, thiserror::Error)]
pub enum StlError {
    /// A triangle names a point that is not there.
    #[error("triangle {triangle} names a point that is not there")]
    NoSuchPoint {
        /// The triangle's place in the list, from 0.
        triangle: usize,
    },
    /// A coordinate that is not finite, or too large for single precision.
    #[error("the point {at} mm cannot be held in single precision")]
    NotFinite {
        /// The point, mm.
        at: DVec3,
    },
    /// Two points that single precision cannot tell apart.
    #[error("the points {first} and {second} mm are one point in single precision")]
    Merged {
        /// The point met first.
        first: DVec3,
        /// The other.
        second: DVec3,
    },
    /// A triangle without area, or one that rounding turns over.
    #[error("the triangle at {at} mm has no area, or is turned over, in single precision")]
    Degenerate {
        /// Its first corner, mm.
        at: DVec3,
    },
    /// More triangles than the format can count.
    #[error("{count} triangles are more than the format can count")]
    TooMany {
        /// How many there are.
        count: usize,
    },
    /// The writer failed.
    #[error("the mesh could not be encoded: {0}")]
    Encode(#[from] std::io::Error),
}

/// The bytes of a binary STL file, with an empty header. Facet normals come from the
/// double-precision points. A closed mesh that would not survive single precision as it is gets
/// settled in it first.
///
/// # Errors
/// [`StlError`] where even that is of no help.
pub fn stl_file(mesh: &Mesh) -> Result<Vec<u8>, StlError> {
    match as_it_is(mesh) {
        Err(fault @ (StlError::Merged { .. } | StlError::Degenerate { .. })) => {
            let settled = settle(mesh).map_err(|_| fault)?;
            as_it_is(&settled)
        }
        done => done,
    }
}

fn as_it_is(mesh: &Mesh) -> Result<Vec<u8>, StlError> {
    let count = mesh.triangles.len();
    if u32::try_from(count).is_err() {
        return Err(StlError::TooMany { count });
    }
    let mut seen = BTreeMap::new();
    let mut facets = Vec::with_capacity(count);
    for (number, corners) in mesh.triangles.iter().enumerate() {
        let mut points = [DVec3::ZERO; 3];
        let mut vertices = [Vertex::default(); 3];
        for (i, &index) in corners.iter().enumerate() {
            let point = mesh.points.get(index).copied();
            points[i] = point.ok_or(StlError::NoSuchPoint { triangle: number })?;
            vertices[i] = single(points[i]);
            if !vertices[i].0.iter().all(|c| c.is_finite()) {
                return Err(StlError::NotFinite { at: points[i] });
            }
            let first = *seen.entry(vertices[i].0.map(f32::to_bits)).or_insert(index);
            if first != index {
                return Err(StlError::Merged {
                    first: mesh.points[first],
                    second: points[i],
                });
            }
        }
        facets.push(facet(points, vertices)?);
    }
    let mut bytes = Vec::with_capacity(84 + 50 * count);
    stl_io::write_stl(&mut bytes, facets.iter())?;
    Ok(bytes)
}

fn facet(points: [DVec3; 3], vertices: [Vertex; 3]) -> Result<Triangle, StlError> {
    let at = points[0];
    let exact = turn(points);
    let rounded = turn(vertices.map(|v| DVec3::from_array(v.0.map(f64::from))));
    // Written so that a triangle of no area, or NaN from one too thin, fails as well.
    let upright = exact.normalize_or_zero().dot(rounded.normalize_or_zero()) > 0.0;
    if !upright {
        return Err(StlError::Degenerate { at });
    }
    Ok(Triangle {
        normal: Normal::new(single(exact.normalize()).0),
        vertices,
    })
}

/// Twice the area of a triangle, along its normal.
fn turn([a, b, c]: [DVec3; 3]) -> DVec3 {
    (b - a).cross(c - a)
}

/// The nearest point of single precision, minus zero written as zero.
fn single(point: DVec3) -> Vertex {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the format is single precision"
    )]
    Vertex::new(point.to_array().map(|c| c as f32 + 0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Cursor;

    fn tetrahedron() -> Mesh {
        Mesh {
            points: vec![
                DVec3::new(-0.0, 0.0, 0.0),
                DVec3::new(10.1, 0.0, 0.0),
                DVec3::new(0.0, 20.2, 0.0),
                DVec3::new(0.0, 0.0, 30.3),
            ],
            triangles: vec![[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]],
        }
    }

    #[test]
    fn a_tetrahedron_reads_back() {
        let mesh = tetrahedron();
        let bytes = stl_file(&mesh).unwrap();
        assert_eq!(bytes.len(), 84 + 4 * 50);
        assert!(bytes[..80].iter().all(|b| *b == 0));
        assert_eq!(bytes, stl_file(&mesh).unwrap());
        let back = stl_io::read_stl(&mut Cursor::new(bytes)).unwrap();
        back.validate().unwrap();
        assert_eq!(back.vertices.len(), 4);
        assert_eq!(back.faces.len(), 4);
        let volume: f64 = back
            .faces
            .iter()
            .map(|f| {
                let [a, b, c] = f
                    .vertices
                    .map(|i| DVec3::from_array(back.vertices[i].0.map(f64::from)));
                a.dot(b.cross(c)) / 6.0
            })
            .sum();
        let expected = 10.1 * 20.2 * 30.3 / 6.0;
        assert!((volume - expected).abs() < 1e-6 * expected, "{volume}");
        let down = back.faces[0].normal.0.map(f64::from);
        assert!(DVec3::from_array(down).distance(DVec3::NEG_Z) < 1e-7);
        let slope = DVec3::new(1.0 / 10.1, 1.0 / 20.2, 1.0 / 30.3).normalize();
        let written = DVec3::from_array(back.faces[3].normal.0.map(f64::from));
        assert!(written.distance(slope) < 1e-7);
    }

    #[test]
    fn normals_come_from_the_double_precision_points() {
        // A sliver 20 µm high, 180 mm from the origin: single precision steps by 15 µm there, so
        // its rounded corners lean; the normal must not.
        let tilt = DVec3::new(0.0, 0.6, 0.8);
        let at = DVec3::new(180.0, 181.3, 179.1);
        let mesh = Mesh {
            points: vec![at, at + DVec3::X * 3.0, at + DVec3::X + tilt * 2e-2],
            triangles: vec![[0, 1, 2]],
        };
        let back = stl_io::read_stl(&mut Cursor::new(stl_file(&mesh).unwrap())).unwrap();
        let written = DVec3::from_array(back.faces[0].normal.0.map(f64::from));
        assert!(written.distance(DVec3::X.cross(tilt)) < 1e-6, "{written}");
    }

    #[test]
    fn points_that_merge_are_refused() {
        let mut mesh = tetrahedron();
        mesh.points.push(DVec3::new(10.1 + 1e-8, 0.0, 0.0));
        mesh.triangles[1] = [0, 4, 3];
        assert!(matches!(stl_file(&mesh), Err(StlError::Merged { .. })));
        mesh.points[4].x = 10.1 + 1e-5;
        assert!(stl_file(&mesh).is_ok(), "1e-5 apart near 10 stays apart");
    }

    #[test]
    fn triangles_that_lose_their_area_are_refused() {
        let degenerate = |points: [[f64; 3]; 3]| {
            let mesh = Mesh {
                points: points.map(DVec3::from_array).to_vec(),
                triangles: vec![[0, 1, 2]],
            };
            matches!(stl_file(&mesh), Err(StlError::Degenerate { .. }))
        };
        // A micrometre of height is lost beside 100 mm, kept beside 1 mm.
        assert!(degenerate([
            [100.0, 100.0, 0.0],
            [110.0, 100.0, 0.0],
            [105.0, 100.000_001, 0.0]
        ]));
        assert!(!degenerate([
            [1.0, 1.0, 0.0],
            [2.0, 1.0, 0.0],
            [1.5, 1.000_001, 0.0]
        ]));
        assert!(degenerate([[0.0; 3], [1.0, 0.0, 0.0], [2.0, 0.0, 0.0]]));
        let twice = Mesh {
            points: vec![DVec3::ZERO, DVec3::X],
            triangles: vec![[0, 1, 1]],
        };
        assert!(matches!(stl_file(&twice), Err(StlError::Degenerate { .. })));
    }

    #[test]
    fn a_triangle_that_rounding_turns_over_is_refused() {
        // Between 128 and 256 single precision steps by 2^-16 mm. The base rises 0.6 of a step, the
        // corner above its middle 0.4: rounded, the base rises a whole step and the corner none.
        let step = 2.0_f64.powi(-16);
        let mesh = Mesh {
            points: vec![
                DVec3::new(0.0, 200.0, 0.0),
                DVec3::new(10.0, 200.0 + 0.6 * step, 0.0),
                DVec3::new(5.0, 200.0 + 0.4 * step, 0.0),
            ],
            triangles: vec![[0, 1, 2]],
        };
        assert!(matches!(stl_file(&mesh), Err(StlError::Degenerate { .. })));
    }

    #[test]
    fn bad_points_are_refused() {
        let mut mesh = tetrahedron();
        mesh.triangles[2][1] = 9;
        let error = stl_file(&mesh);
        assert!(matches!(error, Err(StlError::NoSuchPoint { triangle: 2 })));
        for bad in [f64::NAN, f64::INFINITY, 1e300] {
            let mut mesh = tetrahedron();
            mesh.points[3].z = bad;
            assert!(matches!(stl_file(&mesh), Err(StlError::NotFinite { .. })));
        }
    }
}
