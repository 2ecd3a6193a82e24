//! Where the project lies.

use std::path::Path;

/// The project's folder.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
