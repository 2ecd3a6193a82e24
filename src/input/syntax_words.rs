//! Words for one mistake of TOML: from the parser's message and the line it stands on to what a
//! maker did and what to write instead.

use std::ops::Range;

mod commas;
mod numbers;

use super::keys::{Takes, sample_of_lengths, takes};
use super::words::unit_meant;
use crate::units;
use commas::{
    DECIMAL_COMMA, list_with_decimal_commas, list_without_brackets, table_with_decimal_commas,
};
use numbers::{INCH_MARK, number, quoted_length, unit_outside};

/// A mistake in words, with the bytes to mark.
pub(crate) struct Words {
    pub message: String,
    pub hint: Option<String>,
    pub span: Range<usize>,
}

/// The line of the file and the place of the mistake on it, in bytes of the line.
struct Spot<'l> {
    line: &'l str,
    from: usize,
    to: usize,
}

impl<'l> Spot<'l> {
    fn before(&self) -> &'l str {
        self.line.get(..self.from).unwrap_or_default()
    }
    fn marked(&self) -> &'l str {
        self.line.get(self.from..self.to).unwrap_or_default()
    }
    fn after(&self) -> &'l str {
        self.line.get(self.to..).unwrap_or_default()
    }
    /// The number that the mistake stands in or behind, from its first digit to its last, with a
    /// decimal comma if it has one: the whole of it is to be mended.
    fn number(&self) -> Option<(usize, usize)> {
        let part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+');
        let from = self.before().trim_end_matches(part).len();
        let rest = self.line.get(from..)?;
        let length = rest.find(|c| !part(c)).unwrap_or(rest.len());
        let number = rest.get(..length)?.trim_end_matches(',');
        let whole = number.starts_with(|c: char| part(c) && c != ',')
            && number.contains(|c: char| c.is_ascii_digit());
        let to = from + number.len();
        (whole && to >= self.to && to > from).then_some((from, to))
    }
    /// The key before the first `=`.
    fn key(&self) -> &'l str {
        self.line
            .split(['=', ':'])
            .next()
            .unwrap_or_default()
            .trim()
    }
    /// The last word of the key whose value the mistake stands in, also within braces.
    fn inner_key(&self) -> &'l str {
        let before = self.before();
        let key = before.rsplit_once('=').map_or(self.key(), |(key, _)| key);
        let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
        let key = key.trim_end();
        key.rsplit(|c| !part(c)).next().unwrap_or_default()
    }
    /// What stands after the first `=`, without a comment.
    fn value(&self) -> &'l str {
        let value = self.line.split_once('=').map_or("", |(_, value)| value);
        value.split('#').next().unwrap_or_default().trim()
    }
}

/// Puts a parser's message into words. `line_start` and `span` are bytes of the file.
pub(crate) fn words(line: &str, line_start: usize, span: &Range<usize>, raw: &str) -> Words {
    let from = span.start.saturating_sub(line_start).min(line.len());
    let to = span.end.saturating_sub(line_start).clamp(from, line.len());
    let spot = Spot { line, from, to };
    let whole = unit_outside(&spot, raw)
        .or_else(|| list_with_decimal_commas(&spot))
        .or_else(|| list_without_brackets(&spot, raw))
        .map(|said| (said, None))
        .or_else(|| table_with_decimal_commas(&spot));
    if let Some(((message, hint), marked)) = whole {
        let from = line.find('=').map_or(spot.from, |at| at + 1);
        let behind = line.get(from..).unwrap_or_default();
        let marked = marked.as_deref().unwrap_or(spot.value());
        let from = line_start + from + behind.find(marked).unwrap_or_default();
        return Words {
            message: message.into_owned(),
            hint,
            span: from..from + marked.len(),
        };
    }
    let (message, hint) = say(&spot, raw);
    let marked = spot.number().map_or(span.clone(), |(from, to)| {
        line_start + from..line_start + to
    });
    Words {
        message: message.into_owned(),
        hint,
        span: marked,
    }
}

type Said = (std::borrow::Cow<'static, str>, Option<String>);

fn said(message: impl Into<std::borrow::Cow<'static, str>>, hint: impl Into<String>) -> Said {
    (message.into(), Some(hint.into()))
}

fn say(spot: &Spot<'_>, raw: &str) -> Said {
    let is = |start: &str| raw.starts_with(start);
    if raw.contains("recurs") {
        said(
            "brackets or dotted keys are nested too deep",
            "plain tables, as in the starter file",
        )
    } else if is("carriage return") {
        said(
            "a carriage return stands alone within this line",
            "the same text with usual line ends",
        )
    } else if spot.line.chars().any(|c| c.is_control() && c != '\t') {
        said(
            "this line holds a control character, which no editor shows",
            "the line typed anew",
        )
    } else if is("string values must be quoted")
        || is("invalid boolean")
        // A fraction such as 1-15/16 begins as dates do.
        || is("invalid date")
    {
        unquoted(spot)
    } else if is("unexpected key or value") {
        trailing(spot)
    } else if is("key with no value") || is("invalid unquoted key") || is("missing table open") {
        no_equals(spot)
    } else if is("extra `=`") {
        let value = spot.value().trim_start_matches('=').trim();
        said(
            "there is an = too many",
            format!("{} = {value}", spot.key()),
        )
    } else if is("unclosed table") {
        let name = spot
            .line
            .split('#')
            .next()
            .unwrap_or_default()
            .trim()
            .trim_matches(['[', ']']);
        said(
            "the table's name is not closed by a bracket",
            format!("[{}]", name.trim()),
        )
    } else if is("unquoted keys cannot be empty") {
        said(
            "there is no key here",
            "a key before the =, or a name between the brackets",
        )
    } else if raw.contains("string") && is("invalid") {
        said(
            "the quotes opened here are not closed",
            format!("the same with {} at its end", quote_mark(spot)),
        )
    } else if is("missing escaped value") || raw.contains("escape") {
        said(
            "a backslash begins a special character in a text",
            spot.value().trim().replace('\\', "/"),
        )
    } else if is("missing comma") || is("extra assignment") {
        said(
            "a comma is missing between two values",
            "a comma after each value but the last",
        )
    } else if [
        "mantissa",
        "fraction",
        "leading zero",
        "float",
        "integer",
        "number",
        "exponent",
        "digit",
    ]
    .iter()
    .any(|word| raw.contains(word))
    {
        number(spot)
    } else if spot.line.trim_start().starts_with(['{', '}']) {
        said(
            "no line of a parameter file begins with a brace: this looks like another format",
            "the tables of a starter file; `barrelhead start NEW-NAME.toml` writes one",
        )
    } else {
        (format!("this is not TOML: {raw}").into(), None)
    }
}

fn quote_mark(spot: &Spot<'_>) -> char {
    spot.line
        .chars()
        .find(|c| matches!(c, '"' | '\''))
        .unwrap_or('"')
}

fn unquoted(spot: &Spot<'_>) -> Said {
    let text = spot.marked().trim();
    if text.is_empty() {
        return said(
            format!("`{}` has no value", spot.key()),
            format!("{} = and its value", spot.key()),
        );
    }
    if spot.after().trim_start().starts_with('=') {
        return two_keys(spot);
    }
    if text.contains(['\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}']) {
        let inner = text.trim_matches(|c| {
            matches!(
                c,
                '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{2018}' | '\u{2019}'
            )
        });
        return said("a text needs straight quotes", format!("\"{inner}\""));
    }
    if let Some(rest) = text.strip_prefix(['\u{2212}', '\u{2013}']) {
        return said(
            "this minus sign is a printer's dash",
            format!("-{}", rest.trim()),
        );
    }
    let lower = text.to_lowercase();
    if matches!(lower.as_str(), "true" | "false") {
        return said("true and false are written in lower-case", lower);
    }
    if matches!(lower.as_str(), "yes" | "no" | "on" | "off") {
        let flag = matches!(lower.as_str(), "yes" | "on");
        return said(
            format!("`{text}` needs quotes, or should be true or false"),
            flag.to_string(),
        );
    }
    let in_list = spot.before().contains('[')
        && text
            .split_whitespace()
            .all(|word| word.parse::<f64>().is_ok());
    if in_list {
        return said(
            "a comma is missing between two values",
            text.split_whitespace().collect::<Vec<_>>().join(", "),
        );
    }
    // A printer's dash would be the next mistake.
    let inner = text.trim_matches('"').replace(['"', '\\'], "");
    let inner = inner.replace(['\u{2013}', '\u{2212}'], "-");
    let key = spot.inner_key();
    match takes(key) {
        Some(Takes::Bare) => {
            if let Some(number) = leading_number(&inner) {
                return said(
                    format!("`{key}` takes a bare number, without a unit or a mark"),
                    number,
                );
            }
        }
        Some(Takes::Text) => {
            let meant = unit_meant(&inner).filter(|_| key == "unit");
            let hint = format!("\"{}\"", meant.unwrap_or(&inner));
            return said("a text needs quotes around it", hint);
        }
        _ => {}
    }
    let length = units::parse_length(&inner);
    let measured = match &length {
        Ok(_) => true,
        Err(error) => units::parse_length(error.hint.trim_matches('"')).is_ok(),
    };
    let hint = match length {
        // In quotes it would be the next mistake.
        Err(_) if !text.starts_with(|c: char| c.is_ascii_digit()) => {
            if let Some(sample) = sample_of_lengths(key) {
                return said(
                    format!("`{key}` takes a length, and `{text}` is none"),
                    format!("the length as measured, for example {key} = {sample}"),
                );
            }
            format!("\"{inner}\"")
        }
        Err(error) if text.starts_with(|c: char| c.is_ascii_digit()) && !error.hint.is_empty() => {
            error.hint
        }
        _ => format!("\"{inner}\""),
    };
    let message = if measured {
        "a length with a fraction or a unit needs quotes around it"
    } else {
        "a text needs quotes around it"
    };
    said(message, hint)
}

/// The number that a text begins with, if TOML reads it.
fn leading_number(text: &str) -> Option<String> {
    let part = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+');
    let end = text.find(|c| !part(c)).unwrap_or(text.len());
    let number = text.get(..end)?;
    number.parse::<f64>().ok()?;
    numbers::mend_number(number)
}

fn two_keys(spot: &Spot<'_>) -> Said {
    if spot.before().contains('{') {
        said(
            "a comma is missing between two values",
            "a comma after each value but the last",
        )
    } else {
        said(
            "two keys stand on one line",
            "each key on a line of its own",
        )
    }
}

/// Something follows a value that was complete.
fn trailing(spot: &Spot<'_>) -> Said {
    let rest = spot.line.get(spot.from..).unwrap_or_default().trim_start();
    let before = spot.before();
    let digits = |c: char| c.is_ascii_digit();
    let number = before
        .rsplit(['=', ' ', '[', ',', '{'])
        .next()
        .unwrap_or_default();
    if let Some(behind) = rest.strip_prefix(',') {
        let decimals: String = behind.chars().take_while(|c| digits(*c)).collect();
        if !decimals.is_empty() && before.ends_with(digits) {
            let meant = format!("{number}.{decimals}");
            let unit = behind.get(decimals.len()..).unwrap_or_default();
            let unit = unit.split('#').next().unwrap_or_default();
            let hint = quoted_length(&format!("{meant}{unit}")).unwrap_or(meant);
            return said(DECIMAL_COMMA, hint);
        }
        return said("there is a comma after the value", "the value alone");
    }
    if rest.starts_with(['"', '\u{201d}', '\u{2033}']) && before.ends_with(digits) {
        return said(INCH_MARK, format!("\"{number} in\""));
    }
    if let Some(bracket) = rest.chars().next().filter(|c| matches!(c, ']' | '}')) {
        return said(
            format!("the `{bracket}` has no bracket that it closes"),
            "the value alone",
        );
    }
    if rest.contains('=') {
        return two_keys(spot);
    }
    said(
        "something follows the value on this line",
        "one value, then the end of the line or a comment after #",
    )
}

fn no_equals(spot: &Spot<'_>) -> Said {
    let line = spot.line.split('#').next().unwrap_or_default().trim();
    if let Some(mended) = colons_in_braces(spot.value()) {
        return said("there is a colon where an = belongs", mended);
    }
    if let Some((key, value)) = line.split_once(':').filter(|(key, _)| !key.contains('=')) {
        return said(
            "there is a colon where an = belongs",
            format!("{} = {}", key.trim(), value.trim()),
        );
    }
    if line.ends_with(']') && !line.contains(['[', '=']) {
        return said(
            "the table's name has only one bracket",
            format!("[{}]", line.trim_end_matches(']').trim()),
        );
    }
    if let Some((key, value)) = line.split_once('=') {
        if key.trim().contains(' ') {
            let joined = key.split_whitespace().collect::<Vec<_>>().join("_");
            return said(
                "a key holds no blanks",
                format!("{joined} = {}", value.trim()),
            );
        }
        return said(
            "a key is made of letters, digits, - and _ only",
            "the key as the starter file spells it",
        );
    }
    let mut parts = line.splitn(2, char::is_whitespace);
    let key = parts.next().unwrap_or_default();
    let value = parts.next().map_or("and its value", str::trim);
    said("there is no = on this line", format!("{key} = {value}"))
}

/// A table in braces whose keys end in colons, with `=` in their place.
fn colons_in_braces(value: &str) -> Option<String> {
    if !value.starts_with('{') || !value.contains(':') || value.contains(['"', '\'']) {
        return None;
    }
    let parts: Vec<&str> = value.split(':').map(str::trim).collect();
    Some(parts.join(" = "))
}

/// The earlier line, 0-based, that gives the same key in the same table, or the same table.
pub(crate) fn first_given<'l>(
    lines: impl Iterator<Item = &'l str>,
    key: &str,
    again: &str,
) -> Option<usize> {
    let header = again.trim_start().starts_with('[');
    let mut found = None;
    for (index, line) in lines.enumerate() {
        let line = line.trim();
        if header {
            let name = line.split('#').next().unwrap_or_default().trim();
            if name.starts_with('[')
                && name.trim_matches(['[', ']'])
                    == again.split('#').next()?.trim().trim_matches(['[', ']'])
            {
                return Some(index);
            }
        } else if line.starts_with('[') {
            found = None;
        } else if line
            .split_once('=')
            .is_some_and(|(name, _)| name.trim() == key)
            && found.is_none()
        {
            found = Some(index);
        }
    }
    found
}
