//! Small matters of wording that every writer of sentences shares.

/// A text that begins with a capital letter.
#[must_use]
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_first_letter_is_raised() {
        assert_eq!(capital("bore B2"), "Bore B2");
        assert_eq!(capital("écart"), "Écart");
        assert_eq!(capital(""), "");
    }
}
