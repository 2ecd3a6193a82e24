//! The bytes of a parameter file: read with a size limit, decoded, and cut into lines so that
//! any byte offset can be named as line and column.

use std::fs::File;
use std::io::{ErrorKind, Read as _};
use std::ops::Range;
use std::path::{Path, PathBuf};

use crate::diagnostic::Diagnostic;

/// Largest parameter file read, in bytes (1 MiB). A whole design is a few thousand.
pub const LARGEST_FILE: u64 = 1 << 20;

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

/// Why a file gave no text.
#[derive(Debug)]
pub(crate) struct LoadError {
    /// A predicate, such as "does not exist".
    pub message: String,
    /// What to do.
    pub hint: Option<String>,
    /// 1-based line and its text, where one line is at fault.
    pub spot: Option<(usize, String)>,
}

impl LoadError {
    fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        LoadError {
            message: message.into(),
            hint: Some(hint.into()),
            spot: None,
        }
    }
}

/// Reads a file as UTF-8 text, with or without a byte-order mark.
pub(crate) fn load(path: &Path) -> Result<String, LoadError> {
    bytes(path).and_then(decode)
}

/// The bytes of a file, as reading it as a parameter file would take them; none where that would be
/// refused.
#[must_use]
pub fn bytes_of(path: &Path) -> Option<Vec<u8>> {
    bytes(path).ok()
}

fn bytes(path: &Path) -> Result<Vec<u8>, LoadError> {
    let failed = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => LoadError::new(
            "does not exist",
            "the path of a parameter file that is there",
        ),
        ErrorKind::PermissionDenied => LoadError::new(
            "may not be read",
            "the path of a file that you have leave to read",
        ),
        _ => LoadError {
            message: format!("cannot be read: {error}"),
            hint: None,
            spot: None,
        },
    };
    let meta = std::fs::metadata(path).map_err(failed)?;
    if meta.is_dir() {
        return Err(LoadError::new(
            "is a folder",
            "the path of a parameter file, ending in .toml",
        ));
    }
    // A pipe may never end, or never begin; and a design is read again for its room to move.
    if !meta.is_file() {
        return Err(LoadError::new(
            "is a pipe or a device, not a file on a disk",
            "the path of a parameter file, ending in .toml",
        ));
    }
    let too_large = || {
        LoadError::new(
            "is larger than 1 MiB, so it is not a parameter file",
            "the path of a parameter file, ending in .toml",
        )
    };
    if meta.len() > LARGEST_FILE {
        return Err(too_large());
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(failed)?;
    file.take(LARGEST_FILE + 1)
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(too_large());
    }
    Ok(bytes)
}

fn decode(bytes: Vec<u8>) -> Result<String, LoadError> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(LoadError::new(
            "is UTF-16 text",
            "the same text, saved by the editor as UTF-8",
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let byte = bytes.get(good).copied().unwrap_or_default();
        let head = bytes.get(..good).unwrap_or_default();
        let line = head.iter().filter(|b| **b == b'\n').count();
        let whole = bytes.split(|b| *b == b'\n').nth(line).unwrap_or_default();
        LoadError {
            message: format!("is not UTF-8 text: this line holds the byte 0x{byte:02X}"),
            hint: Some("the same text, saved by the editor as UTF-8".to_owned()),
            spot: Some((
                line + 1,
                String::from_utf8_lossy(whole).trim_end().to_owned(),
            )),
        }
    })
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

#[cfg(test)]
mod tests {
    use super::*;

    fn source(text: &str) -> Source {
        Source::new("x.toml".into(), PathBuf::new(), text)
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

    #[test]
    fn a_wrong_byte_is_named_with_its_line() {
        let error = decode(b"a = 1\nb = \"\xe9\"\n".to_vec()).unwrap_err();
        assert!(error.message.contains("0xE9"));
        assert_eq!(error.spot.unwrap().0, 2);
        assert!(
            decode(vec![0xff, 0xfe, b'a', 0])
                .unwrap_err()
                .message
                .contains("UTF-16")
        );
    }
}
