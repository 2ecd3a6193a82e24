//! The known word nearest to a mistyped one.

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
}
