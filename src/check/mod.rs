//! Checks of a layout: one rule a file, each with its value, limit, margin and basis.

mod report;

pub use report::{Basis, Finding, Limit, Report, RibWindow, Verdict};
