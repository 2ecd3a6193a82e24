//! The commands that write files, other than `make`, each with what it needs.

#![allow(
    dead_code,
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

use super::{PROGRAM, demo, with_demo};

/// A command and what it writes: the files of `start`, `card` and `manual` stand alone, wherever the
/// person wants them; those of `class` and `vary` are put into a folder.
pub struct Case {
    pub line: &'static str,
    /// The file that is cut short first.
    pub first: &'static str,
}

pub const CASES: [Case; 6] = [
    Case {
        line: "start six-string new.toml",
        first: "new.toml",
    },
    Case {
        line: "start --ask --mm new.toml",
        first: "new.toml",
    },
    Case {
        line: "card --out card.pdf",
        first: "card.pdf",
    },
    Case {
        line: "manual --out .",
        first: "barrelhead.1",
    },
    Case {
        line: "class heads --out sheets",
        first: "sheets/class.pdf",
    },
    Case {
        line: "vary a.toml slots.rib=8..12:0.04 --out map",
        first: "map/variants.csv",
    },
];

/// Answers to the ten questions, for the command that asks.
const ANSWERS: &str = "10\n30.5\n19\n80\n17.4\n105.5\n20.4\n63\n71\n184\n";

/// A folder with the small demo, and one with it as the only head of a class.
pub fn ready() -> TempDir {
    let folder = with_demo();
    fs::create_dir(folder.path().join("heads")).expect("a folder");
    fs::write(folder.path().join("heads/a.toml"), demo("dunlin")).expect("a file");
    fs::write(folder.path().join("answers"), ANSWERS).expect("a file");
    folder
}

/// Runs a line of the shell with `$0` the program and the answers to be read.
pub fn shell(folder: &Path, line: &str) -> Output {
    let answers = fs::File::open(folder.join("answers")).expect("the answers");
    Command::new("sh")
        .args(["-c", line, PROGRAM])
        .current_dir(folder)
        .stdin(Stdio::from(answers))
        .output()
        .expect("a shell")
}
