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
    /// which has one valley along a straight run. Where the distance is a root of squares, [`least_root`]
    /// has it in one step.
    pub(super) fn least(&self, distance: impl Fn(DVec3) -> f64) -> (f64, DVec3) {
        let (share, least) = valley(0.0, 1.0, STEPS, |share| distance(self.at(share)));
        (least, self.at(share))
    }

    /// Least distance to another run, and where on this one.
    pub(super) fn gap_to(&self, other: &Segment) -> (f64, DVec3) {
        let along = other.to - other.from;
        let share_of = |point: DVec3| {
            let share = (point - other.from).dot(along) / along.length_squared();
            if share.is_nan() { 0.0 } else { share }
        };
        let share = Even::between(share_of(self.from), share_of(self.to));
        // Nearest to the other's beginning, to a point within it, to its end.
        let from = |foot: &dyn Fn(DVec3) -> DVec3| {
            let (start, end) = (self.from - foot(self.from), self.to - foot(self.to));
            let each = |axis| Part::Whole(Even::between(start[axis], end[axis]));
            [each(0), each(1), each(2)]
        };
        let pieces = [
            from(&|_| other.from),
            from(&|point| other.at(share_of(point))),
            from(&|_| other.to),
        ];
        let [first, second] = Even::in_order([share.reaches(0.0), share.reaches(1.0)]);
        let ends = [0.0, first, second, 1.0];
        let (at, least) = ends
            .windows(2)
            .map(|ends| {
                let middle = share.at(f64::midpoint(ends[0], ends[1]));
                let piece = match middle {
                    middle if middle <= 0.0 => 0,
                    middle if middle < 1.0 => 1,
                    _ => 2,
                };
                least_root_between(&pieces[piece], ends[0], ends[1])
            })
            .fold((0.0, f64::INFINITY), lower);
        (least, self.at(at))
    }

    #[cfg(test)]
    fn distance_to(&self, point: DVec3) -> f64 {
        let along = self.to - self.from;
        let share = ((point - self.from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
        point.distance(self.at(if share.is_nan() { 0.0 } else { share }))
    }
}

/// A number that changes evenly along a run.
#[derive(Debug, Clone, Copy)]
pub(super) struct Even {
    start: f64,
    slope: f64,
}

impl Even {
    /// From its values at the run's two ends.
    pub(super) fn between(start: f64, end: f64) -> Even {
        Even {
            start,
            slope: end - start,
        }
    }

    fn at(self, share: f64) -> f64 {
        self.start + self.slope * share
    }

    /// The share of the run at which it reaches a value; the run's beginning where it never does.
    fn reaches(self, value: f64) -> f64 {
        let share = (value - self.start) / self.slope;
        if share > 0.0 && share < 1.0 {
            share
        } else {
            0.0
        }
    }

    fn in_order([a, b]: [f64; 2]) -> [f64; 2] {
        if a <= b { [a, b] } else { [b, a] }
    }
}

/// One side of a distance, of which it is the root of the squares.
#[derive(Debug, Clone, Copy)]
pub(super) enum Part {
    /// It counts whatever its sign.
    Whole(Even),
    /// It counts only where it is above zero.
    Above(Even),
}

impl Part {
    fn even(self) -> Even {
        match self {
            Part::Whole(even) | Part::Above(even) => even,
        }
    }

    fn at(self, share: f64) -> f64 {
        match self {
            Part::Whole(even) => even.at(share),
            Part::Above(even) => even.at(share).max(0.0),
        }
    }
}

/// Least root of the sum of up to three squares along a run: the share of the run, the first of equals,
/// and the root. Between the places where a part begins to count the sum is a parabola.
pub(super) fn least_root(parts: &[Part]) -> (f64, f64) {
    let mut ends = [0.0, 0.0, 0.0, 0.0, 1.0];
    for (end, part) in ends[1..4].iter_mut().zip(parts) {
        if let Part::Above(even) = part {
            *end = even.reaches(0.0);
        }
    }
    ends.sort_unstable_by(f64::total_cmp);
    ends.windows(2)
        .map(|ends| least_root_between(parts, ends[0], ends[1]))
        .fold((0.0, f64::INFINITY), lower)
}

/// The same between two shares between which no part begins to count.
fn least_root_between(parts: &[Part], from: f64, to: f64) -> (f64, f64) {
    let middle = f64::midpoint(from, to);
    let (mut bend, mut fall) = (0.0, 0.0);
    for part in parts {
        let even = part.even();
        if matches!(part, Part::Whole(_)) || even.at(middle) > 0.0 {
            bend += even.slope * even.slope;
            fall -= even.slope * even.start;
        }
    }
    let share = if bend > 0.0 {
        (fall / bend).clamp(from, to)
    } else {
        from
    };
    let squares: f64 = parts.iter().map(|part| part.at(share).powi(2)).sum();
    (share, squares.sqrt())
}

/// The lower of two places, the first of equals.
fn lower(best: (f64, f64), next: (f64, f64)) -> (f64, f64) {
    if next.1 < best.1 { next } else { best }
}

/// The bottom of a function with one valley between two numbers, its ends included: where and how
/// deep. Each step shortens the interval to 0.618 of itself.
pub(super) fn valley(from: f64, to: f64, steps: usize, value: impl Fn(f64) -> f64) -> (f64, f64) {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let [mut low, mut high] = [from, to];
    let [mut left, mut right] = [high - golden * (high - low), low + golden * (high - low)];
    let [mut at_left, mut at_right] = [value(left), value(right)];
    for _ in 0..steps {
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers from -10 to 10, the same in every run.
    fn numbers() -> impl FnMut() -> f64 {
        let mut state = 7_u64;
        move || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            (state >> 11) as f64 / (1_u64 << 53) as f64 * 20.0 - 10.0
        }
    }

    /// Both are exact but for rounding; the golden section's place in the valley is good to the root of
    /// that, which its depth does not feel.
    const TIGHT: f64 = 1e-9;

    #[test]
    fn a_root_of_squares_is_least_where_a_golden_section_finds_it() {
        let mut next = numbers();
        for round in 0..2000 {
            let even = |a, b| Even::between(a, b);
            let parts = [
                Part::Whole(even(next(), next())),
                Part::Above(even(next(), next())),
                Part::Above(even(next(), next())),
            ];
            let parts = &parts[round % 3..];
            let root = |share: f64| {
                let squares: f64 = parts.iter().map(|part| part.at(share).powi(2)).sum();
                squares.sqrt()
            };
            let (share, least) = least_root(parts);
            assert!((0.0..=1.0).contains(&share) && (root(share) - least).abs() < TIGHT);
            let (_, golden) = valley(0.0, 1.0, STEPS, root);
            assert!((least - golden).abs() < TIGHT, "{parts:?} {least} {golden}");
        }
    }

    #[test]
    fn two_runs_are_as_far_apart_as_a_golden_section_finds_them() {
        let mut next = numbers();
        for round in 0..2000 {
            let mut point = || DVec3::new(next(), next(), next());
            let one = Segment {
                from: point(),
                to: point(),
            };
            let mut other = Segment {
                from: point(),
                to: point(),
            };
            // Now and then parallel, or of no length.
            match round % 7 {
                0 => other.to = other.from + (one.to - one.from),
                1 => other.to = other.from,
                _ => {}
            }
            let (distance, at) = one.gap_to(&other);
            assert!((other.distance_to(at) - distance).abs() < TIGHT);
            let (golden, _) = one.least(|point| other.distance_to(point));
            assert!((distance - golden).abs() < TIGHT, "{one:?} {other:?}");
        }
    }
}
