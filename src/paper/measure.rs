//! How wide a text comes out, and where its lines break.

use super::Weight;
use super::font::Typeface;

/// Width of a text with capitals `height` mm high, mm, as every writer sets it.
#[must_use]
pub fn text_width(text: &str, height: f64, weight: Weight) -> f64 {
    let Some(face) = Typeface::of(weight) else {
        return 0.0;
    };
    let units: f64 = face
        .letters(text)
        .map(|letter| f64::from(letter.advance))
        .sum();
    units * height / face.capitals
}

/// How far a text with capitals `height` mm high reaches below its base line, mm.
#[must_use]
pub fn text_depth(text: &str, height: f64, weight: Weight) -> f64 {
    let Some(face) = Typeface::of(weight) else {
        return 0.0;
    };
    let lowest = face.letters(text).filter_map(|letter| face.lowest(letter));
    let units = lowest.fold(0.0, f64::min);
    -units * height / face.capitals
}

/// Breaks a text into lines no wider than `width` mm: at its spaces, at its own line ends, and
/// within a word only where the word alone is too wide. Spaces at a break are dropped. At least
/// one line, and at least one letter a line.
#[must_use]
pub fn wrap(text: &str, height: f64, weight: Weight, width: f64) -> Vec<String> {
    let fits = |line: &str| text_width(line, height, weight) <= width;
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let longer = if line.is_empty() {
                word.to_owned()
            } else {
                format!("{line} {word}")
            };
            if fits(&longer) {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for letter in word.chars() {
                line.push(letter);
                if !fits(&line) && line.chars().count() > 1 {
                    line.pop();
                    lines.push(std::mem::replace(&mut line, letter.to_string()));
                }
            }
        }
        lines.push(line);
    }
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}

/// A text no wider than `width` mm: cut, where it must be, with an ellipsis that shows it. Only the
/// ellipsis is left where not one letter fits, and nothing of an empty text.
#[must_use]
pub fn shortened(text: &str, height: f64, weight: Weight, width: f64) -> String {
    let fits = |text: &str| text_width(text, height, weight) <= width;
    if fits(text) {
        return text.to_owned();
    }
    let ends: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
    let cut = |end: usize| {
        let kept = text.get(..end).unwrap_or_default();
        format!("{}…", kept.trim_end().trim_end_matches('…'))
    };
    // Halved, not tried letter by letter: a text may have a hundred thousand of them.
    let most = ends.partition_point(|end| fits(&cut(*end)));
    cut(most
        .checked_sub(1)
        .and_then(|last| ends.get(last))
        .copied()
        .unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_cut_to_the_last_letter_that_fits() {
        let room = text_width("Sandpi…", 3.5, Weight::Strong);
        let cut = |text: &str, width: f64| shortened(text, 3.5, Weight::Strong, width);
        assert_eq!(cut("Sandpiper", room), "Sandpi…");
        assert_eq!(cut("Sandpiper", room - 0.001), "Sandp…");
        assert_eq!(cut("Sandp iper", room), "Sandp…");
        assert_eq!(cut("Sandpiper", 200.0), "Sandpiper");
        assert_eq!(cut("Sandpiper", 0.0), "…");
        assert_eq!(cut("", 0.0), "");
    }

    #[test]
    fn a_text_of_a_hundred_thousand_letters_is_cut_in_no_time() {
        let long = "né ".repeat(100_000);
        let begun = std::time::Instant::now();
        let cut = shortened(&long, 3.5, Weight::Plain, 100.0);
        assert!((40..200).contains(&cut.chars().count()) && cut.ends_with('…'));
        // Letter by letter it took an hour.
        assert!(begun.elapsed().as_secs() < 30);
    }

    #[test]
    fn width_grows_with_height_and_weight() {
        let plain = text_width("Axis 10.20", 3.5, Weight::Plain);
        assert!((text_width("Axis 10.20", 7.0, Weight::Plain) - 2.0 * plain).abs() < 1e-9);
        assert!(text_width("Axis 10.20", 3.5, Weight::Strong) > plain);
        // Ten characters of a narrow face: about 0.7 of the height of capitals each.
        assert!((18.0..30.0).contains(&plain), "{plain}");
    }

    #[test]
    fn figures_are_all_of_one_width() {
        let one = text_width("1", 2.5, Weight::Plain);
        for figure in "0234567890".chars() {
            let width = text_width(&figure.to_string(), 2.5, Weight::Plain);
            assert!((width - one).abs() < 1e-12);
        }
    }

    #[test]
    fn lines_fit_and_lose_nothing() {
        let text = "Sides true, veneers on, bores before slots; a fitted block in the slot.";
        let lines = wrap(text, 3.5, Weight::Plain, 60.0);
        assert!(lines.len() > 2);
        assert_eq!(lines.join(" "), text);
        for line in &lines {
            assert!(text_width(line, 3.5, Weight::Plain) <= 60.0);
        }
    }

    #[test]
    fn a_word_too_wide_is_broken_and_line_ends_are_kept() {
        let lines = wrap("aa\nbbbbbbbbbbbb", 5.0, Weight::Plain, 12.0);
        assert_eq!(lines.concat(), "aabbbbbbbbbbbb");
        assert!(lines.len() > 2);
        assert_eq!(wrap("", 5.0, Weight::Plain, 12.0), [""]);
        assert_eq!(wrap("abc", 5.0, Weight::Plain, 0.0), ["a", "b", "c"]);
    }
}
