//! Solids to mesh, each with one thing about it.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, TAU};

use glam::DVec3;

use crate::solid::bores;
use crate::solid::brep::{Brep, Curve, Edge, Surface};
use crate::solid::builder::{Builder, HoleFrame, Ring, reversed};

/// A rod of this radius, 20 mm long, that stands alone.
pub(super) fn rod(radius: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = HoleFrame::new(DVec3::new(3.0, 1.0, 2.0), DVec3::X, DVec3::Z);
    let [foot, end] = [0.0, 20.0].map(|depth| builder.ring(&frame, radius, depth, 0.0));
    builder.rod_wall("wall", bores::cylinder(&frame, radius), &foot, &end);
    ends(&mut builder, &frame, 20.0, [&[&foot], &[&end]]);
    builder.brep
}

/// Plane faces at foot and far end, each within its first ring and round its others.
fn ends(builder: &mut Builder, frame: &HoleFrame, length: f64, rings: [&[&Ring]; 2]) {
    let [foot, end] = rings.map(|rings| {
        let (outer, holes) = rings.split_first().unwrap();
        let first = [outer.backward(), outer.forward()];
        let mut both = first.map(|first| vec![first]);
        for hole in holes {
            both[0].push(hole.forward());
            both[1].push(hole.backward());
        }
        both
    });
    let ([foot, _], [_, end]) = (foot, end);
    builder.plane_face("foot", frame.origin, -frame.along, frame.first, foot);
    let far = frame.origin + frame.along * length;
    builder.plane_face("end", far, frame.along, frame.first, end);
}

/// Upright frame at the origin.
fn upright() -> HoleFrame {
    HoleFrame::new(DVec3::ZERO, DVec3::Z, DVec3::Y)
}

/// A rod with a hole right through whose seams stand a little aside, so that the points of the two
/// rims do too.
pub(super) fn pipe(radius: f64, wall: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = upright();
    let aside = HoleFrame::new(DVec3::ZERO, DVec3::Z, DVec3::new(0.6, 0.8, 0.0));
    let inner = radius - wall;
    let [foot, end] = [0.0, 20.0].map(|depth| builder.ring(&frame, radius, depth, 0.0));
    let [mouth, exit] = [0.0, 20.0].map(|depth| builder.ring(&aside, inner, depth, 0.0));
    builder.rod_wall("wall", bores::cylinder(&frame, radius), &foot, &end);
    builder.tube("hole", bores::cylinder(&aside, inner), &mouth, &exit);
    ends(
        &mut builder,
        &frame,
        20.0,
        [&[&foot, &mouth], &[&end, &exit]],
    );
    builder.brep
}

/// A rod of radius 6 with a blind hole of this radius in its foot that ends in a bit's point.
pub(super) fn blind(radius: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = upright();
    let [foot, end] = [0.0, 20.0].map(|depth| builder.ring(&frame, 6.0, depth, 0.0));
    let [mouth, rim] = [0.0, 8.0].map(|depth| builder.ring(&frame, radius, depth, 0.0));
    builder.rod_wall("wall", bores::cylinder(&frame, 6.0), &foot, &end);
    builder.tube("hole", bores::cylinder(&frame, radius), &mouth, &rim);
    let point = Surface::Cone {
        origin: DVec3::Z * 8.0,
        axis: -DVec3::Z,
        x_axis: frame.first,
        radius,
        half_angle: FRAC_PI_4,
    };
    builder.cone_bottom("point", point, &rim, DVec3::Z * (8.0 + radius));
    ends(&mut builder, &frame, 20.0, [&[&foot, &mouth], &[&end]]);
    builder.brep
}

/// A cone over its apex, the origin, from a plane that rises by `slope` along x up to z = 20.
pub(super) fn stud(slope: f64) -> Brep {
    let (widens, height, top) = (0.5, 8.0, 20.0);
    let mut builder = Builder::default();
    let frame = upright();
    // The plane z = height + slope·x meets the cone's two generators in y = 0 at these x.
    let right = height * widens / (1.0 - slope * widens);
    let left = -height * widens / (1.0 + slope * widens);
    let middle = (left + right) / 2.0;
    let center = DVec3::new(middle, 0.0, height + slope * middle);
    let along = DVec3::new(1.0, 0.0, slope) * ((right - left) / 2.0);
    let across = ((center.z * widens).powi(2) - middle * middle).sqrt();
    let foot = builder.ring_on(center, along, DVec3::Y * across);
    let end = builder.ring(&frame, top * widens, top, 0.0);
    let wall = Surface::Cone {
        origin: DVec3::Z * top,
        axis: DVec3::Z,
        x_axis: DVec3::X,
        radius: top * widens,
        half_angle: f64::atan(widens),
    };
    builder.rod_wall("wall", wall, &foot, &end);
    let down = DVec3::new(slope, 0.0, -1.0).normalize();
    builder.plane_face("foot", center, down, DVec3::Y, vec![foot.backward()]);
    builder.plane_face(
        "end",
        DVec3::Z * top,
        DVec3::Z,
        DVec3::X,
        vec![end.forward()],
    );
    builder.brep
}

/// A rod that widens at its end by 1 mm at 45°, the cone's own radius that of the rod.
pub(super) fn widening(radius: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = upright();
    let [foot, waist] = [0.0, 5.0].map(|depth| builder.ring(&frame, radius, depth, 0.0));
    let end = builder.ring(&frame, radius + 1.0, 6.0, 0.0);
    let cone = Surface::Cone {
        origin: DVec3::Z * 5.0,
        axis: DVec3::Z,
        x_axis: frame.first,
        radius,
        half_angle: FRAC_PI_4,
    };
    builder.rod_wall("wall", bores::cylinder(&frame, radius), &foot, &waist);
    builder.rod_wall("widening", cone, &waist, &end);
    ends(&mut builder, &frame, 6.0, [&[&foot], &[&end]]);
    builder.brep
}

/// A rod whose far end is a roof: two slanted halves over a ridge from seam to seam.
pub(super) fn roofed(radius: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = upright();
    let foot = builder.ring(&frame, radius, 0.0, 0.0);
    let center = DVec3::Z * 20.0;
    let vertices = [1.0, -1.0].map(|sign| builder.vertex(center + frame.first * radius * sign));
    let half = |falls: f64, from: f64, to: f64| Curve::Arc {
        center,
        axis_a: frame.first * radius,
        axis_b: (frame.second - DVec3::Z * falls) * radius,
        from,
        to,
    };
    let there = builder.edge(vertices[0], vertices[1], half(0.5, 0.0, PI));
    let back = builder.edge(vertices[1], vertices[0], half(-0.5, PI, TAU));
    let eaves = Ring {
        vertices,
        arcs: [there, back],
    };
    builder.rod_wall("wall", bores::cylinder(&frame, radius), &foot, &eaves);
    let ridge = builder.line(vertices[1], vertices[0]);
    for (arc, ridge, falls) in [(there, ridge, 0.5), (back, reversed(ridge), -0.5)] {
        let normal = (DVec3::Z + frame.second * falls).normalize();
        builder.plane_face("roof", center, normal, frame.first, vec![vec![arc, ridge]]);
    }
    builder.plane_face(
        "foot",
        DVec3::ZERO,
        -DVec3::Z,
        DVec3::X,
        vec![foot.backward()],
    );
    builder.brep
}

/// A rod whose wall is four quarters.
pub(super) fn quartered(radius: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = upright();
    let ring = |builder: &mut Builder, height: f64| {
        let center = DVec3::Z * height;
        let at = |quarter: usize| {
            let (sin, cos) = (FRAC_PI_2 * quarter as f64).sin_cos();
            center + (frame.first * cos + frame.second * sin) * radius
        };
        let corners = [0, 1, 2, 3].map(|quarter| builder.vertex(at(quarter)));
        let arcs = [0, 1, 2, 3].map(|quarter| {
            let curve = Curve::Arc {
                center,
                axis_a: frame.first * radius,
                axis_b: frame.second * radius,
                from: FRAC_PI_2 * quarter as f64,
                to: FRAC_PI_2 * (quarter + 1) as f64,
            };
            builder.edge(corners[quarter], corners[(quarter + 1) % 4], curve)
        });
        (corners, arcs)
    };
    let (foot, end) = (ring(&mut builder, 0.0), ring(&mut builder, 20.0));
    for quarter in 0..4 {
        let next = (quarter + 1) % 4;
        let edges = vec![
            foot.1[quarter],
            builder.line(foot.0[next], end.0[next]),
            reversed(end.1[quarter]),
            builder.line(end.0[quarter], foot.0[quarter]),
        ];
        let wall = bores::cylinder(&frame, radius);
        builder.face("wall", wall, true, vec![edges]);
    }
    let down = foot.1.iter().rev().map(|used| reversed(*used)).collect();
    builder.plane_face("foot", DVec3::ZERO, -DVec3::Z, DVec3::X, vec![down]);
    builder.plane_face(
        "end",
        DVec3::Z * 20.0,
        DVec3::Z,
        DVec3::X,
        vec![end.1.to_vec()],
    );
    builder.brep
}

/// Half a rod: a half wall and a flat one.
pub(super) fn halved(radius: f64) -> Brep {
    let mut builder = Builder::default();
    let frame = upright();
    let [foot, end] = [0.0, 20.0].map(|depth| builder.ring(&frame, radius, depth, 0.0));
    // The other half of each ring is left to nobody.
    let [a, b] = foot.vertices;
    let [c, d] = end.vertices;
    let wall = vec![
        foot.arcs[0],
        builder.line(b, d),
        reversed(end.arcs[0]),
        builder.line(c, a),
    ];
    builder.face("wall", bores::cylinder(&frame, radius), true, vec![wall]);
    let flat = vec![
        builder.line(a, c),
        builder.line(c, d),
        builder.line(d, b),
        builder.line(b, a),
    ];
    builder.plane_face("flat", DVec3::ZERO, -frame.second, -frame.first, vec![flat]);
    let down = vec![reversed(foot.arcs[0]), builder.line(a, b)];
    builder.plane_face("foot", DVec3::ZERO, -DVec3::Z, DVec3::X, vec![down]);
    let up = vec![end.arcs[0], builder.line(d, c)];
    builder.plane_face("end", DVec3::Z * 20.0, DVec3::Z, DVec3::X, vec![up]);
    builder.brep
}

/// The same solid with arc number `arc` drawn from its other end.
pub(super) fn reversed_arc(mut brep: Brep, arc: usize) -> Brep {
    let mut arcs =
        (0..brep.edges.len()).filter(|i| matches!(brep.edges[*i].curve, Curve::Arc { .. }));
    let number = arcs.nth(arc).unwrap();
    let Edge { start, end, curve } = brep.edges[number];
    let Curve::Arc {
        center,
        axis_a,
        axis_b,
        from,
        to,
    } = curve
    else {
        unreachable!("arcs alone are counted");
    };
    brep.edges[number] = Edge {
        start: end,
        end: start,
        curve: Curve::Arc {
            center,
            axis_a,
            axis_b,
            from: to,
            to: from,
        },
    };
    let uses = brep
        .faces
        .iter_mut()
        .flat_map(|face| &mut face.loops)
        .flatten();
    for used in uses.filter(|used| used.edge == number) {
        used.forward = !used.forward;
    }
    brep
}
