//! What a run of the program came to.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

use std::process::Output;

/// What it printed.
pub fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

/// What it printed on standard error.
pub fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

/// Its exit status.
pub fn status(output: &Output) -> i32 {
    let code = output.status.code();
    code.unwrap_or_else(|| panic!("ended by a signal: {}", err(output)))
}
