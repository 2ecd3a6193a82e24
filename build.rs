//! Tells a release build which commit it was made from, for `--version`.

use std::path::Path;

#[path = "build/version.rs"]
mod version;

fn main() {
    let release = std::env::var("PROFILE").is_ok_and(|profile| profile == "release");
    let folder = std::env::var("CARGO_MANIFEST_DIR").unwrap_or_default();
    let told = version::told(Path::new(&folder), release);
    for path in &told.watched {
        println!("cargo:rerun-if-changed={path}");
    }
    let version = std::env::var("CARGO_PKG_VERSION").unwrap_or_default();
    let build = told
        .commit
        .map_or(String::new(), |commit| format!(" (built from {commit})"));
    println!("cargo:rustc-env=BARRELHEAD_VERSION={version}{build}");
}
