//! One value of a number, tried: what each check says there.

use std::collections::BTreeMap;

use super::super::trial::{Grade, Refusal, grade};
use crate::check::limits::RULES;
use crate::check::{Slack, Verdict};

/// One value tried.
#[derive(Debug, Clone)]
pub struct Sample {
    /// The number's value.
    pub at: f64,
    /// What came of it.
    pub tried: Result<Vec<Slack>, Refusal>,
}

impl Sample {
    /// Its grade.
    #[must_use]
    pub fn grade(&self) -> Grade {
        grade(&self.tried)
    }

    /// The verdicts of all checks that apply; none where refused.
    pub fn verdicts(&self) -> BTreeMap<&'static str, Verdict> {
        let slacks = self.tried.iter().flatten();
        slacks.map(|slack| (slack.code, slack.verdict)).collect()
    }

    /// Whether both are refused, or both judged with the same verdict in every check. A check that
    /// does not apply says nothing, which is as good as clear.
    pub fn like(&self, other: &Sample) -> bool {
        let loud = |sample: &Sample| {
            let slacks = sample.tried.iter().flatten();
            let loud = slacks.filter(|slack| slack.verdict != Verdict::Clear);
            loud.map(|slack| (slack.order, slack.verdict))
                .collect::<Vec<_>>()
        };
        self.tried.is_ok() == other.tried.is_ok() && loud(self) == loud(other)
    }

    /// With what the checks that were not asked say at another value.
    pub fn filled(mut self, asked: Checks, from: &Sample) -> Sample {
        if let (Ok(slacks), Ok(known)) = (&mut self.tried, &from.tried) {
            slacks.extend(known.iter().filter(|slack| !asked.holds(slack.order)));
            slacks.sort_unstable_by_key(|slack| slack.order);
        }
        self
    }
}

/// Some of the checks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Checks(u64);

const _: () = assert!(RULES.len() <= 64, "a bit a check");

impl Checks {
    /// All of them.
    pub const ALL: Checks = Checks(u64::MAX);
    /// None of them.
    pub const NONE: Checks = Checks(0);

    /// Whether the check of this place in the table is one of them.
    #[must_use]
    pub const fn holds(self, order: usize) -> bool {
        self.0 & (1 << order) != 0
    }

    /// Those and one more.
    pub const fn with(self, order: usize) -> Checks {
        Checks(self.0 | (1 << order))
    }

    /// Those but these.
    pub const fn without(self, these: Checks) -> Checks {
        Checks(self.0 & !these.0)
    }
}
