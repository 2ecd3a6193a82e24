//! Disks that take only so much.

use std::path::Path;
use std::process::{Command, Output};

#[cfg(target_os = "linux")]
use super::{PROGRAM, left_out};

/// Runs the program where no file may grow beyond so many bytes. The system refuses to write, as a full
/// disk does, but says so with another number. `None` without the means.
#[cfg(target_os = "linux")]
pub fn limited(folder: &Path, bytes: usize, line: &str) -> Option<Output> {
    // 0: as many threads as usual.
    limited_to(folder, bytes, 0, line)
}

/// The same with so many threads.
#[cfg(target_os = "linux")]
pub fn limited_to(folder: &Path, bytes: usize, threads: usize, line: &str) -> Option<Output> {
    let line = format!(
        "trap '' XFSZ; export RAYON_NUM_THREADS={threads}; exec prlimit --fsize={bytes} -- \"$0\" {line}"
    );
    let said = shell_in(folder, &line, PROGRAM);
    if said.status.code() == Some(127) {
        left_out("this test needs prlimit (util-linux)");
        return None;
    }
    Some(said)
}

/// A line of the shell with `$0` the program.
pub fn shell_in(folder: &Path, line: &str, program: &str) -> Output {
    Command::new("sh")
        .args(["-c", line, program])
        .current_dir(folder)
        .output()
        .expect("a shell")
}
