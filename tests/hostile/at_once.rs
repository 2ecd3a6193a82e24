//! The program as run on files it is to refuse, and ended where it does not end by itself.

#![allow(
    dead_code,
    clippy::expect_used,
    reason = "each test uses its part; one that cannot set up its case should say so and fail"
)]

use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use super::{PROGRAM, err};

/// Longer than any refusal may take, in a debug build on a busy machine; a hang shows as more.
const AT_ONCE: Duration = Duration::from_secs(20);

/// Runs the program; one that does not end is ended, and fails the test.
pub fn run(folder: &Path, line: &[&str]) -> Output {
    let mut child = Command::new(PROGRAM)
        .args(line)
        .current_dir(folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let begun = Instant::now();
    while child.try_wait().expect("its state").is_none() {
        if begun.elapsed() > AT_ONCE {
            child.kill().expect("an end to it");
            child.wait().expect("its end");
            assert!(begun.elapsed() < AT_ONCE, "{line:?} does not end");
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    child.wait_with_output().expect("what it said")
}

/// `check` and `make` both refuse the file with status 2 and these words, and write nothing.
pub fn refused(folder: &Path, file: &str, words: &[&str]) {
    for command in ["check", "make"] {
        let said = run(folder, &[command, file]);
        let text = err(&said);
        assert_eq!(said.status.code(), Some(2), "{command} {file}: {text}");
        for word in words {
            assert!(text.contains(word), "{command} {file}: {word}: {text}");
        }
        assert!(!text.contains("panicked"), "{text}");
    }
    assert!(!folder.join("output").exists(), "{file}");
}
