//! The words of an advice: a number to type, as a maker types it.

use crate::check::Verdict;
use crate::check::levers::Kind;
use crate::input::Unit;
use crate::units::{MM_PER_INCH, plain};
use crate::wording::capital;

use super::search::{Further, Remedy};

/// With a capital letter and a full stop.
pub(super) fn sentence(text: &str) -> String {
    format!("{}.", capital(text))
}

/// What a key's number was measured on, where it is a reading and not a choice.
pub(super) fn measured(key: &str) -> Option<&'static str> {
    if key.starts_with("machines.screws.") {
        Some("other screws,")
    } else if key.starts_with("machines.") {
        Some("another set of machines,")
    } else if matches!(key, "press.bit_length" | "press.flute_length") {
        Some("another bit,")
    } else if key.starts_with("press.") {
        Some("another press,")
    } else {
        None
    }
}

/// The change that a remedy asks for, and what it would cost elsewhere.
pub(super) fn offer(remedy: &Remedy, unit: Unit) -> String {
    let up = remedy.value > remedy.from;
    let in_words = |value: f64| match (remedy.lever.kind, unit) {
        (Kind::Angle, _) => format!("{} degrees", trimmed(value.to_degrees(), 1)),
        (Kind::Length, Unit::Mm) if remedy.exact => format!("{} mm", digits(value)),
        (Kind::Length, Unit::Inch) if remedy.exact => {
            format!("{} in", digits(value / MM_PER_INCH))
        }
        (_, Unit::Mm) => format!("{} mm", trimmed(value, 2)),
        (_, Unit::Inch) => format!("{} in", trimmed(value / MM_PER_INCH, 4)),
    };
    let number = in_words(match remedy.lever.kind {
        Kind::Change => remedy.value.abs(),
        Kind::Angle | Kind::Length => remedy.value,
    });
    let mut text = if remedy.lever.kind == Kind::Change {
        let way = if up { "greater" } else { "less" };
        format!("make {} {number} {way}", remedy.lever.key)
    } else {
        let further = match (remedy.further, up) {
            (Further::No, _) => String::new(),
            (Further::On, true) => " or more".into(),
            (Further::On, false) => " or less".into(),
            (Further::To(end), true) => format!(" or more, up to {}", in_words(end)),
            (Further::To(end), false) => format!(" or less, down to {}", in_words(end)),
        };
        let key = remedy.lever.key;
        match measured(key) {
            // A reading is not a choice: typing another number changes nothing at the bench.
            Some(of) => format!("it takes {of} with {key} of {number}{further}"),
            None => format!("set {key} to {number}{further}"),
        }
    };
    text.push_str(&but_then(&remedy.worse));
    text
}

/// What a change would cost elsewhere; nothing where no check is worse off.
pub(super) fn but_then(worse: &[(&'static str, Verdict)]) -> String {
    let worst = worse.iter().max_by_key(|(_, verdict)| *verdict);
    worst.map_or_else(String::new, |(code, verdict)| {
        let then = if *verdict == Verdict::Stop {
            "stop the design"
        } else {
            "draw a caution"
        };
        format!(" (but then {code} would {then})")
    })
}

/// Every digit that was meant, without those that came of converting.
fn digits(value: f64) -> String {
    plain((value * 1e9).round() / 1e9)
}

/// A number with at most so many decimals.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
