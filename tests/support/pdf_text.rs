//! The texts of a PDF.

#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use std::path::Path;
use std::process::Command;

use super::process::run;

/// What pdftotext reads of all pages, laid out as it stands there.
pub fn pdf_text(file: &Path) -> String {
    let mut command = Command::new("pdftotext");
    let output = run(command.arg("-layout").arg(file).arg("-"), "pdftotext");
    String::from_utf8(output.stdout).unwrap()
}
