//! What a person may ask of a sheet.

use super::Paper;
use crate::units::Lengths;

/// What a person may ask of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetOptions {
    /// Whether inches stand beside the millimetres.
    pub lengths: Lengths,
    /// Paper, upright.
    pub paper: Paper,
}

impl Default for SheetOptions {
    fn default() -> Self {
        SheetOptions {
            lengths: Lengths { inches: false },
            paper: Paper::A4,
        }
    }
}
