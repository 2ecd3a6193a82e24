//! Strings in the clear-text encoding of ISO 10303-21, implementation level 2;1.

use std::fmt::Write as _;

/// Text between apostrophes. Characters beyond ASCII are written as `\X2\` or `\X4\` runs, because
/// readers differ over raw UTF-8; control characters become visible stand-ins.
pub(super) fn quoted(text: &str) -> String {
    let mut out = String::from("'");
    let mut run = Run::Plain;
    for c in text.chars().map(visible) {
        let needed = match c {
            ' '..='~' => Run::Plain,
            '\u{80}'..='\u{FFFF}' => Run::Two,
            _ => Run::Four,
        };
        if needed != run {
            if run != Run::Plain {
                out.push_str("\\X0\\");
            }
            out.push_str(match needed {
                Run::Plain => "",
                Run::Two => "\\X2\\",
                Run::Four => "\\X4\\",
            });
            run = needed;
        }
        let code = u32::from(c);
        match (run, c) {
            (Run::Plain, '\'' | '\\') => out.extend([c, c]),
            (Run::Plain, _) => out.push(c),
            (Run::Two, _) => {
                let _ = write!(out, "{code:04X}");
            }
            (Run::Four, _) => {
                let _ = write!(out, "{code:08X}");
            }
        }
    }
    if run != Run::Plain {
        out.push_str("\\X0\\");
    }
    out.push('\'');
    out
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Run {
    Plain,
    Two,
    Four,
}

/// The Unicode picture of an ASCII control character, the replacement character for the others.
fn visible(c: char) -> char {
    match c {
        '\0'..='\x1F' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{FFFD}'),
        '\x7F' => '\u{2421}',
        '\u{80}'..='\u{9F}' => '\u{FFFD}',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_are_escaped() {
        for (text, expected) in [
            ("plain", "'plain'"),
            ("maker's", "'maker''s'"),
            ("a\\b", "'a\\\\b'"),
            ("t\u{ea}te", "'t\\X2\\00EA\\X0\\te'"),
            ("\u{3b8}\u{2264}9", "'\\X2\\03B82264\\X0\\9'"),
            ("\u{1F642}!", "'\\X4\\0001F642\\X0\\!'"),
            ("\u{ea}\u{1F642}", "'\\X2\\00EA\\X0\\\\X4\\0001F642\\X0\\'"),
            ("a\nb\u{85}", "'a\\X2\\240A\\X0\\b\\X2\\FFFD\\X0\\'"),
            ("", "''"),
        ] {
            assert_eq!(quoted(text), expected);
        }
    }
}
