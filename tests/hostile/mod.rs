//! What the tests of hostile places and of disks that fail share: the program as run in a folder of
//! its own, and what is in that folder afterwards.

#![allow(
    dead_code,
    clippy::expect_used,
    clippy::panic,
    reason = "each test uses its part; one that cannot set up its case should say so and fail"
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};

use tempfile::{TempDir, tempdir};

pub mod at_once;
pub mod commands;
pub mod limits;

pub const PROGRAM: &str = env!("CARGO_BIN_EXE_barrelhead");

pub fn folder() -> TempDir {
    tempdir().expect("a temporary folder")
}

pub fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("params/{name}.toml"));
    fs::read_to_string(path).expect("the demo")
}

/// A folder with the small demo in it, called `a.toml`.
pub fn with_demo() -> TempDir {
    let folder = folder();
    fs::write(folder.path().join("a.toml"), demo("dunlin")).expect("a file");
    folder
}

/// Another design for the same folder, with two blocks where the first has one, so that some files of
/// the one are stale for the other.
pub fn two_blocks() -> String {
    let sets = Path::new(env!("CARGO_MANIFEST_DIR")).join("params/sets");
    demo("curlew").replace("sets/", &format!("{}/", sets.display()))
}

pub fn start(folder: &Path, line: &[&str]) -> Child {
    Command::new(PROGRAM)
        .args(line)
        .current_dir(folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

pub fn run(folder: &Path, line: &[&str]) -> Output {
    start(folder, line).wait_with_output().expect("its end")
}

/// A part of a test that this machine has no means for. Where everything is to run, that is a failure.
pub fn left_out(what: &str) {
    assert!(std::env::var_os("CI").is_none(), "needed here: {what}");
    eprintln!("left out: {what}");
}

/// Runs a copy of the program that lies in `folder` as a user who may do little, for what root may
/// always do; `None` without the means.
pub fn as_nobody(folder: &Path, line: &[&str]) -> Option<Output> {
    use std::os::unix::fs::PermissionsExt as _;
    let program = folder.join("barrelhead");
    fs::copy(PROGRAM, &program).expect("the program");
    for place in [folder, &program] {
        fs::set_permissions(place, fs::Permissions::from_mode(0o755)).expect("permissions");
    }
    let said = Command::new("setpriv")
        .args(["--reuid=65534", "--regid=65534", "--clear-groups"])
        .arg(&program)
        .args(line)
        .current_dir(folder)
        .output();
    fs::remove_file(program).expect("gone");
    if said.is_err() {
        left_out("run as root, this test needs setpriv (util-linux)");
    }
    said.ok()
}

/// Ends whoever looks at it when the test does, be it by a panic.
pub struct Over<'a>(pub &'a AtomicBool);

impl Drop for Over<'_> {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

pub fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

pub fn done(output: &Output) {
    assert_eq!(output.status.code(), Some(0), "{}", err(output));
}

/// Every file below a folder and its bytes; a link counts as what it says.
pub fn found(folder: &Path) -> BTreeMap<String, Vec<u8>> {
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

pub fn names(files: &BTreeMap<String, Vec<u8>>) -> Vec<&str> {
    files.keys().map(String::as_str).collect()
}

/// What a run into an empty folder leaves there.
pub fn complete(text: &str) -> BTreeMap<String, Vec<u8>> {
    let folder = folder();
    fs::write(folder.path().join("a.toml"), text).expect("a file");
    done(&run(folder.path(), &["make", "a.toml"]));
    found(&folder.path().join("output/a"))
}

/// The folder of hidden names, none of which may be left.
pub fn nothing_hidden(files: &BTreeMap<String, Vec<u8>>) {
    assert!(
        !files.keys().any(|name| name.starts_with('.')),
        "{:?}",
        names(files)
    );
}
