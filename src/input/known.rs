//! What is known already while tables are read one after another: later tables check themselves
//! against it even where the earlier table had other faults. Lengths in mm.

use super::design::PerSide;

/// `None`: wrong or absent, and that is reported.
#[derive(Debug, Clone, Default)]
pub(crate) struct Known {
    pub thickness: Option<f64>,
    pub barrel_diameter: Option<f64>,
    pub barrel_length: Option<f64>,
    pub pitches: Option<PerSide<Vec<f64>>>,
    pub bore_diameter: Option<f64>,
    pub guide_bore: Option<f64>,
    /// Inner `None`: no bushes.
    pub bush: Option<Option<f64>>,
}

impl Known {
    /// Number of barrels, each side.
    pub fn barrels(&self) -> Option<PerSide<usize>> {
        self.pitches.as_ref().map(|pitches| PerSide {
            treble: pitches.treble.len() + 1,
            bass: pitches.bass.len() + 1,
        })
    }
}
