//! Closed regions bounded by pieces: how far they reach and what lies in them.

use glam::DVec2;

use super::{Bounds, Piece};

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
}
