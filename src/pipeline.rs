//! Names every stage once, in order; the one place that touches the disk for a design.

use std::path::{Path, PathBuf};

use crate::check::Report;
use crate::diagnostic::Diagnostic;
use crate::layout::Layout;

/// What `make` made.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Positions of the finished head.
    pub layout: Layout,
    /// What the checks said.
    pub report: Report,
    /// Names of the files written, in the order they are listed to a person.
    pub files: Vec<PathBuf>,
    /// The folder they are in.
    pub folder: PathBuf,
}

/// Why nothing was made.
#[derive(Debug, Clone)]
pub enum Failure {
    /// Mistakes in the parameter file.
    Input(Vec<Diagnostic>),
    /// A check stopped the design.
    Stopped(Box<Layout>, Report),
    /// The command line or the file system does not allow it, in words.
    Usage(String),
    /// The program failed, in words.
    Internal(String),
}

/// What a check means, for the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Code.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// What is measured and how.
    pub measured: &'static str,
    /// Why it matters at the bench.
    pub why: &'static str,
    /// What to change.
    pub change: &'static str,
    /// Limits and their basis.
    pub limits: String,
}

/// Reads and checks a design.
///
/// # Errors
/// [`Failure::Input`] for mistakes in the file, [`Failure::Usage`] for a file that cannot be read.
pub fn check(path: &Path) -> Result<(Layout, Report), Failure> {
    Err(not_built(path))
}

/// Reads, checks and builds a design, and writes every file of it to `out`.
///
/// # Errors
/// Every [`Failure`]; then nothing is written and files of an earlier run stay as they were.
pub fn make(path: &Path, out: &Path) -> Result<Outcome, Failure> {
    let _ = out;
    Err(not_built(path))
}

/// What a check means; `None` for an unknown code.
#[must_use]
pub fn explain(code: &str) -> Option<Explanation> {
    let _ = code;
    None
}

/// Every code, in the order of the contract's table.
pub fn codes() -> impl Iterator<Item = &'static str> {
    std::iter::empty()
}

fn not_built(path: &Path) -> Failure {
    Failure::Internal(format!("{}: not built yet", path.display()))
}
