//! Tells a release build which commit it was made from, for `--version`. Without git, and in builds
//! for development, which would be made anew at every commit, there is none.

use std::process::Command;

fn main() {
    for watched in [
        "build.rs",
        "src",
        "params",
        "Cargo.lock",
        ".git/HEAD",
        ".git/index",
    ] {
        println!("cargo:rerun-if-changed={watched}");
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
