//! A finding's limit and margin in words.

use crate::tolerance::NOISE;
use crate::units::{Lengths, number, show_inches, show_mm};

use super::limits::{Bound, RULES, Rule, rule};
use super::{Basis, Finding, Limit, Verdict};
use crate::input::{Design, OwnLimit};

/// Margin as a share of the limit, so that a degree, a ratio and a millimetre can be ranked.
#[must_use]
pub fn tightness(finding: &Finding) -> f64 {
    let scale = match finding.limit {
        Limit::Single(limit) => limit.abs(),
        Limit::Band { low, high } => (high - low).abs() / 2.0,
    };
    if scale > 0.0 {
        finding.margin / scale
    } else {
        finding.margin
    }
}

/// The stop that a maker's own limit of this check lies beyond: there the stop holds, not the limit.
fn outranked_by(rule: &Rule, own: OwnLimit) -> Option<f64> {
    let least = match own {
        OwnLimit::Single(limit) => limit,
        OwnLimit::Band { low, .. } => low,
    };
    // Every stop of the table is a least value.
    match rule.stop {
        Some(Bound::AtLeast(stop) | Bound::MoreThan(stop)) if least < stop - NOISE => Some(stop),
        _ => None,
    }
}

/// A sentence for a maker's own limit of this check that is looser than its stop.
pub(super) fn loose_limit(rule: &Rule, design: &Design, lengths: Lengths) -> Option<String> {
    let stop = outranked_by(rule, *design.limits.get(rule.code)?)?;
    Some(format!(
        "your own limit for {} lies beyond the stop at {} and cannot loosen it",
        rule.code,
        lengths.value(stop, rule.unit)
    ))
}

/// Sentences for all such limits, in the order of the table.
#[must_use]
pub fn loose_limits(design: &Design, lengths: Lengths) -> Vec<String> {
    RULES
        .iter()
        .filter_map(|rule| loose_limit(rule, design, lengths))
        .collect()
}

/// What no check speaks of but a maker should know of a design, each with the table of the file that it is about.
#[must_use]
pub fn remarks(design: &Design, lengths: Lengths) -> Vec<(&'static str, String)> {
    let limits = loose_limits(design, lengths).into_iter();
    let bush = bush_without_wall(design, lengths).into_iter();
    limits
        .map(|text| ("[limits]", text))
        .chain(bush.map(|text| ("[guide]", text)))
        .collect()
}

/// The contract has no limit for it: only the hole that a bush goes into is held against the bit.
fn bush_without_wall(design: &Design, lengths: Lengths) -> Option<String> {
    let bore = design.guide.bore_diameter;
    let outside = design.guide.bush_diameter.filter(|bush| *bush <= bore)?;
    Some(format!(
        "a bush of {} outside, bored {}, has no wall: measure its outside, or leave bush_diameter out",
        lengths.show(outside),
        lengths.show(bore)
    ))
}

/// On what a limit rests, in words; a maker's own limit beyond the stop is told what holds.
#[must_use]
pub fn basis_words(finding: &Finding, lengths: Lengths) -> String {
    let own = match finding.limit {
        Limit::Single(limit) => OwnLimit::Single(limit),
        Limit::Band { low, high } => OwnLimit::Band { low, high },
    };
    let stop = (finding.basis == Basis::Own)
        .then(|| outranked_by(rule(finding.code)?, own))
        .flatten();
    match stop {
        Some(stop) => format!(
            "{}; the stop at {} holds all the same",
            finding.basis.name(),
            lengths.value(stop, finding.unit)
        ),
        None => finding.basis.name().to_owned(),
    }
}

/// A limit too small to be read as a number: nothing at all is wanted.
fn is_nothing(limit: f64) -> bool {
    limit != 0.0 && limit.abs() < 0.000_05
}

/// Which side of a single limit holds: told by the sign of the margin, or by the table of limits
/// where the value is the limit itself.
fn holds_above(finding: &Finding, limit: f64) -> bool {
    let above = finding.value - limit;
    let (as_least, as_most) = (
        (above - finding.margin).abs(),
        (above + finding.margin).abs(),
    );
    if above.abs() > NOISE || finding.margin.abs() > NOISE {
        return as_least <= as_most;
    }
    // The table has no bound for the press and its bit: those are greatest lengths.
    let bound = rule(finding.code).map(|rule| rule.caution.or(rule.stop));
    !matches!(bound, Some(None | Some(Bound::AtMost(_))))
}

/// A limit that is missed although nothing is short of it must be passed, not only reached.
fn must_exceed(finding: &Finding) -> bool {
    finding.verdict != Verdict::Clear && finding.margin >= -NOISE
}

/// The limit in words: `wanted at least 3.00 mm`.
#[must_use]
pub fn limit_words(finding: &Finding, lengths: Lengths) -> String {
    format!("wanted {}", limit_phrase(finding, lengths))
}

/// Which side of the limit holds, and its figure: `at least 3.00 mm`, `0.20 to 0.60 mm`.
#[must_use]
pub fn limit_phrase(finding: &Finding, lengths: Lengths) -> String {
    match finding.limit {
        // "At most 0.00" would read as a riddle.
        Limit::Single(limit) if is_nothing(limit) => lengths.value(limit, finding.unit),
        Limit::Single(limit) => {
            let word = match (holds_above(finding, limit), must_exceed(finding)) {
                (true, false) => "at least",
                (true, true) => "more than",
                (false, false) => "at most",
                (false, true) => "less than",
            };
            format!("{word} {}", lengths.value(limit, finding.unit))
        }
        Limit::Band { low, high } => {
            if lengths.inches && finding.unit == "mm" {
                let inches = show_inches(low);
                let low_inches = inches.trim_end_matches(" in");
                return format!(
                    "{} to {} ({low_inches} to {})",
                    number(low),
                    show_mm(high),
                    show_inches(high)
                );
            }
            format!("{} to {}", number(low), lengths.value(high, finding.unit))
        }
    }
}

/// What is to spare, or by how much the limit is missed.
#[must_use]
pub fn margin_words(finding: &Finding, lengths: Lengths) -> String {
    let size = lengths.value(finding.margin.abs(), finding.unit);
    // Of two bodies in one place the distance is nothing, however far they overlap.
    if must_exceed(finding) {
        return "missed".into();
    }
    if finding.margin >= 0.0 {
        return format!("{size} to spare");
    }
    let over = match finding.limit {
        Limit::Single(limit) => !holds_above(finding, limit),
        Limit::Band { high, .. } => finding.value > high,
    };
    if over {
        format!("over by {size}")
    } else {
        format!("short by {size}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::example::finding;

    fn words(finding: &Finding) -> String {
        let lengths = Lengths { inches: false };
        format!(
            "{}; {}",
            limit_words(finding, lengths),
            margin_words(finding, lengths)
        )
    }

    #[test]
    fn a_limit_of_nothing_is_no_riddle() {
        let off = finding("pair-offset", 0.1, Limit::Single(1e-6), 1e-6 - 0.1);
        assert_eq!(words(&off), "wanted 0.00 mm; over by 0.10 mm");
    }

    #[test]
    fn limits_from_above_and_bands() {
        let above = finding("side-pull", 11.0, Limit::Single(8.0), -3.0);
        assert!(words(&above).contains("wanted at most 8.00 mm; over by 3.00 mm"));
        let band = Limit::Band {
            low: 0.2,
            high: 0.6,
        };
        let low = finding("clearance", 0.1, band, -0.1);
        let text = words(&low);
        assert!(
            text.contains("wanted 0.20 to 0.60 mm; short by 0.10 mm"),
            "{text}"
        );
        let high = finding("clearance", 0.7, band, -0.1);
        assert!(words(&high).contains("over by 0.10 mm"));
    }

    #[test]
    fn at_the_limit_itself_the_side_is_the_tables() {
        let at = |code, limit| words(&finding(code, limit, Limit::Single(limit), 0.0));
        assert!(at("block-axis", 0.1).starts_with("wanted at most 0.10 mm"));
        assert!(at("press-travel", 80.0).starts_with("wanted at most 80.00 mm"));
        assert!(at("bearing", 3.0).starts_with("wanted at least 3.00 mm"));
    }

    #[test]
    fn both_ends_of_a_band_are_given_in_inches_too() {
        let band = Limit::Band {
            low: 0.2,
            high: 0.6,
        };
        let clear = finding("clearance", 0.5, band, 0.1);
        assert_eq!(
            limit_phrase(&clear, Lengths { inches: true }),
            "0.20 to 0.60 mm (0.008 to 0.024 in)"
        );
    }

    #[test]
    fn a_limit_that_must_be_passed_says_so() {
        let mut touching = finding("barrels-apart", 0.0, Limit::Single(0.0), 0.0);
        touching.verdict = Verdict::Stop;
        let text = words(&touching);
        assert!(text.contains("wanted more than 0.00 mm; missed"), "{text}");
    }
}
