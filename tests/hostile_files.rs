//! Files that no maker would write: endless, devices, folders, closed, or gone when they are opened. Each
//! is refused at once, in words, with nothing written; or it is read.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs::{self, File};
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use hostile::at_once::{refused, run};
use hostile::{Over, as_nobody, demo, err, folder};

/// A file of a gigabyte that takes no room on the disk.
fn gigabyte(path: &Path) {
    let file = File::create(path).expect("a file");
    file.set_len(1 << 30).expect("its length");
}

#[test]
fn a_gigabyte_is_refused_unread() {
    let folder = folder();
    gigabyte(&folder.path().join("huge.toml"));
    let hint = [
        "is larger than 1 MiB",
        "write instead: the path of a parameter file",
    ];
    refused(folder.path(), "huge.toml", &hint);
    let text = demo("curlew").replace("sets/three-and-four-35.toml", "huge.toml");
    fs::write(folder.path().join("takes.toml"), text).expect("a file");
    refused(
        folder.path(),
        "takes.toml",
        &[
            "takes.toml:33:",
            "huge.toml named here is larger than 1 MiB",
        ],
    );
    for command in ["fit", "suit", "room"] {
        let said = run(folder.path(), &[command, "huge.toml"]);
        assert_eq!(said.status.code(), Some(2), "{command}");
        assert!(
            err(&said).contains("larger than 1 MiB"),
            "{command}: {}",
            err(&said)
        );
    }
}

/// The shell allows 200 MB of memory altogether: a program that read the gigabyte first would be
/// refused it and fail otherwise than by its own words.
#[cfg(target_os = "linux")]
#[test]
fn a_gigabyte_takes_no_memory() {
    let folder = folder();
    gigabyte(&folder.path().join("huge.toml"));
    let shell = Command::new("sh")
        .args(["-c", "ulimit -v 200000 && exec \"$0\" check huge.toml"])
        .arg(hostile::PROGRAM)
        .current_dir(folder.path())
        .output()
        .expect("a shell");
    assert_eq!(shell.status.code(), Some(2), "{}", err(&shell));
    assert!(err(&shell).contains("larger than 1 MiB"), "{}", err(&shell));
}

#[test]
fn pipes_and_devices_are_no_files() {
    let folder = folder();
    let made = Command::new("mkfifo")
        .arg(folder.path().join("pipe.toml"))
        .status();
    assert!(
        made.is_ok_and(|status| status.success()),
        "this test needs mkfifo"
    );
    let words = ["is a pipe or a device, not a file on a disk"];
    for file in ["pipe.toml", "/dev/zero", "/dev/null", "/dev/stdin"] {
        refused(folder.path(), file, &words);
        let text = demo("godwit").replace("blocks/five-at-35.toml", file);
        fs::write(folder.path().join("takes.toml"), text).expect("a file");
        refused(folder.path(), "takes.toml", &["takes.toml:57:", words[0]]);
    }
    // It looks like a file, and reading it waits for the system to have something to say. Who may not
    // read it is told so.
    #[cfg(target_os = "linux")]
    refused(
        folder.path(),
        "/proc/kmsg",
        &["/proc/kmsg: error: the file "],
    );
}

#[test]
fn what_is_not_there_or_no_file() {
    let folder = folder();
    fs::create_dir(folder.path().join("folder.toml")).expect("a folder");
    refused(folder.path(), "folder.toml", &["is a folder"]);
    refused(folder.path(), ".", &["error: ", "parameter file"]);
    refused(folder.path(), "missing.toml", &["does not exist"]);
    refused(folder.path(), "missing.toml/x.toml", &["does not exist"]);
    // In plain words, not in the system's own.
    refused(
        folder.path(),
        &format!("{}.toml", "x".repeat(300)),
        &["cannot be read: its name is too long"],
    );
    fs::write(folder.path().join("file.toml"), demo("dunlin")).expect("a file");
    refused(
        folder.path(),
        "file.toml/x.toml",
        &["its path leads through a file as if that were a folder"],
    );
    let text = demo("curlew").replace("sets/three-and-four-35.toml", "folder.toml");
    fs::write(folder.path().join("takes.toml"), text).expect("a file");
    refused(
        folder.path(),
        "takes.toml",
        &["folder.toml named here is a folder"],
    );
}

#[test]
fn links_that_lead_nowhere_or_to_themselves() {
    use std::os::unix::fs::symlink;
    let folder = folder();
    symlink("gone.toml", folder.path().join("dangling.toml")).expect("a link");
    symlink("loop.toml", folder.path().join("loop.toml")).expect("a link");
    refused(folder.path(), "dangling.toml", &["does not exist"]);
    refused(folder.path(), "loop.toml", &["cannot be read"]);
}

/// Root may read everything, so another user tries; without root the file is simply closed.
#[cfg(target_os = "linux")]
#[test]
fn a_file_that_may_not_be_read() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = folder();
    let file = folder.path().join("closed.toml");
    fs::write(&file, demo("dunlin")).expect("a file");
    fs::set_permissions(&file, fs::Permissions::from_mode(0o000)).expect("permissions");
    let said = if fs::read(&file).is_err() {
        run(folder.path(), &["check", "closed.toml"])
    } else if let Some(said) = as_nobody(folder.path(), &["check", "closed.toml"]) {
        said
    } else {
        return;
    };
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(err(&said).contains("may not be read"), "{}", err(&said));
}

/// Checks a design over and over while one of its files is written, emptied and taken away again: each time
/// it is read whole, refused in words, or not there.
fn while_it_comes_and_goes(design: &str, flighty: &str, whole: &str, folder: &Path) {
    let file = folder.join(flighty);
    let over = AtomicBool::new(false);
    let (mut good, mut refused) = (0, 0);
    std::thread::scope(|scope| {
        // Also where an assertion below fails: the scope waits for the writer.
        let _over = Over(&over);
        scope.spawn(|| {
            let (half, _) = whole.split_at(whole.len() / 2);
            while !over.load(Ordering::Relaxed) {
                for text in [Some(whole), Some(half), Some(""), None] {
                    let _ = match text {
                        Some(text) => fs::write(&file, text),
                        None => fs::remove_file(&file),
                    };
                    std::thread::sleep(Duration::from_micros(200));
                }
            }
        });
        let mut runs = 0;
        // Beyond sixty only until there was one of each.
        while runs < 60 || ((good == 0 || refused == 0) && runs < 600) {
            let said = run(folder, &["check", design]);
            let text = err(&said);
            match said.status.code() {
                Some(0) if text.is_empty() => good += 1,
                Some(2) if text.contains("error: ") => refused += 1,
                _ => panic!("{:?}: {text}", said.status),
            }
            runs += 1;
        }
    });
    assert!(good > 0, "never read whole");
    assert!(refused > 0, "never refused");
}

#[test]
fn a_file_that_comes_and_goes() {
    let folder = folder();
    while_it_comes_and_goes(
        "flighty.toml",
        "flighty.toml",
        &demo("dunlin"),
        folder.path(),
    );
}

/// The same of a file that `from` names.
#[test]
fn a_set_that_comes_and_goes() {
    let folder = folder();
    let text = demo("curlew").replace("sets/three-and-four-35.toml", "flighty.toml");
    fs::write(folder.path().join("design.toml"), text).expect("a file");
    let set = demo("sets/three-and-four-35");
    while_it_comes_and_goes("design.toml", "flighty.toml", &set, folder.path());
}
