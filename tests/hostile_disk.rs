//! Disks that are full: of files, by a limit on their size, and truly; of what is printed. Everything is
//! as it was then, and is said so; but files that are there are not denied.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use hostile::commands::{CASES, ready, shell};
use hostile::limits::{limited, shell_in};
use hostile::{PROGRAM, done, err, found, names, run, two_blocks, with_demo};

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

/// The limit is set one byte below each file that is larger than all before it in the order of writing:
/// that file it is that fails, the smaller ones before it being written already.
#[cfg(target_os = "linux")]
#[test]
fn a_file_that_cannot_be_written_whole_leaves_everything_as_it_was() {
    let folder = with_demo();
    fs::write(folder.path().join("b.toml"), two_blocks()).expect("a file");
    let listed = run(folder.path(), &["make", "b.toml", "--quiet"]);
    done(&listed);
    let sizes = found(&folder.path().join("output/b"));
    done(&run(
        folder.path(),
        &["make", "a.toml", "--out", "output/b"],
    ));
    let before = found(&folder.path().join("output"));
    let mut largest = 0;
    let mut failed = Vec::new();
    for name in out(&listed).lines() {
        let size = sizes[name.trim_start_matches("output/b/")].len();
        if size <= largest {
            continue;
        }
        largest = size;
        let Some(said) = limited(folder.path(), size - 1, "make b.toml") else {
            return;
        };
        let text = err(&said);
        assert_eq!(said.status.code(), Some(3), "{name}: {text}");
        let words = format!(
            "error: nothing was written: cannot write {name}: the system allows no file of that size"
        );
        assert!(text.starts_with(&words), "{name}: {text}");
        assert!(
            text.contains("earlier run: they stay as they were"),
            "{text}"
        );
        assert!(!text.contains("the program failed"), "{text}");
        let left = found(&folder.path().join("output"));
        assert!(left == before, "{name}: {:?}", names(&left));
        failed.push(name.to_owned());
    }
    // The first of all, the largest of all, and one between.
    assert!(failed.len() >= 3 && largest > 100_000, "{failed:?}");
    // The same without an earlier run: not even the folder is left.
    let said = limited(folder.path(), 512, "make b.toml --out new/folder").expect("prlimit");
    assert_eq!(said.status.code(), Some(3), "{}", err(&said));
    assert!(!folder.path().join("new").exists());
}

/// A small disk of our own, where the system lets a person have one: filled up to one file after the
/// other. What is left there is copied out before the disk goes.
#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_is_full_leaves_everything_as_it_was() {
    let folder = with_demo();
    fs::write(folder.path().join("b.toml"), two_blocks()).expect("a file");
    done(&run(folder.path(), &["make", "a.toml"]));
    let before = found(&folder.path().join("output/a"));
    fs::create_dir(folder.path().join("disk")).expect("a folder");
    // What the old set takes, in pages of 4 KiB, and so much more, in KiB.
    let taken: usize = before
        .values()
        .map(|bytes| bytes.len().div_ceil(4096) * 4)
        .sum();
    let more: &[usize] = if cfg!(debug_assertions) {
        &[0, 100, 400, 800]
    } else {
        &[0, 40, 100, 200, 300, 400, 500, 600, 700, 800, 900]
    };
    let mut failed = Vec::new();
    for more in more {
        let script = format!(
            "mount -t tmpfs -o size={}k none disk || exit 97; cp -r output/a disk/a || exit 98; \
             \"$0\" make b.toml --out disk/a; status=$?; cp -r disk left || exit 98; exit $status",
            taken + more
        );
        let said = Command::new("unshare")
            .args(["-rm", "sh", "-c", &script, PROGRAM])
            .current_dir(folder.path())
            .output();
        let text = match &said {
            Ok(said) => err(said),
            Err(error) => error.to_string(),
        };
        let status = said.ok().and_then(|said| said.status.code());
        // 1 is unshare's own, where a person may have no disk of their own; the design is not stopped.
        if status.is_none() || status == Some(97) || status == Some(1) && !text.contains("left out")
        {
            eprintln!("left out: no disk of our own here: {text}");
            return;
        }
        assert_eq!(status, Some(3), "{more}: {text}");
        assert!(text.contains("the disk is full"), "{more}: {text}");
        assert!(
            text.starts_with("error: nothing was written: cannot write disk/a"),
            "{text}"
        );
        assert!(!text.contains("the program failed"), "{text}");
        let left = found(&folder.path().join("left/a"));
        assert!(left == before, "{more}: {:?}", names(&left));
        fs::remove_dir_all(folder.path().join("left")).expect("gone");
        let named = text.lines().next().unwrap_or_default().to_owned();
        if !failed.contains(&named) {
            failed.push(named);
        }
    }
    eprintln!("{failed:#?}");
    assert!(failed.len() * 2 > more.len(), "{failed:?}");
}

/// A disk fault is the program's failure, status 3, whatever the command; and nothing is left.
#[test]
fn a_full_disk_fails_every_command_that_writes() {
    for case in CASES {
        let folder = ready();
        let before = found(folder.path());
        let line = format!("trap '' XFSZ; ulimit -f 1; exec \"$0\" {}", case.line);
        let said = shell(folder.path(), &line);
        assert_eq!(said.status.code(), Some(3), "{}: {}", case.line, err(&said));
        let words = [case.first, "the system allows no file of that size"];
        for word in words {
            assert!(err(&said).contains(word), "{}: {}", case.line, err(&said));
        }
        let left = found(folder.path());
        assert!(left == before, "{}: {:?}", case.line, names(&left));
        for made in ["sheets", "map"] {
            assert!(!folder.path().join(made).exists(), "{made}");
        }
    }
}

/// Standard output that takes nothing, as where a disk is full. A command that only prints has failed. One
/// that writes files has done its work: status 3 would say that there are none.
#[cfg(target_os = "linux")]
#[test]
fn a_full_standard_output() {
    let full = |folder: &Path, line: &str| {
        shell_in(folder, &format!("exec \"$0\" {line} > /dev/full"), PROGRAM)
    };
    let folder = with_demo();
    for line in ["check a.toml", "manual", "schema", "check --json a.toml"] {
        let said = full(folder.path(), line);
        assert_eq!(said.status.code(), Some(3), "{line}: {}", err(&said));
        let words = "error: output cannot be written: the disk is full";
        assert!(err(&said).contains(words), "{line}: {}", err(&said));
        assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 1);
    }
    let whole = with_demo();
    for line in [
        "make a.toml",
        "make --json a.toml",
        "make --quiet a.toml",
        "card",
        "start mine.toml",
        "vary a.toml slots.rib=8..12:2",
    ] {
        done(&shell_in(
            whole.path(),
            &format!("exec \"$0\" {line}"),
            PROGRAM,
        ));
        let said = full(folder.path(), line);
        assert_eq!(said.status.code(), Some(0), "{line}: {}", err(&said));
        let words = "the files were written and are whole, but their list cannot be printed: the disk is full";
        assert!(err(&said).contains(words), "{line}: {}", err(&said));
        assert!(found(folder.path()) == found(whole.path()), "{line}");
    }
}
