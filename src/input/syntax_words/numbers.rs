//! Words for lengths and numbers that TOML does not read: a unit outside its quotes, an inch mark, a
//! number that begins with zeros.

use super::super::keys::{Takes, takes};
use super::{Said, Spot, leading_number, said, unquoted};
use crate::units;

pub(super) const INCH_MARK: &str =
    "an inch mark is no unit here; a length with its unit goes in quotes";

/// A length, or a list of them, whose unit stands outside the quotes or without any: `13/16"`,
/// `"13/16""`, `"10.5" mm`.
pub(super) fn unit_outside(spot: &Spot<'_>, raw: &str) -> Option<Said> {
    if ![
        "missing opening quote",
        "unexpected key or value",
        "invalid date",
    ]
    .iter()
    .any(|start| raw.starts_with(start))
    {
        return None;
    }
    let value = spot.value();
    // A fraction begins as dates do; without a mark there is nothing outside of quotes.
    if raw.starts_with("invalid date") && !value.contains(is_mark) {
        return None;
    }
    let list = value.strip_prefix('[').and_then(|v| v.strip_suffix(']'));
    let parts: Option<Vec<String>> = list
        .unwrap_or(value)
        .split(',')
        .map(quoted_length)
        .collect();
    let parts = parts?;
    let hint = match list {
        Some(_) => format!("[{}]", parts.join(", ")),
        None => parts.first().filter(|_| parts.len() == 1)?.clone(),
    };
    let millimetres = parts.iter().all(|part| part.ends_with(" mm\""));
    Some(said(
        if millimetres {
            "the unit belongs inside the quotes"
        } else {
            INCH_MARK
        },
        hint,
    ))
}

fn is_mark(c: char) -> bool {
    matches!(c, '"' | '\u{201d}' | '\u{2033}' | '\'' | '\u{2032}')
}

/// A length in quotes, from a text with a unit or an inch mark somewhere behind its number.
pub(super) fn quoted_length(text: &str) -> Option<String> {
    let text = text.trim();
    let number: String = text
        .trim_start_matches('"')
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | '/' | '-' | ' '))
        .collect();
    let behind = text.trim_start_matches('"').get(number.len()..)?;
    let unit: String = behind.chars().filter(|c| !is_mark(*c)).collect();
    // A lone stroke might mean feet.
    let feet = matches!(behind, "'" | "\u{2032}");
    let unit = match unit.trim() {
        "mm" => "mm",
        "" if !behind.is_empty() && !feet => "in",
        "in" | "in." | "inch" | "inches" => "in",
        _ => return None,
    };
    let whole = format!("{} {unit}", number.trim());
    units::parse_length(&whole).ok()?;
    Some(format!("\"{whole}\""))
}

/// A number that TOML does not read.
pub(super) fn number(spot: &Spot<'_>) -> Said {
    let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '+' | '-' | '_');
    let start = spot.before().trim_end_matches(part).len();
    let rest = spot.line.get(start..).unwrap_or_default();
    let text: String = rest.chars().take_while(|c| part(*c)).collect();
    let next = rest.get(text.len()..).unwrap_or_default();
    if next.starts_with(['"', '\u{201d}', '\u{2033}']) {
        return said(INCH_MARK, format!("\"{text} in\""));
    }
    if units::parse_length(&text).is_ok() {
        return said(
            "a length with a fraction or a unit needs quotes around it",
            format!("\"{text}\""),
        );
    }
    // The parser takes `in` for the beginning of `inf`, and 2026-3-14 for a number.
    let takes = takes(spot.inner_key());
    let word = text.starts_with(|c: char| c.is_ascii_alphabetic());
    if word || matches!(takes, Some(Takes::Text)) {
        return unquoted(&Spot {
            line: spot.line,
            from: start,
            to: start + text.len(),
        });
    }
    if matches!(takes, Some(Takes::Bare))
        && let Some(number) = leading_number(&text).filter(|number| *number != text)
        && text.ends_with(|c: char| c.is_ascii_alphabetic())
    {
        let key = spot.inner_key();
        return said(
            format!("`{key}` takes a bare number, without a unit or a mark"),
            number,
        );
    }
    let hint = mend_number(&text).unwrap_or_else(|| "a plain number such as 10.5".to_owned());
    said(format!("`{text}` is not a number as TOML writes it"), hint)
}

pub(super) fn mend_number(text: &str) -> Option<String> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", text),
    };
    let plain = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let points = digits.matches('.').count();
    if !plain || points > 1 || digits.len() == points {
        return None;
    }
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    let whole = whole.trim_start_matches('0');
    let whole = if whole.is_empty() { "0" } else { whole };
    Some(match (points, decimals) {
        (0, _) => format!("{sign}{whole}"),
        (_, "") => format!("{sign}{whole}.0"),
        _ => format!("{sign}{whole}.{decimals}"),
    })
}
