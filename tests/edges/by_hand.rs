//! Plane geometry of the bases, worked out from section 3 of the contract with the numbers written in
//! `bases.rs`. Shares nothing with the program.

/// A straight side: half widths at two ends.
#[derive(Clone, Copy)]
pub struct Line {
    /// Half width where the side, prolonged, meets the nut line.
    pub half: f64,
    pub sin: f64,
    pub cos: f64,
    pub tan: f64,
}

impl Line {
    /// From one (y, half width) to the other.
    pub fn new(from: [f64; 2], to: [f64; 2]) -> Line {
        let ([y, half], run) = (from, to[0] - from[0]);
        let tan = (to[1] - half) / run;
        let cos = 1.0 / (1.0 + tan * tan).sqrt();
        Line {
            half: half - y * tan,
            sin: tan * cos,
            cos,
            tan,
        }
    }

    /// Half width at a distance s along the side.
    pub fn half_at(&self, s: f64) -> f64 {
        self.half + s * self.sin
    }

    /// Where a bore that enters at s crosses |x|, as y: it runs square to the side.
    pub fn crossing_y(&self, s: f64, x: f64) -> f64 {
        s * self.cos + (self.half_at(s) - x) * self.tan
    }

    /// Distance of a point (|x|, y) into the wood, square to the side.
    pub fn depth_of(&self, [x, y]: [f64; 2]) -> f64 {
        (self.half - x) * self.cos + y * self.sin
    }

    /// The point (|x|, y) that lies `depth` into the wood at s.
    pub fn inside(&self, s: f64, depth: f64) -> [f64; 2] {
        [
            self.half_at(s) - depth * self.cos,
            s * self.cos + depth * self.sin,
        ]
    }
}

/// Sides of the base FLARED: 63 and 71 wide, 184 apart.
pub fn flared() -> Line {
    Line::new([0.0, 31.5], [184.0, 35.5])
}

/// FLARED with the straight sides from y = 20.
pub fn flared_from_20() -> Line {
    Line::new([20.0, 31.5], [184.0, 35.5])
}

/// Stations of its three bores.
pub fn flared_stations() -> [f64; 3] {
    let first = 57.0 / flared().cos;
    [first, first + 35.0, first + 70.0]
}

/// Extreme nut end of a slot parallel to the centre line whose mid-line is at |x| = `middle`.
pub fn nut_end(line: Line, first_barrel: f64, middle: f64, margin: f64) -> f64 {
    line.crossing_y(first_barrel / line.cos, middle) - margin
}

/// The point's height over its radius, for an included angle of 118 degrees.
pub fn per_radius() -> f64 {
    1.0 / 59f64.to_radians().tan()
}
