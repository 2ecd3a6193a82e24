//! The steps of an exchange: killed after any, failing at any, and with something come between.

use super::exchange::{Hands, Step, exchange, steps};
use super::*;

/// A run that is killed after any of its steps: every file is whole and of one of the two runs, the
/// seal stands only beside a complete set, and the next run puts all in order.
#[test]
fn killed_after_any_step() {
    let (old, new) = (set("old", &OLD_SET), set("new", &NEW_SET));
    let ours = |name: &str| name == "old.step";
    let stale = vec!["old.step".to_owned()];
    let count = steps(&new, &stale).len();
    assert_eq!(count, 8);
    for taken in 0..=count {
        let out = tempfile::tempdir().unwrap();
        let folder = out.path();
        replace(folder, &old, ours).unwrap();
        let staged = staging::write(folder, &new).unwrap();
        let hands = Hands {
            folder,
            staging: staged.path(),
        };
        let mut undo = Vec::new();
        for step in steps(&new, &stale).iter().take(taken) {
            hands.take(step, &mut undo).unwrap();
        }
        let _ = staged.keep();
        let left = found(folder);
        let (old_whole, new_whole) = (named(&old), named(&new));
        for (name, text) in &left {
            let known = [old_whole.get(name), new_whole.get(name)];
            assert!(known.contains(&Some(text)), "{taken}: {name}");
        }
        assert!(left.contains_key("head.step") && left.contains_key("bench/old.pdf"));
        if left.contains_key(SEAL) {
            assert_eq!(
                left,
                if taken == 0 {
                    old_whole
                } else {
                    new_whole.clone()
                },
                "{taken}"
            );
        }
        assert_eq!(hidden(folder), 1);
        replace(folder, &new, ours).unwrap();
        assert_eq!(found(folder), new_whole);
        assert_eq!(hidden(folder), 0, "{taken}");
    }
}

/// A step that fails, whichever: everything is as it was, and so are the folders.
#[test]
fn a_step_that_fails_undoes_all_before_it() {
    let (old, new) = (
        set("old", &["head.step", "old.step", SEAL]),
        set("new", &NEW_SET),
    );
    let stale = vec!["old.step".to_owned()];
    for lost in NEW_SET {
        let out = tempfile::tempdir().unwrap();
        let folder = out.path();
        replace(folder, &old, |_| false).unwrap();
        let staged = staging::write(folder, &new).unwrap();
        fs::remove_file(staged.path().join(staging::NEW).join(lost)).unwrap();
        let error = exchange(folder, staged, &new, &stale).unwrap_err();
        assert!(matches!(&error, OutputError::File { file, .. } if *file == folder.join(lost)));
        assert!(!error.blames_the_place());
        assert_eq!(found(folder), named(&old), "{lost}");
        assert!(!folder.join("bench").exists());
        assert_eq!(hidden(folder), 0);
    }
}

/// A failure whose way back fails too: what cannot be put back is kept, named and never swept, and the
/// seal stays away from a set that is not whole.
#[test]
fn what_cannot_be_put_back_is_kept() {
    let (old, new) = (
        set("old", &["head.step", "new.step", SEAL]),
        set("new", &NEW_SET),
    );
    let out = tempfile::tempdir().unwrap();
    let folder = out.path();
    replace(folder, &old, |_| false).unwrap();
    let staged = staging::write(folder, &new).unwrap();
    let aside = staged.path().to_owned();
    let hands = Hands {
        folder,
        staging: &aside,
    };
    let mut undo = Vec::new();
    for step in steps(&new, &[]).iter().take(4) {
        hands.take(step, &mut undo).unwrap();
    }
    // A folder in its place keeps the old file from going back, for root as for anyone.
    fs::remove_file(folder.join("head.step")).unwrap();
    fs::create_dir_all(folder.join("head.step/mine")).unwrap();
    assert_eq!(hands.undo(undo), ["head.step"]);
    let kept = staging::keep(staged);
    assert_eq!(kept, aside);
    assert_eq!(
        fs::read_to_string(kept.join("old/head.step")).unwrap(),
        "old of head.step"
    );
    assert!(kept.join("old").join(SEAL).is_file() && !kept.join("new").exists());
    let left = found(folder);
    assert!(!left.contains_key(SEAL), "{left:?}");
    assert_eq!(
        left.get("new.step").map(String::as_str),
        Some("old of new.step")
    );
    // The next run that succeeds leaves it.
    fs::remove_dir_all(folder.join("head.step")).unwrap();
    replace(folder, &new, |_| false).unwrap();
    assert!(kept.join("old/head.step").is_file());
}

/// The same as the whole exchange tells it.
#[test]
fn an_exchange_that_cannot_be_undone_says_so() {
    let (old, new) = (
        set("old", &["other.step", SEAL]),
        set("new", &["head.step", "other.step", SEAL]),
    );
    let out = tempfile::tempdir().unwrap();
    let folder = out.path();
    replace(folder, &old, |_| false).unwrap();
    let staged = staging::write(folder, &new).unwrap();
    let written = staged.path().join(staging::NEW);
    // One that can be put in place and not be removed again as a file; and one that fails.
    fs::remove_file(written.join("head.step")).unwrap();
    fs::create_dir(written.join("head.step")).unwrap();
    fs::remove_file(written.join("other.step")).unwrap();
    let error = exchange(folder, staged, &new, &[]).unwrap_err();
    assert!(!error.left_all_as_it_was() && !error.blames_the_place());
    let OutputError::Mixed {
        file, lost, kept, ..
    } = &error
    else {
        panic!("{error}");
    };
    assert_eq!(*file, folder.join("other.step"));
    assert_eq!(*lost, ["head.step"]);
    assert_eq!(
        fs::read_to_string(kept.join("old").join(SEAL)).unwrap(),
        format!("old of {SEAL}")
    );
    let said = error.to_string();
    assert!(!said.contains("nothing was written"), "{said}");
    assert!(said.contains(kept.to_str().unwrap()), "{said}");
    assert!(!folder.join(SEAL).exists());
    assert_eq!(
        fs::read(folder.join("other.step")).unwrap(),
        b"old of other.step"
    );
}

/// Somebody's folder that came to a file's place after the look: it is not ours to move, or to delete
/// with all that is in it.
#[test]
fn a_folder_that_comes_to_a_files_place_is_left_alone() {
    for step in [
        Step::Put("head.step".to_owned()),
        Step::TakeAway("head.step".to_owned()),
    ] {
        let out = tempfile::tempdir().unwrap();
        let folder = out.path();
        let staged = staging::write(folder, &set("new", &["head.step"])).unwrap();
        fs::create_dir(folder.join("head.step")).unwrap();
        fs::write(folder.join("head.step/mine"), "mine").unwrap();
        let hands = Hands {
            folder,
            staging: staged.path(),
        };
        let mut undo = Vec::new();
        let (place, source) = hands.take(&step, &mut undo).unwrap_err();
        assert_eq!(place, folder.join("head.step"));
        assert_eq!(source.kind(), ErrorKind::IsADirectory);
        assert!(hands.undo(undo).is_empty());
        drop(staged);
        assert_eq!(fs::read(folder.join("head.step/mine")).unwrap(), b"mine");
    }
}

/// A link that came to a folder's place after the look is not written through, by no step.
#[cfg(unix)]
#[test]
fn a_link_that_comes_to_a_folders_place_is_not_written_through() {
    let out = tempfile::tempdir().unwrap();
    let (folder, away) = (out.path().join("design"), out.path().join("away"));
    for place in [&folder, &away] {
        fs::create_dir(place).unwrap();
    }
    fs::write(away.join("sheet.pdf"), "theirs").unwrap();
    let staged = staging::write(&folder, &set("new", &["bench/sheet.pdf"])).unwrap();
    std::os::unix::fs::symlink(&away, folder.join("bench")).unwrap();
    let hands = Hands {
        folder: &folder,
        staging: staged.path(),
    };
    for step in [
        Step::Folder("bench".to_owned()),
        Step::Put("bench/sheet.pdf".to_owned()),
        Step::TakeAway("bench/sheet.pdf".to_owned()),
    ] {
        let mut undo = Vec::new();
        let (_, source) = hands.take(&step, &mut undo).unwrap_err();
        assert_eq!(source.kind(), ErrorKind::NotADirectory, "{step:?}");
        assert!(undo.is_empty());
        assert_eq!(fs::read(away.join("sheet.pdf")).unwrap(), b"theirs");
    }
}
