//! From measurements to findings: the worst place of each check, its verdict, and the token that
//! only a design without a stop receives.

use crate::input::{Design, Place};
use crate::layout::{Copy, Layout};

use super::held_to::verdict;
use super::limits::{Bound, RULES, Rule};
use super::measure::Measure;
use super::{Finding, Report, Verdict, advice, rib_window::rib_window};

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

/// Whether the check is clear in both copies, and applies or, with `or_left_out`, does not; the printed one
/// is worked out only where the finished one is.
pub(super) fn is_clear(rule: &Rule, finished: &Layout, or_left_out: bool) -> bool {
    let design = &finished.design;
    let all = |measures: &[Measure], holds: &dyn Fn(Verdict) -> bool| {
        let mut verdicts = measures.iter().map(|m| verdict(rule, design, m).0);
        verdicts.all(holds)
    };
    let measures = (rule.measure)(finished);
    if measures.is_empty() && !or_left_out || !all(&measures, &|verdict| verdict == Verdict::Clear)
    {
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
