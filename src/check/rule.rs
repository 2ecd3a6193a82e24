//! What a check is: its code, its bounds, and how it measures.

use super::levers::Lever;
use super::measure::Measure;
use super::{Basis, Limit};
use crate::layout::Layout;
use crate::tolerance::NOISE;

/// What a value must be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// This or more.
    AtLeast(f64),
    /// More than this: at the limit itself, give or take rounding noise, it does not hold.
    MoreThan(f64),
    /// This or less.
    AtMost(f64),
    /// Between the two, both included.
    Within {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
    },
}

impl Bound {
    /// Limit less value or the reverse: above zero inside, to the nearer of two limits.
    #[must_use]
    pub fn margin(self, value: f64) -> f64 {
        match self {
            Bound::AtLeast(limit) | Bound::MoreThan(limit) => value - limit,
            Bound::AtMost(limit) => limit - value,
            Bound::Within { low, high } => (value - low).min(high - value),
        }
    }

    /// Whether the value holds: a limit is missed only by more than rounding noise. A value that is
    /// no number never holds.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        match self {
            Bound::MoreThan(_) => self.margin(value) > NOISE,
            _ => self.margin(value) >= -NOISE,
        }
    }

    /// As the report gives it.
    #[must_use]
    pub const fn limit(self) -> Limit {
        match self {
            Bound::AtLeast(limit) | Bound::MoreThan(limit) | Bound::AtMost(limit) => {
                Limit::Single(limit)
            }
            Bound::Within { low, high } => Limit::Band { low, high },
        }
    }
}

/// One check.
pub struct Rule {
    /// Code, as in `[limits]` and `explain CODE`.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// `"mm"`, `"deg"` or `""` for a bare ratio.
    pub unit: &'static str,
    /// What it takes not to be a stop.
    pub stop: Option<Bound>,
    /// What it takes not to be a caution.
    pub caution: Option<Bound>,
    /// Basis of the caution limit.
    pub basis: Basis,
    /// Looks at every place the check speaks of; empty where it does not apply.
    pub(super) measure: fn(&Layout) -> Vec<Measure>,
    /// Keys that advice may turn.
    pub(super) levers: &'static [Lever],
}

impl Rule {
    /// Whether a maker's own limit is `{ low = , high = }`.
    #[must_use]
    pub const fn takes_band(&self) -> bool {
        matches!(self.caution, Some(Bound::Within { .. }))
    }
}
