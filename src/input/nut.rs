//! `[nut]`: the strings where they cross it.

use super::design::Nut;
use super::field::{Choice, Field, Sign};
use super::joined;
use super::known::Known;
use super::reader::Reader;

pub(crate) fn read(r: Reader<'_>, known: &Known) -> Option<Nut> {
    let span = r.length("string_span", Sign::AboveZero);
    let list = r.lengths("strings", Sign::Any);
    let string_height = r.need_length("string_height", Sign::ZeroOrMore);
    let strings = match r.choose(joined::STRINGS) {
        Choice::Of("string_span") => span
            .good()
            .zip(known.barrels())
            .map(|(span, n)| spread(span, n.treble + n.bass)),
        Choice::Of("strings") => list.good().and_then(|list| listed(r, list, known)),
        Choice::Of(_) | Choice::None | Choice::Several => None,
    };
    Some(Nut {
        strings: strings?,
        string_height: string_height?,
    })
}

/// Evenly spaced strings, exactly alike on both sides of the centre line.
#[allow(clippy::cast_precision_loss)]
fn spread(span: f64, count: usize) -> Vec<f64> {
    let last = count.saturating_sub(1).max(1) as f64;
    (0..count)
        .map(|i| span * (2.0 * i as f64 - last) / (2.0 * last))
        .collect()
}

fn listed(r: Reader<'_>, strings: Vec<f64>, known: &Known) -> Option<Vec<f64>> {
    let ascending = strings.windows(2).all(|pair| pair[0] < pair[1]);
    if !ascending {
        r.fault(
            "strings",
            "`strings` must ascend from bass to treble, no two at one place",
            "every string's x from the smallest to the largest",
        );
    }
    if let Some(n) = known
        .barrels()
        .filter(|n| n.treble + n.bass != strings.len())
    {
        let message = format!(
            "`strings` holds {}, but there are {} barrels: {} on the treble side and {} on the bass side",
            strings.len(),
            n.treble + n.bass,
            n.treble,
            n.bass
        );
        r.clash("strings", message, "one x for each barrel");
        return None;
    }
    Field::Good(strings).good().filter(|_| ascending)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn even_strings_mirror_exactly() {
        let strings = spread(43.0, 6);
        for (left, right) in strings.iter().zip(strings.iter().rev()) {
            assert_eq!(left.to_bits(), (-right).to_bits());
        }
        assert!((strings[1] - strings[0] - 8.6).abs() < 1e-12);
        assert!((strings[5] - 21.5).abs() < 1e-12);
        assert_eq!(spread(43.0, 7)[3].abs().to_bits(), 0);
    }
}
