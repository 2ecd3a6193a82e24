//! Clearance-hole formulas of ASME Y14.5M-1994, appendix B ("Formulas for Positional
//! Tolerancing"); the same in the appendices B of Y14.5-2009 and Y14.5-2018 (from memory).
//!
//! All are diameters or lengths in mm: F the largest fastener, T a positional tolerance as the
//! diameter of its zone, H the least hole. How each was read stands beside it.

use super::Mark;

/// Designation for people.
pub const DESIGNATION: &str = "ASME Y14.5M-1994, appendix B";

/// How the floating and fixed formulas were read: in two public copies of the appendix.
pub const FORMULAS: Mark = Mark::Confirmed;

/// How the formula without a projected zone was read: its copy is damaged and was mended from
/// memory.
pub const OUT_OF_SQUARE: Mark = Mark::FromMemory;

/// Floating fastener, clearance holes in all parts: H = F + T.
#[must_use]
pub fn floating(fastener: f64, zone: f64) -> f64 {
    fastener + zone
}

/// Fixed fastener, held square in one part within a projected zone: H = F + T1 + T2.
#[must_use]
pub fn fixed_projected(fastener: f64, zone: f64, projected: f64) -> f64 {
    fastener + zone + projected
}

/// Fixed fastener without a projected zone: H = F + T1 + T2·(1 + 2P/D), where the fastener stands
/// out by P of a hole that holds it over D.
#[must_use]
pub fn fixed_not_projected(
    fastener: f64,
    zone: f64,
    held_zone: f64,
    stands_out: f64,
    held_over: f64,
) -> f64 {
    fastener + zone + held_zone * (1.0 + 2.0 * stands_out / held_over)
}

#[cfg(test)]
mod tests {
    use super::*;

    // The appendix's own examples; the sums are of decimals, so 1e-12 is rounding alone.
    #[test]
    fn floating_fastener_of_3_5() {
        // F = 3.5, T = 0.44 gives H = 3.94 (figure B-1, from memory).
        assert!((floating(3.5, 0.44) - 3.94).abs() < 1e-12);
    }

    #[test]
    fn fixed_fastener_of_3_5_shares_the_tolerance() {
        // T = (3.94 − 3.5)/2 = 0.22 in each part (confirmed).
        assert!((fixed_projected(3.5, 0.22, 0.22) - 3.94).abs() < 1e-12);
    }

    #[test]
    fn fixed_fastener_with_and_without_a_projected_zone() {
        // F = 6.35, T1 = 0.2, T2 = 0.4, D = 8, P = 12 (inputs confirmed; H worked by hand:
        // 6.35 + 0.2 + 0.4·(1 + 24/8) = 8.15).
        assert!((fixed_projected(6.35, 0.2, 0.4) - 6.95).abs() < 1e-12);
        assert!((fixed_not_projected(6.35, 0.2, 0.4, 12.0, 8.0) - 8.15).abs() < 1e-12);
    }
}
