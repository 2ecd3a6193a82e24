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
mod support {
    pub mod designs;
    pub mod project;
}

use std::fs;

use barrelhead::pipeline::{self, Folder, Wanted};
use barrelhead::write::step::Schema;
use support::designs::designs;

#[test]
fn every_flag_of_every_file_holds() {
    let out = tempfile::tempdir().unwrap();
    let mut audited = 0;
    for design in designs(&["params", "tests/reference/designs", "tests/good"]) {
        let made = pipeline::make(
            &design,
            &out.path().join(design.file_stem().unwrap()),
            &Wanted::nothing_more(),
        )
        .unwrap();
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

/// Assemblies and rigs, in both schemas: every flag, every place, and no part but proved solids.
#[test]
fn every_flag_and_place_of_every_assembly_holds() {
    let out = tempfile::tempdir().unwrap();
    let mut audited = 0;
    for (index, design) in designs(&["params", "tests/reference/designs", "tests/good"])
        .iter()
        .enumerate()
    {
        let schema = [Schema::Ap242, Schema::Ap214][index % 2];
        let wanted = Wanted {
            folders: vec![Folder::Shop],
            schema,
            neck_stub: Some(60.0),
            ..Wanted::default()
        };
        let folder = out.path().join(design.file_stem().unwrap());
        let made = pipeline::make(design, &folder, &wanted).unwrap();
        for (name, least) in [("assembly", 5), ("rig", 6)] {
            let file = made.folder.join("shop").join(format!("{name}.step"));
            let text = fs::read_to_string(&file).unwrap();
            let audit = part21::audit(&text)
                .unwrap_or_else(|faults| panic!("{}:\n{}", file.display(), faults.join("\n")));
            let expected = ["AP242", "AP214"][index % 2];
            assert_eq!(audit.schema, expected);
            assert!(audit.placed.len() >= least, "{}", file.display());
            assert_eq!(audit.placed.len(), audit.solids.len());
            for part in &audit.placed {
                // No part is mirrored or scaled.
                assert!((part.turn.determinant() - 1.0).abs() < 1e-12);
                assert_eq!(part.name, audit.solids[part.solid].name);
            }
            audited += 1;
        }
    }
    assert!(audited >= 26, "only {audited} files");
}

/// The same input gives the same bytes, whatever the folder.
#[test]
fn the_same_input_gives_the_same_bytes() {
    let out = tempfile::tempdir().unwrap();
    for design in designs(&["params", "tests/reference/designs", "tests/good"]) {
        let one = pipeline::make(&design, &out.path().join("one"), &Wanted::default()).unwrap();
        let two = pipeline::make(&design, &out.path().join("two"), &Wanted::default()).unwrap();
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
