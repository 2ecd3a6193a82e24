//! The demos: every parameter file of `params/`, so that a new one joins each test by itself.

use std::path::PathBuf;

use super::designs::designs;
use super::project::root;

const FOLDER: &str = "params";

/// Their names, in order of the alphabet; never none.
pub fn demos() -> Vec<String> {
    let files = designs(&[FOLDER]);
    let names = files.iter().filter_map(|file| file.file_stem());
    names
        .map(|name| name.to_string_lossy().into_owned())
        .collect()
}

/// The parameter file of a demo.
pub fn demo_file(name: &str) -> PathBuf {
    root().join(FOLDER).join(format!("{name}.toml"))
}
