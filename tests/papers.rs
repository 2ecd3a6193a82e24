//! The writers of sheets, read back by programs that know nothing of them.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod sheets;

use std::fs;
use std::path::{Path, PathBuf};

use barrelhead::write::{dxf::dxf, pdf::pdf, png::png, svg::svg};

#[test]
fn written() {
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    fs::create_dir_all(&out).unwrap();
    let a = sheets::sheet(210.0, 297.0);
    fs::write(out.join("a.svg"), svg(&a)).unwrap();
    fs::write(
        out.join("a.pdf"),
        pdf(&[a.clone(), sheets::sheet(279.4, 215.9)]).unwrap(),
    )
    .unwrap();
    fs::write(out.join("a.png"), png(&a, 6.0).unwrap()).unwrap();
    fs::write(out.join("a.dxf"), dxf(&a.items)).unwrap();
}
