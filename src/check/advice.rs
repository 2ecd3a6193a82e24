//! What to change where a check is not clear: the number that would clear it, found by working
//! the design out anew and judging it, so that typing the number does clear the check.

use crate::input::{Design, Measurements, Unit};
use crate::units::Lengths;

use super::limits::{RULES, Rule, rule};
use super::{Finding, Report, Verdict, explain, ramp};
use search::{Remedy, remedy};
use words::{but_then, measured, offer, sentence};

#[cfg(test)]
pub(super) use search::Further;
pub(super) use search::worse_off;

mod search;
mod words;

/// Numbers offered at most.
const OFFERS: usize = 2;

/// A design as it stands, to be changed and judged many times.
pub(super) struct Now {
    design: Design,
    /// By the order of [`RULES`].
    verdicts: Vec<Verdict>,
}

impl Now {
    /// `findings` are those of the design.
    pub fn new(design: &Design, findings: &[Finding]) -> Now {
        let verdict = |rule: &Rule| {
            let finding = findings.iter().find(|finding| finding.code == rule.code);
            finding.map_or(Verdict::Clear, |finding| finding.verdict)
        };
        Now {
            // Files and readings change no verdict and cost to copy.
            design: Design {
                files: Vec::new(),
                measurements: Measurements::default(),
                ..design.clone()
            },
            verdicts: RULES.iter().map(verdict).collect(),
        }
    }

    /// The design, without its files and readings.
    pub fn design(&self) -> &Design {
        &self.design
    }
}

/// Gives every finding of a design its advice.
pub(super) fn add(report: &mut Report, design: &Design) {
    let now = Now::new(design, &report.findings);
    for finding in &mut report.findings {
        if let Some(rule) = rule(finding.code) {
            finding.advice = advise(rule, finding, &now);
        }
    }
}

/// Advice for a finding, `None` where it is clear.
pub(super) fn advise(rule: &Rule, finding: &Finding, now: &Now) -> Option<String> {
    if finding.verdict == Verdict::Clear {
        return None;
    }
    let design = &now.design;
    let remedies = remedies(rule, now);
    let sound = |remedy: &Remedy| remedy.worse.is_empty();
    let ramp = ramp::proposal(rule, now)
        .filter(|ramp| ramp.worse.is_empty() || !remedies.iter().any(sound));
    // A whole ramp takes the place of its single numbers, and of those that make something worse.
    let beside_ramp = |remedy: &&Remedy| {
        ramp.is_none() || (sound(remedy) && !remedy.lever.key.starts_with("slots.ramp"))
    };
    let single = remedies
        .iter()
        .filter(beside_ramp)
        .map(|remedy| offer(remedy, design.unit));
    let whole = ramp
        .iter()
        .map(|ramp| format!("{}{}", ramp.words, but_then(&ramp.worse)));
    let offers: Vec<String> = whole.chain(single).take(OFFERS).collect();
    let change = if offers.is_empty() {
        explain::what_to_change(rule.code).to_owned()
    } else {
        sentence(&offers.join(", or "))
    };
    let note = finding.advice.as_deref().map(sentence);
    let lengths = Lengths {
        inches: design.unit == Unit::Inch,
    };
    // One who set a limit of his own wonders why it did not help.
    let own = (finding.verdict == Verdict::Stop)
        .then(|| super::words::loose_limit(rule, design, lengths))
        .flatten();
    Some(
        note.into_iter()
            .chain(own.as_deref().map(sentence))
            .chain([change])
            .collect::<Vec<_>>()
            .join(" "),
    )
}

/// Every way to clear the check with one number, those that make nothing else worse first.
pub(super) fn remedies(rule: &Rule, now: &Now) -> Vec<Remedy> {
    let mut list: Vec<Remedy> = rule
        .levers
        .iter()
        .filter_map(|lever| remedy(rule, lever, now))
        .collect();
    // Stable: within a group the rule's own order of levers stays. What the maker chooses comes
    // before what he measured.
    list.sort_by_key(|remedy| {
        let worst = remedy.worse.iter().map(|(_, verdict)| *verdict).max();
        (worst, measured(remedy.lever.key).is_some())
    });
    let clean = |remedy: &Remedy| remedy.worse.is_empty();
    let chosen = |remedy: &Remedy| measured(remedy.lever.key).is_none();
    let bearable = |remedy: &Remedy| {
        let stops = |(_, verdict): &(_, Verdict)| *verdict == Verdict::Stop;
        chosen(remedy) && !remedy.worse.iter().any(stops)
    };
    // Another set or press is no number to type: what the maker may choose is offered beside it, with what it
    // costs, and before a second thing to buy.
    let beside = list.first().is_some_and(|best| !chosen(best))
        && !list.iter().any(|remedy| chosen(remedy) && clean(remedy));
    if let Some(own) = list.iter().position(bearable).filter(|_| beside) {
        let own = list.remove(own);
        list.truncate(OFFERS - 1);
        list.push(own);
    } else if list.first().is_some_and(clean) {
        list.retain(clean);
    }
    list
}
