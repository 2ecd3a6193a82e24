//! The raw flags of the STEP files that `make` writes for every demo and every design of the
//! reference: each EDGE_CURVE used once each way after all flags, loops joined, curves on their
//! surfaces, and a positive volume from the file's own orientation, equal to report.json's.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod part21;

use std::fs;
use std::path::{Path, PathBuf};

use barrelhead::pipeline;

fn designs() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found: Vec<PathBuf> = ["params", "tests/reference/designs", "tests/good"]
        .iter()
        .flat_map(|folder| fs::read_dir(root.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|kind| kind == "toml"))
        .collect();
    found.sort();
    found
}

#[test]
fn every_flag_of_every_file_holds() {
    let out = tempfile::tempdir().unwrap();
    let mut audited = 0;
    for design in designs() {
        let made = pipeline::make(&design, &out.path().join(design.file_stem().unwrap())).unwrap();
        let report: serde_json::Value =
            serde_json::from_str(&fs::read_to_string(made.folder.join("report.json")).unwrap())
                .unwrap();
        for file in made
            .files
            .iter()
            .filter(|file| file.extension().is_some_and(|kind| kind == "step"))
        {
            let text = fs::read_to_string(file).unwrap();
            let audit = part21::audit(&text)
                .unwrap_or_else(|faults| panic!("{}:\n{}", file.display(), faults.join("\n")));
            assert_eq!(audit.solids.len(), 1);
            let solid = &audit.solids[0];
            let stem = file.file_stem().unwrap().to_str().unwrap();
            let told = &report["solids"][stem];
            let volume = told["volume_mm3"].as_f64().unwrap();
            assert!(
                (solid.volume / volume - 1.0).abs() < 1e-9,
                "{}",
                file.display()
            );
            let area = told["area_mm2"].as_f64().unwrap();
            assert!((solid.area / area - 1.0).abs() < 1e-9, "{}", file.display());
            assert!(
                solid.name.starts_with(report["title"].as_str().unwrap()),
                "{}",
                solid.name
            );
            audited += 1;
        }
    }
    assert!(audited >= 26, "only {audited} files");
}

/// The same input gives the same bytes, whatever the folder.
#[test]
fn the_same_input_gives_the_same_bytes() {
    let out = tempfile::tempdir().unwrap();
    for design in designs() {
        let one = pipeline::make(&design, &out.path().join("one")).unwrap();
        let two = pipeline::make(&design, &out.path().join("two")).unwrap();
        assert_eq!(one.files.len(), two.files.len());
        for (a, b) in one.files.iter().zip(&two.files) {
            assert_eq!(
                fs::read(a).unwrap(),
                fs::read(b).unwrap(),
                "{}",
                a.display()
            );
        }
    }
}
