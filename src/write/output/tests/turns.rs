//! Runs into one folder at the same time.

use std::fs::File;
use std::thread;
use std::time::Duration;

use super::turn::take;
use super::*;

#[test]
fn a_folder_that_another_keeps_is_waited_for_and_then_left() {
    let out = tempfile::tempdir().unwrap();
    let there = &mut || Ok(());
    let held = File::open(out.path()).unwrap();
    held.try_lock().unwrap();
    let error = take(out.path(), Duration::from_millis(20), there).unwrap_err();
    assert!(matches!(error, OutputError::Busy { .. }) && error.blames_the_place());
    drop(held);
    assert!(take(out.path(), Duration::ZERO, there).unwrap().is_some());
}

/// Two runs that exchange their sets over and over, at the same time: whoever looks while nobody may
/// write finds the whole set of one of them.
#[test]
fn runs_into_one_folder_take_turns() {
    let out = tempfile::tempdir().unwrap();
    let sets = [set("one", &OLD_SET), set("two", &NEW_SET)];
    let ours = |name: &str| name != "notes.txt";
    std::thread::scope(|scope| {
        for files in &sets {
            scope.spawn(|| {
                for _ in 0..60 {
                    replace(out.path(), files, ours).unwrap();
                    let turn = turn_in(out.path()).unwrap();
                    let left = found(out.path());
                    assert!(sets.iter().any(|set| named(set) == left), "{left:?}");
                    drop(turn);
                }
            });
        }
    });
    assert_eq!(hidden(out.path()), 0);
}

/// Runs into one new folder, half of which fail and take it away again: those that can do their work
/// all do, and what is there in the end is of one of them.
#[test]
fn runs_that_fail_take_no_folder_from_those_that_wait() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().join("deep/design");
    let good = set("good", &OLD_SET);
    let long = "x".repeat(300);
    let bad = set("bad", &["head.step", &long]);
    for _ in 0..60 {
        thread::scope(|scope| {
            let runs: Vec<_> = [&bad, &good, &bad, &good]
                .into_iter()
                .map(|files| scope.spawn(|| replace(&folder, files, |_| false).map(drop)))
                .collect();
            for (index, run) in runs.into_iter().enumerate() {
                match (index % 2, run.join().unwrap()) {
                    (0, Err(_)) | (1, Ok(())) => {}
                    (_, outcome) => panic!("{index}: {outcome:?}"),
                }
            }
        });
        assert_eq!(found(&folder), named(&good));
        assert_eq!(hidden(&folder), 0);
        fs::remove_dir_all(out.path().join("deep")).unwrap();
    }
}

/// What is locked may not be what stands there any more.
#[cfg(unix)]
#[test]
fn a_folder_made_anew_meanwhile_is_locked_anew() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().join("design");
    fs::create_dir(&folder).unwrap();
    let first = File::open(&folder).unwrap();
    first.try_lock().unwrap();
    thread::scope(|scope| {
        let waits = scope.spawn(|| {
            let turn = turn_in(&folder).unwrap().unwrap();
            // Nobody else gets the folder that is there now.
            let again = File::open(&folder).unwrap().try_lock();
            drop(turn);
            again
        });
        thread::sleep(Duration::from_millis(100));
        fs::rename(&folder, out.path().join("gone")).unwrap();
        fs::create_dir(&folder).unwrap();
        drop(first);
        assert!(waits.join().unwrap().is_err());
    });
}
