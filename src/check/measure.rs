//! One measurement of a check: a value and where it was taken.

use super::at::At;
use super::{Basis, limits::Bound};

/// One place a check looked at.
#[derive(Debug, Clone)]
pub(super) struct Measure {
    /// What was found, in the check's unit.
    pub value: f64,
    /// Where.
    pub at: At,
    /// Keys that set it, the most concerned first.
    pub keys: &'static [&'static str],
    /// A stop limit of this place's own, in place of the check's.
    pub own_stop: Option<f64>,
    /// A caution limit of this place's own, with its basis (checks of the press, strings of a
    /// course).
    pub own_caution: Option<(Bound, Basis)>,
    /// What the maker should know besides the numbers.
    pub note: Option<fn(&Measure) -> String>,
}

impl Measure {
    pub fn new(value: f64, at: impl Into<At>, keys: &'static [&'static str]) -> Measure {
        Measure {
            value,
            at: at.into(),
            keys,
            own_stop: None,
            own_caution: None,
            note: None,
        }
    }

    /// With a stop limit of its own.
    pub fn stop_below(mut self, stop: f64) -> Measure {
        self.own_stop = Some(stop);
        self
    }

    /// With a caution limit of its own that must not be exceeded.
    pub fn caution_at(self, limit: f64, basis: Basis) -> Measure {
        self.caution_by(Bound::AtMost(limit), basis)
    }

    /// With a caution limit of its own.
    pub fn caution_by(mut self, bound: Bound, basis: Basis) -> Measure {
        self.own_caution = Some((bound, basis));
        self
    }

    /// With a remark, made where it is read.
    pub fn note(mut self, note: fn(&Measure) -> String) -> Measure {
        self.note = Some(note);
        self
    }
}

/// A guard: a measurement that counts only where it misses its own stop limit. It keeps from the
/// solids what no row of the contract speaks of by the letter, without changing the value that
/// the row reports for a sound design.
pub(super) fn guard(list: &mut Vec<Measure>, measure: Measure) {
    let missed = measure
        .own_stop
        .is_some_and(|stop| measure.value < stop - crate::tolerance::NOISE);
    // A value that is no number is no sound design either.
    if missed || measure.value.is_nan() {
        list.push(measure);
    }
}
