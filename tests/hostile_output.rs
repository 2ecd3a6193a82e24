//! Where files are to go: folders that are links, files where folders are to be, folders where files
//! are to be, disks that are full, names that lead elsewhere, two runs at once, and a run killed at any
//! moment. Afterwards there is a complete set of files, or what was there before; never half a file under
//! its final name, and nothing outside the output folder.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up its case should say so and fail"
)]

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

use tempfile::{TempDir, tempdir};

const PROGRAM: &str = env!("CARGO_BIN_EXE_barrelhead");

fn folder() -> TempDir {
    tempdir().expect("a temporary folder")
}

fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("params/{name}.toml"));
    fs::read_to_string(path).expect("the demo")
}

/// A folder with the small demo in it, called `a.toml`.
fn with_demo() -> TempDir {
    let folder = folder();
    fs::write(folder.path().join("a.toml"), demo("dunlin")).expect("a file");
    folder
}

/// Another design for the same folder, with two blocks where the first has one, so that some files of
/// the one are stale for the other.
fn two_blocks() -> String {
    let sets = Path::new(env!("CARGO_MANIFEST_DIR")).join("params/sets");
    demo("curlew").replace("sets/", &format!("{}/", sets.display()))
}

fn start(folder: &Path, line: &[&str]) -> Child {
    Command::new(PROGRAM)
        .args(line)
        .current_dir(folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

fn run(folder: &Path, line: &[&str]) -> Output {
    start(folder, line).wait_with_output().expect("its end")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

fn done(output: &Output) {
    assert_eq!(output.status.code(), Some(0), "{}", err(output));
}

/// Every file below a folder and its bytes; a link counts as what it says.
fn found(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    let mut places = vec![String::new()];
    while let Some(below) = places.pop() {
        for entry in fs::read_dir(folder.join(&below)).into_iter().flatten() {
            let entry = entry.expect("an entry");
            let own = entry
                .file_name()
                .into_string()
                .expect("a name of plain letters");
            let name = format!("{below}{own}");
            let kind = entry.file_type().expect("its kind");
            if kind.is_dir() {
                places.push(format!("{name}/"));
            } else if kind.is_symlink() {
                let to = fs::read_link(entry.path()).expect("the link");
                all.insert(name, format!("link to {}", to.display()).into_bytes());
            } else {
                all.insert(name, fs::read(entry.path()).expect("the file"));
            }
        }
    }
    all
}

fn names(files: &BTreeMap<String, Vec<u8>>) -> Vec<&str> {
    files.keys().map(String::as_str).collect()
}

/// What a run into an empty folder leaves there.
fn complete(text: &str) -> BTreeMap<String, Vec<u8>> {
    let folder = folder();
    fs::write(folder.path().join("a.toml"), text).expect("a file");
    done(&run(folder.path(), &["make", "a.toml"]));
    found(&folder.path().join("output/a"))
}

/// The folder of hidden names, none of which may be left.
fn nothing_hidden(files: &BTreeMap<String, Vec<u8>>) {
    assert!(
        !files.keys().any(|name| name.starts_with('.')),
        "{:?}",
        names(files)
    );
}

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

/// A disk that is full is shown to the program by the shell's limit on the size of a file: from some
/// byte on the system refuses to write, as a full disk does, but says so with another number. (A disk of
/// our own would need the right to mount one.) The limit is moved through the sizes of all files.
#[test]
fn a_full_disk_leaves_everything_as_it_was() {
    let folder = with_demo();
    done(&run(folder.path(), &["make", "a.toml"]));
    let before = found(&folder.path().join("output"));
    fs::write(folder.path().join("a.toml"), two_blocks()).expect("a file");
    // In blocks of 512 bytes, as POSIX has it; some shells count kilobytes.
    for blocks in [0, 1, 8, 16, 40, 64] {
        let shell = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" make a.toml 2>&1 | cat");
        let said = Command::new("sh")
            .args(["-c", &shell, PROGRAM])
            .current_dir(folder.path())
            .output()
            .expect("a shell");
        let text = String::from_utf8_lossy(&said.stdout).into_owned();
        assert!(
            text.contains("nothing was written: cannot write output/a/"),
            "{blocks}: {text}"
        );
        assert!(
            text.contains("the system allows no file of that size"),
            "{blocks}: {text}"
        );
        assert_eq!(found(&folder.path().join("output")), before, "{blocks}");
    }
    // The same without an earlier run: not even the folder is left.
    let shell = "trap '' XFSZ; ulimit -f 1; exec \"$0\" make a.toml --out new/folder";
    let said = Command::new("sh")
        .args(["-c", shell, PROGRAM])
        .current_dir(folder.path())
        .output()
        .expect("a shell");
    assert_eq!(said.status.code(), Some(3), "{}", err(&said));
    assert!(!folder.path().join("new").exists());
    let shell = "trap '' XFSZ; ulimit -f 1; exec \"$0\" start six-string new.toml";
    let said = Command::new("sh")
        .args(["-c", shell, PROGRAM])
        .current_dir(folder.path())
        .output()
        .expect("a shell");
    assert_eq!(said.status.code(), Some(2), "{}", err(&said));
    assert_eq!(names(&found(folder.path())), {
        let mut all = vec!["a.toml".to_owned()];
        all.extend(before.keys().map(|name| format!("output/{name}")));
        all
    });
}

/// Standard output that takes nothing, as where a disk is full: said, and no panic.
#[cfg(target_os = "linux")]
#[test]
fn a_full_standard_output() {
    let folder = with_demo();
    let full = fs::File::options()
        .write(true)
        .open("/dev/full")
        .expect("/dev/full");
    let said = Command::new(PROGRAM)
        .args(["make", "a.toml"])
        .current_dir(folder.path())
        .stdout(full)
        .output()
        .expect("its end");
    assert_eq!(said.status.code(), Some(3), "{}", err(&said));
    assert!(
        err(&said).contains("output cannot be written"),
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

#[test]
fn two_runs_at_once_leave_the_whole_set_of_one() {
    let folder = folder();
    let (first, second) = (demo("dunlin"), two_blocks());
    fs::create_dir(folder.path().join("other")).expect("a folder");
    fs::write(folder.path().join("a.toml"), &first).expect("a file");
    fs::write(folder.path().join("other/a.toml"), &second).expect("a file");
    let sets = [complete(&first), complete(&second)];
    assert_ne!(names(&sets[0]), names(&sets[1]));
    let mut ended = [0, 0];
    let lines = [["make", "a.toml"], ["make", "other/a.toml"]];
    let mut lengths = [Duration::ZERO; 2];
    for (line, length) in lines.iter().zip(&mut lengths) {
        let begun = Instant::now();
        done(&run(folder.path(), line));
        *length = begun.elapsed();
    }
    // The slower one first, the other so much later that they end together, more or less.
    let ahead = lengths[1].saturating_sub(lengths[0]);
    let rounds = if cfg!(debug_assertions) { 4 } else { 12 };
    for round in 0..rounds {
        let slower = start(folder.path(), &lines[1]);
        std::thread::sleep(ahead.mul_f64(f64::from(round) / f64::from(rounds) * 2.0));
        let faster = start(folder.path(), &lines[0]);
        let third = (round % 3 == 0).then(|| start(folder.path(), &lines[0]));
        for run in [Some(slower), Some(faster), third].into_iter().flatten() {
            done(&run.wait_with_output().expect("its end"));
        }
        let left = found(&folder.path().join("output/a"));
        let whose = sets.iter().position(|set| *set == left);
        let whose = whose.unwrap_or_else(|| panic!("a mixed set: {:?}", names(&left)));
        ended[whose] += 1;
    }
    eprintln!("last come: {ended:?}");
}

/// Kills `make` at moments spread over its whole run.
#[test]
fn a_kill_at_any_moment() {
    let folder = folder();
    let texts = [demo("dunlin"), two_blocks()];
    let sets = [complete(&texts[0]), complete(&texts[1])];
    let file = folder.path().join("a.toml");
    let made = folder.path().join("output/a");
    let whole = |place: usize| {
        fs::write(&file, &texts[place]).expect("a file");
        let begun = Instant::now();
        done(&run(folder.path(), &["make", "a.toml"]));
        begun.elapsed()
    };
    let length = whole(0).max(whole(0));
    let (mut old, mut new, mut between) = (0, 0, 0);
    let kills = if cfg!(debug_assertions) { 15 } else { 60 };
    let mut before = 0;
    for kill in 0..kills {
        let next = 1 - before;
        fs::write(&file, &texts[next]).expect("a file");
        let mut child = start(folder.path(), &["make", "a.toml"]);
        // Most of them late, where the files are written.
        let share = 1.0 - f64::from((kill * 37) % kills) / f64::from(kills) * 0.6;
        std::thread::sleep(length.mul_f64(share * 1.05));
        child.kill().expect("its end");
        child.wait().expect("its end");
        let mut left = found(&made);
        left.retain(|name, _| !name.starts_with('.'));
        if left == sets[before] {
            old += 1;
        } else if left == sets[next] {
            new += 1;
            before = next;
        } else {
            // In the millisecond of the exchange: whole files of both, and nothing that says complete.
            between += 1;
            assert!(!left.contains_key("report.json"), "{:?}", names(&left));
            for (name, bytes) in &left {
                let known = sets.iter().any(|set| set.get(name) == Some(bytes));
                assert!(known, "{name} is half a file");
            }
            whole(before);
        }
    }
    eprintln!("{kills} kills: {old} left the old set, {new} the new one, {between} neither whole");
    assert!(old > 0, "no kill came before the exchange");
    // The next run leaves nothing of those that were killed.
    whole(0);
    let left = found(&made);
    nothing_hidden(&left);
    assert_eq!(left, sets[0]);
}
