use std::collections::BTreeMap;

use super::exchange::{Hands, steps};
use super::*;

type Files = Vec<(String, Vec<u8>)>;

fn set(run: &str, names: &[&str]) -> Files {
    names
        .iter()
        .map(|name| ((*name).to_owned(), format!("{run} of {name}").into_bytes()))
        .collect()
}

/// Names and contents below a folder; hidden ones left out.
fn found(folder: &Path) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for below in ["", "bench/"] {
        for entry in fs::read_dir(folder.join(below)).into_iter().flatten() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            if !name.starts_with('.') && path.is_file() {
                let text = fs::read_to_string(&path).unwrap();
                all.insert(format!("{below}{name}"), text);
            }
        }
    }
    all
}

fn named(files: &Files) -> BTreeMap<String, String> {
    let text = |bytes: &Vec<u8>| String::from_utf8(bytes.clone()).unwrap();
    files
        .iter()
        .map(|(name, bytes)| (name.clone(), text(bytes)))
        .collect()
}

fn hidden(folder: &Path) -> usize {
    let entries = fs::read_dir(folder).unwrap().flatten();
    entries
        .filter(|e| e.file_name().to_str().unwrap().starts_with('.'))
        .count()
}

const OLD_SET: [&str; 4] = ["head.step", "old.step", "bench/old.pdf", SEAL];
const NEW_SET: [&str; 5] = [
    "head.step",
    "new.step",
    "bench/new.pdf",
    "bench/old.pdf",
    SEAL,
];

#[test]
fn stale_files_of_ours_go_and_others_stay() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().join("sub/design");
    let ours = |name: &str| name.starts_with("head");
    replace(&folder, &set("first", &["head.a", "head.b"]), ours).unwrap();
    fs::write(folder.join("notes.txt"), "mine").unwrap();
    fs::create_dir(folder.join("head.folder")).unwrap();
    let second = set("second", &["head.a"]);
    let written = replace(&folder, &second, ours).unwrap();
    assert_eq!(written, [folder.join("head.a")]);
    let names: Vec<_> = found(&folder).into_iter().collect();
    assert_eq!(
        names,
        [
            ("head.a".to_owned(), "second of head.a".to_owned()),
            ("notes.txt".to_owned(), "mine".to_owned())
        ]
    );
    assert!(folder.join("head.folder").is_dir());
    assert_eq!(hidden(&folder), 0);
}

#[test]
fn a_folder_that_is_a_file_is_refused() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().join("taken");
    fs::write(&folder, "file").unwrap();
    let error = replace(&folder, &set("a", &["a"]), |_| true).unwrap_err();
    assert!(error.blames_the_place());
    let said = error.to_string();
    assert!(
        said.contains("a file of that name is there already"),
        "{said}"
    );
    assert!(said.ends_with("choose another with --out"), "{said}");
    let below = replace(&folder.join("sub"), &set("a", &["a"]), |_| true).unwrap_err();
    let said = below.to_string();
    assert!(said.contains("taken is a file, not a folder"), "{said}");
    assert_eq!(fs::read(&folder).unwrap(), b"file");
}

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
        let error = exchange::exchange(folder, &staged, &new, &stale).unwrap_err();
        assert!(matches!(&error, OutputError::File { file, .. } if *file == folder.join(lost)));
        assert!(!error.blames_the_place());
        drop(staged);
        assert_eq!(found(folder), named(&old), "{lost}");
        assert!(!folder.join("bench").exists());
        assert_eq!(hidden(folder), 0);
    }
}

#[test]
fn what_stands_in_the_way_is_named_and_nothing_is_touched() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().join("deep/design");
    let files = set("new", &["head.step", "bench/sheet.pdf"]);
    for (place, said) in [
        ("head.step/", "a folder, where a file is to go"),
        ("bench", "a file, where a folder is to go"),
        ("bench/sheet.pdf/", "a folder, where a file is to go"),
    ] {
        match place.strip_suffix('/') {
            Some(place) => fs::create_dir_all(folder.join(place)).unwrap(),
            None => {
                fs::create_dir_all(&folder).unwrap();
                fs::write(folder.join(place), "mine").unwrap();
            }
        }
        let error = replace(&folder, &files, |_| false).unwrap_err();
        assert!(error.blames_the_place());
        assert!(error.to_string().contains(said), "{error}");
        assert!(!folder.join("head.step").is_file() && hidden(&folder) == 0);
        fs::remove_dir_all(&folder).unwrap();
    }
    assert!(
        out.path().join("deep").is_dir(),
        "a folder that was there stays"
    );
}

#[test]
fn folders_made_for_nothing_go_again() {
    let out = tempfile::tempdir().unwrap();
    // A name that no file can have.
    let long = "x".repeat(300);
    let folder = out.path().join("a/b");
    replace(&folder, &set("new", &["head.step", &long]), |_| false).unwrap_err();
    assert!(!out.path().join("a").exists());
}

#[cfg(unix)]
#[test]
fn links_are_replaced_or_refused_and_never_written_through() {
    use std::os::unix::fs::symlink;
    let out = tempfile::tempdir().unwrap();
    let (folder, outside) = (out.path().join("design"), out.path().join("outside"));
    fs::create_dir_all(folder.join("bench")).unwrap();
    fs::create_dir(&outside).unwrap();
    fs::write(outside.join("file"), "theirs").unwrap();
    for name in ["head.step", "old.step", "bench/sheet.pdf"] {
        symlink(outside.join("file"), folder.join(name)).unwrap();
    }
    let files = set("new", &["head.step", "bench/sheet.pdf"]);
    replace(&folder, &files, |name| name == "old.step").unwrap();
    assert_eq!(found(&folder), named(&files));
    assert!(!folder.join("head.step").is_symlink());
    assert_eq!(fs::read(outside.join("file")).unwrap(), b"theirs");
    // A folder of ours that is a link.
    fs::remove_dir_all(folder.join("bench")).unwrap();
    symlink(&outside, folder.join("bench")).unwrap();
    let error = replace(&folder, &files, |_| true).unwrap_err();
    assert!(error.to_string().contains("bench is a link"), "{error}");
    assert_eq!(fs::read_dir(&outside).unwrap().count(), 1);
    assert!(folder.join("head.step").is_file());
    // The folder itself may be reached through a link, but not through one that leads nowhere.
    symlink(&outside, out.path().join("linked")).unwrap();
    replace(
        &out.path().join("linked"),
        &set("new", &["head.step"]),
        |_| false,
    )
    .unwrap();
    assert!(outside.join("head.step").is_file());
    symlink(out.path().join("nowhere"), out.path().join("lost")).unwrap();
    let lost = out.path().join("lost");
    let error = replace(&lost, &files, |_| true).unwrap_err().to_string();
    assert!(
        error.contains("lost is a link that leads nowhere"),
        "{error}"
    );
    assert!(lost.is_symlink() && !out.path().join("nowhere").exists());
}

#[test]
fn a_hidden_folder_left_by_a_kill_is_swept_and_one_of_another_name_is_not() {
    let out = tempfile::tempdir().unwrap();
    let left = [
        ".barrelhead-writing-aB3dE6",
        ".barrelhead-writing-notes-of-mine",
    ];
    for name in left {
        fs::create_dir_all(out.path().join(name).join("new")).unwrap();
    }
    replace(out.path(), &set("new", &["head.step"]), |_| false).unwrap();
    assert!(!out.path().join(left[0]).exists());
    assert!(out.path().join(left[1]).exists());
}

#[test]
fn a_folder_that_another_keeps_is_waited_for_and_then_left() {
    let out = tempfile::tempdir().unwrap();
    let held = File::open(out.path()).unwrap();
    held.try_lock().unwrap();
    let error = take_turn(out.path(), Duration::from_millis(20)).unwrap_err();
    assert!(matches!(error, OutputError::Busy { .. }) && error.blames_the_place());
    drop(held);
    assert!(take_turn(out.path(), Duration::ZERO).unwrap().is_some());
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
                    let turn = take_turn(out.path(), PATIENCE).unwrap();
                    let left = found(out.path());
                    assert!(sets.iter().any(|set| named(set) == left), "{left:?}");
                    drop(turn);
                }
            });
        }
    });
    assert_eq!(hidden(out.path()), 0);
}
