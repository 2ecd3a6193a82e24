//! Straight pieces and circular arcs, and the boxes that hold them.

use glam::DVec2;

use crate::tolerance::NOISE;

/// A box parallel to the axes. What lies in it is never nearer to anything than the box: enough to
/// tell, without a root or an angle, that an exact distance cannot matter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Least corner.
    pub min: DVec2,
    /// Greatest corner.
    pub max: DVec2,
}

impl Bounds {
    /// How far apart two boxes are, 0 where they touch or overlap.
    #[must_use]
    pub fn gap(&self, other: &Bounds) -> f64 {
        let apart = (other.min - self.max).max(self.min - other.max);
        apart.max(DVec2::ZERO).length()
    }

    /// Whether `point` lies outside by more than rounding.
    pub(super) fn leaves_out(&self, point: DVec2) -> bool {
        let out = (self.min - point).max(point - self.max);
        out.max_element() > NOISE
    }
}

/// A straight piece or a circular arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Piece {
    /// Straight from `a` to `b`.
    Line {
        /// Start.
        a: DVec2,
        /// End.
        b: DVec2,
    },
    /// Arc of a circle, from angle `from` through `sweep` (radians, positive anticlockwise, at
    /// most a full turn either way).
    Arc {
        /// Centre.
        center: DVec2,
        /// Radius, above zero.
        radius: f64,
        /// Angle of the start, from +x.
        from: f64,
        /// Signed sweep.
        sweep: f64,
    },
}

impl Piece {
    /// Where it starts.
    #[must_use]
    pub fn start(&self) -> DVec2 {
        match *self {
            Piece::Line { a, .. } => a,
            Piece::Arc { .. } => self.at(0.0),
        }
    }

    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> DVec2 {
        match *self {
            Piece::Line { b, .. } => b,
            Piece::Arc { .. } => self.at(1.0),
        }
    }

    /// The point at fraction `t` of its length, 0 to 1.
    #[must_use]
    pub fn at(&self, t: f64) -> DVec2 {
        match *self {
            // Exact at both ends.
            Piece::Line { a, b } => a * (1.0 - t) + b * t,
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => center + radius * DVec2::from_angle(from + sweep * t),
        }
    }

    /// Length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        match *self {
            Piece::Line { a, b } => a.distance(b),
            Piece::Arc { radius, sweep, .. } => radius * sweep.abs(),
        }
    }

    /// How far it reaches along a unit direction: the greatest p · direction of its points.
    #[must_use]
    pub fn reach(&self, direction: DVec2) -> f64 {
        let ends = self.start().dot(direction).max(self.end().dot(direction));
        match *self {
            Piece::Arc { center, radius, .. } if self.arc_covers(direction.to_angle()) => {
                ends.max(center.dot(direction) + radius)
            }
            _ => ends,
        }
    }

    /// A box that holds the piece; an arc's is that of its whole circle.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        match *self {
            Piece::Line { a, b } => Bounds {
                min: a.min(b),
                max: a.max(b),
            },
            Piece::Arc { center, radius, .. } => Bounds {
                min: center - radius,
                max: center + radius,
            },
        }
    }

    /// Whether the direction `angle` from an arc's centre lies on the arc (ends included). False
    /// for a straight piece.
    #[must_use]
    pub(super) fn arc_covers(&self, angle: f64) -> bool {
        match *self {
            Piece::Line { .. } => false,
            Piece::Arc { from, sweep, .. } => {
                let turn = std::f64::consts::TAU;
                let along = if sweep >= 0.0 {
                    angle - from
                } else {
                    from - angle
                };
                let along = along.rem_euclid(turn);
                along <= sweep.abs() + NOISE || along >= turn - NOISE
            }
        }
    }
}

/// The arc through three points, from `a` over `via` to `b`; `None` where they lie in line.
#[must_use]
pub fn arc_through(a: DVec2, via: DVec2, b: DVec2) -> Option<Piece> {
    let (ab, av) = (b - a, via - a);
    let twice = 2.0 * ab.perp_dot(av);
    if twice.abs() < NOISE {
        return None;
    }
    let offset = DVec2::new(
        av.y * ab.length_squared() - ab.y * av.length_squared(),
        ab.x * av.length_squared() - av.x * ab.length_squared(),
    ) / twice;
    let center = a + offset;
    let from = (a - center).to_angle();
    let to = (b - center).to_angle();
    let turn = std::f64::consts::TAU;
    // `via` to the left of a→b means the arc runs clockwise.
    let sweep = if twice > 0.0 {
        -(from - to).rem_euclid(turn)
    } else {
        (to - from).rem_euclid(turn)
    };
    Some(Piece::Arc {
        center,
        radius: offset.length(),
        from,
        sweep,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn arc_through_three_points_passes_them_in_order() {
        let (a, via, b) = (
            DVec2::new(35.0, 184.0),
            DVec2::new(0.0, 196.0),
            DVec2::new(-35.0, 184.0),
        );
        for (a, b, sign) in [(a, b, 1.0), (b, a, -1.0)] {
            let Some(
                arc @ Piece::Arc {
                    center,
                    radius,
                    sweep,
                    ..
                },
            ) = arc_through(a, via, b)
            else {
                panic!("no arc");
            };
            assert!(sweep * sign > 0.0 && sweep.abs() < PI);
            assert!((via.distance(center) - radius).abs() < 1e-12);
            assert!(arc.start().distance(a) < 1e-12 && arc.end().distance(b) < 1e-12);
            // Sagitta 12 on a chord of 70: R = (35² + 12²)/(2·12), written out.
            assert!((radius - 1369.0 / 24.0).abs() < 1e-12);
        }
        assert!(arc_through(DVec2::ZERO, DVec2::X, 2.0 * DVec2::X).is_none());
    }
}
