//! What one measurement is held to: the stop, the caution, the maker's own limit; and its verdict.

use crate::input::{Design, OwnLimit};

use super::limits::{Bound, Rule};
use super::measure::Measure;
use super::{Basis, Verdict};

/// Verdict of one measurement, with the bound that the report shows and its basis.
pub(super) fn verdict(rule: &Rule, design: &Design, measure: &Measure) -> (Verdict, Bound, Basis) {
    let (stop, caution) = bounds(rule, design, measure);
    if let Some(stop) = stop.filter(|stop| !stop.holds(measure.value)) {
        return (Verdict::Stop, stop, Basis::Assumed);
    }
    match (caution, stop) {
        (Some((caution, basis)), _) if caution.holds(measure.value) => {
            (Verdict::Clear, caution, basis)
        }
        (Some((caution, basis)), _) => (Verdict::Caution, caution, basis),
        // A value that is no number holds nowhere.
        (None, Some(stop)) => (Verdict::Clear, stop, Basis::Assumed),
        (None, None) => (
            Verdict::Clear,
            Bound::AtLeast(f64::NEG_INFINITY),
            rule.basis.clone(),
        ),
    }
}

/// The stop and the caution limit that a measurement is held to.
pub(super) fn bounds(
    rule: &Rule,
    design: &Design,
    measure: &Measure,
) -> (Option<Bound>, Option<(Bound, Basis)>) {
    let stop = measure.own_stop.map(Bound::AtLeast).or(rule.stop);
    let caution = match (own_limit(rule, design), &measure.own_caution) {
        (Some(own), _) => Some((own, Basis::Own)),
        (None, Some((bound, basis))) => Some((*bound, basis.clone())),
        (None, None) => rule.caution.map(|bound| (bound, rule.basis.clone())),
    };
    (stop, caution)
}

/// The maker's own caution limit, if it has the shape this check takes.
fn own_limit(rule: &Rule, design: &Design) -> Option<Bound> {
    match (design.limits.get(rule.code)?, rule.caution) {
        (OwnLimit::Band { low, high }, Some(Bound::Within { .. })) => Some(Bound::Within {
            low: *low,
            high: *high,
        }),
        (OwnLimit::Single(limit), Some(Bound::AtMost(_))) => Some(Bound::AtMost(*limit)),
        (OwnLimit::Single(limit), None | Some(Bound::AtLeast(_) | Bound::MoreThan(_))) => {
            Some(Bound::AtLeast(*limit))
        }
        _ => None,
    }
}
