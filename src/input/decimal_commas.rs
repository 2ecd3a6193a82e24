//! Decimal commas in lists: where a number was typed with a comma, TOML reads two.

/// An item of a list as it is typed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Item<'t> {
    pub text: &'t str,
    /// No blank stands between it and the comma before it, as a decimal comma is typed.
    pub tight: bool,
}

/// The items of a list, from the text between its brackets.
pub(crate) fn items(inner: &str) -> Vec<Item<'_>> {
    inner
        .split(',')
        .enumerate()
        .map(|(index, part)| Item {
            text: part.trim(),
            tight: index > 0 && !part.starts_with(char::is_whitespace),
        })
        .collect()
}

/// The pairs that three or four numbers may be with decimal commas, as they are to be typed.
pub(crate) fn pairs(items: &[Item<'_>]) -> Vec<String> {
    let pair = |a: Option<String>, b: Option<String>| Some(format!("[{}, {}]", a?, b?));
    let alone = |item: Item<'_>| {
        let number = item.text.parse::<f64>();
        number
            .is_ok_and(f64::is_finite)
            .then(|| item.text.to_owned())
    };
    match *items {
        [a, b, c] => {
            let first = pair(joined(a.text, b.text), alone(c));
            let second = pair(alone(a), joined(b.text, c.text));
            match (b.tight, c.tight) {
                (true, false) if first.is_some() => vec![first],
                (false, true) if second.is_some() => vec![second],
                _ => vec![first, second],
            }
        }
        [a, b, c, d] => vec![pair(joined(a.text, b.text), joined(c.text, d.text))],
        _ => Vec::new(),
    }
    .into_iter()
    .flatten()
    .collect()
}

/// The items with decimal points, where tight commas among wide ones tell which are decimal.
pub(crate) fn by_blanks(items: &[Item<'_>]) -> Option<Vec<String>> {
    let behind = items.get(1..)?;
    if behind.iter().all(|item| item.tight) || behind.iter().all(|item| !item.tight) {
        return None;
    }
    let mut out: Vec<String> = Vec::new();
    for item in items {
        match out.last_mut().filter(|_| item.tight) {
            Some(last) => *last = joined(last, item.text)?,
            None => out.push(item.text.to_owned()),
        }
    }
    Some(out)
}

/// Two numbers made one; no digit of a decimal fraction is signed, but a unit may stand behind it.
fn joined(whole: &str, tenths: &str) -> Option<String> {
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit()) && !text.is_empty();
    let unsigned = whole.trim_start_matches(['-', '+']);
    (digits(unsigned) && tenths.starts_with(|c: char| c.is_ascii_digit()) && !tenths.contains('.'))
        .then(|| format!("{whole}.{tenths}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_tell_which_commas_are_decimal() {
        for (inner, meant) in [
            ("0,313, 0.313", vec!["[0.313, 0.313]"]),
            ("0.313, 0,050", vec!["[0.313, 0.050]"]),
            ("1,352, 1,68", vec!["[1.352, 1.68]"]),
            ("17,18,5", vec!["[17.18, 5]", "[17, 18.5]"]),
            ("17, -18, 5", vec!["[17, -18.5]"]),
            ("17.5, 18.5, 19.5", vec![]),
            ("17, 18", vec![]),
        ] {
            assert_eq!(pairs(&items(inner)), meant, "{inner}");
        }
        let mended = |inner| by_blanks(&items(inner)).map(|all| all.join(" "));
        assert_eq!(mended("35,5, 35,5"), Some("35.5 35.5".to_owned()));
        assert_eq!(mended("0,3 in, 0,4 in"), Some("0.3 in 0.4 in".to_owned()));
        for inner in ["35,5", "35, 5", "35.5,5, 3", "", "a,b, c"] {
            assert_eq!(mended(inner), None, "{inner}");
        }
    }
}
