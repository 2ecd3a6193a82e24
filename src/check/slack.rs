//! How far checks are from their limits, for whoever follows them from one design to the next.

use crate::layout::Layout;

use super::Verdict;
use super::held_to::{bounds, verdict};
use super::limits::{Bound, RULES, Rule};

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
