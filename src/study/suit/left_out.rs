//! Checks that a bound does not count and its number moves all the same: whoever reads "clear" must know
//! of them.

use std::collections::BTreeMap;

use crate::check::{Slack, Verdict, slacks};
use crate::input::Design;
use crate::layout::{Copy, Layout};

use super::{Movable, Number, Range};

/// Steps over each range, both ends included, at which all checks are asked.
const STEPS: usize = 40;

/// What every check says of a design.
pub(super) fn verdicts(design: &Design) -> Vec<Slack> {
    let [finished, printed] = [Copy::Finished, Copy::Printed].map(|copy| Layout::new(design, copy));
    slacks(&finished, &printed)
}

/// Checks not counted that somewhere in the clear range say anything, or in the other one say stop, and say
/// less `now`; in the order of the report. None for the widths, which are asked of a head with two barrels
/// only: it is no head that all checks could be asked about.
#[allow(clippy::cast_precision_loss)]
pub(super) fn left_out(
    movable: &Movable<'_>,
    ranges: [Range; 2],
    now: &[Slack],
) -> Vec<&'static str> {
    if matches!(movable.number, Number::WidthAtFirst | Number::WidthAtLast) {
        return Vec::new();
    }
    let mut found: BTreeMap<usize, &'static str> = BTreeMap::new();
    for (range, most) in ranges.iter().zip([Verdict::Caution, Verdict::Clear]) {
        if !range.is_open() {
            continue;
        }
        let [from, to] = movable.span;
        let from = range.least.map_or(from, |end| end.value);
        let to = range.greatest.map_or(to, |end| end.value);
        for step in 0..=STEPS {
            let value = from + (to - from) * step as f64 / STEPS as f64;
            for slack in verdicts(&(movable.change)(value)) {
                let own = now.iter().find(|own| own.order == slack.order);
                let before = own.map_or(Verdict::Clear, |own| own.verdict);
                let more = slack.verdict > most && slack.verdict > before;
                if more && !movable.checks.contains(&slack.code) {
                    found.insert(slack.order, slack.code);
                }
            }
        }
    }
    found.into_values().collect()
}
