//! Tests of the checks: the demo designs, every stop and caution just inside and just outside,
//! oracles that share nothing with the formulas, and the advice.

mod advice;
mod cases;
mod demos;
mod edge_cases;
mod limits;
mod longhand;
mod oracles;
mod practice;
mod strings;
mod typed;

use crate::input::Design;

use crate::layout::{Copy, Layout};

use super::advice::Now;
use super::limits::{RULES, rule};
use super::{Finding, Report, Verdict, judge, run};

/// Report of a design.
fn report(design: &Design) -> Report {
    run(design).0
}

/// Both copies of a design.
fn copies(design: &Design) -> [Layout; 2] {
    [Copy::Finished, Copy::Printed].map(|copy| Layout::new(design, copy))
}

/// The finding of one check, without advice (which costs many layouts); it must be there.
fn found(design: &Design, code: &str) -> Finding {
    let [finished, printed] = copies(design);
    judge::find(rule(code).unwrap(), &finished, &printed)
        .unwrap_or_else(|| panic!("{code} is absent"))
}

/// All findings, without advice.
fn all_found(design: &Design) -> Vec<Finding> {
    let [finished, printed] = copies(design);
    RULES
        .iter()
        .filter_map(|rule| judge::find(rule, &finished, &printed))
        .collect()
}

/// The advice of one finding.
fn advised(design: &Design, code: &str) -> Option<String> {
    let finding = found(design, code);
    let now = Now::new(design, &all_found(design));
    super::advice::advise(rule(code).unwrap(), &finding, &now)
}

/// Codes that are not clear, with their verdicts.
fn not_clear(design: &Design) -> Vec<(&'static str, Verdict)> {
    all_found(design)
        .iter()
        .filter(|finding| finding.verdict != Verdict::Clear)
        .map(|finding| (finding.code, finding.verdict))
        .collect()
}
