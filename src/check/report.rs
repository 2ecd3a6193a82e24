//! What the checks say.

use crate::input::Place;

/// Verdict of one check, or of a whole design; ordered from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Holds.
    Clear,
    /// Can be built, but the maker should know.
    Caution,
    /// Will not be built.
    Stop,
}

impl Verdict {
    /// Word of the report.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Verdict::Clear => "clear",
            Verdict::Caution => "caution",
            Verdict::Stop => "stop",
        }
    }
}

/// A limit, in the finding's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// One number; the finding's margin is signed so that zero or more holds.
    Single(f64),
    /// Between two numbers.
    Band {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
    },
}

/// On what a limit rests.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Basis {
    /// Common practice of the trade.
    CommonPractice,
    /// Our assumption.
    Assumed,
    /// The maker's own figure: a limit from `[limits]`, or the press as `[press]` describes it.
    Own,
    /// What can be built at all.
    Buildable,
    /// A published table, named with its designation and how it was read.
    Published(&'static str),
}

/// What one check found at its worst place.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Code, as in `explain CODE`.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// Verdict.
    pub verdict: Verdict,
    /// Measured value.
    pub value: f64,
    /// The stop limit at a stop, else the caution limit if there is one, else the stop limit.
    pub limit: Limit,
    /// ≥ 0 where it holds; to the nearer limit of a band.
    pub margin: f64,
    /// `"mm"`, `"deg"` or `""` for a bare ratio.
    pub unit: &'static str,
    /// Basis of that limit.
    pub basis: Basis,
    /// Where it is worst, in words; begins with "printed" for the printed copy. For `block-axis`
    /// it names the shim, for `bit-size` the nearest bit.
    pub at: String,
    /// What to change, with the number that would clear it where one number can; for findings
    /// that are not clear.
    pub advice: Option<String>,
    /// The line of the parameter file that set the number most concerned.
    pub place: Option<Place>,
}

/// The rib window (rib slots only), mm: the least rib for 3 mm of bearing and the greatest that
/// the innermost strings clear by 0.5 mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RibWindow {
    /// Least rib.
    pub least: f64,
    /// Greatest rib; infinite where no string limits it.
    pub greatest: f64,
}

impl RibWindow {
    /// Whether any rib lies in the window.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.least <= self.greatest
    }
}

/// Everything the checks said of a design.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// One finding a check, at its worst place, in the order of the contract's table.
    pub findings: Vec<Finding>,
    /// The rib window, for slots that leave a rib.
    pub rib_window: Option<RibWindow>,
}

impl Report {
    /// The worst verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.findings
            .iter()
            .map(|finding| finding.verdict)
            .max()
            .unwrap_or(Verdict::Clear)
    }

    /// Findings worst first: stops, cautions, clear; within a verdict the least margin for its
    /// limit first.
    #[must_use]
    pub fn worst_first(&self) -> Vec<&Finding> {
        let mut list: Vec<&Finding> = self.findings.iter().collect();
        list.sort_by(|a, b| {
            b.verdict
                .cmp(&a.verdict)
                .then(a.margin.total_cmp(&b.margin))
        });
        list
    }

    /// The finding of a check, if the check applies.
    #[must_use]
    pub fn finding(&self, code: &str) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.code == code)
    }
}

impl Basis {
    /// Words of the report.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Basis::CommonPractice => "common practice",
            Basis::Assumed => "our assumption",
            Basis::Own => "your own limit",
            Basis::Buildable => "what can be built",
            Basis::Published(table) => table,
        }
    }
}
