//! Runs killed at any moment, and at a set byte of a file. Afterwards there is a complete set of files,
//! or what was there before; never half a file under its final name.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use tempfile::TempDir;

use hostile::commands::{CASES, ready, shell};
use hostile::{
    complete, demo, done, err, folder, found, names, nothing_hidden, run, start, two_blocks,
};

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

type Files = BTreeMap<String, Vec<u8>>;

/// Two designs that take turns in one output folder, and what was found there after kills.
struct Turns {
    folder: TempDir,
    texts: [String; 2],
    sets: [Files; 2],
    made: PathBuf,
    /// Which of the two sets stands there.
    stands: usize,
    old: u32,
    new: u32,
    between: u32,
}

impl Turns {
    fn begin() -> Turns {
        let folder = folder();
        let texts = [demo("dunlin"), two_blocks()];
        let sets = [complete(&texts[0]), complete(&texts[1])];
        let mut turns = Turns {
            made: folder.path().join("output/a"),
            folder,
            texts,
            sets,
            stands: 0,
            old: 0,
            new: 0,
            between: 0,
        };
        turns.whole(0);
        turns
    }

    /// A run that nobody kills; how long it takes.
    fn whole(&mut self, which: usize) -> Duration {
        fs::write(self.folder.path().join("a.toml"), &self.texts[which]).expect("a file");
        let begun = Instant::now();
        done(&run(self.folder.path(), &["make", "a.toml"]));
        self.stands = which;
        begun.elapsed()
    }

    /// Runs the design that does not stand there, killed as soon as `enough` says so.
    fn kill(&mut self, enough: impl Fn(&Turns) -> bool) {
        let next = 1 - self.stands;
        fs::write(self.folder.path().join("a.toml"), &self.texts[next]).expect("a file");
        let mut child = start(self.folder.path(), &["make", "a.toml"]);
        while !enough(self) && child.try_wait().expect("its state").is_none() {}
        child.kill().expect("its end");
        child.wait().expect("its end");
        self.look(next);
    }

    fn look(&mut self, next: usize) {
        let mut left = found(&self.made);
        left.retain(|name, _| !name.starts_with('.'));
        if left == self.sets[self.stands] {
            self.old += 1;
        } else if left == self.sets[next] {
            self.new += 1;
            self.stands = next;
        } else {
            // In the millisecond of the exchange: whole files of both, and nothing that says complete.
            self.between += 1;
            assert!(!left.contains_key("report.json"), "{:?}", names(&left));
            for (name, bytes) in &left {
                let known = self.sets.iter().any(|set| set.get(name) == Some(bytes));
                assert!(known, "{name} is half a file");
            }
            self.whole(self.stands);
        }
    }

    /// The next run leaves nothing of those that were killed.
    fn end(mut self, what: &str) {
        eprintln!(
            "{what}: {} left the old set, {} the new one, {} neither whole",
            self.old, self.new, self.between
        );
        self.whole(0);
        let left = found(&self.made);
        nothing_hidden(&left);
        assert_eq!(left, self.sets[0]);
    }
}

/// Kills `make` at moments spread over its whole run, then round its end: later after a kill that came
/// too early to change anything, earlier after one that came too late.
#[test]
fn a_kill_at_any_moment() {
    let mut turns = Turns::begin();
    let length = turns.whole(1).max(turns.whole(0));
    let kills: u32 = if cfg!(debug_assertions) { 14 } else { 60 };
    let spread = kills / 3;
    let mut share = 1.0;
    let mut kill = 0;
    // Beyond that number only until there was one of each.
    while kill < kills || ((turns.old == 0 || turns.new == 0) && kill < 3 * kills) {
        let after = if kill < spread {
            length.mul_f64(f64::from(kill) / f64::from(spread))
        } else {
            length.mul_f64(share)
        };
        let (begun, new, old) = (Instant::now(), turns.new, turns.old);
        turns.kill(|_| {
            std::thread::sleep(Duration::from_micros(200));
            begun.elapsed() >= after
        });
        if turns.new > new {
            share *= 0.93;
        } else if turns.old > old && kill >= spread {
            share *= 1.09;
        }
        kill += 1;
    }
    assert!(turns.old > 0, "no kill came before the exchange");
    assert!(turns.new > 0, "no kill came after the exchange");
    turns.end("at any moment");
}

/// Kills `make` as soon as `report.json` vanishes, which is where the exchange begins.
#[test]
fn a_kill_within_the_exchange() {
    let mut turns = Turns::begin();
    let tries = if cfg!(debug_assertions) { 12 } else { 40 };
    for _ in 0..tries {
        turns.kill(|turns| !turns.made.join("report.json").exists());
        if turns.between == 3 {
            break;
        }
    }
    assert_eq!(turns.old, 0, "the exchange had begun");
    assert!(turns.between > 0, "no kill came within the exchange");
    turns.end("within the exchange");
}
