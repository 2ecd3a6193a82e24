//! README's list of what `make` writes.

#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use std::collections::BTreeSet;
use std::fs;

use super::project::root;

/// Names in the first column of README's two tables of files: a name without a folder lies in the
/// folder of the one before it in its cell, and a bare ending stands for the same name again.
pub fn listed() -> BTreeSet<String> {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let section = readme.split("## What `make` writes").nth(1).unwrap();
    let section = section.split("\n## ").next().unwrap();
    let mut found = BTreeSet::new();
    for row in section.lines().filter(|line| line.starts_with("| `")) {
        let cell = row.split('|').nth(1).unwrap();
        let mut last: Option<String> = None;
        for name in cell.split('`').skip(1).step_by(2) {
            let full = match (&last, name.starts_with('.')) {
                (Some(last), true) => format!("{}{name}", last.rsplit_once('.').unwrap().0),
                (Some(last), false) if !name.contains('/') => match last.rsplit_once('/') {
                    Some((folder, _)) => format!("{folder}/{name}"),
                    None => name.to_owned(),
                },
                _ => name.to_owned(),
            };
            found.insert(full.clone());
            last = Some(full);
        }
    }
    found
}
