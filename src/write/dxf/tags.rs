//! The lines of a DXF file: pairs of a group code and a value.

use std::fmt::Write as _;

use glam::DVec2;

/// Pairs in the making.
#[derive(Debug, Default)]
pub struct Tags {
    text: String,
}

impl Tags {
    /// A text value.
    pub fn text(&mut self, code: u16, value: &str) -> &mut Self {
        let _ = writeln!(self.text, "{code:3}\n{value}");
        self
    }

    /// A whole number.
    pub fn int(&mut self, code: u16, value: i64) -> &mut Self {
        let _ = writeln!(self.text, "{code:3}\n{value:6}");
        self
    }

    /// A real number, in as many digits as it has.
    pub fn real(&mut self, code: u16, value: f64) -> &mut Self {
        // Adding nought turns minus nought into nought.
        let _ = writeln!(self.text, "{code:3}\n{:?}", Plain(value + 0.0));
        self
    }

    /// A handle or a reference to one.
    pub fn handle(&mut self, code: u16, value: u32) -> &mut Self {
        let _ = writeln!(self.text, "{code:3}\n{value:X}");
        self
    }

    /// A point in the plane, its height nought.
    pub fn point(&mut self, code: u16, at: DVec2) -> &mut Self {
        self.flat(code, at).real(code + 20, 0.0)
    }

    /// A point of two coordinates only.
    pub fn flat(&mut self, code: u16, at: DVec2) -> &mut Self {
        self.real(code, at.x).real(code + 10, at.y)
    }

    /// A variable of the header.
    pub fn variable(&mut self, name: &str) -> &mut Self {
        self.text(9, name)
    }

    /// The start of a section.
    pub fn section(&mut self, name: &str) -> &mut Self {
        self.text(0, "SECTION").text(2, name)
    }

    /// The end of a section.
    pub fn end_section(&mut self) -> &mut Self {
        self.text(0, "ENDSEC")
    }

    /// Adds the pairs of another.
    pub fn append(&mut self, other: &Tags) -> &mut Self {
        self.text.push_str(&other.text);
        self
    }

    /// The whole text.
    pub fn finish(self) -> String {
        self.text
    }
}

/// A number that always shows a point and never an exponent.
struct Plain(f64);

impl std::fmt::Debug for Plain {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{}", self.0);
        f.write_str(&text)?;
        if text.contains('.') {
            Ok(())
        } else {
            f.write_str(".0")
        }
    }
}

/// A text fit for one value: line ends and control characters as spaces; whatever lies beyond
/// ASCII, and what readers take for a command, in the format's own spelling.
pub fn safe_text(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            // "%%d" and its like are commands; a doubled sign is spelt as one letter's number.
            '%' if letters.peek() == Some(&'%') => out.push_str("\\U+0025"),
            '\\' => out.push_str("\\U+005C"),
            '^' => out.push_str("^ "),
            ' '..='~' => out.push(letter),
            other if other.is_control() => out.push(' '),
            other => {
                let mut parts = [0; 2];
                for part in other.encode_utf16(&mut parts) {
                    let _ = write!(out, "\\U+{part:04X}");
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_plain() {
        let mut tags = Tags::default();
        tags.real(40, 1e-9)
            .real(40, 2.0)
            .real(40, -0.0)
            .real(40, 0.1 + 0.2);
        let text = tags.finish();
        let values: Vec<&str> = text.lines().skip(1).step_by(2).collect();
        assert_eq!(values, ["0.000000001", "2.0", "0.0", "0.30000000000000004"]);
    }

    #[test]
    fn texts_hold_no_commands() {
        assert_eq!(
            safe_text("⌀10\n5%%d ^I \\P"),
            "\\U+230010 5\\U+0025%d ^ I \\U+005CP"
        );
        assert_eq!(safe_text("100 % true"), "100 % true");
    }
}
