//! Colours, lengths and wrapped lines as a person reads them.

use std::fmt::Write as _;
use std::path::Path;

use anstyle::{AnsiColor, Style};
use unicode_width::{UnicodeWidthChar as _, UnicodeWidthStr as _};

use crate::check::Verdict;
use crate::diagnostic::render::harmless;
pub use crate::units::{Lengths, number};

/// Columns a screen is laid out for.
pub const SCREEN: usize = 100;

/// Headings.
pub const STRONG: Style = Style::new().bold();
/// What matters less.
pub const QUIET: Style = Style::new().dimmed();
const ERROR: Style = AnsiColor::Red.on_default().bold();

/// Colour of a verdict.
pub const fn of(verdict: Verdict) -> Style {
    match verdict {
        Verdict::Stop => AnsiColor::Red.on_default().bold(),
        Verdict::Caution => AnsiColor::Yellow.on_default().bold(),
        Verdict::Clear => AnsiColor::Green.on_default(),
    }
}

/// A text in a style.
pub fn paint(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

/// An error line for the command line.
pub fn error(message: &str) -> String {
    format!("{} {}\n", paint(ERROR, "error:"), clean(message))
}

/// A line on what a person had better know of work that is done.
pub fn warning(message: &str) -> String {
    let yellow = of(Verdict::Caution);
    format!("{} {}\n", paint(yellow, "warning:"), clean(message))
}

/// A foreign text with nothing in it that could steer a terminal; line ends are kept.
pub fn clean(text: &str) -> String {
    text.chars()
        .map(|c| if c == '\n' { c } else { harmless(c) })
        .collect()
}

/// A file's name as it is typed in a shell: in quotes where it needs them, and never like an option.
pub fn typed(path: &Path) -> String {
    let shown = clean(&path.display().to_string());
    let shown = if shown.starts_with('-') {
        format!("./{shown}")
    } else {
        shown
    };
    let plain = |c: char| c.is_alphanumeric() || "_-./,:+@".contains(c);
    if !shown.is_empty() && shown.chars().all(plain) {
        return shown;
    }
    // Within single quotes nothing has a meaning but the quote itself.
    format!("'{}'", shown.replace('\'', r"'\''"))
}

/// Columns a text takes, styles not counted.
pub fn width(text: &str) -> usize {
    anstream::adapter::strip_str(text).to_string().width()
}

/// A text cut to a number of columns, with an ellipsis where it was cut.
pub fn shorten(text: &str, columns: usize) -> String {
    if text.width() <= columns {
        return text.to_owned();
    }
    let mut out = String::new();
    let mut used = 0;
    for c in text.chars() {
        used += c.width().unwrap_or(0);
        if used >= columns {
            break;
        }
        out.push(c);
    }
    out.push('…');
    out
}

/// Words filled into lines of [`SCREEN`] columns, each begun with `indent` spaces and ended.
pub fn fill(text: &str, indent: usize) -> String {
    fill_after("", text, indent)
}

/// The same, the first line begun with `lead`, which must be no wider than `indent`.
pub fn fill_after(lead: &str, text: &str, indent: usize) -> String {
    let margin = " ".repeat(indent);
    let mut out = String::new();
    let mut line = format!("{lead}{}", " ".repeat(indent.saturating_sub(width(lead))));
    let mut used = indent;
    let mut empty = true;
    for word in text.split_whitespace() {
        let wide = width(word);
        if !empty && used + 1 + wide > SCREEN {
            let _ = writeln!(out, "{}", line.trim_end());
            line.clone_from(&margin);
            used = indent;
            empty = true;
        }
        if !empty {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += wide;
        empty = false;
    }
    let _ = writeln!(out, "{}", line.trim_end());
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_filled_to_the_screen_and_no_further() {
        let text = "word ".repeat(60);
        let filled = fill_after("lead", &text, 8);
        assert!(filled.starts_with("lead    word"));
        assert!(filled.lines().count() > 3);
        assert!(filled.lines().all(|line| line.width() <= SCREEN));
        assert_eq!(filled.split_whitespace().count(), 61);
        let (_, rest) = filled.split_once('\n').unwrap();
        assert!(rest.starts_with("        word"));
    }

    #[test]
    fn a_word_wider_than_the_screen_is_left_whole() {
        let long = "x".repeat(150);
        assert_eq!(fill(&long, 2), format!("  {long}\n"));
    }

    #[test]
    fn wide_letters_count_double() {
        assert_eq!(shorten("鷸鷸鷸鷸", 5), "鷸鷸…");
        assert_eq!(shorten("abc", 3), "abc");
        assert_eq!(width(&paint(STRONG, "鷸a")), 3);
    }

    /// A shell takes every name for one word, that name; those without anything odd stand as they are.
    #[cfg(unix)]
    #[test]
    fn a_shell_reads_names_as_they_are() {
        for plain in ["mine.toml", "heads/uke_2-b.toml", "ä.toml"] {
            assert_eq!(typed(Path::new(plain)), plain);
        }
        assert_eq!(typed(Path::new("uke ä.toml")), "'uke ä.toml'");
        for name in [
            "a b", "it's", "$HOME", "~x", "a;b&c|d", "*.toml", "`x`", "#1", "a\\b", "\"q\"", "!x",
            "=x", "-x",
        ] {
            let line = format!("printf %s {}", typed(Path::new(name)));
            let shell = std::process::Command::new("sh")
                .args(["-c", &line])
                .output()
                .unwrap();
            let read = String::from_utf8(shell.stdout).unwrap();
            assert_eq!(read.strip_prefix("./").unwrap_or(&read), name);
        }
    }

    #[test]
    fn nothing_steers_the_terminal() {
        assert_eq!(clean("a\u{1b}[31mb\tc"), "a\u{fffd}[31mb c");
    }
}
