//! Disks that are full, runs killed at any moment, two runs at once. Afterwards there is a complete set of
//! files, or what was there before; never half a file under its final name. The single files of `start`,
//! `card` and `manual` among them.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use tempfile::TempDir;

use hostile::{
    PROGRAM, complete, demo, done, err, folder, found, names, nothing_hidden, run, start,
    two_blocks, with_demo,
};

/// A disk that is full is shown to the program by the shell's limit on the size of a file: from some
/// byte on the system refuses to write, as a full disk does, but says so with another number. (A disk of
/// our own would need the right to mount one.) The limit is moved through the sizes of all files.
#[test]
fn a_full_disk_leaves_everything_as_it_was() {
    let folder = with_demo();
    done(&run(folder.path(), &["make", "a.toml"]));
    let before = found(&folder.path().join("output"));
    fs::write(folder.path().join("a.toml"), two_blocks()).expect("a file");
    // In blocks of 512 bytes, as POSIX has it; some shells count kilobytes.
    for blocks in [0, 1, 8, 16, 40, 64] {
        let shell = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" make a.toml 2>&1 | cat");
        let said = Command::new("sh")
            .args(["-c", &shell, PROGRAM])
            .current_dir(folder.path())
            .output()
            .expect("a shell");
        let text = String::from_utf8_lossy(&said.stdout).into_owned();
        assert!(
            text.contains("nothing was written: cannot write output/a/"),
            "{blocks}: {text}"
        );
        assert!(
            text.contains("the system allows no file of that size"),
            "{blocks}: {text}"
        );
        assert_eq!(found(&folder.path().join("output")), before, "{blocks}");
    }
    // The same without an earlier run: not even the folder is left.
    let shell = "trap '' XFSZ; ulimit -f 1; exec \"$0\" make a.toml --out new/folder";
    let said = Command::new("sh")
        .args(["-c", shell, PROGRAM])
        .current_dir(folder.path())
        .output()
        .expect("a shell");
    assert_eq!(said.status.code(), Some(3), "{}", err(&said));
    assert!(!folder.path().join("new").exists());
}

/// A command and what it writes: the files of `start`, `card` and `manual` stand alone, wherever the
/// person wants them; those of `class` and `vary` are put into a folder.
struct Case {
    line: &'static str,
    /// The file that is cut short first.
    first: &'static str,
}

const CASES: [Case; 6] = [
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
fn ready() -> TempDir {
    let folder = with_demo();
    fs::create_dir(folder.path().join("heads")).expect("a folder");
    fs::write(folder.path().join("heads/a.toml"), demo("dunlin")).expect("a file");
    fs::write(folder.path().join("answers"), ANSWERS).expect("a file");
    folder
}

/// Runs a line of the shell with `$0` the program and the answers to be read.
fn shell(folder: &Path, line: &str) -> Output {
    let answers = fs::File::open(folder.join("answers")).expect("the answers");
    Command::new("sh")
        .args(["-c", line, PROGRAM])
        .current_dir(folder)
        .stdin(Stdio::from(answers))
        .output()
        .expect("a shell")
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

/// Without the trap, the system kills whoever writes past the limit, in the middle of the file: always
/// at the same byte, which no clock could promise.
#[test]
fn a_kill_within_a_single_file() {
    for case in CASES {
        let folder = ready();
        let run = format!("exec \"$0\" {}", case.line);
        done(&shell(folder.path(), &run));
        let whole = fs::read(folder.path().join(case.first)).expect("the file");
        for limit in [0_usize, 1, 2, 4, 8] {
            // In blocks of 512 bytes, as POSIX has it; some shells count kilobytes.
            if limit * 1024 >= whole.len() {
                continue;
            }
            let folder = ready();
            let before = found(folder.path());
            let line = format!("ulimit -c 0; ulimit -f {limit}; {run}");
            let killed = shell(folder.path(), &line);
            let place = format!("{} at {limit}", case.line);
            assert_eq!(killed.status.code(), None, "{place}: {}", err(&killed));
            let mut left = found(folder.path());
            let half: Vec<Vec<u8>> = left
                .extract_if(.., |name, _| {
                    name.split('/').any(|part| part.starts_with('.'))
                })
                .map(|(_, bytes)| bytes)
                .collect();
            // Writing had begun, and the whole was not there yet.
            assert_eq!(half.len(), 1, "{place}");
            assert!(
                half[0].len() < whole.len() && whole.starts_with(&half[0]),
                "{place}"
            );
            assert_eq!(half[0].is_empty(), limit == 0, "{place}");
            assert!(left == before, "{place}: {:?}", names(&left));
            // What a kill left does not stand in the way of the next run.
            done(&shell(folder.path(), &run));
            let made = fs::read(folder.path().join(case.first)).expect("the file");
            assert!(made == whole, "{place}");
        }
    }
}

/// Standard output that takes nothing, as where a disk is full: said, and no panic.
#[cfg(target_os = "linux")]
#[test]
fn a_full_standard_output() {
    let folder = with_demo();
    let full = fs::File::options()
        .write(true)
        .open("/dev/full")
        .expect("/dev/full");
    let said = Command::new(PROGRAM)
        .args(["make", "a.toml"])
        .current_dir(folder.path())
        .stdout(full)
        .output()
        .expect("its end");
    assert_eq!(said.status.code(), Some(3), "{}", err(&said));
    assert!(
        err(&said).contains("output cannot be written"),
        "{}",
        err(&said)
    );
}
#[test]
fn two_runs_at_once_leave_the_whole_set_of_one() {
    let folder = folder();
    let (first, second) = (demo("dunlin"), two_blocks());
    fs::create_dir(folder.path().join("other")).expect("a folder");
    fs::write(folder.path().join("a.toml"), &first).expect("a file");
    fs::write(folder.path().join("other/a.toml"), &second).expect("a file");
    let sets = [complete(&first), complete(&second)];
    assert_ne!(names(&sets[0]), names(&sets[1]));
    let mut ended = [0, 0];
    let lines = [["make", "a.toml"], ["make", "other/a.toml"]];
    let mut lengths = [Duration::ZERO; 2];
    for (line, length) in lines.iter().zip(&mut lengths) {
        let begun = Instant::now();
        done(&run(folder.path(), line));
        *length = begun.elapsed();
    }
    // The slower one first, the other so much later that they end together, more or less.
    let ahead = lengths[1].saturating_sub(lengths[0]);
    let rounds = if cfg!(debug_assertions) { 4 } else { 12 };
    for round in 0..rounds {
        let slower = start(folder.path(), &lines[1]);
        std::thread::sleep(ahead.mul_f64(f64::from(round) / f64::from(rounds) * 2.0));
        let faster = start(folder.path(), &lines[0]);
        let third = (round % 3 == 0).then(|| start(folder.path(), &lines[0]));
        for run in [Some(slower), Some(faster), third].into_iter().flatten() {
            done(&run.wait_with_output().expect("its end"));
        }
        let left = found(&folder.path().join("output/a"));
        let whose = sets.iter().position(|set| *set == left);
        let whose = whose.unwrap_or_else(|| panic!("a mixed set: {:?}", names(&left)));
        ended[whose] += 1;
    }
    eprintln!("last come: {ended:?}");
}

/// Kills `make` at moments spread over its whole run.
#[test]
fn a_kill_at_any_moment() {
    let folder = folder();
    let texts = [demo("dunlin"), two_blocks()];
    let sets = [complete(&texts[0]), complete(&texts[1])];
    let file = folder.path().join("a.toml");
    let made = folder.path().join("output/a");
    let whole = |place: usize| {
        fs::write(&file, &texts[place]).expect("a file");
        let begun = Instant::now();
        done(&run(folder.path(), &["make", "a.toml"]));
        begun.elapsed()
    };
    let length = whole(0).max(whole(0));
    let (mut old, mut new, mut between) = (0, 0, 0);
    let kills = if cfg!(debug_assertions) { 15 } else { 60 };
    let mut before = 0;
    for kill in 0..kills {
        let next = 1 - before;
        fs::write(&file, &texts[next]).expect("a file");
        let mut child = start(folder.path(), &["make", "a.toml"]);
        // Most of them late, where the files are written.
        let share = 1.0 - f64::from((kill * 37) % kills) / f64::from(kills) * 0.6;
        std::thread::sleep(length.mul_f64(share * 1.05));
        child.kill().expect("its end");
        child.wait().expect("its end");
        let mut left = found(&made);
        left.retain(|name, _| !name.starts_with('.'));
        if left == sets[before] {
            old += 1;
        } else if left == sets[next] {
            new += 1;
            before = next;
        } else {
            // In the millisecond of the exchange: whole files of both, and nothing that says complete.
            between += 1;
            assert!(!left.contains_key("report.json"), "{:?}", names(&left));
            for (name, bytes) in &left {
                let known = sets.iter().any(|set| set.get(name) == Some(bytes));
                assert!(known, "{name} is half a file");
            }
            whole(before);
        }
    }
    eprintln!("{kills} kills: {old} left the old set, {new} the new one, {between} neither whole");
    assert!(old > 0, "no kill came before the exchange");
    // The next run leaves nothing of those that were killed.
    whole(0);
    let left = found(&made);
    nothing_hidden(&left);
    assert_eq!(left, sets[0]);
}
