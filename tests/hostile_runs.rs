//! Several runs into one folder at once: they take turns, and the set of one of them is left.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::time::{Duration, Instant};

use hostile::{complete, demo, done, err, folder, found, names, run, start, two_blocks};

#[test]
fn two_runs_at_once_leave_the_whole_set_of_one() {
    let folder = folder();
    let texts = [demo("dunlin"), two_blocks()];
    fs::create_dir(folder.path().join("other")).expect("a folder");
    fs::write(folder.path().join("a.toml"), &texts[0]).expect("a file");
    fs::write(folder.path().join("other/a.toml"), &texts[1]).expect("a file");
    let sets = [complete(&texts[0]), complete(&texts[1])];
    assert_ne!(names(&sets[0]), names(&sets[1]));
    let lines = [["make", "a.toml"], ["make", "other/a.toml"]];
    let mut lengths = [Duration::ZERO; 2];
    for (line, length) in lines.iter().zip(&mut lengths) {
        let begun = Instant::now();
        done(&run(folder.path(), line));
        *length = begun.elapsed();
    }
    // By how much the second is started before the first, in seconds: less where it came in first, more
    // where it came in last, so that they end together.
    let mut ahead = lengths[1].as_secs_f64() - lengths[0].as_secs_f64();
    let step = (lengths[0] + lengths[1]).as_secs_f64() / 8.0;
    let mut last = [0, 0];
    let rounds = if cfg!(debug_assertions) { 4 } else { 12 };
    let mut round = 0;
    // Beyond that number only until each has come in last.
    while round < rounds || (last.contains(&0) && round < 6 * rounds) {
        let (first, second) = if ahead > 0.0 { (1, 0) } else { (0, 1) };
        let begun = start(folder.path(), &lines[first]);
        std::thread::sleep(Duration::from_secs_f64(ahead.abs()));
        let then = start(folder.path(), &lines[second]);
        let third = (round % 3 == 0).then(|| start(folder.path(), &lines[0]));
        for run in [Some(begun), Some(then), third].into_iter().flatten() {
            done(&run.wait_with_output().expect("its end"));
        }
        let left = found(&folder.path().join("output/a"));
        let whose = sets.iter().position(|set| *set == left);
        let whose = whose.unwrap_or_else(|| panic!("a mixed set: {:?}", names(&left)));
        last[whose] += 1;
        ahead += if whose == 1 { step } else { -step };
        round += 1;
    }
    eprintln!("last come: {last:?}");
    assert!(!last.contains(&0), "never two runs at once: {last:?}");
}

/// Runs into one new folder, half of which fail at their last file and take the folder away again.
#[cfg(target_os = "linux")]
#[test]
fn runs_that_fail_take_no_folder_from_those_that_wait() {
    let folder = folder();
    let whole = complete(&demo("dunlin"));
    fs::write(folder.path().join("a.toml"), demo("dunlin")).expect("a file");
    let largest = whole.values().map(Vec::len).max().expect("files");
    let failing = format!(
        "trap '' XFSZ; exec prlimit --fsize={} -- \"$0\" make a.toml --out new/a",
        largest - 1
    );
    let rounds = if cfg!(debug_assertions) { 3 } else { 12 };
    for _ in 0..rounds {
        let fails = || {
            std::process::Command::new("sh")
                .args(["-c", &failing, hostile::PROGRAM])
                .current_dir(folder.path())
                .stdout(std::process::Stdio::null())
                .stderr(std::process::Stdio::piped())
                .spawn()
                .expect("a shell")
        };
        let works = || start(folder.path(), &["make", "a.toml", "--out", "new/a"]);
        let runs = [(3, fails()), (0, works()), (3, fails()), (0, works())];
        for (status, run) in runs {
            let said = run.wait_with_output().expect("its end");
            assert_eq!(said.status.code(), Some(status), "{}", err(&said));
        }
        assert_eq!(found(&folder.path().join("new/a")), whole);
        fs::remove_dir_all(folder.path().join("new")).expect("gone");
    }
}
