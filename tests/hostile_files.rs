//! Files that no maker would write: endless, without bottom, in circles, of bytes that are no text, or
//! gone when they are opened. Each is refused at once, in words, with nothing written; or it is read.

#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

use std::fs::{self, File};
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use tempfile::{TempDir, tempdir};

/// Longer than any refusal may take, in a debug build on a busy machine; a hang shows as more.
const AT_ONCE: Duration = Duration::from_secs(20);

fn folder() -> TempDir {
    tempdir().expect("a temporary folder")
}

fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("params/{name}.toml"));
    fs::read_to_string(path).expect("the demo")
}

/// Runs the program; one that does not end is ended, and fails the test.
fn run(folder: &Path, line: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(line)
        .current_dir(folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let begun = Instant::now();
    while child.try_wait().expect("its state").is_none() {
        if begun.elapsed() > AT_ONCE {
            child.kill().expect("an end to it");
            child.wait().expect("its end");
            assert!(begun.elapsed() < AT_ONCE, "{line:?} does not end");
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    child.wait_with_output().expect("what it said")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

/// `check` and `make` both refuse the file with status 2 and these words, and write nothing.
fn refused(folder: &Path, file: &str, words: &[&str]) {
    for command in ["check", "make"] {
        let said = run(folder, &[command, file]);
        let text = err(&said);
        assert_eq!(said.status.code(), Some(2), "{command} {file}: {text}");
        for word in words {
            assert!(text.contains(word), "{command} {file}: {word}: {text}");
        }
        assert!(!text.contains("panicked"), "{text}");
    }
    assert!(!folder.join("output").exists(), "{file}");
}

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
        .arg(env!("CARGO_BIN_EXE_barrelhead"))
        .current_dir(folder.path())
        .output()
        .expect("a shell");
    assert_eq!(shell.status.code(), Some(2), "{}", err(&shell));
    assert!(err(&shell).contains("larger than 1 MiB"), "{}", err(&shell));
}

#[cfg(unix)]
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
}

#[test]
fn what_is_not_there_or_no_file() {
    let folder = folder();
    fs::create_dir(folder.path().join("folder.toml")).expect("a folder");
    refused(folder.path(), "folder.toml", &["is a folder"]);
    refused(folder.path(), ".", &["error: ", "parameter file"]);
    refused(folder.path(), "missing.toml", &["does not exist"]);
    refused(folder.path(), "missing.toml/x.toml", &["the file"]);
    refused(
        folder.path(),
        &format!("{}.toml", "x".repeat(300)),
        &["cannot be read"],
    );
    let text = demo("curlew").replace("sets/three-and-four-35.toml", "folder.toml");
    fs::write(folder.path().join("takes.toml"), text).expect("a file");
    refused(
        folder.path(),
        "takes.toml",
        &["folder.toml named here is a folder"],
    );
}

#[cfg(unix)]
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
    let open = fs::Permissions::from_mode(0o755);
    fs::set_permissions(folder.path(), open.clone()).expect("permissions");
    let file = folder.path().join("closed.toml");
    fs::write(&file, demo("dunlin")).expect("a file");
    fs::set_permissions(&file, fs::Permissions::from_mode(0o000)).expect("permissions");
    let program = folder.path().join("barrelhead");
    fs::copy(env!("CARGO_BIN_EXE_barrelhead"), &program).expect("the program");
    fs::set_permissions(&program, open).expect("permissions");
    let as_nobody = |line: &[&str]| {
        Command::new("setpriv")
            .args(["--reuid=65534", "--regid=65534", "--clear-groups"])
            .arg(&program)
            .args(line)
            .current_dir(folder.path())
            .output()
    };
    let said = if fs::read(&file).is_err() {
        run(folder.path(), &["check", "closed.toml"])
    } else if let Ok(said) = as_nobody(&["check", "closed.toml"]) {
        said
    } else {
        eprintln!("left out: run as root, this test needs setpriv (util-linux)");
        return;
    };
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert!(err(&said).contains("may not be read"), "{}", err(&said));
}

#[test]
fn from_in_a_circle() {
    let folder = folder();
    let set = |next: &str| format!("[machines]\nfrom = \"{next}\"\n");
    for (name, next) in [
        ("a", "b.toml"),
        ("b", "../here/c.toml"),
        ("c", "./a.toml"),
        ("own", "own.toml"),
    ] {
        let here = folder.path().join("here");
        fs::create_dir_all(&here).expect("a folder");
        fs::write(here.join(format!("{name}.toml")), set(next)).expect("a file");
    }
    for first in ["a.toml", "own.toml"] {
        let text = demo("curlew").replace("sets/three-and-four-35.toml", &format!("here/{first}"));
        fs::write(folder.path().join("design.toml"), text).expect("a file");
        refused(
            folder.path(),
            "design.toml",
            &["leads back to", "being read already"],
        );
    }
    let text = demo("curlew").replace("sets/three-and-four-35.toml", "design.toml");
    fs::write(folder.path().join("design.toml"), text).expect("a file");
    refused(
        folder.path(),
        "design.toml",
        &["design.toml:33:", "leads back to"],
    );
}

#[test]
fn a_thousand_digits_and_nesting_without_end() {
    let folder = folder();
    let digits = "1".repeat(1000);
    let with = |line: &str, other: &str| {
        let text = demo("dunlin");
        assert!(text.contains(line), "{line}");
        fs::write(
            folder.path().join("odd.toml"),
            text.replacen(line, other, 1),
        )
        .expect("a file");
    };
    let key = "barrel_diameter = 8.0";
    for number in [
        digits.clone(),
        format!("{digits}.5"),
        format!("-{digits}"),
        format!("1e{digits}"),
        format!("\"{digits} mm\""),
        format!("\"{digits}/{digits} in\""),
        format!("0x{}", "f".repeat(1000)),
    ] {
        with(key, &format!("barrel_diameter = {number}"));
        refused(folder.path(), "odd.toml", &["odd.toml:", "barrel_diameter"]);
    }
    let readings = ["8.0"; 5000].join(", ");
    with(
        key,
        &format!("barrel_diameter = {{ repeats = [{readings}] }}"),
    );
    refused(folder.path(), "odd.toml", &["5000 readings, more than 200"]);
    // A thousand places after the point are a number like any other.
    with(key, &format!("barrel_diameter = 8.0{}1", "0".repeat(1000)));
    let said = run(folder.path(), &["check", "odd.toml"]);
    assert_eq!(said.status.code(), Some(0), "{}", err(&said));
    for (open, close) in [("[", "]"), ("{a=", "}"), ("[{a=", "}]")] {
        let deep = format!(
            "barrel_diameter = {}1{}",
            open.repeat(50_000),
            close.repeat(50_000)
        );
        with(key, &deep);
        refused(folder.path(), "odd.toml", &["odd.toml"]);
    }
    with(key, &format!("{}b = 1", "a.".repeat(50_000)));
    refused(folder.path(), "odd.toml", &["odd.toml"]);
    with("[machines]", &format!("[{}b]", "a.".repeat(50_000)));
    refused(folder.path(), "odd.toml", &["odd.toml"]);
}

#[test]
fn bytes_that_are_no_text_and_text_of_other_machines() {
    let folder = folder();
    let file = folder.path().join("odd.toml");
    let text = demo("dunlin");
    let mut bytes = text.clone().into_bytes();
    bytes.extend(b"# l\xe4nge\n");
    let last = format!("odd.toml:{}:1", text.lines().count() + 1);
    fs::write(&file, bytes).expect("a file");
    refused(
        folder.path(),
        "odd.toml",
        &[&last, "is not UTF-8 text", "0xE4"],
    );
    fs::write(&file, format!("{text}\0\n")).expect("a file");
    refused(folder.path(), "odd.toml", &["control character"]);
    fs::write(&file, vec![0; 1000]).expect("a file");
    refused(folder.path(), "odd.toml", &["control character"]);
    // What editors on other machines write is read like any other.
    fs::write(&file, format!("\u{feff}{}", text.replace('\n', "\r\n"))).expect("a file");
    let said = run(folder.path(), &["check", "odd.toml"]);
    assert_eq!(said.status.code(), Some(0), "{}", err(&said));
}

/// A file that is written, emptied and taken away again while it is read, over and over: each time it
/// is read whole, refused in words, or not there.
#[test]
fn a_file_that_comes_and_goes() {
    use std::sync::atomic::{AtomicBool, Ordering};
    let folder = folder();
    let file = folder.path().join("flighty.toml");
    let whole = demo("dunlin");
    let over = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let (half, _) = whole.split_at(whole.len() / 2);
            while !over.load(Ordering::Relaxed) {
                for text in [Some(whole.as_str()), Some(half), Some(""), None] {
                    let _ = match text {
                        Some(text) => fs::write(&file, text),
                        None => fs::remove_file(&file),
                    };
                    std::thread::sleep(Duration::from_micros(200));
                }
            }
        });
        for _ in 0..60 {
            let said = run(folder.path(), &["check", "flighty.toml"]);
            let text = err(&said);
            let good = said.status.code() == Some(0) && text.is_empty();
            let refused = said.status.code() == Some(2) && text.contains("error: ");
            if !(good || refused) {
                over.store(true, Ordering::Relaxed);
            }
            assert!(good || refused, "{:?}: {text}", said.status);
        }
        over.store(true, Ordering::Relaxed);
    });
}
