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
    let (finished, printed) = in_order(finished, printed);
    let mut report = report(&finished, &printed);
    advice::add(&mut report, &finished.design);
    token(report, finished, printed)
}

/// [`judge`] without the numbers that would clear a check: finding those takes longer than all checks
/// together, and nothing but words for people needs them.
#[must_use]
pub fn verdicts(finished: Layout, printed: Layout) -> (Report, Option<Checked>) {
    let (finished, printed) = in_order(finished, printed);
    token(report(&finished, &printed), finished, printed)
}

/// The two copies if they are those of one design, else both worked out anew.
fn in_order(finished: Layout, printed: Layout) -> (Layout, Layout) {
    let in_order = finished.copy == Copy::Finished
        && printed.copy == Copy::Printed
        && finished.design == printed.design;
    if in_order {
        return (finished, printed);
    }
    let design = finished.design;
    (
        Layout::new(&design, Copy::Finished),
        Layout::new(&design, Copy::Printed),
    )
}

fn report(finished: &Layout, printed: &Layout) -> Report {
    Report {
        findings: findings(finished, printed),
        rib_window: rib_window(finished),
    }
}

fn token(report: Report, finished: Layout, printed: Layout) -> (Report, Option<Checked>) {
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

/// What every check finds in the two copies of a design, in the order of [`judge`]'s report but
/// without the numbers that would clear it.
#[must_use]
pub fn findings(finished: &Layout, printed: &Layout) -> Vec<Finding> {
    RULES
        .iter()
        .filter_map(|rule| find(rule, finished, printed))
        .collect()
}

/// How far a check is from its limits, over every place it looks at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slack {
    /// Its place in the table of checks, from 0: lists of slacks are in this order.
    pub order: usize,
    /// Code.
    pub code: &'static str,
    /// Verdict, as [`findings`] has it.
    pub verdict: Verdict,
    /// Least margin to a stop limit, in the check's unit, below zero where one is missed; infinite
    /// where there is no stop limit. Unlike a finding's margin it is there whatever the verdict, so
    /// that it can be followed from one design to the next.
    pub to_stop: f64,
    /// The same to a caution limit.
    pub to_caution: f64,
}

/// How far every check that applies is from its limits.
#[must_use]
pub fn slacks(finished: &Layout, printed: &Layout) -> Vec<Slack> {
    slacks_of(finished, printed, |_| true)
}

/// The same of those checks alone whose place in the table is wanted.
#[must_use]
pub fn slacks_of(
    finished: &Layout,
    printed: &Layout,
    wanted: impl Fn(usize) -> bool,
) -> Vec<Slack> {
    RULES
        .iter()
        .enumerate()
        .filter(|(order, _)| wanted(*order))
        .filter_map(|(order, rule)| slack(order, rule, finished, printed))
        .collect()
}

fn slack(order: usize, rule: &Rule, finished: &Layout, printed: &Layout) -> Option<Slack> {
    let design = &finished.design;
    // A value that is no number is as far out as can be.
    let least = |so_far: f64, bound: Option<Bound>, value: f64| match bound {
        Some(bound) if value.is_nan() || bound.margin(value).is_nan() => f64::NEG_INFINITY,
        Some(bound) => so_far.min(bound.margin(value)),
        None => so_far,
    };
    let measures = (rule.measure)(finished);
    if measures.is_empty() {
        return None;
    }
    let mut slack = Slack {
        order,
        code: rule.code,
        verdict: Verdict::Clear,
        to_stop: f64::INFINITY,
        to_caution: f64::INFINITY,
    };
    for measure in &measures {
        let (stop, caution) = bounds(rule, design, measure);
        slack.to_stop = least(slack.to_stop, stop, measure.value);
        let caution = caution.map(|(bound, _)| bound);
        slack.to_caution = least(slack.to_caution, caution, measure.value);
        slack.verdict = slack.verdict.max(verdict(rule, design, measure).0);
    }
    if rule.stop.is_some() {
        for measure in (rule.measure)(printed) {
            let (stop, _) = bounds(rule, design, &measure);
            slack.to_stop = least(slack.to_stop, stop, measure.value);
            if verdict(rule, design, &measure).0 == Verdict::Stop {
                slack.verdict = Verdict::Stop;
            }
        }
    }
    Some(slack)
}

/// Whether the check applies and is clear in both copies; the printed one is worked out only where
/// the finished one is.
pub(super) fn is_clear(rule: &Rule, finished: &Layout) -> bool {
    let design = &finished.design;
    let all = |measures: &[Measure], holds: &dyn Fn(Verdict) -> bool| {
        let mut verdicts = measures.iter().map(|m| verdict(rule, design, m).0);
        verdicts.all(holds)
    };
    let measures = (rule.measure)(finished);
    if measures.is_empty() || !all(&measures, &|verdict| verdict == Verdict::Clear) {
        return false;
    }
    rule.stop.is_none()
        || all(
            &(rule.measure)(&Layout::new(design, Copy::Printed)),
            &|verdict| verdict != Verdict::Stop,
        )
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
fn bounds(
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
        at: measure.at.to_string(),
        advice: measure.note.map(|note| note(&measure)),
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
