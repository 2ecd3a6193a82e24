//! Published tables, one file each: rows as published, with designation, edition where known, and
//! a mark on each row that says how it was read.

pub mod boring_speeds;
pub mod inch_sizes;
pub mod iso273;
pub mod iso286;
pub mod jobber;
pub mod metric_sizes;
pub mod safety;
pub mod wood;

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

#[cfg(test)]
mod tests {
    use super::*;

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
