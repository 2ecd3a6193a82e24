//! Metric drill diameters: the steps of BS 328 (edition not known to us), the same series in which
//! jobber drills are stocked. Confirmed in a public table of drill sizes: from 1.0 to 2.95 mm by 0.05,
//! from 3.0 to 13.9 mm by 0.1, from 14 to 25 mm by 0.25.
//!
//! The contract counts every tenth of a millimetre as a stock size; [`by_tenths`] does so at any
//! diameter.

use super::{Mark, StockSize};
use crate::tolerance::NOISE;

/// Designation for people.
pub const DESIGNATION: &str = "BS 328, metric drill sizes";

/// A run of diameters with an even step, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steps {
    /// Smallest.
    pub from: f64,
    /// Largest.
    pub to: f64,
    /// Sizes for each millimetre; a whole number, so that a size is a quotient and carries no
    /// summed rounding.
    pub per_mm: f64,
    /// How it was read.
    pub mark: Mark,
}

/// The runs.
pub const RUNS: &[Steps] = &[
    Steps {
        from: 1.0,
        to: 2.95,
        per_mm: 20.0,
        mark: Mark::Confirmed,
    },
    Steps {
        from: 3.0,
        to: 13.9,
        per_mm: 10.0,
        mark: Mark::Confirmed,
    },
    Steps {
        from: 14.0,
        to: 25.0,
        per_mm: 4.0,
        mark: Mark::Confirmed,
    },
];

/// The nearest whole tenth, at least 0.1 mm.
#[must_use]
pub fn by_tenths(diameter: f64) -> StockSize {
    let size = (diameter * 10.0).round().max(1.0) / 10.0;
    StockSize {
        name: format!("{size} mm"),
        diameter: size,
        mark: Mark::Computed,
    }
}

/// The nearest size of each published run whose range reaches the diameter.
#[must_use]
pub fn published(diameter: f64) -> Vec<StockSize> {
    RUNS.iter()
        .map(|run| (run, (diameter * run.per_mm).round() / run.per_mm))
        .filter(|(run, size)| *size >= run.from - NOISE && *size <= run.to + NOISE)
        .map(|(run, size)| StockSize {
            name: format!("{size} mm"),
            diameter: size,
            mark: run.mark,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_of_each_run() {
        let sizes = |diameter| {
            published(diameter)
                .iter()
                .map(|size| size.diameter)
                .collect::<Vec<_>>()
        };
        assert_eq!(sizes(1.26), [1.25]);
        assert_eq!(sizes(10.46), [10.5]);
        assert_eq!(sizes(14.3), [14.25]);
        assert!(sizes(30.0).is_empty());
    }
}
