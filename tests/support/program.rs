//! The program as a person runs it.

#![allow(clippy::expect_used, reason = "a test stops at the first surprise")]

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Output};

/// The program in a folder, whatever the shell says of colours.
pub fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
    command.current_dir(folder);
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command
}

/// Runs it with these words.
pub fn run<S: AsRef<OsStr>>(folder: &Path, line: &[S]) -> Output {
    let output = program(folder).args(line).output();
    output.expect("the program runs")
}
