//! Minimises the largest of |offset| − clearance over a shift and a turn, by an interior-point
//! method on the second-order cones |offset| ≤ clearance + excess, with the dual's bound as the
//! proof of how close the answer is.
//!
//! The barrier −ln((clearance + excess)² − |offset|²) is smooth where the norm itself is not (a
//! barrel right in its bore's axis), it needs no basis to be guessed, and an optimum that is not
//! unique (one bore decides, the turn is free within limits) comes out in its middle. Each Newton
//! step gives a dual point that meets the dual's equations, so the bound costs one more pass.
//! S. Boyd, L. Vandenberghe, "Convex Optimization" (2004), sections 11.3 and 11.6 (from memory).

use glam::DVec2;

use crate::tolerance::SETTLED;

/// Two discs a bore, mouth and bottom, in which the barrel's axis must be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Discs<'a> {
    /// A bore each: where the unit turn moves its barrel.
    pub arms: &'a [DVec2],
    /// Two a bore: barrel's axis less bore's axis before the plate is moved, mm.
    pub offsets: &'a [DVec2],
    /// A bore each: half of bore less barrel, mm.
    pub clearances: &'a [f64],
}

impl Discs<'_> {
    fn offset(&self, disc: usize, place: [f64; 3]) -> DVec2 {
        self.offsets[disc] + DVec2::new(place[0], place[1]) + self.arms[disc / 2] * place[2]
    }

    /// The largest |offset| − clearance: below or at 0 the plate goes in.
    pub fn excess(&self, place: [f64; 3]) -> f64 {
        (0..self.offsets.len())
            .map(|disc| self.offset(disc, place).length() - self.clearances[disc / 2])
            .fold(f64::NEG_INFINITY, f64::max)
    }
}

/// When to end, at the latest once the best is known to `tolerance::SETTLED`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stop<'a> {
    /// Not before.
    AtBest,
    /// Once it is known between which of these rising values the least excess lies.
    Between(&'a [f64]),
}

impl Stop<'_> {
    fn is_met(self, bound: f64, excess: f64) -> bool {
        excess - bound <= SETTLED
            || match self {
                Stop::AtBest => false,
                Stop::Between(values) => {
                    let after = |of: f64| values.partition_point(|value| *value < of);
                    after(bound) == after(excess)
                }
            }
    }
}

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Found {
    /// Shift along, shift across, scaled turn.
    pub place: [f64; 3],
    /// The largest |offset| − clearance there.
    pub excess: f64,
    /// No place has less, by the dual.
    pub bound: f64,
    /// The last place on the central path, with the barrier's own excess and weight there: what
    /// the shares are taken from.
    centre: [f64; 3],
    level: f64,
    weight: f64,
}

impl Found {
    /// The share a disc has in holding the excess up; they add up to 1.
    pub fn share(&self, discs: Discs, disc: usize) -> f64 {
        let offset = discs.offset(disc, self.centre).length();
        let room = discs.clearances[disc / 2] + self.level;
        2.0 * room / ((room - offset) * (room + offset) * self.weight)
    }
}

/// Steps of the barrier's weight, and the most Newton steps in all: about 35 are taken.
const WEIGHT_STEP: f64 = 12.0;
const MOST_STEPS: usize = 400;
/// Near enough to the central path for the weight to rise: the Newton decrement.
const CENTRED: f64 = 0.4;

/// Minimises from a place to start.
pub(super) fn minimise(discs: Discs, start: [f64; 3], stop: Stop) -> Found {
    let cones = 2.0 * discs.offsets.len() as f64;
    let excess = discs.excess(start);
    let mut best = Found {
        place: start,
        excess,
        bound: f64::NEG_INFINITY,
        centre: start,
        level: excess,
        weight: 1.0,
    };
    if discs.offsets.is_empty() || !excess.is_finite() {
        return best;
    }
    let turns = discs.arms.iter().any(|arm| *arm != DVec2::ZERO);
    let scale = scale(discs, start);
    let mut weight = cones / scale;
    let mut x = [excess + scale, start[0], start[1], start[2]];
    best.level = x[0];
    best.weight = weight;
    for _ in 0..MOST_STEPS {
        let (slope, curve) = slope_and_curve(discs, x, weight, turns);
        let step = newton(curve, slope);
        let decrement = -dot(slope, step);
        if !decrement.is_finite() {
            break;
        }
        let decrement = decrement.max(0.0).sqrt();
        if let Some(bound) = dual_bound(discs, x, step, weight) {
            best.bound = best.bound.max(bound);
        }
        let reached = longest(discs, x, step, decrement);
        for (value, by) in x.iter_mut().zip(step) {
            *value += by * reached;
        }
        let place = [x[1], x[2], x[3]];
        let excess = discs.excess(place);
        if excess < best.excess {
            best.place = place;
            best.excess = excess;
        }
        if decrement <= CENTRED {
            best.centre = place;
            best.level = x[0];
            best.weight = weight;
        }
        if stop.is_met(best.bound, best.excess) {
            break;
        }
        if decrement <= CENTRED {
            weight *= WEIGHT_STEP;
        }
    }
    // As good, and in the middle of all that are as good.
    let centred = discs.excess(best.centre);
    if centred - best.bound <= SETTLED {
        best.place = best.centre;
        best.excess = centred;
    }
    best
}

/// A length of the problem's own size, mm.
fn scale(discs: Discs, start: [f64; 3]) -> f64 {
    let widest = discs.clearances.iter().copied().fold(f64::MIN, f64::max);
    let narrowest = discs.clearances.iter().copied().fold(f64::MAX, f64::min);
    let farthest = (0..discs.offsets.len())
        .map(|disc| discs.offset(disc, start).length())
        .fold(0.0, f64::max);
    farthest.max(widest - narrowest).max(1e3 * SETTLED)
}

type Four = [f64; 4];

fn dot(a: Four, b: Four) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Room (clearance + excess), offset, and room² − |offset|² of a disc.
fn disc_at(discs: Discs, disc: usize, x: Four) -> (f64, DVec2, f64) {
    let offset = discs.offset(disc, [x[1], x[2], x[3]]);
    let room = discs.clearances[disc / 2] + x[0];
    let length = offset.length();
    (room, offset, (room - length) * (room + length))
}

/// First and second derivatives of weight·excess + Σ barriers; the second's lower half only.
fn slope_and_curve(discs: Discs, x: Four, weight: f64, turns: bool) -> (Four, [Four; 4]) {
    let mut slope = [weight, 0.0, 0.0, 0.0];
    let mut curve = [[0.0; 4]; 4];
    for disc in 0..discs.offsets.len() {
        let arm = discs.arms[disc / 2];
        let (room, offset, square) = disc_at(discs, disc, x);
        let once = 2.0 / square;
        let w = [room, -offset.x, -offset.y, -offset.dot(arm)];
        for (own, w) in slope.iter_mut().zip(w) {
            *own -= once * w;
        }
        let twice = once * once;
        for (row, line) in curve.iter_mut().enumerate() {
            for (own, other) in line.iter_mut().zip(w).take(row + 1) {
                *own += twice * w[row] * other;
            }
        }
        curve[0][0] -= once;
        curve[1][1] += once;
        curve[2][2] += once;
        curve[3][1] += once * arm.x;
        curve[3][2] += once * arm.y;
        curve[3][3] += once * arm.length_squared();
    }
    if !turns {
        // Nothing turns on a single station: any curve keeps the turn where it is.
        curve[3] = [0.0, 0.0, 0.0, 1.0];
        slope[3] = 0.0;
    }
    (slope, curve)
}

/// The Newton step, by Cholesky's decomposition. A direction whose curve is lost in rounding is
/// flat beside the others: it is not moved along.
#[allow(clippy::needless_range_loop)] // indices read as the formulas do
fn newton(curve: [Four; 4], slope: Four) -> Four {
    let mut lower = [[0.0; 4]; 4];
    for column in 0..4 {
        let mut pivot = curve[column][column];
        for k in 0..column {
            pivot -= lower[column][k] * lower[column][k];
        }
        let flat = pivot <= 1e-14 * curve[column][column].abs() || pivot.is_nan();
        let root = if flat { f64::INFINITY } else { pivot.sqrt() };
        lower[column][column] = root;
        for row in column + 1..4 {
            let mut value = curve[row][column];
            for k in 0..column {
                value -= lower[row][k] * lower[column][k];
            }
            lower[row][column] = value / root;
        }
    }
    let mut step = [0.0; 4];
    for row in 0..4 {
        let mut value = -slope[row];
        for k in 0..row {
            value -= lower[row][k] * step[k];
        }
        step[row] = value / lower[row][row];
    }
    for row in (0..4).rev() {
        let mut value = step[row];
        for k in row + 1..4 {
            value -= lower[k][row] * step[k];
        }
        step[row] = value / lower[row][row];
    }
    step
}

/// What the dual point of a Newton step proves: Σ of the dual's products below the barrier's own
/// excess. None where that point leaves the dual cones.
///
/// The step meets the dual's equations but for rounding. What it misses them by is charged at the
/// farthest that any place as good can lie away: all offsets there and here are at most `widest`,
/// so a shift differs by at most twice that, and the turn of the farthest station, whose arm is 1,
/// by at most four times.
fn dual_bound(discs: Discs, x: Four, step: Four, weight: f64) -> Option<f64> {
    let (mut products, mut shares, mut pulls, mut moment) = (0.0, 0.0, DVec2::ZERO, 0.0);
    let mut widest = 0.0_f64;
    for disc in 0..discs.offsets.len() {
        let arm = discs.arms[disc / 2];
        let (room, offset, square) = disc_at(discs, disc, x);
        let by = DVec2::new(step[1], step[2]) + arm * step[3];
        let once = 2.0 / square;
        let along = once * (room * step[0] - offset.dot(by));
        let share = once * (room + step[0] - along * room);
        let pull = -once * (offset + by - along * offset);
        if share < pull.length() || share.is_nan() {
            return None;
        }
        products += share * room + pull.dot(offset);
        shares += share;
        pulls += pull;
        moment += pull.dot(arm);
        widest = widest.max(room);
    }
    let missed = (shares - weight).abs() + 2.0 * pulls.x.hypot(pulls.y) + 4.0 * moment.abs();
    Some(x[0] - (products + missed * widest) / weight)
}

/// How much of a step to take: all of it near the central path, else what keeps well inside
/// every cone and does not raise the function.
fn longest(discs: Discs, x: Four, step: Four, decrement: f64) -> f64 {
    if decrement < 0.9 {
        return 1.0;
    }
    let mut part = 1.0_f64;
    let least = 1.0 / (1.0 + decrement);
    while part > least && !well_inside(discs, x, step, part) {
        part *= 0.6;
    }
    // The damped step is safe by theory, whatever the search says.
    part.max(least)
}

/// Every cone keeps a twentieth of its room² − |offset|².
fn well_inside(discs: Discs, x: Four, step: Four, part: f64) -> bool {
    let moved: [f64; 4] = std::array::from_fn(|i| x[i] + part * step[i]);
    (0..discs.offsets.len()).all(|disc| {
        let (room, _, square) = disc_at(discs, disc, moved);
        let (_, _, before) = disc_at(discs, disc, x);
        room > 0.0 && square > 0.05 * before
    })
}
