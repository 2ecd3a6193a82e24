//! How finely edges are divided.

use std::f64::consts::{PI, TAU};

use glam::DVec3;

use super::shapes::{pipe, reversed_arc, rod, stud, widening};
use crate::input::sample::six_string;
use crate::layout::{Copy, Layout};
use crate::solid::brep::{Curve, Surface};
use crate::solid::mesh::divide::{pieces, widest};
use crate::solid::mesh::{MeshFault, finer, mesh, mesh_at, mesh_by_face};
use crate::solid::{guide_block, head, kernel};
use crate::tolerance::{FINEST_CHORD, MESH_CHORD};

/// Facets on curved faces lie within the chord, whole solids over: bores, points, corners, arches.
#[test]
fn no_facet_leaves_its_surface_by_more_than_the_chord() {
    let mut odd = 0;
    for (chord, corner_radius) in [(0.02, 0.0), (0.01, 3.0), (0.0137, 7.5), (0.005, 7.4)] {
        let mut design = six_string();
        if let Some(slots) = design.slots.as_mut() {
            slots.corner_radius = corner_radius;
        }
        let layout = Layout::new(&design, Copy::Finished);
        let blocks = layout.blocks.iter().map(guide_block::guide_block);
        for brep in blocks.chain([head::head(&layout)]) {
            let (mesh, ranges) = mesh_by_face(&brep, chord).unwrap();
            kernel::judge_mesh(&mesh).unwrap();
            for (face, range) in brep.faces.iter().zip(ranges) {
                if let Surface::Plane { .. } = face.surface {
                    continue;
                }
                odd += range.len() / 2 % 2;
                for corners in &mesh.triangles[range] {
                    let [a, b, c] = corners.map(|id| mesh.points[id]);
                    for (point, most) in [
                        // Corners lie on the surface but for rounding.
                        (a, 1e-9),
                        (b, 1e-9),
                        (c, 1e-9),
                        ((a + b) / 2.0, chord),
                        ((b + c) / 2.0, chord),
                        ((c + a) / 2.0, chord),
                        ((a + b + c) / 3.0, chord),
                    ] {
                        let off = face.surface.distance(point).abs();
                        assert!(off <= most + 1e-9, "{}: {off} off", face.name);
                    }
                }
            }
        }
    }
    assert!(odd > 0, "no wall was divided oddly");
}

/// Finer steps end right at the finest chord, not below it.
#[test]
fn chords_grow_finer_down_to_the_finest() {
    let tried: Vec<f64> = std::iter::successors(Some(MESH_CHORD), |chord| finer(*chord))
        .take(50)
        .collect();
    // Each a quarter of the one before, but for the last, which may be less of a step.
    let (last, others) = tried.split_last().unwrap();
    assert!(tried.starts_with(&[0.2, 0.05, 0.0125]), "{tried:?}");
    let quarter = |pair: &[f64]| (pair[0] / 4.0).to_bits() == pair[1].to_bits();
    assert!(others.windows(2).all(quarter), "{tried:?}");
    assert_eq!(last.to_bits(), FINEST_CHORD.to_bits());
    let before = *others.last().unwrap();
    assert!(
        before > FINEST_CHORD && before / 4.0 <= FINEST_CHORD,
        "{tried:?}"
    );
    // One asked for that is finer still is taken as it is.
    assert_eq!(finer(FINEST_CHORD / 5.0), None);
}

/// However generous the file, flats stay within the coarsest chord.
#[test]
fn no_chord_is_coarser_than_the_coarsest() {
    let wide = rod(50.0);
    assert_eq!(mesh(&wide, 5.0).unwrap(), mesh(&wide, MESH_CHORD).unwrap());
}

/// Rims divided a turn apart cross where the ring between them is narrower than the chord.
#[test]
fn a_ring_narrower_than_the_chord_gets_a_finer_one() {
    let narrow = pipe(6.0, 0.001);
    let crossed = mesh_at(&narrow, MESH_CHORD).map(|_| ());
    assert!(matches!(crossed, Err(MeshFault::Boundary { face }) if face == "foot"));
    kernel::judge_mesh(&mesh(&narrow, MESH_CHORD).unwrap()).unwrap();
    // Rims that meet are refused at the finest chord too, and it comes to an end.
    let none = mesh(&pipe(6.0, 0.0), MESH_CHORD);
    assert!(matches!(none, Err(MeshFault::Boundary { .. })));
}

#[test]
fn pieces_forgive_rounding_and_are_never_none() {
    // 0.1 + 0.2 is the double after 0.3: three steps of 0.1 and a rest of rounding.
    assert_eq!(pieces(0.1 + 0.2, 0.1), 3);
    assert_eq!(pieces(0.3001, 0.1), 4);
    assert_eq!(pieces(1e-12, 0.5), 1);
}

/// Where a conical wall ends in an ellipse, both its edges are divided on the same generators: no
/// quarter of it is twisted.
#[test]
fn both_edges_of_a_conical_wall_are_divided_on_the_same_generators() {
    for backwards in [false, true] {
        let mut brep = stud(0.4);
        if backwards {
            brep = (0..4).fold(brep, reversed_arc);
        }
        let (made, ranges) = mesh_by_face(&brep, 0.01).unwrap();
        kernel::judge_mesh(&made).unwrap();
        for (face, range) in brep.faces.iter().zip(ranges) {
            let Surface::Cone { .. } = face.surface else {
                continue;
            };
            // The apex is the origin; a, b, c and a, c, d: a and d on one generator, b and c too.
            for pair in made.triangles[range].chunks(2) {
                let [a, b, c] = pair[0].map(|id| made.points[id].normalize());
                let d = made.points[pair[1][2]].normalize();
                // Sines of the angle between two generators: unit vectors but for rounding.
                assert!(a.cross(d).length() < 1e-12 && b.cross(c).length() < 1e-12);
            }
        }
    }
}

/// Of an arc that is drawn clockwise the pieces are as many, and a rod is known by it all the same.
#[test]
fn arcs_may_be_drawn_either_way() {
    let straight = mesh(&rod(5.25), 0.01).unwrap();
    let volume = kernel::judge_mesh(&straight).unwrap();
    for turned in [vec![0], vec![1, 2], vec![0, 1, 2, 3]] {
        let brep = turned.iter().copied().fold(rod(5.25), reversed_arc);
        let made = mesh(&brep, 0.01).unwrap();
        assert_eq!(made.triangles.len(), straight.triangles.len());
        // One solid, its points at other angles by rounding alone.
        assert!((kernel::judge_mesh(&made).unwrap() / volume - 1.0).abs() < 1e-12);
    }
}

/// A cone is widest at one end, and its own radius may be that of the other.
#[test]
fn a_wall_that_widens_is_divided_by_its_widest_ring() {
    for (radius, chord) in [(1.0, 0.01), (1.0, 0.012), (0.7, 0.005), (5.0, 0.02)] {
        let brep = widening(radius);
        let (made, ranges) = mesh_by_face(&brep, chord).unwrap();
        kernel::judge_mesh(&made).unwrap();
        for (face, range) in brep.faces.iter().zip(ranges) {
            for corners in &made.triangles[range] {
                let [a, b, c] = corners.map(|id| made.points[id]);
                for point in [(a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0] {
                    let off = face.surface.distance(point).abs();
                    assert!(off <= chord + 1e-9, "{}: {off} for {chord}", face.name);
                }
            }
        }
        // The widest ring itself leaves its circle by no more than the chord either.
        for edge in &brep.edges {
            let Curve::Arc {
                axis_a, from, to, ..
            } = edge.curve
            else {
                continue;
            };
            assert!(((to - from).abs() - PI).abs() < 1e-12);
            let radius = axis_a.length();
            let round = made
                .points
                .iter()
                .filter(|point| (point.z - brep.vertices[edge.start].z).abs() < 1e-9)
                .count();
            let sagitta = radius * (1.0 - (TAU / round as f64 / 2.0).cos());
            assert!(sagitta <= chord + 1e-9, "{sagitta} for {chord}");
        }
    }
}

/// An oblique end is farthest from the axis at one of its seams: of this one in x = 4 / (1 − 0.4 / 2),
/// whatever the cone's own radius.
#[test]
fn the_widest_place_of_a_cone_is_found_at_a_seam() {
    let brep = stud(0.4);
    let mut wall = brep.faces[0].clone();
    wall.loops[0].retain(|used| brep.vertices[brep.edges[used.edge].start].z < 15.0);
    if let Surface::Cone { origin, radius, .. } = &mut wall.surface {
        (*origin, *radius) = (DVec3::ZERO, 0.0);
    }
    // Rounding of a few millimetres.
    assert!((widest(&brep, &wall) - 5.0).abs() < 1e-12);
}
