//! Volume, area and centroid of a boundary representation, a second time: cones of wood from one point to
//! every face, each in closed form along the surface's generators and by quadrature along its edges. Takes
//! surfaces, edges and flags from the solid, and nothing from the program's own integral.

use barrelhead::solid::brep::{Brep, Curve, Edge, Surface};
use glam::DVec3;

/// What is measured of a solid.
#[derive(Clone, Copy, Default)]
pub struct Measured {
    /// mm³.
    pub volume: f64,
    /// mm².
    pub area: f64,
    /// Of the curved faces alone, mm².
    pub curved: f64,
    /// mm.
    pub centroid: DVec3,
}

/// What a face adds: area by its own orientation, flux of `x` and of `x·xᵢ`.
#[derive(Clone, Copy, Default)]
struct Sums {
    area: f64,
    flux: f64,
    moment: DVec3,
}

/// Stretches of every arc; with five nodes each, an integrand that turns as slowly as these is met to
/// rounding (a stretch is at most π/12: the tenth power of half of it, over 10!, is 4e-16).
const STRETCHES: usize = 12;

/// Gauss and Legendre's five nodes on (-1, 1) and their weights, in closed form.
fn nodes() -> [(f64, f64); 5] {
    let root = (10.0_f64 / 7.0).sqrt();
    let [near, far] = [5.0 - 2.0 * root, 5.0 + 2.0 * root].map(|square| square.sqrt() / 3.0);
    let seventy = 13.0 * 70.0_f64.sqrt();
    let [more, less] = [322.0 + seventy, 322.0 - seventy].map(|w| w / 900.0);
    [
        (0.0, 128.0 / 225.0),
        (near, more),
        (-near, more),
        (far, less),
        (-far, less),
    ]
}

/// Measures a solid whose loops run anticlockwise seen from outside.
pub fn measured(brep: &Brep) -> Measured {
    let nodes = nodes();
    let from = brep.vertices.iter().sum::<DVec3>() / brep.vertices.len() as f64;
    let mut whole = Measured::default();
    let mut moment = DVec3::ZERO;
    for face in &brep.faces {
        let mut sums = Sums::default();
        for used in face.loops.iter().flatten() {
            let sense = if used.forward { 1.0 } else { -1.0 };
            along(brep, &brep.edges[used.edge], &nodes, |point, step| {
                let part = strip(&face.surface, from, point, step * sense);
                sums.area += part.area;
                sums.flux += part.flux;
                sums.moment += part.moment;
            });
        }
        let area = if face.same_sense {
            sums.area
        } else {
            -sums.area
        };
        whole.area += area;
        if !matches!(face.surface, Surface::Plane { .. }) {
            whole.curved += area;
        }
        whole.volume += sums.flux / 3.0;
        moment += sums.moment / 4.0;
    }
    whole.centroid = from + moment / whole.volume;
    whole
}

/// Every node of an edge and the step that stands for it, from its start to its end.
fn along(brep: &Brep, edge: &Edge, nodes: &[(f64, f64); 5], mut each: impl FnMut(DVec3, DVec3)) {
    match edge.curve {
        Curve::Line => {
            let (start, end) = (brep.vertices[edge.start], brep.vertices[edge.end]);
            for (node, weight) in nodes {
                let at = start + (end - start) * ((1.0 + node) / 2.0);
                each(at, (end - start) * (weight / 2.0));
            }
        }
        Curve::Arc {
            center,
            axis_a,
            axis_b,
            from,
            to,
        } => {
            let half = (to - from) / STRETCHES as f64 / 2.0;
            for stretch in 0..STRETCHES {
                let middle = from + half * (2 * stretch + 1) as f64;
                for (node, weight) in nodes {
                    let (sin, cos) = (middle + half * node).sin_cos();
                    let at = center + axis_a * cos + axis_b * sin;
                    each(at, (axis_b * cos - axis_a * sin) * (half * weight));
                }
            }
        }
    }
}

/// The strip of a surface that a step along its edge sweeps: in a plane from its own x axis, on a cylinder
/// from the foot of its axis, on a cone from its apex.
fn strip(surface: &Surface, from: DVec3, point: DVec3, step: DVec3) -> Sums {
    match *surface {
        Surface::Plane {
            origin,
            normal,
            x_axis,
        } => {
            let y_axis = normal.cross(x_axis);
            let at = point - origin;
            let (x, y, run) = (at.dot(x_axis), at.dot(y_axis), -step.dot(x_axis));
            // Over the strip from y = 0 up.
            let middle = x_axis * x + y_axis * (y / 2.0) + origin - from;
            let off = (origin - from).dot(normal);
            Sums {
                area: y * run,
                flux: off * y * run,
                moment: middle * (off * y * run),
            }
        }
        Surface::Cylinder {
            origin,
            axis,
            radius,
            ..
        } => {
            let at = point - origin;
            let high = at.dot(axis);
            let out = (at - axis * high).normalize();
            // The turn, against the axis' own sense, times the radius.
            let run = -out.cross(step).dot(axis);
            let foot = origin - from;
            let off = foot.dot(out) + radius;
            let middle = foot + out * radius + axis * (high / 2.0);
            Sums {
                area: high * run,
                flux: off * high * run,
                moment: middle * (off * high * run),
            }
        }
        Surface::Cone {
            origin,
            axis,
            radius,
            half_angle,
            ..
        } => {
            let (sin, cos) = half_angle.sin_cos();
            let apex = origin - axis * (radius * cos / sin);
            let at = point - apex;
            let high = at.dot(axis);
            let wide = at - axis * high;
            // Twice the plan's area under the step; the apex itself sweeps nothing.
            let plan = -wide.cross(step).dot(axis);
            let out = wide.normalize_or_zero();
            let area = plan / (2.0 * sin);
            let off = (apex - from).dot(out * cos - axis * sin);
            // The middle of a triangle lies two thirds from the apex.
            let middle = apex - from + at * (2.0 / 3.0);
            Sums {
                area,
                flux: off * area,
                moment: middle * (off * area),
            }
        }
    }
}
