//! Files that `--only` left alone: are they of this design? Nothing in a drawing says of which numbers it
//! was made, so they are made again in memory and compared.

use std::fs;
use std::path::Path;

use super::{Folder, Wanted, Work, files_of};
use crate::write::html;

const REPORT: &str = "report.html";

/// Names of those files below `folder` that are ours, that this run was not asked for, and that it
/// would write otherwise or not at all: they are of another design, of older numbers, or of other options.
pub(super) fn earlier(work: &Work<'_>, folder: &Path) -> Vec<String> {
    let there: Vec<(&str, Vec<u8>)> = work
        .wanted
        .left_out()
        .filter_map(|name| Some((name, content(&folder.join(name))?)))
        .collect();
    if there.is_empty() {
        return Vec::new();
    }
    let whole = Wanted {
        folders: Folder::ALL.to_vec(),
        ..work.wanted.clone()
    };
    let work = Work {
        wanted: &whole,
        ..*work
    };
    // A design of which these files cannot be made is not the one they were made of.
    let fresh = files_of(&work, &mut |_| {}).map_or_else(|_| Vec::new(), |made| made.files);
    let same = |name: &str, old: &[u8]| {
        fresh
            .iter()
            .find(|(own, _)| own == name)
            .is_some_and(|(_, new)| new == old || name == REPORT && same_page(new, old))
    };
    there
        .iter()
        .filter(|(name, old)| !same(name, old))
        .map(|(name, _)| (*name).to_owned())
        .collect()
}

/// More than any file of ours holds, bytes.
const LARGEST: u64 = 1 << 28;

/// What a file holds; nothing where it cannot be read, and where what stands there is no file of ours at
/// all: a pipe may never end, nor begin. `None` where nothing stands there.
fn content(place: &Path) -> Option<Vec<u8>> {
    fs::symlink_metadata(place).ok()?;
    let read = || {
        let meta = fs::metadata(place).ok()?;
        let fits = meta.is_file() && meta.len() <= LARGEST;
        fits.then(|| fs::read(place).ok()).flatten()
    };
    Some(read().unwrap_or_default())
}

/// Whether two pages show the same design; what was written beside them is another matter.
fn same_page(a: &[u8], b: &[u8]) -> bool {
    match (std::str::from_utf8(a), std::str::from_utf8(b)) {
        (Ok(a), Ok(b)) => html::of_the_design(a) == html::of_the_design(b),
        _ => false,
    }
}
