//! Where files are to go: folders that are links, files where folders are to be, folders where files
//! are to be, folders that may not be written, names and titles that lead elsewhere. Nothing is written
//! outside the output folder, and what is refused leaves everything as it was.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::Output;

use hostile::{as_nobody, complete, demo, done, err, found, names, run, with_demo};

#[test]
fn a_link_in_the_output_folder_is_never_written_through() {
    let folder = with_demo();
    let (made, away) = (folder.path().join("output/a"), folder.path().join("away"));
    fs::create_dir_all(&made).expect("a folder");
    fs::create_dir(&away).expect("a folder");
    fs::write(away.join("theirs"), "theirs").expect("a file");
    symlink(away.join("theirs"), made.join("head.step")).expect("a link");
    symlink(away.join("new"), made.join("head.stl")).expect("a link");
    symlink(away.join("theirs"), made.join("guide-block-bass.stl")).expect("a link");
    done(&run(folder.path(), &["make", "a.toml"]));
    assert!(!made.join("head.step").is_symlink() && !made.join("head.stl").is_symlink());
    assert!(!made.join("guide-block-bass.stl").is_symlink());
    assert_eq!(names(&found(&away)), ["theirs"]);
    assert_eq!(fs::read(away.join("theirs")).expect("the file"), b"theirs");
    // A folder of ours that leads away is refused, and all stays as it was.
    fs::remove_dir_all(made.join("shop")).expect("gone");
    symlink(&away, made.join("shop")).expect("a link");
    let before = found(&made);
    let said = run(folder.path(), &["make", "a.toml"]);
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(
        err(&said).contains("output/a/shop is a link"),
        "{}",
        err(&said)
    );
    assert_eq!(found(&made), before);
    assert_eq!(names(&found(&away)), ["theirs"]);
}

#[test]
fn an_output_folder_that_is_a_link_is_the_folder_it_leads_to() {
    let folder = with_demo();
    let elsewhere = folder.path().join("elsewhere");
    fs::create_dir_all(elsewhere.join("a")).expect("a folder");
    symlink(&elsewhere, folder.path().join("output")).expect("a link");
    done(&run(folder.path(), &["make", "a.toml"]));
    assert_eq!(found(&elsewhere.join("a")), complete(&demo("dunlin")));
    assert_eq!(
        names(&found(folder.path())).len(),
        2 + found(&elsewhere.join("a")).len()
    );
    // One that leads nowhere makes nothing there.
    fs::remove_file(folder.path().join("output")).expect("gone");
    symlink(folder.path().join("nowhere"), folder.path().join("output")).expect("a link");
    let said = run(folder.path(), &["make", "a.toml"]);
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(
        err(&said).contains("output is a link that leads nowhere"),
        "{}",
        err(&said)
    );
    assert!(!folder.path().join("nowhere").exists());
}

#[test]
fn what_stands_in_the_way_is_named_and_all_stays_as_it_was() {
    for (place, is_folder, words) in [
        ("output", false, "output is a file, not a folder"),
        ("output/a", false, "a file of that name is there already"),
        (
            "output/a/head.step",
            true,
            "output/a/head.step is a folder, where a file is to go",
        ),
        (
            "output/a/report.html",
            true,
            "output/a/report.html is a folder",
        ),
        (
            "output/a/bench",
            false,
            "output/a/bench is a file, where a folder is to go",
        ),
        (
            "output/a/shop/bores.csv",
            true,
            "output/a/shop/bores.csv is a folder",
        ),
    ] {
        let folder = with_demo();
        let place = folder.path().join(place);
        fs::create_dir_all(place.parent().expect("a folder")).expect("a folder");
        if is_folder {
            fs::create_dir(&place).expect("a folder");
        } else {
            fs::write(&place, "mine").expect("a file");
        }
        let before = found(folder.path());
        let said = run(folder.path(), &["make", "a.toml"]);
        assert_eq!(said.status.code(), Some(2), "{place:?}: {}", err(&said));
        assert!(err(&said).contains(words), "{place:?}: {}", err(&said));
        assert_eq!(found(folder.path()), before);
    }
}

/// Runs `make` where root could write everything: as another user then.
#[cfg(target_os = "linux")]
fn make_as_a_person(folder: &Path, as_root: bool) -> Option<Output> {
    if as_root {
        as_nobody(folder, &["make", "a.toml"])
    } else {
        Some(run(folder, &["make", "a.toml"]))
    }
}

/// Whoever may not write, or list, some folder is refused: it is the place that is wrong.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_may_not_be_written() {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, chown};
    let folder = with_demo();
    let output = folder.path().join("output");
    let mode = |place: &str, mode| {
        let permissions = fs::Permissions::from_mode(mode);
        fs::set_permissions(output.join(place), permissions).expect("permissions");
    };
    done(&run(folder.path(), &["make", "a.toml"]));
    let before = found(&output);
    let as_root = fs::metadata(&output).expect("the folder").uid() == 0;
    if as_root {
        // The folders are that person's own, and so are the files in them.
        for place in ["", "a", "a/bench", "a/print", "a/shop"] {
            chown(output.join(place), Some(65534), Some(65534)).expect("a new owner");
        }
    }
    for (closed, bits, words) in [
        ("a", 0o555, "you may not write there"),
        ("a/shop", 0o555, "you may not write there"),
        (
            "a/shop",
            0o333,
            "cannot be listed: you may not read that folder",
        ),
        ("a", 0o333, "cannot be listed: you may not read that folder"),
    ] {
        mode(closed, bits);
        let said = make_as_a_person(folder.path(), as_root);
        mode(closed, 0o755);
        let Some(said) = said else {
            return;
        };
        let text = err(&said);
        assert_eq!(said.status.code(), Some(2), "{closed} {bits:o}: {text}");
        assert!(text.contains(words), "{closed} {bits:o}: {text}");
        assert!(text.starts_with("error: nothing was written: "), "{text}");
        assert!(found(&output) == before, "{closed} {bits:o}");
    }
    // A place where nobody may make a folder, not even root.
    let said = run(folder.path(), &["make", "a.toml", "--out", "/proc/here"]);
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(
        err(&said).contains("choose another with --out"),
        "{}",
        err(&said)
    );
}

/// What stands in the way of a variant is seen before any is made, or it is said which were made.
#[test]
fn variants_are_all_asked_for_before_the_first_is_made() {
    let folder = with_demo();
    let line = [
        "vary",
        "a.toml",
        "slots.rib=8..12:2",
        "--make",
        "--out",
        "v",
    ];
    let last = folder.path().join("v/3-slots.rib-12");
    fs::create_dir(folder.path().join("v")).expect("a folder");
    fs::write(&last, "mine").expect("a file");
    let before = found(folder.path());
    let said = run(folder.path(), &line);
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    let words =
        "nothing was written: the folder v/3-slots.rib-12 cannot be used: a file of that name";
    assert!(err(&said).contains(words), "{}", err(&said));
    assert!(found(folder.path()) == before);
    // Deeper down it shows only when the variant is made.
    fs::remove_file(&last).expect("gone");
    fs::create_dir_all(last.join("head.step")).expect("a folder");
    let said = run(folder.path(), &line);
    let text = err(&said).replace('\n', " ");
    assert_eq!(said.status.code(), Some(2), "{text}");
    assert!(
        text.contains("head.step is a folder, where a file is to go"),
        "{text}"
    );
    assert!(!text.contains("nothing was written"), "{text}");
    assert!(
        text.contains("variants.csv and variants.svg were not written"),
        "{text}"
    );
    for name in ["1-slots.rib-8", "2-slots.rib-10"] {
        let made = folder
            .path()
            .join("v")
            .join(name)
            .join("report.json")
            .is_file();
        assert_eq!(made, text.contains(name), "{text}");
    }
    assert!(!folder.path().join("v/variants.csv").exists());
}
