//! One design tried: refused by a rule of the parameter file, or judged by the checks.

use crate::check::{Finding, Slack, Verdict, findings, slacks_of};
use crate::diagnostic::Diagnostic;
use crate::input::Design;
use crate::layout::{Copy, Layout, faults};

/// What became of a design, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// No check speaks.
    Clear,
    /// A check says caution, none stop.
    Caution,
    /// A check says stop.
    Stop,
    /// The file is refused.
    Refused,
}

impl Grade {
    /// In a word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Grade::Clear => "clear",
            Grade::Caution => "caution",
            Grade::Stop => "stop",
            Grade::Refused => "refused",
        }
    }
}

impl From<Verdict> for Grade {
    fn from(verdict: Verdict) -> Grade {
        match verdict {
            Verdict::Clear => Grade::Clear,
            Verdict::Caution => Grade::Caution,
            Verdict::Stop => Grade::Stop,
        }
    }
}

/// Why a file is refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// The key it hangs on.
    pub key: String,
    /// The reader's message.
    pub message: String,
}

/// Both copies of a design that is not refused.
pub type Copies = (Layout, Layout);

/// Works out both copies, finished and printed.
///
/// # Errors
/// The first rule of the file that is broken, also one that shows only in the layout: the same
/// rules in the same order as [`crate::pipeline::judge_design`].
pub fn copies(design: Result<Design, Vec<Diagnostic>>) -> Result<Copies, Refusal> {
    let design = design.map_err(|found| match found.into_iter().next() {
        Some(first) => Refusal {
            key: first.key,
            message: first.message,
        },
        None => Refusal {
            key: String::new(),
            message: "the file is refused".to_owned(),
        },
    })?;
    let finished = Layout::new(&design, Copy::Finished);
    let printed = Layout::new(&design, Copy::Printed);
    let found = faults(&finished).into_iter().chain(faults(&printed)).next();
    match found {
        Some(fault) => Err(Refusal {
            key: fault.key.to_owned(),
            message: fault.message,
        }),
        None => Ok((finished, printed)),
    }
}

/// How far every check is from its limits, or why the file is refused.
///
/// # Errors
/// As [`copies`].
pub fn tried(design: Result<Design, Vec<Diagnostic>>) -> Result<Vec<Slack>, Refusal> {
    tried_with(design, |_| true)
}

/// The same of those checks alone whose place in the table is wanted.
///
/// # Errors
/// As [`copies`].
pub fn tried_with(
    design: Result<Design, Vec<Diagnostic>>,
    wanted: impl Fn(usize) -> bool,
) -> Result<Vec<Slack>, Refusal> {
    let (finished, printed) = copies(design)?;
    Ok(slacks_of(&finished, &printed, wanted))
}

/// What every check finds, worst first, or why the file is refused.
///
/// # Errors
/// As [`copies`].
pub fn judged(design: Result<Design, Vec<Diagnostic>>) -> Result<Vec<Finding>, Refusal> {
    let (finished, printed) = copies(design)?;
    let mut list = findings(&finished, &printed);
    list.sort_by(|a, b| {
        let share = |finding| crate::check::words::tightness(finding);
        b.verdict
            .cmp(&a.verdict)
            .then(share(a).total_cmp(&share(b)))
    });
    Ok(list)
}

/// The grade of a design by its slacks.
#[must_use]
pub fn grade(tried: &Result<Vec<Slack>, Refusal>) -> Grade {
    match tried {
        Err(_) => Grade::Refused,
        Ok(slacks) => slacks
            .iter()
            .map(|slack| Grade::from(slack.verdict))
            .max()
            .unwrap_or(Grade::Clear),
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::input::Numbers;
    use crate::pipeline::{Failure, judge_design};

    /// Every number of every demo moved by a little and by much, both ways.
    #[test]
    fn a_trial_says_what_the_checks_say() {
        let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
        let (mut refused, mut stopped, mut passed) = (0, 0, 0);
        for name in ["sandpiper", "turnstone", "curlew"] {
            let path = dir.join(name).with_extension("toml");
            let numbers = Numbers::read(&path).unwrap();
            for number in numbers.list().iter().step_by(3) {
                for by in [-7.3, 0.4] {
                    let design = numbers.with(&[(number, number.value + by)]);
                    let slacks = tried(design.clone());
                    let found = judged(design.clone());
                    let real = design
                        .map_err(Failure::Input)
                        .and_then(|design| judge_design(&design, &path));
                    match (real, slacks, found) {
                        (Err(Failure::Input(list)), Err(a), Err(b)) => {
                            assert_eq!(a, b);
                            assert_eq!((&list[0].key, &list[0].message), (&a.key, &a.message));
                            refused += 1;
                        }
                        (Ok((_, report, checked)), Ok(slacks), Ok(found)) => {
                            let real: Vec<_> = report
                                .findings
                                .iter()
                                .map(|f| (f.code, f.verdict))
                                .collect();
                            let ours: Vec<_> = slacks.iter().map(|s| (s.code, s.verdict)).collect();
                            assert_eq!(real, ours, "{name} {} by {by}", number.key);
                            assert_eq!(found[0].verdict, report.verdict());
                            assert_eq!(grade(&Ok(slacks)), report.verdict().into());
                            if checked.is_some() {
                                passed += 1;
                            } else {
                                stopped += 1;
                            }
                        }
                        other => panic!("{name} {} by {by}: {other:?}", number.key),
                    }
                }
            }
        }
        assert!(
            refused > 5 && stopped > 5 && passed > 20,
            "{refused} {stopped} {passed}"
        );
    }
}
