//! The text of a parameter file, cut into lines so that any byte offset can be named as line and column.

use std::fmt;
use std::ops::Range;
use std::path::PathBuf;
use std::sync::Arc;

use crate::diagnostic::Diagnostic;

/// A longer line, in bytes, is not kept with a finding: nobody reads it, and a thousand findings
/// on one line of a mebibyte would fill the memory.
const LONGEST_LINE: usize = 2000;

/// One file as text, with its name as the user gave it.
#[derive(Debug)]
pub(crate) struct Source {
    /// Name as the user gave it, or as put together from a `from`.
    pub path: PathBuf,
    /// Folder that a `from` in this file starts at.
    pub base: PathBuf,
    text: String,
    line_starts: Vec<usize>,
}

impl Source {
    /// Takes a text; a leading byte-order mark is dropped.
    pub fn new(path: PathBuf, base: PathBuf, text: &str) -> Self {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text).to_owned();
        let line_starts = std::iter::once(0)
            .chain(text.match_indices('\n').map(|(at, _)| at + 1))
            .collect();
        Source {
            path,
            base,
            text,
            line_starts,
        }
    }

    /// The whole text, without byte-order mark.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// 0-based line of a byte offset.
    pub fn line_index(&self, offset: usize) -> usize {
        self.line_starts
            .partition_point(|start| *start <= offset)
            .saturating_sub(1)
    }

    /// Byte offset at which a 0-based line begins.
    pub fn line_start(&self, index: usize) -> usize {
        self.line_starts
            .get(index)
            .copied()
            .unwrap_or(self.text.len())
    }

    /// A 0-based line without its end.
    pub fn line_text(&self, index: usize) -> &str {
        let start = self.line_start(index);
        let end = self.line_start(index + 1);
        let line = self.text.get(start..end).unwrap_or_default();
        line.strip_suffix('\n')
            .map_or(line, |l| l.strip_suffix('\r').unwrap_or(l))
    }

    /// The bytes of a 1-based line that a fault found later is marked under: what stands behind the first
    /// equals sign, or the whole line.
    pub fn behind_equals(&self, line: usize) -> Range<usize> {
        let index = line.saturating_sub(1);
        let (start, line) = (self.line_start(index), self.line_text(index));
        let from = line.find('=').map_or(0, |at| at + 1);
        let rest = line.get(from..).unwrap_or_default();
        // A number sign in a text begins no comment; then the marker goes on under it.
        let rest = match rest.split_once('#') {
            Some((value, _)) if !rest.contains(['"', '\'']) => value,
            _ => rest,
        };
        let from = start + from + (rest.len() - rest.trim_start().len());
        from..from + rest.trim().len()
    }

    /// A finding at a span of bytes; a span of several lines is marked on its first.
    pub fn diagnostic(
        &self,
        span: &Range<usize>,
        key: &str,
        message: String,
        hint: Option<String>,
    ) -> Diagnostic {
        let index = self.line_index(span.start);
        let start = self.line_start(index);
        let line = self.line_text(index);
        let first = span.start.saturating_sub(start).min(line.len());
        let last = span.end.saturating_sub(start).clamp(first, line.len());
        let count = |range: Range<usize>| line.get(range).map_or(0, |part| part.chars().count());
        Diagnostic {
            file: Some(self.path.clone()),
            at: Some((index + 1, count(0..first) + 1)),
            source_line: if line.len() > LONGEST_LINE {
                String::new()
            } else {
                line.to_owned()
            },
            span_len: count(first..last).max(1),
            key: key.to_owned(),
            message,
            hint,
        }
    }
}

/// The texts a design was read from, for faults that show only once its positions are known.
#[derive(Clone, Default)]
pub(crate) struct Sources(pub Arc<[Arc<Source>]>);

impl PartialEq for Sources {
    /// Designs are told apart by what was read, not by the text it was read from.
    fn eq(&self, _: &Sources) -> bool {
        true
    }
}

impl fmt::Debug for Sources {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let paths = self.0.iter().map(|source| &source.path);
        f.debug_list().entries(paths).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn source(text: &str) -> Source {
        Source::new("x.toml".into(), PathBuf::new(), text)
    }

    #[test]
    fn a_line_is_marked_under_its_value() {
        let s = source("[a]\r\n  wide = 30.5 # mm\nb = \"#1\" # x\n\u{e9} = [1, 2]");
        let behind = |line| s.text().get(s.behind_equals(line));
        assert_eq!(behind(1), Some("[a]"));
        assert_eq!(behind(2), Some("30.5"));
        assert_eq!(behind(3), Some("\"#1\" # x"));
        assert_eq!(behind(4), Some("[1, 2]"));
        // Beyond the last line there is nothing to mark.
        assert_eq!(behind(9), Some(""));
    }

    #[test]
    fn offsets_become_lines_and_columns_in_characters() {
        let s = source("\u{feff}a = 1\r\nü = \"é\"  # x\n");
        assert_eq!(s.line_text(0), "a = 1");
        assert_eq!(s.line_text(1), "ü = \"é\"  # x");
        let at = s.text().find("\"é").unwrap();
        let d = s.diagnostic(&(at..at + 4), "ü", String::new(), None);
        assert_eq!((d.at, d.span_len), (Some((2, 5)), 3));
    }

    #[test]
    fn spans_past_the_line_or_the_text_are_cut() {
        let s = source("ab\ncd");
        assert_eq!(s.diagnostic(&(1..5), "", String::new(), None).span_len, 1);
        let d = s.diagnostic(&(99..120), "", String::new(), None);
        assert_eq!((d.at, d.span_len), (Some((2, 3)), 1));
        assert_eq!(
            source("").diagnostic(&(0..0), "", String::new(), None).at,
            Some((1, 1))
        );
    }
}
