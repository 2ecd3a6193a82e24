//! Sets of small files put into folders, over those of earlier runs.

use std::collections::BTreeMap;

use super::*;

mod places;
mod steps;
mod turns;

pub(super) type Files = Vec<(String, Vec<u8>)>;

pub(super) fn set(run: &str, names: &[&str]) -> Files {
    names
        .iter()
        .map(|name| ((*name).to_owned(), format!("{run} of {name}").into_bytes()))
        .collect()
}

/// Names and contents below a folder; hidden ones left out.
pub(super) fn found(folder: &Path) -> BTreeMap<String, String> {
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

pub(super) fn named(files: &Files) -> BTreeMap<String, String> {
    let text = |bytes: &Vec<u8>| String::from_utf8(bytes.clone()).unwrap();
    files
        .iter()
        .map(|(name, bytes)| (name.clone(), text(bytes)))
        .collect()
}

pub(super) fn hidden(folder: &Path) -> usize {
    let entries = fs::read_dir(folder).unwrap().flatten();
    entries
        .filter(|e| e.file_name().to_str().unwrap().starts_with('.'))
        .count()
}

pub(super) const OLD_SET: [&str; 4] = ["head.step", "old.step", "bench/old.pdf", SEAL];
pub(super) const NEW_SET: [&str; 5] = [
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

/// Old files that cannot be seen cannot be taken away, and would lie beside new ones.
#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_listed_is_refused() {
    use std::os::unix::fs::PermissionsExt as _;
    let out = tempfile::tempdir().unwrap();
    let files = set("new", &["head.step", "bench/new.pdf"]);
    fs::create_dir(out.path().join("bench")).unwrap();
    for below in ["", "bench"] {
        let place = out.path().join(below);
        let mode = |mode| fs::set_permissions(&place, fs::Permissions::from_mode(mode)).unwrap();
        mode(0o333);
        // Root lists whatever there is; then only the words can be tried.
        let root = fs::read_dir(&place).is_ok();
        let outcome = replace(out.path(), &files, |_| true);
        mode(0o755);
        if root {
            outcome.unwrap();
            continue;
        }
        let error = outcome.unwrap_err();
        assert!(matches!(error, OutputError::Unlisted { .. }), "{error}");
        assert!(error.blames_the_place());
        assert_eq!(found(out.path()), BTreeMap::new());
        assert_eq!(hidden(out.path()), 0);
    }
    // What is no folder at all fails to be listed for anyone.
    fs::write(out.path().join("shop"), "mine").unwrap();
    let files = set("new", &["shop/a"]);
    let error = staging::stale(out.path(), &files, &|_| true).unwrap_err();
    assert!(matches!(error, OutputError::Unlisted { .. }), "{error}");
}

/// Whether another place would do, and the words for it, with a promise only where it holds.
#[test]
fn what_is_said_of_places_and_of_disks() {
    let file = |kind: ErrorKind| OutputError::file(Path::new("a/head.step"), kind.into());
    for (kind, place, words) in [
        (ErrorKind::PermissionDenied, true, "you may not write there"),
        (
            ErrorKind::ReadOnlyFilesystem,
            true,
            "nothing can be written on that disk",
        ),
        (ErrorKind::NotADirectory, true, "where a folder is to be"),
        (ErrorKind::InvalidFilename, true, "its name is too long"),
        (ErrorKind::StorageFull, false, "the disk is full"),
        (
            ErrorKind::QuotaExceeded,
            false,
            "your share of the disk is full",
        ),
    ] {
        let error = file(kind);
        assert_eq!(error.blames_the_place(), place, "{error}");
        let said = error.to_string();
        let begins = "nothing was written: cannot write a/head.step: ";
        assert!(said.starts_with(begins) && said.contains(words), "{said}");
        assert!(!said.contains("os error"), "{said}");
        assert!(error.left_all_as_it_was());
        assert!(error.why().starts_with("cannot write a/head.step"));
    }
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

/// What a killed run had set aside is all there is of it until a whole set is in its place.
#[test]
fn a_run_that_fails_sweeps_nothing() {
    let out = tempfile::tempdir().unwrap();
    let left = out.path().join(".barrelhead-writing-aB3dE6");
    for name in ["new", "old"] {
        fs::create_dir_all(left.join(name)).unwrap();
    }
    fs::write(left.join("old/head.step"), "old").unwrap();
    fs::create_dir(out.path().join("head.step")).unwrap();
    replace(out.path(), &set("new", &["head.step"]), |_| false).unwrap_err();
    assert_eq!(fs::read(left.join("old/head.step")).unwrap(), b"old");
    let long = "x".repeat(300);
    replace(out.path(), &set("new", &[&long]), |_| false).unwrap_err();
    assert_eq!(fs::read(left.join("old/head.step")).unwrap(), b"old");
    fs::remove_dir(out.path().join("head.step")).unwrap();
    replace(out.path(), &set("new", &["head.step"]), |_| false).unwrap();
    assert!(!left.exists());
}
