//! Drawing a diagnostic for a person: where it is, the line itself, a marker under the offending
//! text, and what to write instead. The text carries terminal styles; a writer that must be plain
//! strips them (`anstream` does).

use std::collections::BTreeSet;
use std::fmt::Write as _;

use anstyle::{AnsiColor, Style};

use super::Diagnostic;

const ERROR: Style = AnsiColor::Red.on_default().bold();
const STRONG: Style = Style::new().bold();
const QUIET: Style = Style::new().dimmed();
const HELP: Style = AnsiColor::Green.on_default();

/// Longest stretch of a source line that is shown, in characters.
const WINDOW: usize = 100;
/// Characters kept before the marker when a long line is cut.
const LEAD: usize = 30;

/// Draws all findings in the order given, a blank line between them, and a closing count.
#[must_use]
pub fn render(diagnostics: &[Diagnostic]) -> String {
    let mut out = String::new();
    for diagnostic in diagnostics {
        out.push_str(&render_one(diagnostic));
        out.push('\n');
    }
    let files: BTreeSet<_> = diagnostics.iter().filter_map(|d| d.file.as_ref()).collect();
    match diagnostics.len() {
        0 => {}
        1 => out.push_str("1 mistake\n"),
        n if files.len() > 1 => {
            let _ = writeln!(out, "{n} mistakes in {} files", files.len());
        }
        n => {
            let _ = writeln!(out, "{n} mistakes");
        }
    }
    out
}

/// Draws one finding; several lines, each ended.
#[must_use]
pub fn render_one(diagnostic: &Diagnostic) -> String {
    let mut out = String::new();
    let mut place = String::new();
    if let Some(file) = &diagnostic.file {
        place.push_str(&clean(&file.display().to_string()));
    }
    if let Some((line, column)) = diagnostic.at {
        let _ = write!(place, ":{line}:{column}");
    }
    if !place.is_empty() {
        let _ = write!(out, "{STRONG}{place}:{STRONG:#} ");
    }
    let _ = writeln!(out, "{ERROR}error:{ERROR:#} {}", clean(&diagnostic.message));
    if let Some((line, column)) = diagnostic.at.filter(|_| !diagnostic.source_line.is_empty()) {
        draw_line(&mut out, diagnostic, line, column);
    }
    if let Some(hint) = &diagnostic.hint {
        let _ = writeln!(out, "  {HELP}write instead:{HELP:#} {}", clean(hint));
    }
    out
}

fn draw_line(out: &mut String, diagnostic: &Diagnostic, line: usize, column: usize) {
    let chars: Vec<char> = diagnostic.source_line.chars().collect();
    let start = column.saturating_sub(1).min(chars.len());
    let from = if chars.len() > WINDOW {
        start.saturating_sub(LEAD)
    } else {
        0
    };
    let to = chars.len().min(from + WINDOW);
    let before = if from > 0 { "…" } else { "" };
    let after = if to < chars.len() { "…" } else { "" };
    let shown: String = chars
        .get(from..to)
        .unwrap_or_default()
        .iter()
        .map(|c| harmless(*c))
        .collect();
    let number = line.to_string();
    let _ = writeln!(out, "  {QUIET}{number} |{QUIET:#} {before}{shown}{after}");
    let lead = " ".repeat(before.chars().count() + start - from);
    let marked = diagnostic
        .span_len
        .max(1)
        .min(to.saturating_sub(start).max(1));
    let marker = "^".repeat(marked);
    let gap = " ".repeat(number.len());
    let _ = writeln!(
        out,
        "  {gap} {QUIET}|{QUIET:#} {lead}{ERROR}{marker}{ERROR:#}"
    );
}

/// A foreign text with nothing in it that could steer a terminal.
fn clean(text: &str) -> String {
    text.chars().map(harmless).collect()
}

/// A character that stands for a foreign one without steering a terminal: it starts no command, ends no
/// line and turns no direction of writing.
#[must_use]
pub fn harmless(c: char) -> char {
    match c {
        '\t' => ' ',
        // Line and paragraph separators; marks, embeddings, overrides and isolates of direction, which
        // would let a title show the words after it in another order.
        '\u{2028}' | '\u{2029}' => '\u{fffd}',
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
            '\u{fffd}'
        }
        c if c.is_control() => '\u{fffd}',
        c => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Diagnostic {
        Diagnostic {
            file: Some("a.toml".into()),
            at: Some((12, 13)),
            source_line: "thickness = -20.4  # thin".into(),
            span_len: 5,
            key: "head.thickness".into(),
            message: "`thickness` must be above zero".into(),
            hint: Some("20.4".into()),
        }
    }

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    #[test]
    fn marks_the_offending_text() {
        let expected = "a.toml:12:13: error: `thickness` must be above zero\n\
                        \x20 12 | thickness = -20.4  # thin\n\
                        \x20    |             ^^^^^\n\
                        \x20 write instead: 20.4\n";
        assert_eq!(plain(&render_one(&sample())), expected);
    }

    #[test]
    fn many_are_counted() {
        let mut other = sample();
        other.file = Some("b.toml".into());
        let text = plain(&render(&[sample(), other]));
        assert!(text.ends_with("2 mistakes in 2 files\n"), "{text}");
        assert_eq!(text.matches("write instead: ").count(), 2);
        assert_eq!(render(&[]), "");
    }

    #[test]
    fn a_long_line_is_cut_around_the_marker() {
        let mut long = sample();
        long.source_line = format!("{}BAD{}", "x".repeat(5000), "y".repeat(5000));
        long.at = Some((1, 5001));
        long.span_len = 3;
        let text = plain(&render_one(&long));
        let lines: Vec<&str> = text.lines().collect();
        let bad = lines[1]
            .find("BAD")
            .map(|at| lines[1][..at].chars().count());
        let mark = lines[2]
            .find("^^^")
            .map(|at| lines[2][..at].chars().count());
        assert_eq!(bad, mark);
        assert!(lines[1].chars().count() < 120);
    }

    #[test]
    fn tabs_and_escapes_cannot_move_the_marker() {
        let mut odd = sample();
        odd.source_line = "\tlength\t= \u{1b}[31m5".into();
        odd.at = Some((3, 11));
        odd.message = "a\u{202e}b\u{2066}c\u{2028}d\u{9b}e\u{200e}f\u{200f}g\u{61c}h".into();
        odd.span_len = 400;
        let text = plain(&render_one(&odd));
        assert!(text.contains("  3 |  length = \u{fffd}[31m5\n"), "{text}");
        assert!(text.contains("    |           ^^^^^^\n"), "{text}");
        assert!(
            text.contains("a\u{fffd}b\u{fffd}c\u{fffd}d\u{fffd}e"),
            "{text}"
        );
    }

    #[test]
    fn a_finding_without_a_place() {
        let text = plain(&render_one(&Diagnostic::whole(
            Some("x.toml".into()),
            "the table [head] is missing",
            None,
        )));
        assert_eq!(text, "x.toml: error: the table [head] is missing\n");
    }
}
