//! What stands where folders and files are to go: files, folders, links.

use super::*;

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

/// As far as it can be seen beforehand.
#[test]
fn a_look_beforehand_finds_what_is_in_the_way() {
    let out = tempfile::tempdir().unwrap();
    let files = set("new", &["list.csv"]);
    fs::write(out.path().join("file"), "mine").unwrap();
    fs::create_dir_all(out.path().join("map/list.csv")).unwrap();
    for place in ["file", "file/below", "map"] {
        let error = probe(&out.path().join(place), &files).unwrap_err();
        assert!(error.blames_the_place(), "{error}");
    }
    for place in ["", "new", "new/below", "map/below"] {
        probe(&out.path().join(place), &files).unwrap();
    }
    assert!(!out.path().join("new").exists());
}
