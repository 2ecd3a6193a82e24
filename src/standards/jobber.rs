//! Jobber series twist drills with parallel shank: ISO 235, DIN 338 (edition not known to us).
//!
//! How it was read: overall and flute lengths of the rows marked confirmed were compared with trade
//! listings at the diameters named beside them. Every edge of a band is from memory of the standard;
//! 8.5 mm at 117 mm and 9.5 mm at 125 mm confirm that a band includes its upper edge. The other rows
//! are from memory.

use super::Mark;
use crate::tolerance::NOISE;

/// Designation for people.
pub const DESIGNATION: &str = "ISO 235 / DIN 338, jobber series";

/// One band of diameters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Diameters above this, mm.
    pub over: f64,
    /// Up to and including this, mm.
    pub to: f64,
    /// Overall length, mm.
    pub overall: f64,
    /// Flute length, mm.
    pub flute: f64,
    /// How the two lengths were read.
    pub mark: Mark,
}

const fn row(over: f64, to: f64, overall: f64, flute: f64, mark: Mark) -> Row {
    Row {
        over,
        to,
        overall,
        flute,
        mark,
    }
}

/// The rows, mm.
pub const ROWS: &[Row] = &[
    row(0.95, 1.06, 34.0, 12.0, Mark::Confirmed), // at 1.0 mm
    row(1.06, 1.18, 36.0, 14.0, Mark::FromMemory),
    row(1.18, 1.32, 38.0, 16.0, Mark::FromMemory),
    row(1.32, 1.5, 40.0, 18.0, Mark::FromMemory),
    row(1.5, 1.7, 43.0, 20.0, Mark::FromMemory),
    row(1.7, 1.9, 46.0, 22.0, Mark::FromMemory),
    row(1.9, 2.12, 49.0, 24.0, Mark::FromMemory),
    row(2.12, 2.36, 53.0, 27.0, Mark::FromMemory),
    row(2.36, 2.65, 57.0, 30.0, Mark::FromMemory),
    row(2.65, 3.0, 61.0, 33.0, Mark::FromMemory),
    row(3.0, 3.35, 65.0, 36.0, Mark::Confirmed), // at 3.2 mm
    row(3.35, 3.75, 70.0, 39.0, Mark::FromMemory),
    row(3.75, 4.25, 75.0, 43.0, Mark::FromMemory),
    row(4.25, 4.75, 80.0, 47.0, Mark::Confirmed), // at 4.5 mm
    row(4.75, 5.3, 86.0, 52.0, Mark::FromMemory),
    row(5.3, 6.0, 93.0, 57.0, Mark::FromMemory),
    row(6.0, 6.7, 101.0, 63.0, Mark::Confirmed), // at 6.5 mm
    row(6.7, 7.5, 109.0, 69.0, Mark::Confirmed), // at 7.0 mm
    row(7.5, 8.5, 117.0, 75.0, Mark::Confirmed), // at 8.0, 8.5 mm
    row(8.5, 9.5, 125.0, 81.0, Mark::Confirmed), // at 9.0, 9.5 mm
    row(9.5, 10.6, 133.0, 87.0, Mark::Confirmed), // at 10.0 mm
    row(10.6, 11.8, 142.0, 94.0, Mark::Confirmed), // at 11.0 mm
    row(11.8, 13.2, 151.0, 101.0, Mark::Confirmed), // at 12.0 mm
    row(13.2, 14.0, 160.0, 108.0, Mark::Confirmed), // at 14.0 mm
];

/// The row for a diameter, mm; `None` outside the table (0.95 to 14).
#[must_use]
pub fn jobber(diameter: f64) -> Option<Row> {
    ROWS.iter()
        .find(|row| diameter > row.over + NOISE && diameter <= row.to + NOISE)
        .copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_lengths() {
        // Diameter, overall, flutes, as listed in the trade.
        for (diameter, overall, flute) in [
            (8.0, 117.0, 75.0),
            (8.5, 117.0, 75.0),
            (9.5, 125.0, 81.0),
            (10.0, 133.0, 87.0),
            (11.0, 142.0, 94.0),
        ] {
            let row = jobber(diameter).unwrap();
            assert!((row.overall - overall).abs() < 1e-12 && (row.flute - flute).abs() < 1e-12);
        }
        assert_eq!(jobber(0.95), None);
        assert_eq!(jobber(14.01), None);
    }

    #[test]
    fn bands_join_without_gap() {
        for pair in ROWS.windows(2) {
            assert!((pair[0].to - pair[1].over).abs() < 1e-12);
            assert!(pair[0].overall < pair[1].overall && pair[0].flute < pair[1].flute);
        }
    }
}
