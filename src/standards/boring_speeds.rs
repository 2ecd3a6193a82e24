//! Speeds for boring wood with a twist drill at a drill press: common practice, no standard.
//!
//! How it was read: both rows were compared with two trade articles on correct drilling speeds for
//! woods, which give the same 1500 rev/min for hardwood at 1/4 to 3/8 in. Diameters between the two
//! rows and outside them were not found published.

use super::Mark;
use crate::tolerance::NOISE;
use crate::units::MM_PER_INCH;

/// Designation for people.
pub const DESIGNATION: &str = "trade articles on drilling wood; common practice";

/// One row as published.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// From this diameter, in.
    pub from_inch: f64,
    /// To this diameter, in.
    pub to_inch: f64,
    /// Softwood, rev/min.
    pub softwood: f64,
    /// Hardwood, rev/min.
    pub hardwood: f64,
    /// How it was read.
    pub mark: Mark,
}

/// The rows.
pub const ROWS: [Row; 2] = [
    Row {
        from_inch: 0.25,
        to_inch: 0.375,
        softwood: 3000.0,
        hardwood: 1500.0,
        mark: Mark::Confirmed,
    },
    Row {
        from_inch: 0.4375,
        to_inch: 0.625,
        softwood: 1500.0,
        hardwood: 750.0,
        mark: Mark::Confirmed,
    },
];

/// What the table says of a diameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoringSpeed {
    /// The diameter lies in a row.
    Row(Row),
    /// It lies between two rows: the smaller and the larger diameters' row.
    Between(Row, Row),
    /// It lies outside the table.
    Unknown,
}

/// Looks a bit up by its diameter, mm.
#[must_use]
pub fn boring_speed(diameter: f64) -> BoringSpeed {
    let inch = diameter / MM_PER_INCH;
    let within = |row: &Row| inch >= row.from_inch - NOISE && inch <= row.to_inch + NOISE;
    if let Some(row) = ROWS.iter().find(|row| within(row)) {
        return BoringSpeed::Row(*row);
    }
    let gap = ROWS
        .windows(2)
        .find(|pair| inch > pair[0].to_inch && inch < pair[1].from_inch);
    match gap {
        Some(pair) => BoringSpeed::Between(pair[0], pair[1]),
        None => BoringSpeed::Unknown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_gap_and_outside() {
        let hardwood = |d: f64| match boring_speed(d) {
            BoringSpeed::Row(row) => vec![row.hardwood],
            BoringSpeed::Between(small, large) => vec![small.hardwood, large.hardwood],
            BoringSpeed::Unknown => vec![],
        };
        // 1/4 in and 3/8 in belong to the row they bound.
        assert_eq!(hardwood(6.35), [1500.0]);
        assert_eq!(hardwood(9.525), [1500.0]);
        assert_eq!(hardwood(8.4), [1500.0]);
        assert_eq!(hardwood(12.0), [750.0]);
        assert_eq!(hardwood(10.5), [1500.0, 750.0]);
        assert!(hardwood(6.0).is_empty() && hardwood(16.0).is_empty());
    }
}
