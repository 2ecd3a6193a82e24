//! What-if: studies of a design beyond its layout and verdicts, each a pure function.

pub mod drilled;
pub mod fit;
