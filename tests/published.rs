//! Published values: handbook closed forms against the exact integral over faces. Each value
//! stands with its source; the shapes are written out by hand in `tests/shapes`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod shapes;

use barrelhead::solid::integrate::measure;

/// Oblique bore through parallel walls: V = πr²t/cos θ; for r = 5, t = 15, θ = 10° the value is
/// 1196.271294 (computed with a general-purpose library by quadrature and reproduced by
/// OpenCASCADE's volume properties to six digits).
#[test]
fn oblique_bore_through_parallel_walls() {
    let shape = shapes::oblique_bore();
    let gone = 50.0 * 30.0 * 15.0 - measure(&shape.brep).volume;
    assert!((gone - 1_196.271_294_06).abs() < 1e-7, "{gone}");
}

/// The hand-made shapes' own closed forms (prism, obround, cylinder, cone): volume, area and
/// centroid to rounding.
#[test]
fn integral_over_faces_meets_every_hand_written_shape() {
    for shape in shapes::all() {
        let (got, wanted) = (measure(&shape.brep), shape.measures);
        assert!(
            (got.volume / wanted.volume - 1.0).abs() < 1e-12,
            "{} volume",
            shape.name
        );
        assert!(
            (got.area / wanted.area - 1.0).abs() < 1e-12,
            "{} area",
            shape.name
        );
        assert!(
            got.centroid.distance(wanted.centroid) < 1e-10,
            "{} centroid",
            shape.name
        );
        assert!(
            got.min.distance(wanted.min) + got.max.distance(wanted.max) < 1e-10,
            "{} box",
            shape.name
        );
    }
}

/// A face turned round must show in the volume: the integral reads the flags as they stand.
#[test]
fn a_face_turned_round_changes_the_volume() {
    for shape in shapes::all() {
        let mut brep = shape.brep.clone();
        for edges in &mut brep.faces[0].loops {
            edges.reverse();
            edges
                .iter_mut()
                .for_each(|used| used.forward = !used.forward);
        }
        let wrong = measure(&brep).area / shape.measures.area;
        assert!((wrong - 1.0).abs() > 1e-3, "{}", shape.name);
    }
}
