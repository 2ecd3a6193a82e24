//! Scripts that print a line a check: `ok` and what held, or what did not.

#![allow(clippy::panic, reason = "a test stops at the first surprise")]

use std::process::Command;

/// Runs such a script. It must succeed and print more than so many checks that held: a script that checked
/// nothing must not pass for one that found nothing.
pub fn all_hold(script: &mut Command, more_than: usize) {
    let output = script
        .output()
        .unwrap_or_else(|error| panic!("{script:?}: {error}"));
    let text = String::from_utf8_lossy(&output.stdout);
    println!("{text}");
    let (held, failed): (Vec<&str>, Vec<&str>) =
        text.lines().partition(|line| line.starts_with("ok"));
    assert!(
        output.status.success(),
        "{}\n{}",
        failed.join("\n"),
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(
        held.len() > more_than,
        "only {} checks ran\n{text}",
        held.len()
    );
}
