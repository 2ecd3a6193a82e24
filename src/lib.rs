//! Layout, checks, exact solids and guide blocks for geared tuning machines in slotted heads.
//!
//! Data flows one way, in the order of these modules: input, layout, check, study, solid, write;
//! `pipeline` runs them in that order and `cli` speaks to the person.

pub mod check;
pub mod cli;
pub mod diagnostic;
pub mod input;
pub mod layout;
pub mod paper;
pub mod pipeline;
pub mod plane;
pub mod solid;
pub mod standards;
pub mod statistics;
pub mod study;
pub mod tolerance;
pub mod units;
mod wording;
pub mod write;

#[cfg(test)]
#[path = "../tests/support"]
mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}
