//! Designs that pass their checks.

#![allow(clippy::panic, reason = "a bench stops at the first surprise")]

use barrelhead::check::{self, Checked};
use barrelhead::input::Design;

/// Checks a design that passes.
pub fn checked(design: &Design) -> Checked {
    let (report, checked) = check::run(design);
    checked.unwrap_or_else(|| panic!("{}: {:?}", design.title, report.verdict()))
}
