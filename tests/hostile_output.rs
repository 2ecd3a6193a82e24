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
use std::process::Command;
use std::time::{Duration, Instant};

use hostile::{PROGRAM, complete, demo, done, err, folder, found, names, run, with_demo};

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

/// Root writes everywhere, so another user runs the program then.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_may_not_be_written() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = with_demo();
    let mode = |path: &Path, mode| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("permissions");
    };
    mode(folder.path(), 0o755);
    let program = folder.path().join("barrelhead");
    fs::copy(PROGRAM, &program).expect("the program");
    mode(&program, 0o755);
    done(&run(folder.path(), &["make", "a.toml"]));
    for place in ["output/a", "output"] {
        mode(&folder.path().join(place), 0o555);
    }
    let before = found(&folder.path().join("output"));
    let as_root = fs::write(folder.path().join("output/test"), "").is_ok();
    let said = if as_root {
        fs::remove_file(folder.path().join("output/test")).expect("gone");
        let nobody = ["--reuid=65534", "--regid=65534", "--clear-groups"];
        let said = Command::new("setpriv")
            .args(nobody)
            .arg(&program)
            .args(["make", "a.toml"])
            .current_dir(folder.path())
            .output();
        let Ok(said) = said else {
            eprintln!("left out: run as root, this test needs setpriv (util-linux)");
            return;
        };
        said
    } else {
        run(folder.path(), &["make", "a.toml"])
    };
    for place in ["output", "output/a"] {
        mode(&folder.path().join(place), 0o755);
    }
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(
        err(&said).contains("you may not write there"),
        "{}",
        err(&said)
    );
    assert_eq!(found(&folder.path().join("output")), before);
    // A place where nobody may make a folder, not even root.
    let said = run(folder.path(), &["make", "a.toml", "--out", "/proc/here"]);
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(
        err(&said).contains("choose another with --out"),
        "{}",
        err(&said)
    );
}
#[test]
fn names_of_files_that_would_lead_elsewhere() {
    let folder = folder();
    let inner = folder.path().join("inner");
    fs::create_dir(&inner).expect("a folder");
    fs::write(folder.path().join("up.toml"), demo("dunlin")).expect("a file");
    for name in ["...toml", "..toml"] {
        fs::write(inner.join(name), demo("dunlin")).expect("a file");
        let before = found(folder.path());
        let said = run(&inner, &["make", name]);
        assert_eq!(said.status.code(), Some(2), "{name}: {}", err(&said));
        assert!(err(&said).contains("name one with --out"), "{}", err(&said));
        assert_eq!(found(folder.path()), before);
    }
    // The stem alone names the folder, wherever the file is, and whatever letters it has.
    let odd = [
        "../up.toml",
        "line\nend.toml",
        "\u{1b}[31m\u{202e}.toml",
        "-\\ $(x) '\".toml",
        ".toml",
    ];
    for name in odd {
        if !inner.join(name).exists() {
            fs::write(inner.join(name), demo("dunlin")).expect("a file");
        }
        let said = run(&inner, &["make", "--only", "report", "--", name]);
        done(&said);
        let shown = String::from_utf8(said.stdout).expect("text");
        assert!(!shown.contains(['\u{1b}', '\u{202e}']), "{shown:?}");
        let path = Path::new(name);
        let stem = path.file_stem().expect("a stem");
        assert!(
            inner.join("output").join(stem).join("head.step").is_file(),
            "{name:?}"
        );
    }
    let made = fs::read_dir(inner.join("output"))
        .expect("the folder")
        .count();
    assert_eq!(made, odd.len());
    assert!(!folder.path().join("output").exists());
}

#[test]
fn a_title_names_no_file() {
    let folder = folder();
    let plain = names(&complete(&demo("dunlin"))).join(" ");
    for title in [
        "../../x",
        "/etc/x",
        "a/b",
        "..",
        "x\\u0000y",
        "\\u001b[2J\\n",
        "C:\\\\x",
        "con",
    ] {
        let text = demo("dunlin").replace("\"Dunlin\"", &format!("\"{title}\""));
        fs::write(folder.path().join("a.toml"), text).expect("a file");
        done(&run(folder.path(), &["make", "a.toml"]));
        let made = found(&folder.path().join("output"));
        let made: Vec<&str> = made
            .keys()
            .map(|name| name.trim_start_matches("a/"))
            .collect();
        assert_eq!(made.join(" "), plain, "{title}");
    }
    assert_eq!(fs::read_dir(folder.path()).expect("the folder").count(), 2);
}

#[test]
fn a_title_of_a_hundred_thousand_letters() {
    let folder = folder();
    for word in ["word ", "<&'"] {
        let long = word.repeat(100_000 / word.len());
        let text = demo("dunlin").replace("\"Dunlin\"", &format!("\"{long}\""));
        fs::write(folder.path().join("a.toml"), text).expect("a file");
        let begun = Instant::now();
        done(&run(folder.path(), &["make", "a.toml", "--quiet"]));
        // It was minutes once.
        assert!(
            begun.elapsed() < Duration::from_secs(60),
            "{:?}",
            begun.elapsed()
        );
    }
}
