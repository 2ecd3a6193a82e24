//! Checks of a layout: one rule a file, each with its value, limit, margin and basis.
//!
//! Each rule looks at every place it speaks of and says what it measured; [`limits`] holds the
//! limits; [`judge`] picks the worst place of each and gives the verdict. Rounding noise
//! ([`NOISE`](crate::tolerance::NOISE)) is the only tolerance that decides here.

mod advice;
mod at;
mod bores;
mod core_wood;
mod counterbore;
mod doubts;
mod edges;
pub mod explain;
mod far_wood;
mod guide;
mod held_to;
mod judge;
mod levers;
pub mod limits;
mod measure;
mod plate;
mod press;
mod ramp;
mod report;
mod rib_window;
mod rule;
#[cfg(test)]
mod sample;
mod screws;
mod shapes;
mod slack;
mod slots;
mod stringing;
mod strings;
#[cfg(test)]
mod tests;
mod wood;
pub mod words;

pub use doubts::doubts;
pub use explain::{Explanation, codes, explain};
pub use judge::{Checked, findings, judge, one, run, verdicts};
pub use report::{Basis, Finding, Limit, Report, RibWindow, Verdict};
pub use rib_window::rib_window;
pub use slack::{Slack, slacks, slacks_of};
