//! The `barrelhead` command: maps what was done to an exit status, nothing else.

use std::process::ExitCode;

fn main() -> ExitCode {
    barrelhead::cli::run(std::env::args_os()).into()
}
