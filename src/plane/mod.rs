//! Plane geometry: straight pieces and circular arcs, the closed regions they bound, distances
//! between them and their moments. Millimetres and radians; no tolerance decides anything here
//! but [`NOISE`] in the incidence tests.

pub mod distance;
pub mod moments;
mod placed;

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
    fn leaves_out(&self, point: DVec2) -> bool {
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
    fn arc_covers(&self, angle: f64) -> bool {
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

/// A closed region without holes, its boundary anticlockwise, each piece starting where the
/// piece before it ends.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Region {
    /// The boundary.
    pub boundary: Vec<Piece>,
}

impl Region {
    /// The polygon with these corners, put anticlockwise.
    #[must_use]
    pub fn polygon(corners: &[DVec2]) -> Self {
        let count = corners.len();
        let twice_area: f64 = (0..count)
            .map(|i| corners[i].perp_dot(corners[(i + 1) % count]))
            .sum();
        let mut ordered = corners.to_vec();
        if twice_area < 0.0 {
            ordered.reverse();
        }
        let boundary = (0..count)
            .map(|i| Piece::Line {
                a: ordered[i],
                b: ordered[(i + 1) % count],
            })
            .collect();
        Region { boundary }
    }

    /// How far the region reaches in the direction `toward` (not necessarily of unit length): the
    /// greatest `p · toward` over its points; minus infinity for a region without boundary.
    #[must_use]
    pub fn reach(&self, toward: DVec2) -> f64 {
        self.boundary
            .iter()
            .map(|piece| {
                let ends = piece.start().dot(toward).max(piece.end().dot(toward));
                match *piece {
                    Piece::Arc { center, radius, .. } if piece.arc_covers(toward.to_angle()) => {
                        ends.max(center.dot(toward) + radius * toward.length())
                    }
                    _ => ends,
                }
            })
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// A box that holds the region; endless inward for a region without boundary.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        let none = Bounds {
            min: DVec2::INFINITY,
            max: DVec2::NEG_INFINITY,
        };
        self.boundary.iter().fold(none, |all, piece| {
            let own = piece.bounds();
            Bounds {
                min: all.min.min(own.min),
                max: all.max.max(own.max),
            }
        })
    }

    /// Whether `point` lies inside (on the boundary either answer may come).
    #[must_use]
    pub fn contains(&self, point: DVec2) -> bool {
        if self.bounds().leaves_out(point) {
            return false;
        }
        // The winding angle is exact to rounding and indifferent to where a ray would graze.
        let turn: f64 = self
            .boundary
            .iter()
            .map(|piece| winding(piece, point))
            .sum();
        turn.abs() > std::f64::consts::PI
    }
}

/// The signed angle through which `piece` is seen from `point`.
fn winding(piece: &Piece, point: DVec2) -> f64 {
    match *piece {
        Piece::Line { a, b } => (a - point).angle_to(b - point),
        Piece::Arc {
            center,
            radius,
            from,
            sweep,
        } => {
            let parts = (sweep.abs() / std::f64::consts::FRAC_PI_2).ceil().max(1.0);
            let step = sweep / parts;
            let mut turn = 0.0;
            let mut angle = from;
            for _ in 0..parts as usize {
                let a = center + radius * DVec2::from_angle(angle);
                let b = center + radius * DVec2::from_angle(angle + step);
                turn += (a - point).angle_to(b - point);
                // Seen from between chord and arc, the arc goes round the other way.
                let beyond_chord = (b - a).perp_dot(point - a) * step < 0.0;
                if beyond_chord && point.distance(center) < radius {
                    turn += std::f64::consts::TAU * step.signum();
                }
                angle += step;
            }
            turn
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// A 10 by 4 bar with half-round ends, from x = 0 to 10.
    fn obround() -> Region {
        let right = Piece::Arc {
            center: DVec2::new(8.0, 2.0),
            radius: 2.0,
            from: -PI / 2.0,
            sweep: PI,
        };
        let left = Piece::Arc {
            center: DVec2::new(2.0, 2.0),
            radius: 2.0,
            from: PI / 2.0,
            sweep: PI,
        };
        Region {
            boundary: vec![
                Piece::Line {
                    a: DVec2::new(2.0, 0.0),
                    b: DVec2::new(8.0, 0.0),
                },
                right,
                Piece::Line {
                    a: DVec2::new(8.0, 4.0),
                    b: DVec2::new(2.0, 4.0),
                },
                left,
            ],
        }
    }

    #[test]
    fn inside_and_outside_of_an_obround() {
        let region = obround();
        for (x, y, inside) in [
            (5.0, 2.0, true),
            (0.1, 2.0, true),
            (9.9, 2.0, true),
            (0.1, 0.1, false),
            (-0.1, 2.0, false),
            (5.0, 4.1, false),
            (1.0, 0.6, true),
        ] {
            assert_eq!(region.contains(DVec2::new(x, y)), inside, "({x}, {y})");
        }
    }

    #[test]
    fn reach_of_an_obround() {
        let region = obround();
        for (toward, reach) in [
            (DVec2::X, 10.0),
            (-DVec2::X, 0.0),
            (DVec2::Y, 4.0),
            (-DVec2::Y, 0.0),
            // Centre of the right-hand end (8, 2) and radius 2, seen at 45 degrees.
            (DVec2::new(1.0, 1.0), 10.0 + 2.0 * 2.0_f64.sqrt()),
        ] {
            assert!((region.reach(toward) - reach).abs() < 1e-12, "{toward}");
        }
    }

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
