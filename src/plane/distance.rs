//! Least distances between points, pieces and regions of the plane. Zero where they touch or
//! overlap.

use glam::DVec2;

use crate::tolerance::NOISE;

use super::{Piece, Region};

impl Piece {
    /// Least distance from `point` to the piece.
    #[must_use]
    pub fn distance_to_point(&self, point: DVec2) -> f64 {
        match *self {
            Piece::Line { a, b } => {
                let along = b - a;
                let t = ((point - a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
                // A piece of no length divides zero by zero: its start stands for it.
                let t = if t.is_nan() { 0.0 } else { t };
                point.distance(a + along * t)
            }
            Piece::Arc { center, radius, .. } => {
                let out = point - center;
                // Beside the arc no end is nearer than the arc itself.
                if self.arc_covers(out.to_angle()) {
                    (out.length() - radius).abs()
                } else {
                    point.distance(self.start()).min(point.distance(self.end()))
                }
            }
        }
    }

    /// Least distance to another piece.
    #[must_use]
    pub fn distance(&self, other: &Piece) -> f64 {
        let ends = [
            self.distance_to_point(other.start()),
            self.distance_to_point(other.end()),
            other.distance_to_point(self.start()),
            other.distance_to_point(self.end()),
        ]
        .into_iter()
        .fold(f64::INFINITY, f64::min);
        let inner = match (self, other) {
            (Piece::Line { .. }, Piece::Line { .. }) => crossing_of_lines(self, other),
            (Piece::Line { .. }, Piece::Arc { .. }) => line_to_arc(self, other),
            (Piece::Arc { .. }, Piece::Line { .. }) => line_to_arc(other, self),
            (Piece::Arc { .. }, Piece::Arc { .. }) => arc_to_arc(self, other),
        };
        ends.min(inner)
    }
}

/// 0 where two straight pieces cross, else infinity (their ends decide).
fn crossing_of_lines(one: &Piece, other: &Piece) -> f64 {
    let (a, b, c, d) = (one.start(), one.end(), other.start(), other.end());
    let apart = |p: DVec2, q: DVec2, r: DVec2, s: DVec2| {
        (q - p).perp_dot(r - p) * (q - p).perp_dot(s - p) < 0.0
    };
    if apart(a, b, c, d) && apart(c, d, a, b) {
        0.0
    } else {
        f64::INFINITY
    }
}

/// Distance at an inner point of both pieces, else infinity.
fn line_to_arc(line: &Piece, arc: &Piece) -> f64 {
    let Piece::Arc { center, radius, .. } = *arc else {
        return f64::INFINITY;
    };
    let (a, b) = (line.start(), line.end());
    let along = b - a;
    let length = along.length();
    if length == 0.0 {
        return f64::INFINITY;
    }
    let unit = along / length;
    let foot_at = (center - a).dot(unit);
    let foot = a + unit * foot_at;
    let off = foot.distance(center);
    if off < radius {
        let half = (radius * radius - off * off).sqrt();
        let crosses = [foot_at - half, foot_at + half].into_iter().any(|t| {
            (0.0..=length).contains(&t) && arc.arc_covers((a + unit * t - center).to_angle())
        });
        return if crosses { 0.0 } else { f64::INFINITY };
    }
    if (0.0..=length).contains(&foot_at) && arc.arc_covers((foot - center).to_angle()) {
        off - radius
    } else {
        f64::INFINITY
    }
}

/// Distance at an inner point of both arcs, else infinity.
fn arc_to_arc(one: &Piece, other: &Piece) -> f64 {
    let (
        Piece::Arc {
            center: c1,
            radius: r1,
            ..
        },
        Piece::Arc {
            center: c2,
            radius: r2,
            ..
        },
    ) = (*one, *other)
    else {
        return f64::INFINITY;
    };
    let between = c2 - c1;
    let gap = between.length();
    if gap == 0.0 {
        // Concentric: apart by the radii wherever both cover a direction; an end then does too.
        return f64::INFINITY;
    }
    let unit = between / gap;
    // Crossing points of the full circles.
    let along = (gap * gap + r1 * r1 - r2 * r2) / (2.0 * gap);
    let square = r1 * r1 - along * along;
    if square >= 0.0 {
        for sign in [1.0, -1.0] {
            let point = c1 + unit * along + unit.perp() * (sign * square.sqrt());
            if one.arc_covers((point - c1).to_angle()) && other.arc_covers((point - c2).to_angle())
            {
                return 0.0;
            }
        }
    }
    // Points on the line of centres.
    let mut least = f64::INFINITY;
    for s1 in [1.0, -1.0] {
        for s2 in [1.0, -1.0] {
            let (p1, p2) = (c1 + unit * (s1 * r1), c2 + unit * (s2 * r2));
            if one.arc_covers((unit * s1).to_angle()) && other.arc_covers((unit * s2).to_angle()) {
                least = least.min(p1.distance(p2));
            }
        }
    }
    least
}

impl Region {
    /// Least distance from the boundary to one piece.
    #[must_use]
    pub fn boundary_distance(&self, piece: &Piece) -> f64 {
        self.boundary
            .iter()
            .map(|own| own.distance(piece))
            .fold(f64::INFINITY, f64::min)
    }

    /// Least distance between two regions, 0 where they touch or overlap.
    #[must_use]
    pub fn distance(&self, other: &Region) -> f64 {
        let (Some(mine), Some(theirs)) = (self.boundary.first(), other.boundary.first()) else {
            return f64::INFINITY;
        };
        if self.contains(theirs.start()) || other.contains(mine.start()) {
            return 0.0;
        }
        let mut least = f64::INFINITY;
        for piece in &other.boundary {
            let bounds = piece.bounds();
            for own in &self.boundary {
                // What cannot be nearer than the nearest so far is not measured.
                if own.bounds().gap(&bounds) <= least + NOISE {
                    least = least.min(own.distance(piece));
                }
            }
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    fn line(ax: f64, ay: f64, bx: f64, by: f64) -> Piece {
        Piece::Line {
            a: DVec2::new(ax, ay),
            b: DVec2::new(bx, by),
        }
    }

    /// Least distance by sampling both pieces, an oracle that shares nothing with the formulas.
    fn sampled(one: &Piece, other: &Piece) -> f64 {
        let n = 400;
        let mut least = f64::INFINITY;
        for i in 0..=n {
            for j in 0..=n {
                let d = one
                    .at(f64::from(i) / f64::from(n))
                    .distance(other.at(f64::from(j) / f64::from(n)));
                least = least.min(d);
            }
        }
        least
    }

    #[test]
    fn distances_agree_with_sampling() {
        let arc = |x: f64, y: f64, radius: f64, from: f64, sweep: f64| Piece::Arc {
            center: DVec2::new(x, y),
            radius,
            from,
            sweep,
        };
        let pieces = [
            line(0.0, 0.0, 10.0, 1.0),
            line(3.0, 5.0, 4.0, 2.0),
            line(-2.0, -3.0, 12.0, -1.0),
            arc(5.0, 4.0, 2.5, 0.0, -PI),
            arc(5.0, 4.0, 2.5, PI, -FRAC_PI_2),
            arc(6.0, 3.0, 6.0, 2.0, 2.0),
            arc(0.0, 0.0, 20.0, 0.1, 1.4),
            arc(5.2, 4.1, 0.4, 0.0, 6.0),
        ];
        for one in &pieces {
            for other in &pieces {
                let (exact, oracle) = (one.distance(other), sampled(one, other));
                // The samples lie on the pieces, so the oracle is never below; it is above by at
                // most the sample spacing.
                assert!(
                    exact <= oracle + 1e-12 && oracle - exact < 0.1,
                    "{one:?} {other:?} {exact} {oracle}"
                );
            }
        }
    }

    /// What is left out unmeasured changes no digit: the least over all pieces, none left out, is the
    /// same number.
    #[test]
    fn leaving_out_what_is_far_changes_no_digit() {
        let bar = |x: f64, y: f64, turn: f64| {
            let at = |u: f64, v: f64| {
                DVec2::new(x, y) + DVec2::from_angle(turn).rotate(DVec2::new(u, v))
            };
            let round = Piece::Arc {
                center: at(6.0, 1.5),
                radius: 1.5,
                from: turn - FRAC_PI_2,
                sweep: PI,
            };
            let straight = |a: DVec2, b: DVec2| Piece::Line { a, b };
            Region {
                boundary: vec![
                    straight(at(0.0, 0.0), at(6.0, 0.0)),
                    round,
                    straight(at(6.0, 3.0), at(0.0, 3.0)),
                    straight(at(0.0, 3.0), at(0.0, 0.0)),
                ],
            }
        };
        let mut apart = 0;
        for step in 0..200 {
            let t = f64::from(step);
            let one = bar(0.0, 0.0, 0.3 * t);
            let other = bar(11.0 * (0.7 * t).cos(), 9.0 * (1.1 * t).sin(), 1.7 * t);
            let every = one.boundary.iter().flat_map(|a| {
                let to = other.boundary.iter();
                to.map(move |b| a.distance(b))
            });
            let least = every.fold(f64::INFINITY, f64::min);
            let found = one.distance(&other);
            apart += usize::from(found > 0.0);
            // Neither bar is large enough to hold the other whole.
            assert_eq!(found.to_bits(), least.to_bits(), "{step}: {found} {least}");
        }
        assert!(apart > 50);
    }

    #[test]
    fn a_region_inside_another_is_at_no_distance() {
        let big = Region::polygon(&[
            DVec2::ZERO,
            DVec2::new(9.0, 0.0),
            DVec2::new(9.0, 9.0),
            DVec2::new(0.0, 9.0),
        ]);
        let small = Region::polygon(&[
            DVec2::splat(4.0),
            DVec2::new(4.0, 5.0),
            DVec2::new(5.0, 4.0),
        ]);
        let beside = Region::polygon(&[
            DVec2::new(9.5, 4.0),
            DVec2::new(11.0, 5.0),
            DVec2::new(11.0, 4.0),
        ]);
        assert!(big.distance(&small) <= 0.0);
        assert!(small.distance(&big) <= 0.0);
        assert!((big.distance(&beside) - 0.5).abs() < 1e-12);
    }
}
