//! A person who types answers.

#![allow(clippy::expect_used, reason = "a test stops at the first surprise")]

use std::io::Write as _;
use std::path::Path;
use std::process::{Output, Stdio};

use super::program::program;

/// Runs the program and types this.
pub fn type_in(folder: &Path, line: &[&str], typed: &str) -> Output {
    let mut child = program(folder)
        .args(line)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("its input");
    // The program may leave before it has read everything.
    let _ = stdin.write_all(typed.as_bytes());
    drop(stdin);
    child.wait_with_output().expect("the program ends")
}
