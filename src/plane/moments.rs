//! Moments of plane regions to the second degree, and of the columns of material that stand on a
//! region with a depth that varies linearly over it: closed forms, no quadrature.
//!
//! A region's moments are those of the polygon of its corners, plus those of the circular segment
//! between every arc and its chord. Segment formulas: area R²(α − sin α cos α) for half angle α
//! (standard handbook form, from memory; the first and second moments follow by integrating
//! ξ = R cos t, η = R sin t over the segment).

use glam::{DVec2, DVec3};

use super::{Piece, Region};

/// ∫1, ∫x, ∫y, ∫x², ∫xy, ∫y² over a region.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Moments {
    /// Area.
    pub area: f64,
    /// ∫ (x, y) dA.
    pub first: DVec2,
    /// ∫ x² dA.
    pub xx: f64,
    /// ∫ xy dA.
    pub xy: f64,
    /// ∫ y² dA.
    pub yy: f64,
}

/// A linear function of the plane: `at_origin + slope · p`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Linear {
    /// Value at the origin.
    pub at_origin: f64,
    /// Change per mm in x and y.
    pub slope: DVec2,
}

impl Linear {
    /// Value at a point.
    #[must_use]
    pub fn at(&self, point: DVec2) -> f64 {
        self.at_origin + self.slope.dot(point)
    }
}

/// Volume and first moment of a body.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Body {
    /// Volume, mm³.
    pub volume: f64,
    /// ∫ (x, y, z) dV.
    pub moment: DVec3,
}

impl std::ops::Add for Body {
    type Output = Body;
    fn add(self, other: Body) -> Body {
        Body {
            volume: self.volume + other.volume,
            moment: self.moment + other.moment,
        }
    }
}

impl std::ops::Sub for Body {
    type Output = Body;
    fn sub(self, other: Body) -> Body {
        Body {
            volume: self.volume - other.volume,
            moment: self.moment - other.moment,
        }
    }
}

impl Body {
    /// A body of this volume about this centroid.
    #[must_use]
    pub fn at(volume: f64, centroid: DVec3) -> Body {
        Body {
            volume,
            moment: centroid * volume,
        }
    }
}

impl std::ops::Add for Moments {
    type Output = Moments;
    fn add(self, o: Moments) -> Moments {
        Moments {
            area: self.area + o.area,
            first: self.first + o.first,
            xx: self.xx + o.xx,
            xy: self.xy + o.xy,
            yy: self.yy + o.yy,
        }
    }
}

impl std::ops::Sub for Moments {
    type Output = Moments;
    fn sub(self, o: Moments) -> Moments {
        Moments {
            area: self.area - o.area,
            first: self.first - o.first,
            xx: self.xx - o.xx,
            xy: self.xy - o.xy,
            yy: self.yy - o.yy,
        }
    }
}

impl Moments {
    /// The body between the plane z = 0 and the depth `depth` below it, over the region.
    #[must_use]
    pub fn column_below(&self, depth: &Linear) -> Body {
        let (c, s) = (depth.at_origin, depth.slope);
        let volume = c * self.area + s.dot(self.first);
        let x = c * self.first.x + s.x * self.xx + s.y * self.xy;
        let y = c * self.first.y + s.x * self.xy + s.y * self.yy;
        let square = c * c * self.area
            + 2.0 * c * s.dot(self.first)
            + s.x * s.x * self.xx
            + 2.0 * s.x * s.y * self.xy
            + s.y * s.y * self.yy;
        Body {
            volume,
            moment: DVec3::new(x, y, -square / 2.0),
        }
    }
}

impl Region {
    /// Area and moments to the second degree.
    #[must_use]
    pub fn moments(&self) -> Moments {
        let mut sum = Moments::default();
        for piece in &self.boundary {
            sum = sum + triangle_to_origin(piece.start(), piece.end());
            if let Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } = *piece
            {
                let segment =
                    circular_segment(center, radius, from + sweep / 2.0, sweep.abs() / 2.0);
                sum = if sweep > 0.0 {
                    sum + segment
                } else {
                    sum - segment
                };
            }
        }
        sum
    }
}

impl Piece {
    /// ∫ f ds along the piece: the area of a wall of height f standing on it.
    #[must_use]
    pub fn wall_area(&self, height: &Linear) -> f64 {
        match *self {
            Piece::Line { a, b } => a.distance(b) * height.at((a + b) / 2.0),
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => {
                let to = from + sweep;
                let swing =
                    DVec2::new(to.sin() - from.sin(), from.cos() - to.cos()) * sweep.signum();
                radius * (height.at(center) * sweep.abs() + radius * height.slope.dot(swing))
            }
        }
    }
}

/// Signed moments of the triangle origin, a, b.
fn triangle_to_origin(a: DVec2, b: DVec2) -> Moments {
    let twice = a.perp_dot(b);
    Moments {
        area: twice / 2.0,
        first: (a + b) * (twice / 6.0),
        xx: twice / 12.0 * (a.x * a.x + a.x * b.x + b.x * b.x),
        xy: twice / 24.0 * (2.0 * a.x * a.y + a.x * b.y + b.x * a.y + 2.0 * b.x * b.y),
        yy: twice / 12.0 * (a.y * a.y + a.y * b.y + b.y * b.y),
    }
}

/// Moments of the segment of half angle `half` whose middle lies in direction `middle`.
fn circular_segment(center: DVec2, radius: f64, middle: f64, half: f64) -> Moments {
    let (sin, cos) = half.sin_cos();
    let square = radius * radius;
    let area = square * (half - sin * cos);
    // About the centre, ξ along the middle direction, η across it.
    let xi = 2.0 / 3.0 * square * radius * sin.powi(3);
    let xi_xi = square * square / 4.0 * (half - sin * cos + 2.0 * sin.powi(3) * cos);
    let eta_eta = square * square / 12.0 * (3.0 * half - 3.0 * sin * cos - 2.0 * sin.powi(3) * cos);
    let e = DVec2::from_angle(middle);
    let f = e.perp();
    let own = e * xi;
    let central_xx = xi_xi * e.x * e.x + eta_eta * f.x * f.x;
    let central_xy = xi_xi * e.x * e.y + eta_eta * f.x * f.y;
    let central_yy = xi_xi * e.y * e.y + eta_eta * f.y * f.y;
    Moments {
        area,
        first: own + center * area,
        xx: central_xx + 2.0 * center.x * own.x + center.x * center.x * area,
        xy: central_xy + center.x * own.y + center.y * own.x + center.x * center.y * area,
        yy: central_yy + 2.0 * center.y * own.y + center.y * center.y * area,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn close(a: f64, b: f64) {
        assert!((a - b).abs() <= 1e-12 * (1.0 + b.abs()), "{a} {b}");
    }

    #[test]
    fn circular_segment_area_from_the_handbook() {
        // R²acos((R−h)/R) − (R−h)√(2Rh−h²), R = 10, h = 3: 29.549884 (standard form, computed).
        let half = (7.0_f64 / 10.0).acos();
        let segment = circular_segment(DVec2::new(4.0, -3.0), 10.0, 0.7, half);
        assert!((segment.area - 29.549_884_018_6).abs() < 1e-9);
    }

    #[test]
    fn full_circle_from_two_arcs() {
        let c = DVec2::new(3.0, -2.0);
        let region = Region {
            boundary: vec![
                Piece::Arc {
                    center: c,
                    radius: 2.0,
                    from: 0.3,
                    sweep: PI,
                },
                Piece::Arc {
                    center: c,
                    radius: 2.0,
                    from: 0.3 + PI,
                    sweep: PI,
                },
            ],
        };
        let m = region.moments();
        let area = PI * 4.0;
        close(m.area, area);
        close(m.first.x, 3.0 * area);
        close(m.first.y, -2.0 * area);
        close(m.xx, area * (1.0 + 9.0)); // r²/4 = 1 about the centre
        close(m.yy, area * (1.0 + 4.0));
        close(m.xy, area * -6.0);
    }

    #[test]
    fn segment_moments_agree_with_thin_strips() {
        let (r, half, mid, c) = (5.0, 1.1, 0.4, DVec2::new(1.0, 2.0));
        let exact = circular_segment(c, r, mid, half);
        let (mut area, mut first, mut xx, mut xy, mut yy) = (0.0, DVec2::ZERO, 0.0, 0.0, 0.0);
        let n = 4000;
        let lo = r * f64::cos(half);
        for i in 0..n {
            let xi = lo + (r - lo) * (f64::from(i) + 0.5) / f64::from(n);
            let dx = (r - lo) / f64::from(n);
            let h = (r * r - xi * xi).sqrt();
            let e = DVec2::from_angle(mid);
            let p = c + e * xi;
            let strip = 2.0 * h * dx;
            let eta2 = h * h / 3.0;
            area += strip;
            first += p * strip;
            let f = e.perp();
            xx += strip * (p.x * p.x + eta2 * f.x * f.x);
            xy += strip * (p.x * p.y + eta2 * f.x * f.y);
            yy += strip * (p.y * p.y + eta2 * f.y * f.y);
        }
        for (a, b) in [
            (exact.area, area),
            (exact.first.x, first.x),
            (exact.first.y, first.y),
            (exact.xx, xx),
            (exact.xy, xy),
            (exact.yy, yy),
        ] {
            // Midpoint strips with a square-root end: error about n^-1.5.
            assert!((a - b).abs() < 2e-4 * b.abs(), "{a} {b}");
        }
    }

    #[test]
    fn column_over_a_rectangle_under_a_slope() {
        let region = Region::polygon(&[
            DVec2::ZERO,
            DVec2::new(6.0, 0.0),
            DVec2::new(6.0, 4.0),
            DVec2::new(0.0, 4.0),
        ]);
        let depth = Linear {
            at_origin: 2.0,
            slope: DVec2::new(0.0, 0.5),
        };
        let body = region.moments().column_below(&depth);
        close(body.volume, 6.0 * 4.0 * 3.0);
        close(body.moment.x, 3.0 * 72.0);
        // ∫ y (2 + y/2) dy over 0..4 times 6; ∫ (2 + y/2)²/2 dy times 6.
        close(body.moment.y, 6.0 * (16.0 + 64.0 / 6.0));
        close(body.moment.z, -6.0 * (16.0 + 16.0 + 64.0 / 12.0) / 2.0);
    }

    #[test]
    fn wall_on_an_arc() {
        let quarter = Piece::Arc {
            center: DVec2::new(1.0, 1.0),
            radius: 2.0,
            from: PI,
            sweep: -PI / 2.0,
        };
        let height = Linear {
            at_origin: 3.0,
            slope: DVec2::new(0.2, -0.1),
        };
        let n = 20000;
        let sum: f64 = (0..n)
            .map(|i| height.at(quarter.at((f64::from(i) + 0.5) / f64::from(n))) * PI / f64::from(n))
            .sum();
        assert!((quarter.wall_area(&height) - sum).abs() < 1e-7);
    }
}
