//! What-if: what a design's numbers mean beyond the one case they describe. Each study is a pure
//! function of a design, its layout and its report.

pub mod measured;
pub mod wood;
