//! A straight side of the head, in plan.

use glam::DVec2;

use crate::input::{Head, Side};

/// The side line, measured by s from its point at y = 0 (prolonged where the straight side begins
/// later): s = y / cos θ.
#[derive(Debug, Clone, PartialEq)]
pub struct SideLine {
    /// Which side.
    pub side: Side,
    /// The point at s = 0.
    pub origin: DVec2,
    /// θ, radians, positive where the side flares to the crest.
    pub taper: f64,
    /// Unit vector along the side, to the crest.
    pub along: DVec2,
    /// Unit vector square to the side, into the wood.
    pub inward: DVec2,
    /// s at which the straight side begins.
    pub start_s: f64,
    /// s at which it ends.
    pub end_s: f64,
}

impl SideLine {
    /// Works out one side of a head.
    #[must_use]
    pub fn new(head: &Head, side: Side) -> SideLine {
        let (start, end) = (
            *head.half_width_at_start.get(side),
            *head.half_width_at_end.get(side),
        );
        let rise = (end - start) / (head.side_end - head.side_start);
        let taper = rise.atan();
        let (sin, cos) = taper.sin_cos();
        let sign = side.sign();
        SideLine {
            side,
            origin: DVec2::new(sign * (start - rise * head.side_start), 0.0),
            taper,
            along: DVec2::new(sign * sin, cos),
            inward: DVec2::new(-sign * cos, sin),
            start_s: head.side_start / cos,
            end_s: head.side_end / cos,
        }
    }

    /// The point of the side line at `s`.
    #[must_use]
    pub fn at(&self, s: f64) -> DVec2 {
        self.origin + self.along * s
    }

    /// Distance of a point from the side, square to it, positive into the wood.
    #[must_use]
    pub fn depth_of(&self, point: DVec2) -> f64 {
        (point - self.origin).dot(self.inward)
    }

    /// s of the foot of a point on the side line.
    #[must_use]
    pub fn s_of(&self, point: DVec2) -> f64 {
        (point - self.origin).dot(self.along)
    }
}
