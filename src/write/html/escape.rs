//! Foreign text made safe for a page that is HTML and XML at once.

/// Text for an element or a double-quoted attribute. Characters that XML does not know are shown as
/// the replacement character, so nothing vanishes unseen.
pub fn text(foreign: &str) -> String {
    let mut out = String::with_capacity(foreign.len());
    for c in foreign.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// A foreign text that keeps its own direction of writing to itself.
pub fn isolated(foreign: &str) -> String {
    format!("<bdi>{}</bdi>", text(foreign))
}

/// A relative file name as a link's address.
pub fn address(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    for byte in name.replace('\\', "/").bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => {
                out.push(char::from(byte));
            }
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    // A colon before the first slash would read as a scheme; it is escaped like the rest above.
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_and_control_characters_are_only_text() {
        assert_eq!(
            text("</title><script>a&\"b'\u{0}\u{1b}\n"),
            "&lt;/title&gt;&lt;script&gt;a&amp;&quot;b&#39;\u{fffd}\u{fffd} "
        );
        assert_eq!(text("Brachvogel ä 鷸 🪶"), "Brachvogel ä 鷸 🪶");
    }

    #[test]
    fn addresses_stay_relative_file_names() {
        assert_eq!(address("shop/head-face.dxf"), "shop/head-face.dxf");
        assert_eq!(
            address("javascript:a b?#\"ä"),
            "javascript%3Aa%20b%3F%23%22%C3%A4"
        );
    }
}
