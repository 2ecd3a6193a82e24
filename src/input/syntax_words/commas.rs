//! Words for commas: a list without its brackets, decimal commas in a table in braces.

use super::super::decimal_commas::{by_blanks, items, pairs};
use super::super::keys::{Takes, may_take, takes};
use super::numbers::quoted_length;
use super::{Said, Spot, said};

pub(super) const DECIMAL_COMMA: &str = "the number has a comma where a decimal point belongs";

/// Some lengths for a key that takes a list, without the brackets round them.
pub(super) fn list_without_brackets(spot: &Spot<'_>, raw: &str) -> Option<Said> {
    let value = spot.value();
    if !raw.starts_with("unexpected key or value") || value.contains(['[', '{', '=']) {
        return None;
    }
    let key = spot.inner_key();
    let typed = items(value);
    // Where another table's key of this name takes one length, a blank behind a comma tells.
    let wide = typed.iter().skip(1).any(|item| !item.tight);
    let what = match takes(key) {
        Some(what @ (Takes::Pair | Takes::Lengths)) => what,
        None if wide && may_take(key, Takes::Pair) => Takes::Pair,
        _ => return None,
    };
    let of_pair = match what {
        Takes::Pair => pairs(&typed),
        _ => Vec::new(),
    };
    let list = if of_pair.is_empty() {
        let parts = by_blanks(&typed)
            .unwrap_or_else(|| typed.iter().map(|item| item.text.to_owned()).collect());
        let parts: Vec<String> = parts
            .iter()
            .map(|part| length(part))
            .collect::<Option<_>>()?;
        let fits = parts.len() == 2 || (parts.len() > 2 && what == Takes::Lengths);
        fits.then(|| format!("[{}]", parts.join(", ")))?
    } else {
        of_pair.join(" or ")
    };
    Some(said("a list stands in brackets", list))
}

/// A list in which blanks tell the decimal commas from the others, where something else is wrong
/// with it as well, such as units without quotes or a number that begins with zeros.
pub(super) fn list_with_decimal_commas(spot: &Spot<'_>) -> Option<Said> {
    let inner = spot.value().strip_prefix('[')?.strip_suffix(']')?;
    let parts = by_blanks(&items(inner))?;
    let parts: Vec<String> = parts
        .iter()
        .map(|part| length(part))
        .collect::<Option<_>>()?;
    Some(said(DECIMAL_COMMA, format!("[{}]", parts.join(", "))))
}

/// A bare number as it stands, or a length in quotes.
fn length(text: &str) -> Option<String> {
    if text.parse::<f64>().is_ok_and(f64::is_finite) {
        return Some(text.to_owned());
    }
    quoted_length(text)
}

/// Numbers with decimal commas in a table in braces. No key is made of digits alone, so what stands
/// behind such a comma belongs to the number.
/// With it, the number to be marked where it is only one.
pub(super) fn table_with_decimal_commas(spot: &Spot<'_>) -> Option<(Said, Option<String>)> {
    let value = spot.value();
    if !value.starts_with('{') || value.contains(['"', '\'']) {
        return None;
    }
    let mut mended = String::new();
    let mut numbers = Vec::new();
    for (index, part) in value.split(',').enumerate() {
        let digits = part.trim_end_matches(['}', ' ', '\t']);
        let decimals = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
        let whole = mended
            .rsplit_once('=')
            .map(|(_, number)| number.trim())
            .filter(|number| number.parse::<i64>().is_ok());
        if let Some(whole) = whole.filter(|_| decimals) {
            numbers.push((format!("{whole},{digits}"), format!("{whole}.{digits}")));
            mended.push('.');
        } else if index > 0 {
            mended.push(',');
        }
        mended.push_str(part);
    }
    match numbers.as_slice() {
        [] => None,
        [(typed, meant)] => Some((said(DECIMAL_COMMA, meant.clone()), Some(typed.clone()))),
        _ => Some((said(DECIMAL_COMMA, mended), None)),
    }
}
