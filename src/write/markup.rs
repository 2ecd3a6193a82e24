//! Foreign text made safe for markup: XML files, and a page that is HTML and XML at once.

/// Text for an element or a quoted attribute. Tabs and line ends become spaces; characters that XML does
/// not know are shown as the replacement character, so nothing vanishes unseen.
#[must_use]
pub fn escaped(foreign: &str) -> String {
    let mut out = String::with_capacity(foreign.len());
    for c in foreign.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // By its name: some readers of 3MF refuse any reference by number, and HTML knows the name too.
            '\'' => out.push_str("&apos;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_and_control_characters_are_only_text() {
        assert_eq!(
            escaped("</title><script>a&\"b'\u{0}\u{1b}\n"),
            "&lt;/title&gt;&lt;script&gt;a&amp;&quot;b&apos;\u{fffd}\u{fffd} "
        );
        assert_eq!(escaped("Brachvogel ä 鷸 🪶"), "Brachvogel ä 鷸 🪶");
    }
}
