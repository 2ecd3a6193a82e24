//! Folders of variants that an earlier run made, beside the list of this one.

use std::path::Path;

use super::super::style::clean;
use super::super::verdicts;
use super::LIST;
use super::making::named;

/// Names of the folders in `out` that hold a variant of an earlier run: they begin like a variant's and have
/// a report in them, and are not among those `made` now. Anything else there is somebody's own.
pub(super) fn folders(out: &Path, made: &[Option<String>]) -> Vec<String> {
    let Ok(listed) = std::fs::read_dir(out) else {
        return Vec::new();
    };
    let mut names: Vec<String> = listed
        .flatten()
        .filter(|entry| entry.path().join("report.json").is_file())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| {
            let like_ours = name.split_once('-').is_some_and(|(number, rest)| {
                let digits = number.bytes().all(|byte| byte.is_ascii_digit());
                digits && !number.is_empty() && rest.contains('-')
            });
            like_ours && !made.iter().flatten().any(|own| own == name)
        })
        .collect();
    names.sort();
    names
}

/// Said beside the list, so that no folder is taken for one of it. They are never removed: a person may have
/// worked in them.
pub(super) fn warning(earlier: &[String], out: &Path) -> String {
    if earlier.is_empty() {
        return String::new();
    }
    let names: Vec<&str> = earlier.iter().map(String::as_str).collect();
    verdicts::note(&format!(
        "Of an earlier run, and not in {LIST}: {} in {}. What they hold may be of other numbers or an older file; \
         remove what you no longer want, or name a folder a run with --out.",
        named(&names),
        clean(&out.display().to_string()),
    ))
}
