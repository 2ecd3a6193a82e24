//! Tells a release build which commit it was made from, for `--version`, and what to watch for another
//! one. A test includes this file, to ask it about folders of every kind.

use std::path::Path;
use std::process::Command;

/// What a build is made from wherever it lies.
const SOURCES: [&str; 4] = ["build.rs", "src", "params", "Cargo.lock"];

fn main() {
    let release = std::env::var("PROFILE").is_ok_and(|profile| profile == "release");
    let folder = std::env::var("CARGO_MANIFEST_DIR").unwrap_or_default();
    let told = told(Path::new(&folder), release);
    for path in &told.watched {
        println!("cargo:rerun-if-changed={path}");
    }
    let version = std::env::var("CARGO_PKG_VERSION").unwrap_or_default();
    let build = told
        .commit
        .map_or(String::new(), |commit| format!(" (built from {commit})"));
    println!("cargo:rustc-env=BARRELHEAD_VERSION={version}{build}");
}

/// What the build script has to tell.
pub struct Told {
    /// Files and folders whose change asks for a new build, relative to the package's folder or
    /// absolute. All of them are there: one that is not would count as changed, every time.
    pub watched: Vec<String>,
    /// Short name of the commit, with a mark where files were changed since.
    pub commit: Option<String>,
}

/// Looks at the package in `folder`. Builds for development, which would be made anew at every commit,
/// and copies of the source that are no working tree of git have no commit.
pub fn told(folder: &Path, release: bool) -> Told {
    let mut watched: Vec<String> = SOURCES.map(str::to_owned).into();
    let mut commit = None;
    if release && is_own(folder) {
        watched.extend(of_git(folder));
        commit = named(folder);
    }
    watched.retain(|name| folder.join(name).exists());
    Told { watched, commit }
}

/// Whether the folder is the top of a working tree: a copy of the source that lies in someone else's
/// is not of their commit.
fn is_own(folder: &Path) -> bool {
    let top = git(folder, &["rev-parse", "--show-toplevel"]);
    let same = top.map(|top| std::fs::canonicalize(top).ok() == std::fs::canonicalize(folder).ok());
    same == Some(true)
}

/// What git changes with the commit or with what is staged. Where these lie is for git to say: a second
/// working tree has them elsewhere.
fn of_git(folder: &Path) -> Vec<String> {
    let place = |name: &str| git(folder, &["rev-parse", "--git-path", name]);
    // The log of HEAD gets a line whenever the commit becomes another one. It can be switched off, so
    // the branch is watched too: its file, or while that is packed away the folder where it will be.
    let mut places: Vec<String> = ["HEAD", "index", "logs/HEAD", "packed-refs"]
        .into_iter()
        .filter_map(place)
        .collect();
    let branch = git(folder, &["symbolic-ref", "--quiet", "HEAD"]);
    let near = branch.as_deref().and_then(|branch| {
        Path::new(branch)
            .ancestors()
            .filter_map(|near| place(near.to_str()?))
            .find(|near| folder.join(near).exists())
    });
    places.extend(near);
    places
}

fn named(folder: &Path) -> Option<String> {
    let commit = git(folder, &["rev-parse", "--short=10", "HEAD"])?;
    let changed = git(folder, &["status", "--porcelain", "--untracked-files=no"])
        .is_none_or(|list| !list.is_empty());
    Some(if changed {
        format!("{commit}, changed since")
    } else {
        commit
    })
}

fn git(folder: &Path, arguments: &[&str]) -> Option<String> {
    let mut git = Command::new("git");
    // Without the lock, asking for the status would write the index anew, which is watched: everything
    // would be built a second time.
    git.current_dir(folder)
        .arg("--no-optional-locks")
        .args(arguments);
    // Set where a hook of git builds; the folder alone is to decide.
    for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE"] {
        git.env_remove(name);
    }
    let output = git.output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim().to_owned())
}
