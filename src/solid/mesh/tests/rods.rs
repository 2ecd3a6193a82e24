//! Rods whose seam may move, and walls whose seam may not.

use std::f64::consts::TAU;

use super::shapes::{blind, halved, quartered, rod, roofed};
use crate::solid::brep::{Brep, Surface};
use crate::solid::kernel;
use crate::solid::mesh::{mesh, mesh_by_face};

/// Triangles on the faces of this name.
fn count(brep: &Brep, name: &str) -> usize {
    let (_, ranges) = mesh_by_face(brep, 0.01).unwrap();
    let faces = brep.faces.iter().zip(ranges);
    faces
        .filter(|(face, _)| face.name == name)
        .map(|(_, range)| range.len())
        .sum()
}

#[test]
fn a_rod_gets_no_piece_more_than_its_chord_asks_for() {
    // Pieces round it by hand: 2π over twice the arc cosine of 1 − 0.01 / r.
    for (radius, round) in [(5.25, 51), (5.0, 50), (1.0, 23), (0.1, 13)] {
        let made = mesh(&rod(radius), 0.01).unwrap();
        assert_eq!(
            made.triangles.len(),
            2 * round + 2 * (round - 2),
            "{radius}"
        );
        let volume = kernel::judge_mesh(&made).unwrap();
        // A regular polygon on the circle: so all pieces are alike.
        let area = round as f64 / 2.0 * radius * radius * (TAU / round as f64).sin();
        assert!((volume / (20.0 * area) - 1.0).abs() < 1e-12, "{radius}");
    }
}
/// 51 points round a radius of 5.25 at a chord of 0.01: so many round a blind hole's point too.
#[test]
fn a_hole_with_a_point_is_divided_oddly_down_to_its_apex() {
    let brep = blind(5.25);
    assert_eq!((count(&brep, "hole"), count(&brep, "point")), (2 * 51, 51));
    // By hand 2π over twice the arc cosine of 1 − 0.01 / 6.
    assert_eq!(count(&brep, "wall"), 2 * 55);
    kernel::judge_mesh(&mesh(&brep, 0.01).unwrap()).unwrap();
}

/// A seam that a plane's corner stands on must not move: the plane would be bent.
#[test]
fn a_seam_under_a_ridge_stays_where_it_is() {
    let brep = roofed(5.25);
    assert_eq!(count(&brep, "wall"), 2 * 52);
    let (made, ranges) = mesh_by_face(&brep, 0.01).unwrap();
    kernel::judge_mesh(&made).unwrap();
    for (face, range) in brep.faces.iter().zip(ranges) {
        let Surface::Plane { .. } = face.surface else {
            continue;
        };
        for id in made.triangles[range].iter().flatten() {
            // Rounding of points some 20 mm away.
            assert!(face.surface.distance(made.points[*id]).abs() < 1e-12);
        }
    }
}

/// Four quarter walls stand round like two halves twice, and are none.
#[test]
fn walls_of_less_or_more_than_two_halves_are_divided_alike() {
    let brep = quartered(5.25);
    assert_eq!(count(&brep, "wall"), 2 * 52);
    kernel::judge_mesh(&mesh(&brep, 0.01).unwrap()).unwrap();
    let brep = halved(5.25);
    assert_eq!(count(&brep, "wall"), 2 * 26);
    kernel::judge_mesh(&mesh(&brep, 0.01).unwrap()).unwrap();
    // Unmoved, the flat one is flat.
    assert_eq!(count(&brep, "flat"), 2);
}
