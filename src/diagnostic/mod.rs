//! One type for every fault found in what the user gave us. Drawing it for a person is in
//! [`render`]; nothing here prints.

use std::path::PathBuf;

pub(crate) mod meant;
pub mod render;

/// One fault in the input, with all a person needs to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// File as the user named it; `None` for the command line.
    pub file: Option<PathBuf>,
    /// 1-based line and column (in characters); `None` where the whole file is meant.
    pub at: Option<(usize, usize)>,
    /// The source line as read, without its end; empty where there is none or it is too long to show.
    pub source_line: String,
    /// Number of characters of the offending text on that line (at least 1 where `at` is given).
    pub span_len: usize,
    /// Dotted key, such as `slots.rib`; empty where none applies.
    pub key: String,
    /// What is wrong, one sentence.
    pub message: String,
    /// What to write instead.
    pub hint: Option<String>,
}

impl Diagnostic {
    /// A finding that belongs to no place in a file.
    #[must_use]
    pub fn whole(file: Option<PathBuf>, message: impl Into<String>, hint: Option<String>) -> Self {
        Diagnostic {
            file,
            at: None,
            source_line: String::new(),
            span_len: 0,
            key: String::new(),
            message: message.into(),
            hint,
        }
    }
}
