//! Published tables, one file each: rows as published, with designation, edition where known, and
//! a mark on each row that says how it was read.

pub mod boring_speeds;
pub mod dowels;
pub mod inch_sizes;
pub mod iso273;
pub mod iso286;
pub mod jobber;
pub mod metric_sizes;
pub mod safety;
pub mod wood;
pub mod y14_5;

use crate::tolerance::NOISE;
use crate::units::MM_PER_INCH;

/// How a row of a table was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Read in a copy that the trade publishes.
    Confirmed,
    /// Written down from memory; compare with the standard before relying on it.
    FromMemory,
    /// Worked out, exactly.
    Computed,
}

impl Mark {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Mark::Confirmed => "confirmed in a trade copy",
            Mark::FromMemory => "from memory",
            Mark::Computed => "computed",
        }
    }
}

/// A bit that can be bought.
#[derive(Debug, Clone, PartialEq)]
pub struct StockSize {
    /// As it is asked for over the counter: `10.5 mm`, `13/32 in`, `letter Z`, `number 7`.
    pub name: String,
    /// Diameter, mm.
    pub diameter: f64,
    /// How its row was read.
    pub mark: Mark,
}

/// The stock size nearest to a diameter (mm, above zero), of the metric sizes by 0.1 mm, the
/// published metric steps, the inch sizes by 1/64 to 1 in, the letters and the numbers listed.
/// Where two are equally near, the one named first in this list.
#[must_use]
pub fn nearest_stock(diameter: f64) -> StockSize {
    let mut best = metric_sizes::by_tenths(diameter);
    let others = metric_sizes::published(diameter)
        .into_iter()
        .chain([inch_sizes::fraction(diameter)])
        .chain(inch_sizes::letter_or_number(diameter));
    for size in others {
        if (size.diameter - diameter).abs() < (best.diameter - diameter).abs() {
            best = size;
        }
    }
    best
}

/// Every stock size from `low` to `high` (mm), rising, of the same lists; where two have one
/// diameter, the one named first there.
#[must_use]
pub fn stock_between(low: f64, high: f64) -> Vec<StockSize> {
    // Half the finest step of any list, so that no size is stepped over; nothing here is finer
    // than 0.05 mm but letters and numbers, which are taken whole.
    let steps = ((high - low) / 0.025).clamp(0.0, 10_000.0);
    let mut found: Vec<StockSize> = Vec::new();
    let mut add = |size: StockSize| {
        let inside = size.diameter >= low - NOISE && size.diameter <= high + NOISE;
        let known = |own: &StockSize| (own.diameter - size.diameter).abs() <= NOISE;
        if inside && !found.iter().any(known) {
            found.push(size);
        }
    };
    let at = |step: u32| low + f64::from(step) * 0.025;
    // The cast cannot leave its range: the count was clamped.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let steps = steps.ceil() as u32;
    for step in 0..=steps {
        add(metric_sizes::by_tenths(at(step)));
    }
    for step in 0..=steps {
        metric_sizes::published(at(step))
            .into_iter()
            .for_each(&mut add);
        add(inch_sizes::fraction(at(step)));
    }
    for row in inch_sizes::ROWS {
        inch_sizes::letter_or_number(row.inch * MM_PER_INCH)
            .into_iter()
            .for_each(&mut add);
    }
    found.sort_by(|a, b| a.diameter.total_cmp(&b.diameter));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_sizes_of_a_span_rising() {
        let names: Vec<String> = stock_between(10.15, 10.8)
            .into_iter()
            .map(|size| size.name)
            .collect();
        // 13/32 in = 10.319, letter Y = 10.262, letter Z = 10.490, 27/64 in = 10.716 mm.
        assert_eq!(
            names,
            [
                "10.2 mm", "letter Y", "10.3 mm", "13/32 in", "10.4 mm", "letter Z", "10.5 mm",
                "10.6 mm", "10.7 mm", "27/64 in", "10.8 mm"
            ]
        );
        assert!(stock_between(10.0, 9.0).is_empty());
    }

    #[test]
    fn nearest_of_each_kind() {
        for (diameter, name) in [
            (10.5, "10.5 mm"),
            (10.497, "10.5 mm"),
            (10.32, "13/32 in"),
            (10.49, "letter Z"),
            (5.106, "number 7"),
            (2.254, "2.25 mm"),
            (23.81, "15/16 in"),
            (19.25, "19.25 mm"),
            // Listed twice in the trade, as a letter and as a fraction: the fraction is named.
            (6.35, "1/4 in"),
        ] {
            assert_eq!(nearest_stock(diameter).name, name, "{diameter}");
        }
    }
}
