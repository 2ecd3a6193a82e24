//! What was meant by a word that is not known: the nearest known one, and how a person is asked.

/// The candidate fewest slips away from `word`, if that is near enough to be meant.
pub(crate) fn nearest<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let folded = fold(word);
    if folded.len() > 40 {
        return None;
    }
    let allowed = (folded.len() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| (slips(&folded, &fold(candidate)), candidate))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// The nearest, or else one that holds the word or is held by it, as `radius` is by `corner_radius`.
pub(crate) fn nearest_or_part<'a, I: IntoIterator<Item = &'a str>>(
    word: &str,
    candidates: impl Fn() -> I,
) -> Option<&'a str> {
    let related = |known: &&str| word.len() > 3 && (known.contains(word) || word.contains(known));
    nearest(word, candidates()).or_else(|| candidates().into_iter().find(related))
}

/// The nearest dotted key, or else the first that ends in the word, as `slots.rib` ends in `rib`.
pub(crate) fn nearest_or_last<'a, I: IntoIterator<Item = &'a str>>(
    word: &str,
    candidates: impl Fn() -> I,
) -> Option<&'a str> {
    let last = |known: &&str| known.rsplit('.').next() == Some(word);
    nearest(word, candidates()).or_else(|| candidates().into_iter().find(last))
}

/// The question, for the end of a message or of a part of one.
pub(crate) fn did_you_mean(near: &str) -> String {
    format!("did you mean `{near}`?")
}

fn fold(word: &str) -> Vec<char> {
    word.to_lowercase()
        .chars()
        .map(|c| if matches!(c, '-' | ' ') { '_' } else { c })
        .collect()
}

/// Insertions, deletions, replacements and swaps of neighbours between two words.
fn slips(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let replaced = last[j] + usize::from(ca != cb);
            let mut best = replaced.min(last[j + 1] + 1).min(row[j] + 1);
            let swapped = i > 0 && j > 0 && *ca == b[j - 1] && a[i - 1] == *cb;
            if swapped {
                best = best.min(before[j - 1] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_what_was_meant() {
        let keys = ["thickness", "thickness_at_crest", "length", "angle", "rib"];
        assert_eq!(nearest("thikness", keys), Some("thickness"));
        assert_eq!(
            nearest("thickness-at-crest", keys),
            Some("thickness_at_crest")
        );
        assert_eq!(nearest("Length", keys), Some("length"));
        assert_eq!(nearest("lenght", keys), Some("length"));
        assert_eq!(nearest("rip", keys), Some("rib"));
        assert_eq!(nearest("colour", keys), None);
        assert_eq!(nearest("", keys), None);
        assert_eq!(nearest(&"x".repeat(500), keys), None);
    }

    #[test]
    fn a_part_of_a_key_is_taken_where_none_is_near() {
        let keys = || ["corner_radius", "width", "rib"];
        assert_eq!(nearest_or_part("radius", keys), Some("corner_radius"));
        assert_eq!(
            nearest_or_part("slot_width_at_the_nut", keys),
            Some("width")
        );
        assert_eq!(nearest_or_part("r", keys), None);
        let keys = || ["head.length", "slots.width", "guide.width"];
        assert_eq!(nearest_or_last("width", keys), Some("slots.width"));
        assert_eq!(nearest_or_last("head.lenght", keys), Some("head.length"));
        assert_eq!(nearest_or_last("rib", keys), None);
    }

    #[test]
    fn everybody_asks_in_the_same_words() {
        assert_eq!(did_you_mean("rib"), "did you mean `rib`?");
    }
}
