//! A straight run in space and its least distance to convex bodies and to other runs.

use glam::DVec3;

/// Golden-section steps: each shortens the interval to 0.618 of itself, 64 of them to a
/// 20-billionth of a millimetre over the longest run.
const STEPS: usize = 64;

/// From one point to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Where it begins.
    pub from: DVec3,
    /// Where it ends.
    pub to: DVec3,
}

impl Segment {
    /// The point at a share of its length, 0 to 1.
    #[must_use]
    pub fn at(&self, share: f64) -> DVec3 {
        self.from.lerp(self.to, share)
    }

    /// Length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Least of a distance along the run, and where. `distance` is that of a point to a convex body,
    /// which has one valley along a straight run.
    pub(super) fn least(&self, distance: impl Fn(DVec3) -> f64) -> (f64, DVec3) {
        let (share, least) = valley(0.0, 1.0, |share| distance(self.at(share)));
        (least, self.at(share))
    }

    /// Least distance to another run, and where on this one.
    pub(super) fn gap_to(&self, other: &Segment) -> (f64, DVec3) {
        self.least(|point| other.distance_to(point))
    }

    fn distance_to(&self, point: DVec3) -> f64 {
        let along = self.to - self.from;
        let share = ((point - self.from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
        let share = if share.is_nan() { 0.0 } else { share };
        point.distance(self.at(share))
    }
}

/// The bottom of a function with one valley between two numbers, its ends included: where and how
/// deep.
pub(super) fn valley(from: f64, to: f64, value: impl Fn(f64) -> f64) -> (f64, f64) {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let [mut low, mut high] = [from, to];
    let [mut left, mut right] = [high - golden * (high - low), low + golden * (high - low)];
    let [mut at_left, mut at_right] = [value(left), value(right)];
    for _ in 0..STEPS {
        if at_left <= at_right {
            high = right;
            (right, at_right) = (left, at_left);
            left = high - golden * (high - low);
            at_left = value(left);
        } else {
            low = left;
            (left, at_left) = (right, at_right);
            right = low + golden * (high - low);
            at_right = value(right);
        }
    }
    [from, to, f64::midpoint(low, high)]
        .into_iter()
        .map(|place| (place, value(place)))
        .reduce(|best, next| if next.1 < best.1 { next } else { best })
        .unwrap_or((from, f64::NAN))
}
