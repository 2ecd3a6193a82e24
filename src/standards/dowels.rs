//! Diameters in which dowels, plug cutters and the bits for them are sold. Written down from memory of
//! the trade; no standard is known to us that lists them.

use super::{Mark, StockSize};
use crate::units::{MM_PER_INCH, show_sixty_fourths};

/// Metric, mm.
const METRIC: [f64; 13] = [
    6.0, 8.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0,
];
/// Inch sizes, in sixteenths.
const SIXTEENTHS: [f64; 10] = [4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0];

/// The sizes, rising: metric, or by the inch.
#[must_use]
pub fn sizes(inches: bool) -> Vec<StockSize> {
    let metric = METRIC.iter().map(|mm| (format!("{mm} mm"), *mm));
    let inch = SIXTEENTHS.iter().map(|sixteenths| {
        let mm = sixteenths / 16.0 * MM_PER_INCH;
        (show_sixty_fourths(mm), mm)
    });
    let listed: Vec<(String, f64)> = if inches {
        inch.collect()
    } else {
        metric.collect()
    };
    listed
        .into_iter()
        .map(|(name, diameter)| StockSize {
            name,
            diameter,
            mark: Mark::FromMemory,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_rise_and_are_named() {
        for inches in [false, true] {
            let all = sizes(inches);
            assert!(all.windows(2).all(|two| two[0].diameter < two[1].diameter));
        }
        assert_eq!(sizes(true)[4].name, "1/2 in");
        assert_eq!(sizes(false)[3].name, "12 mm");
    }
}
