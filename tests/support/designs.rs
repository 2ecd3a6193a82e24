//! Parameter files, as they lie in the project's folders.

#![allow(clippy::panic, reason = "a test stops at the first surprise")]

use std::fs;
use std::path::PathBuf;

use super::project::root;

/// Every TOML file right in one of these folders, in the order of their paths. A folder without any is a
/// fault of the test: it would hold for nothing.
pub fn designs(folders: &[&str]) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for folder in folders {
        let listed = fs::read_dir(root().join(folder)).map(|entries| {
            let paths = entries.flatten().map(|entry| entry.path());
            let found = paths.filter(|path| path.extension().is_some_and(|end| end == "toml"));
            found.collect::<Vec<PathBuf>>()
        });
        match listed {
            Ok(found) if !found.is_empty() => all.extend(found),
            Ok(_) => panic!("no designs in {folder}"),
            Err(error) => panic!("{folder}: {error}"),
        }
    }
    all.sort();
    all
}
