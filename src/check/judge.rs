//! From measurements to findings: the worst place of each check, its verdict, and the token that
//! only a design without a stop receives.

use crate::input::{Design, OwnLimit, Place};
use crate::layout::{Copy, Layout};

use super::limits::{Bound, RULES, Rule};
use super::measure::Measure;
use super::{Basis, Finding, Report, Verdict, advice, rib_window::rib_window};

/// Proof that a design passed every stop, in wood and printed. Only [`judge`] makes one; the solids
/// are built from nothing else.
#[derive(Debug, Clone)]
pub struct Checked {
    finished: Layout,
    printed: Layout,
}

impl Checked {
    /// Positions of the head and blocks as finished in wood.
    #[must_use]
    pub fn finished(&self) -> &Layout {
        &self.finished
    }

    /// Positions of the printed copies.
    #[must_use]
    pub fn printed(&self) -> &Layout {
        &self.printed
    }
}

/// Works out both copies of a design and judges them.
#[must_use]
pub fn run(design: &Design) -> (Report, Option<Checked>) {
    judge(
        Layout::new(design, Copy::Finished),
        Layout::new(design, Copy::Printed),
    )
}

/// Judges a design by its two copies: findings for the finished head and block, and a stop also
/// where only the printed copy misses one. `printed` must be the printed copy of the same design;
/// where it is not, the design of `finished` is worked out anew.
#[must_use]
pub fn judge(finished: Layout, printed: Layout) -> (Report, Option<Checked>) {
    let in_order = finished.copy == Copy::Finished
        && printed.copy == Copy::Printed
        && finished.design == printed.design;
    let (finished, printed) = if in_order {
        (finished, printed)
    } else {
        let design = finished.design;
        (
            Layout::new(&design, Copy::Finished),
            Layout::new(&design, Copy::Printed),
        )
    };
    let findings = RULES
        .iter()
        .filter_map(|rule| {
            let finding = find(rule, &finished, &printed)?;
            let advice = advice::advise(rule, &finding, &finished.design);
            Some(Finding { advice, ..finding })
        })
        .collect();
    let report = Report {
        findings,
        rib_window: rib_window(&finished),
    };
    let passed = report.verdict() != Verdict::Stop;
    let checked = passed.then_some(Checked { finished, printed });
    (report, checked)
}

/// What the check of this code finds, without advice; `None` where it does not apply or there is none
/// of that code. `printed` must be the printed copy of the same design.
#[must_use]
pub fn one(code: &str, finished: &Layout, printed: &Layout) -> Option<Finding> {
    find(super::limits::rule(code)?, finished, printed)
}

/// What one check finds; `advice` holds its place's remark, if any, and no numbers yet. `None` where
/// it does not apply.
pub(super) fn find(rule: &Rule, finished: &Layout, printed: &Layout) -> Option<Finding> {
    let design = &finished.design;
    let worst = worst(rule, design, (rule.measure)(finished))?;
    if rule.stop.is_none() || worst.verdict == Verdict::Stop {
        return Some(worst);
    }
    let stopped = (rule.measure)(printed)
        .into_iter()
        .filter(|measure| verdict(rule, design, measure).0 == Verdict::Stop)
        .collect();
    let printed_stop = self::worst(rule, design, stopped).map(|finding| Finding {
        at: format!("printed {}", finding.at),
        ..finding
    });
    Some(printed_stop.unwrap_or(worst))
}

/// Verdict of one measurement, with the bound that the report shows and its basis.
fn verdict(rule: &Rule, design: &Design, measure: &Measure) -> (Verdict, Bound, Basis) {
    let stop = measure.own_stop.map(Bound::AtLeast).or(rule.stop);
    if let Some(stop) = stop.filter(|stop| !stop.holds(measure.value)) {
        return (Verdict::Stop, stop, Basis::Assumed);
    }
    let (caution, basis) = match own_limit(rule, design) {
        Some(own) => (Some(own), Basis::Own),
        None => match &measure.own_caution {
            Some((bound, basis)) => (Some(*bound), basis.clone()),
            None => (rule.caution, rule.basis.clone()),
        },
    };
    match (caution, stop) {
        (Some(caution), _) if caution.holds(measure.value) => (Verdict::Clear, caution, basis),
        (Some(caution), _) => (Verdict::Caution, caution, basis),
        // A value that is no number holds nowhere.
        (None, Some(stop)) => (Verdict::Clear, stop, Basis::Assumed),
        (None, None) => (Verdict::Clear, Bound::AtLeast(f64::NEG_INFINITY), basis),
    }
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

/// The worst of the measurements: the highest verdict, then the least margin; by each place's own
/// stop where places have stops of their own.
fn worst(rule: &Rule, design: &Design, measures: Vec<Measure>) -> Option<Finding> {
    let own_stops = measures.iter().any(|measure| measure.own_stop.is_some());
    let judged = measures.into_iter().map(|measure| {
        let (verdict, bound, basis) = verdict(rule, design, &measure);
        let by = match measure.own_stop.map(Bound::AtLeast).or(rule.stop) {
            Some(stop) if own_stops => stop.margin(measure.value),
            _ => bound.margin(measure.value),
        };
        (verdict, by, bound, basis, measure)
    });
    // The first of equals: nearest the nut, treble before bass.
    let (verdict, _, bound, basis, measure) = judged.reduce(|best, next| {
        let worse =
            next.0 > best.0 || (next.0 == best.0 && next.1 < best.1 - crate::tolerance::NOISE);
        if worse { next } else { best }
    })?;
    let margin = bound.margin(measure.value);
    let margin = if verdict == Verdict::Clear {
        margin.max(0.0)
    } else {
        margin
    };
    Some(Finding {
        code: rule.code,
        title: rule.title,
        verdict,
        value: measure.value,
        limit: bound.limit(),
        margin,
        unit: rule.unit,
        basis,
        at: measure.at,
        advice: measure.note,
        place: measure.keys.iter().find_map(|key| place(design, key)),
    })
}

/// Where a key, or else the first key of the table of that name, was set.
fn place(design: &Design, key: &str) -> Option<Place> {
    let within = |(name, _): &(&String, &Place)| {
        name.strip_prefix(key)
            .is_some_and(|rest| rest.starts_with('.'))
    };
    let inside = || design.places.iter().find(within).map(|(_, place)| place);
    design.places.get(key).or_else(inside).cloned()
}
