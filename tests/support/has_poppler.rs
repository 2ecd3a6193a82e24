//! Whether PDFs can be read back here.

use std::process::Command;

/// Whether the PDF tools are there. Without them a test of PDFs says on standard error that it is left
/// out, and what to install; where continuous integration runs (`CI` is set) it fails instead.
pub fn has_poppler() -> bool {
    let there = ["pdftoppm", "pdftotext", "pdffonts", "pdfinfo"]
        .iter()
        .all(|tool| Command::new(tool).arg("-v").output().is_ok());
    let needed = "tests of PDFs need poppler-utils (apt-get install poppler-utils)";
    assert!(there || std::env::var_os("CI").is_none(), "{needed}");
    if !there {
        eprintln!("left out: {needed}");
    }
    there
}
