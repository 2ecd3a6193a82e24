//! The PDF tools of poppler-utils.

use std::path::Path;
use std::process::Command;

use super::process::run;

/// Runs one of the tools on a file; what it prints.
pub fn poppler(tool: &str, arguments: &[&str], file: &Path) -> Vec<u8> {
    run(Command::new(tool).args(arguments).arg(file), tool).stdout
}
