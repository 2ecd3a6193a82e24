//! What-if: studies of a design beyond its layout and verdicts, each a pure function of a design, its
//! layout and its report.

pub mod drilled;
pub mod fit;
pub mod measured;
pub mod wood;
