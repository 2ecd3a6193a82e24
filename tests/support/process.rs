//! Running other programs.

#![allow(clippy::panic, reason = "a test stops at the first surprise")]

use std::process::{Command, Output};

/// Runs a command to its end; panics with what it printed where it fails.
pub fn run(command: &mut Command, what: &str) -> Output {
    let output = command
        .output()
        .unwrap_or_else(|error| panic!("{what}: {error}"));
    assert!(
        output.status.success(),
        "{what} failed:\n{}\n{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    output
}
