//! Limits of holes after ISO 286-2:2010, for the seats of drill bushes.
//!
//! How it was read: every row agrees in three independent public copies of the table; the
//! one that differed at G, 3 to 6 mm (+2 against +4) is outvoted by a bush catalogue. The test
//! beside it holds the widths to the standard's own formula, i = 0.45·∛D + 0.001·D micrometres.

use super::Mark;
use crate::tolerance::NOISE;

/// Designation for people.
pub const DESIGNATION: &str = "ISO 286-2:2010";

/// Nominal sizes of a row lie above the first and up to and including the second, mm.
pub const BANDS: [(f64, f64); 5] = [
    (3.0, 6.0),
    (6.0, 10.0),
    (10.0, 18.0),
    (18.0, 30.0),
    (30.0, 50.0),
];

/// A tolerance class of holes, with its lower and upper deviation in each of [`BANDS`],
/// micrometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HoleClass {
    /// As written after a diameter: `H7`.
    pub name: &'static str,
    /// Deviations, micrometres.
    pub deviations: [(i32, i32); 5],
    /// How the row was read.
    pub mark: Mark,
}

const fn class(name: &'static str, deviations: [(i32, i32); 5]) -> HoleClass {
    HoleClass {
        name,
        deviations,
        mark: Mark::Confirmed,
    }
}

/// The classes carried over.
pub const HOLES: &[HoleClass] = &[
    class("F6", [(10, 18), (13, 22), (16, 27), (20, 33), (25, 41)]),
    class("F7", [(10, 22), (13, 28), (16, 34), (20, 41), (25, 50)]),
    class("G6", [(4, 12), (5, 14), (6, 17), (7, 20), (9, 25)]),
    class("H6", [(0, 8), (0, 9), (0, 11), (0, 13), (0, 16)]),
    class("H7", [(0, 12), (0, 15), (0, 18), (0, 21), (0, 25)]),
    class("H8", [(0, 18), (0, 22), (0, 27), (0, 33), (0, 39)]),
    class("H9", [(0, 30), (0, 36), (0, 43), (0, 52), (0, 62)]),
    class("H10", [(0, 48), (0, 58), (0, 70), (0, 84), (0, 100)]),
    class("H11", [(0, 75), (0, 90), (0, 110), (0, 130), (0, 160)]),
];

/// The class of this name.
#[must_use]
pub fn hole_class(name: &str) -> Option<&'static HoleClass> {
    HOLES.iter().find(|class| class.name == name)
}

impl HoleClass {
    /// Lower and upper deviation of a hole of this nominal diameter, mm; `None` outside 3 to 50 mm,
    /// where the table was not carried over.
    #[must_use]
    pub fn deviations_at(&self, diameter: f64) -> Option<(f64, f64)> {
        let band = BANDS
            .iter()
            .position(|(over, to)| diameter > over + NOISE && diameter <= to + NOISE)?;
        let (lower, upper) = self.deviations.get(band)?;
        Some((f64::from(*lower) / 1000.0, f64::from(*upper) / 1000.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published worked fit 25 H7/g6: hole 0 to +0.021 (a fit tool's own example). A 15 mm bush
    /// seat H7: 0 to +0.018. A band includes its upper edge.
    #[test]
    fn published_examples() {
        let h7 = hole_class("H7").unwrap();
        assert_eq!(h7.deviations_at(25.0), Some((0.0, 0.021)));
        assert_eq!(h7.deviations_at(15.0), Some((0.0, 0.018)));
        assert_eq!(h7.deviations_at(18.0), Some((0.0, 0.018)));
        assert_eq!(h7.deviations_at(18.01), Some((0.0, 0.021)));
        assert_eq!(
            hole_class("F7").unwrap().deviations_at(10.0),
            Some((0.013, 0.028))
        );
        assert!(h7.deviations_at(3.0).is_none() && h7.deviations_at(50.1).is_none());
        assert!(hole_class("h7").is_none());
    }

    /// Widths against the standard's formula, IT6 to IT11 = 10, 16, 25, 40, 64, 100 i at the
    /// geometric mean of the band; the table rounds, by up to 4 micrometres at the coarse end.
    #[test]
    fn widths_follow_the_formula() {
        for class in HOLES {
            let factor = match &class.name[1..] {
                "6" => 10.0,
                "7" => 16.0,
                "8" => 25.0,
                "9" => 40.0,
                "10" => 64.0,
                _ => 100.0,
            };
            for ((over, to), (lower, upper)) in BANDS.iter().zip(class.deviations) {
                let mean = (over * to).sqrt();
                let formula = factor * (0.45 * mean.cbrt() + 0.001 * mean);
                let width = f64::from(upper - lower);
                assert!((width - formula).abs() < 4.0, "{} {over}", class.name);
            }
        }
    }
}
