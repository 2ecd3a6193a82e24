//! Points, tangents and extents of edges.

use glam::DVec3;

use super::brep::{Brep, Curve, Edge, Surface};

impl Curve {
    /// The point of an arc at parameter `t`; `None` for a straight edge, which only its vertices
    /// place.
    #[must_use]
    pub fn arc_at(&self, t: f64) -> Option<DVec3> {
        match *self {
            Curve::Line => None,
            Curve::Arc {
                center,
                axis_a,
                axis_b,
                ..
            } => Some(center + axis_a * t.cos() + axis_b * t.sin()),
        }
    }
}

impl Brep {
    /// The point of an edge at fraction `f` of its parameter, 0 to 1.
    #[must_use]
    pub fn edge_at(&self, edge: &Edge, f: f64) -> DVec3 {
        let (start, end) = (self.vertices[edge.start], self.vertices[edge.end]);
        match edge.curve {
            Curve::Arc { from, to, .. } => {
                edge.curve.arc_at(from + (to - from) * f).unwrap_or(start)
            }
            Curve::Line => start * (1.0 - f) + end * f,
        }
    }

    /// Derivative of [`Brep::edge_at`] by `f`.
    #[must_use]
    pub fn edge_tangent(&self, edge: &Edge, f: f64) -> DVec3 {
        match edge.curve {
            Curve::Arc {
                axis_a,
                axis_b,
                from,
                to,
                ..
            } => {
                let t = from + (to - from) * f;
                (axis_b * t.cos() - axis_a * t.sin()) * (to - from)
            }
            Curve::Line => self.vertices[edge.end] - self.vertices[edge.start],
        }
    }

    /// Least and greatest corner of the box, parallel to the frame, round all edges. Every curved
    /// face here bulges least or most on its edges, so this is the box round the solid.
    #[must_use]
    pub fn extent(&self) -> (DVec3, DVec3) {
        let mut least = DVec3::INFINITY;
        let mut most = DVec3::NEG_INFINITY;
        for point in &self.vertices {
            least = least.min(*point);
            most = most.max(*point);
        }
        for edge in &self.edges {
            let Curve::Arc {
                axis_a,
                axis_b,
                from,
                to,
                ..
            } = edge.curve
            else {
                continue;
            };
            for axis in 0..3 {
                // A coordinate is extreme where its derivative vanishes.
                let turn = axis_b[axis].atan2(axis_a[axis]);
                for k in -4..=4 {
                    let t = turn + f64::from(k) * std::f64::consts::PI;
                    if (from.min(to)..=from.max(to)).contains(&t)
                        && let Some(point) = edge.curve.arc_at(t)
                    {
                        least[axis] = least[axis].min(point[axis]);
                        most[axis] = most[axis].max(point[axis]);
                    }
                }
            }
        }
        (least, most)
    }
}

impl Surface {
    /// Signed distance of a point from the surface, along its natural normal. For a cone, from
    /// the nearest point of its generator line.
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        match *self {
            Surface::Plane { origin, normal, .. } => (point - origin).dot(normal),
            Surface::Cylinder {
                origin,
                axis,
                radius,
                ..
            } => {
                let out = point - origin;
                (out - axis * out.dot(axis)).length() - radius
            }
            Surface::Cone {
                origin,
                axis,
                radius,
                half_angle,
                ..
            } => {
                let out = point - origin;
                let along = out.dot(axis);
                let aside = (out - axis * along).length();
                (aside - radius) * half_angle.cos() - along * half_angle.sin()
            }
        }
    }
}
