//! Inch drill sizes: fractions by 1/64, letters and numbers, as in ASME B94.11M (edition not known to
//! us).
//!
//! How it was read: the inch values of letters and numbers agree in five public tables, one of which
//! names the standard; fractions are computed. Only the letters and numbers between 5 and 14 mm are
//! listed.

use super::{Mark, StockSize};
use crate::units::MM_PER_INCH;

/// Designation for people.
pub const DESIGNATION: &str = "ASME B94.11M, inch drill sizes";

/// A letter or number with its diameter in inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// `letter Z`, `number 7`.
    pub name: &'static str,
    /// Diameter, inches.
    pub inch: f64,
    /// How it was read.
    pub mark: Mark,
}

const fn row(name: &'static str, inch: f64) -> Row {
    Row {
        name,
        inch,
        mark: Mark::Confirmed,
    }
}

/// Letters and numbers between 5 and 14 mm, rising.
pub const ROWS: &[Row] = &[
    row("number 8", 0.199),
    row("number 7", 0.201),
    row("number 6", 0.204),
    row("number 5", 0.2055),
    row("number 4", 0.209),
    row("number 3", 0.213),
    row("number 2", 0.221),
    row("number 1", 0.228),
    row("letter A", 0.234),
    row("letter B", 0.238),
    row("letter C", 0.242),
    row("letter D", 0.246),
    row("letter E", 0.25),
    row("letter F", 0.257),
    row("letter G", 0.261),
    row("letter H", 0.266),
    row("letter I", 0.272),
    row("letter J", 0.277),
    row("letter K", 0.281),
    row("letter L", 0.29),
    row("letter M", 0.295),
    row("letter N", 0.302),
    row("letter O", 0.316),
    row("letter P", 0.323),
    row("letter Q", 0.332),
    row("letter R", 0.339),
    row("letter S", 0.348),
    row("letter T", 0.358),
    row("letter U", 0.368),
    row("letter V", 0.377),
    row("letter W", 0.386),
    row("letter X", 0.397),
    row("letter Y", 0.404),
    row("letter Z", 0.413),
];

/// The nearest fraction by 1/64, from 1/64 to 1 in.
#[must_use]
pub fn fraction(diameter: f64) -> StockSize {
    let parts = (diameter / MM_PER_INCH * 64.0).round().clamp(1.0, 64.0);
    let (mut top, mut bottom) = (parts, 64.0);
    while top % 2.0 == 0.0 && bottom > 1.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    let name = if bottom > 1.0 {
        format!("{top}/{bottom} in")
    } else {
        format!("{top} in")
    };
    StockSize {
        name,
        diameter: parts / 64.0 * MM_PER_INCH,
        mark: Mark::Computed,
    }
}

/// The nearest letter or number listed.
#[must_use]
pub fn letter_or_number(diameter: f64) -> Option<StockSize> {
    let off = |row: &Row| (row.inch * MM_PER_INCH - diameter).abs();
    ROWS.iter()
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .map(|row| StockSize {
            name: row.name.to_owned(),
            diameter: row.inch * MM_PER_INCH,
            mark: row.mark,
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_in_lowest_terms() {
        for (diameter, name) in [
            (10.31875, "13/32 in"),
            (6.746875, "17/64 in"),
            (12.7, "1/2 in"),
            (25.4, "1 in"),
            (0.1, "1/64 in"),
        ] {
            assert_eq!(fraction(diameter).name, name);
        }
        assert!((fraction(10.3).diameter - 10.31875).abs() < 1e-12);
    }

    #[test]
    fn letters_and_numbers_rise() {
        assert!(ROWS.windows(2).all(|pair| pair[0].inch < pair[1].inch));
        // 0.413 in, as the tables give letter Z.
        let size = letter_or_number(10.48).unwrap();
        assert_eq!(size.name, "letter Z");
        assert!((size.diameter - 10.4902).abs() < 1e-9);
    }
}
