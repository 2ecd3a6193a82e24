//! Tells a release build which commit it was made from, for `--version`. Without git, and in builds
//! for development, which would be made anew at every commit, there is none.

use std::path::Path;
use std::process::Command;

fn main() {
    let mut watched: Vec<String> = ["build.rs", "src", "params", "Cargo.lock"]
        .map(str::to_owned)
        .into();
    if std::env::var("PROFILE").is_ok_and(|profile| profile == "release") {
        // Where these lie is for git to say: a second working tree has them elsewhere.
        let of_git = ["HEAD", "index"].map(|name| git(&["rev-parse", "--git-path", name]));
        watched.extend(of_git.into_iter().flatten());
    }
    // A path that is not there would count as changed, and everything be built anew every time.
    for path in watched.iter().filter(|path| Path::new(path).exists()) {
        println!("cargo:rerun-if-changed={path}");
    }
    let version = std::env::var("CARGO_PKG_VERSION").unwrap_or_default();
    let build = build().map_or(String::new(), |commit| format!(" (built from {commit})"));
    println!("cargo:rustc-env=BARRELHEAD_VERSION={version}{build}");
}

/// Short name of the commit, with a mark where files were changed since.
fn build() -> Option<String> {
    if std::env::var("PROFILE").ok()? != "release" {
        return None;
    }
    // A copy of the source that lies in someone else's repository is not of that commit.
    let own = git(&["rev-parse", "--show-toplevel"])?;
    let here = std::env::var("CARGO_MANIFEST_DIR").ok()?;
    let same = std::fs::canonicalize(own).ok()? == std::fs::canonicalize(here).ok()?;
    if !same {
        return None;
    }
    let commit = git(&["rev-parse", "--short=10", "HEAD"])?;
    let changed =
        git(&["status", "--porcelain", "--untracked-files=no"]).is_none_or(|list| !list.is_empty());
    Some(if changed {
        format!("{commit}, changed since")
    } else {
        commit
    })
}

fn git(arguments: &[&str]) -> Option<String> {
    let output = Command::new("git").args(arguments).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim().to_owned())
}
