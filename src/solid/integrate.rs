//! Volume, area and centroid by integrating over the faces of a boundary representation
//! (divergence theorem). This knows nothing of layouts or closed forms, so that it can prove
//! them: it sees only surfaces, edges and flags.
//!
//! Inside a face Green's theorem turns the surface integral into one along its edges, evaluated
//! with Gauss–Legendre quadrature: exact for straight edges; for arcs of at most half a turn the
//! integrands are trigonometric polynomials of low degree (or, on a cone, smooth), for which 24
//! nodes leave only rounding.

use glam::{DVec2, DVec3};

use super::brep::{Brep, Face, Measures, Surface};

/// A Gauss–Legendre rule on (0, 1).
struct Rule {
    nodes: Vec<(f64, f64)>,
}

impl Rule {
    /// An `n`-point rule by Newton's method on the Legendre recurrence.
    fn new(n: usize) -> Rule {
        let count = n as f64;
        let nodes = (0..n)
            .map(|i| {
                let mut x = (std::f64::consts::PI * (i as f64 + 0.75) / (count + 0.5)).cos();
                let mut slope = 1.0;
                for _ in 0..100 {
                    let (mut p0, mut p1) = (1.0, x);
                    for k in 2..=n {
                        let k = k as f64;
                        (p0, p1) = (p1, ((2.0 * k - 1.0) * x * p1 - (k - 1.0) * p0) / k);
                    }
                    slope = count * (x * p1 - p0) / (x * x - 1.0);
                    let step = p1 / slope;
                    x -= step;
                    if step.abs() < 1e-16 {
                        break;
                    }
                }
                // On (0, 1).
                ((1.0 - x) / 2.0, 1.0 / ((1.0 - x * x) * slope * slope))
            })
            .collect();
        Rule { nodes }
    }

    fn integrate<T: std::ops::Add<Output = T> + std::ops::Mul<f64, Output = T> + Default>(
        &self,
        mut f: impl FnMut(f64) -> T,
    ) -> T {
        self.nodes
            .iter()
            .fold(T::default(), |sum, &(x, w)| sum + f(x) * w)
    }
}

/// What one face contributes.
#[derive(Debug, Clone, Copy, Default)]
struct Flux {
    area: f64,
    volume: f64,
    moment: DVec3,
}

impl std::ops::Add for Flux {
    type Output = Flux;
    fn add(self, o: Flux) -> Flux {
        Flux {
            area: self.area + o.area,
            volume: self.volume + o.volume,
            moment: self.moment + o.moment,
        }
    }
}

impl std::ops::Mul<f64> for Flux {
    type Output = Flux;
    fn mul(self, k: f64) -> Flux {
        Flux {
            area: self.area * k,
            volume: self.volume * k,
            moment: self.moment * k,
        }
    }
}

/// Flux densities at a point of a surface with this normal.
fn density(point: DVec3, normal: DVec3) -> Flux {
    Flux {
        area: 1.0,
        volume: point.dot(normal) / 3.0,
        moment: point * point * normal / 2.0,
    }
}

/// Integrates over all faces, with the signs that loops and flags give. A solid turned inside out
/// has a negative volume.
#[must_use]
pub fn measure(brep: &Brep) -> Measures {
    let along = Rule::new(24);
    let across = Rule::new(5);
    let (min, max) = brep.extent();
    // Near the solid's own middle the moments lose least to cancellation.
    let middle = (min + max) / 2.0;
    let sum = brep
        .faces
        .iter()
        .map(|face| face_flux(brep, face, middle, &along, &across))
        .fold(Flux::default(), |a, b| a + b);
    Measures {
        volume: sum.volume,
        area: sum.area,
        centroid: middle + sum.moment / sum.volume,
        min,
        max,
    }
}

/// Area of the curved faces alone, mm².
#[must_use]
pub fn curved_area(brep: &Brep) -> f64 {
    let (along, across) = (Rule::new(24), Rule::new(5));
    brep.faces
        .iter()
        .filter(|face| !matches!(face.surface, Surface::Plane { .. }))
        .map(|face| face_flux(brep, face, DVec3::ZERO, &along, &across).area)
        .sum()
}

fn face_flux(brep: &Brep, face: &Face, middle: DVec3, along: &Rule, across: &Rule) -> Flux {
    let chart = Chart::new(face.surface, middle);
    let reference = chart.reference();
    let signed = face
        .loops
        .iter()
        .flatten()
        .map(|used| {
            let edge = &brep.edges[used.edge];
            let flux = along.integrate(|f| {
                let (point, tangent) = (brep.edge_at(edge, f), brep.edge_tangent(edge, f));
                chart.strip(point, reference, across) * -chart.turn(point, tangent)
            });
            flux * if used.forward { 1.0 } else { -1.0 }
        })
        .fold(Flux::default(), |a, b| a + b);
    // Loops run anticlockwise about the outward normal, so the chart's sign already turns the
    // natural normal outward; only the area needs its own sign back.
    let sense = if face.same_sense { 1.0 } else { -1.0 };
    Flux {
        area: signed.area * sense,
        ..signed
    }
}

/// Coordinates on a surface in which its strips run: (first, height), right-handed about the
/// natural normal.
struct Chart {
    surface: Surface,
    middle: DVec3,
    second: DVec3,
}

impl Chart {
    fn new(surface: Surface, middle: DVec3) -> Chart {
        let second = match surface {
            Surface::Plane { normal, x_axis, .. } => normal.cross(x_axis),
            Surface::Cylinder { axis, x_axis, .. } | Surface::Cone { axis, x_axis, .. } => {
                axis.cross(x_axis)
            }
        };
        Chart {
            surface,
            middle,
            second,
        }
    }

    /// Second coordinate of a point: along the plane's second direction, or along the axis.
    fn height(&self, point: DVec3) -> f64 {
        match self.surface {
            Surface::Plane { origin, .. } => (point - origin).dot(self.second),
            Surface::Cylinder { origin, axis, .. } | Surface::Cone { origin, axis, .. } => {
                (point - origin).dot(axis)
            }
        }
    }

    /// Height from which strips are measured. On a cone it must be the apex, where generators meet
    /// and the turn from one to the next leaves no trace along the edges.
    fn reference(&self) -> f64 {
        match self.surface {
            Surface::Cone {
                radius, half_angle, ..
            } => -radius / half_angle.tan(),
            Surface::Plane { .. } | Surface::Cylinder { .. } => 0.0,
        }
    }

    /// Rate of the first coordinate (length in a plane, angle about an axis) along a tangent.
    fn turn(&self, point: DVec3, tangent: DVec3) -> f64 {
        match self.surface {
            Surface::Plane { x_axis, .. } => tangent.dot(x_axis),
            Surface::Cylinder { origin, x_axis, .. } | Surface::Cone { origin, x_axis, .. } => {
                let out = point - origin;
                let plan = DVec2::new(out.dot(x_axis), out.dot(self.second));
                let step = DVec2::new(tangent.dot(x_axis), tangent.dot(self.second));
                let square = plan.length_squared();
                // At a cone's apex only its own straight generators arrive, without turning.
                if square > 0.0 {
                    plan.perp_dot(step) / square
                } else {
                    0.0
                }
            }
        }
    }

    /// The flux per unit of the first coordinate of the strip from height `from` up to `point`.
    fn strip(&self, point: DVec3, from: f64, rule: &Rule) -> Flux {
        let to = self.height(point);
        match self.surface {
            Surface::Plane { normal, .. } => {
                let at = |h: f64| point + self.second * (h - to) - self.middle;
                rule.integrate(|f| density(at(from + (to - from) * f), normal)) * (to - from)
            }
            Surface::Cylinder {
                origin,
                axis,
                radius,
                ..
            } => {
                let out = point - origin;
                let normal = (out - axis * out.dot(axis)).normalize();
                let at = |h: f64| origin + axis * h + normal * radius - self.middle;
                rule.integrate(|f| density(at(from + (to - from) * f), normal))
                    * (radius * (to - from))
            }
            Surface::Cone {
                origin,
                axis,
                radius,
                half_angle,
                ..
            } => {
                let out = point - origin;
                let aside = (out - axis * out.dot(axis)).normalize_or_zero();
                let normal = aside * half_angle.cos() - axis * half_angle.sin();
                let width = |h: f64| radius + h * half_angle.tan();
                let at = |h: f64| origin + axis * h + aside * width(h) - self.middle;
                rule.integrate(|f| {
                    let h = from + (to - from) * f;
                    density(at(h), normal) * (width(h) / half_angle.cos())
                }) * (to - from)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_integrates_powers_exactly() {
        let rule = Rule::new(24);
        for power in 0..40 {
            let got: f64 = rule.integrate(|x| x.powi(power));
            assert!(
                (got - 1.0 / f64::from(power + 1)).abs() < 1e-15,
                "{power} {got}"
            );
        }
    }
}
