//! Plane faces in space.

use glam::DVec3;

use super::shapes::blind;
use crate::solid::mesh::sweep::NotSimple;
use crate::solid::mesh::{PlaneFaces, mesh_by_face};

/// Axes of three planes, the second a quarter turn from the first.
const PLANES: [[DVec3; 2]; 3] = [
    [DVec3::X, DVec3::Y],
    [DVec3::Z, DVec3::X],
    [DVec3::NEG_Y, DVec3::Z],
];

fn divide(corners: &[(f64, f64)], axes: [DVec3; 2]) -> Result<Vec<[usize; 3]>, NotSimple> {
    let away = axes[0].cross(axes[1]) * 7.0;
    let points: Vec<DVec3> = corners
        .iter()
        .map(|&(x, y)| away + axes[0] * x + axes[1] * y)
        .collect();
    let mut triangles = Vec::new();
    let loops = std::iter::once(0..points.len());
    PlaneFaces::default().divide(&points, loops, axes, &mut triangles)?;
    Ok(triangles)
}

/// Whatever has three corners is looked at like any other face.
#[test]
fn a_face_of_three_corners_runs_anticlockwise_or_is_refused() {
    let sound = [(0.0, 0.0), (4.0, 0.0), (1.0, 3.0)];
    let [a, b, c] = sound;
    for axes in PLANES {
        assert_eq!(divide(&sound, axes), Ok(vec![[0, 1, 2]]));
        assert_eq!(divide(&[c, b, a], axes), Err(NotSimple), "clockwise");
        assert_eq!(divide(&[a, b, (2.0, 0.0)], axes), Err(NotSimple), "in line");
        assert_eq!(divide(&[a, b, a], axes), Err(NotSimple), "there and back");
    }
}

/// The shorter diagonal of a rhombus is drawn: faces are seen neither squeezed nor mirrored, whichever
/// way they are longer.
#[test]
fn faces_are_seen_in_their_true_shape() {
    for axes in PLANES {
        for (wide, tall, shorter) in [(2.0, 2.5, [0, 2]), (2.5, 2.0, [1, 3])] {
            let corners = [(wide, 0.0), (0.0, tall), (-wide, 0.0), (0.0, -tall)];
            let triangles = divide(&corners, axes).unwrap();
            assert_eq!(triangles.len(), 2);
            for triangle in triangles {
                assert!(shorter.iter().all(|end| triangle.contains(end)), "{axes:?}");
                let [a, b, c] = triangle.map(|i| corners[i]);
                let twice = (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
                assert!(twice > 0.0);
            }
        }
    }
}

/// Pictures shade each face's own triangles: the ranges follow one another and leave none out.
#[test]
fn every_triangle_belongs_to_one_face() {
    let brep = blind(5.25);
    let (made, ranges) = mesh_by_face(&brep, 0.01).unwrap();
    assert_eq!(ranges.len(), brep.faces.len());
    let mut next = 0;
    for range in ranges {
        assert_eq!(range.start, next);
        next = range.end;
    }
    assert_eq!(next, made.triangles.len());
}
