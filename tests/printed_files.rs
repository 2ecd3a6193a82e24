//! Printer's files: STL and 3MF of designs whose features are as small as a file can hold, and 3MF
//! read back by the 3MF Consortium's own library in strict mode.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod random;
mod support {
    pub mod checks;
    pub mod demos;
    pub mod designs;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::{Path, PathBuf};

use barrelhead::check::{self, Checked};
use barrelhead::input::{self, BoreDepth, Design, Ramp};
use barrelhead::solid::printed::{
    GAUGE_RULE, NOTCH_RULE, PrintOptions, PrintPart, fit_gauges, printed_parts,
};
use barrelhead::solid::{self, Solids};
use barrelhead::write::stl::stl_file;
use barrelhead::write::threemf::{About, threemf};
use support::checks::all_hold;
use support::demos::{demo_file, demos};
use support::reference::script;

fn sandpiper() -> Design {
    input::read(&demo_file("sandpiper")).unwrap()
}

fn built(design: &Design) -> (Checked, Solids) {
    let (report, checked) = check::run(design);
    let checked = checked.unwrap_or_else(|| panic!("stopped: {report:?}"));
    let solids = solid::build(&checked).unwrap();
    (checked, solids)
}

/// Every part of a design, mock included.
fn parts(design: &Design) -> Vec<PrintPart> {
    let (checked, solids) = built(design);
    printed_parts(&checked, &solids, PrintOptions { mock: true }).unwrap()
}

/// Corners of slots, ramps and points as small as single precision: all of it is written.
#[test]
fn features_of_a_few_nanometres_do_not_stop_a_file() {
    let mut designs: Vec<(String, Design)> = Vec::new();
    let mut add = |name: String, change: &dyn Fn(&mut Design)| {
        let mut design = sandpiper();
        change(&mut design);
        designs.push((name, design));
    };
    for mouth in [0.0001, 0.0002, 0.0005, 0.01] {
        for radius in [7.5, 7.4995, 7.4998, 7.4999, 3.0, 0.0001, 0.001, 0.0] {
            for angle in [1.0_f64, 24.0] {
                add(format!("mouth {mouth}, radius {radius}, {angle}°"), &|d| {
                    let slots = d.slots.as_mut().unwrap();
                    slots.ramp = Some(Ramp {
                        mouth,
                        angle: angle.to_radians(),
                    });
                    slots.corner_radius = radius;
                });
            }
        }
    }
    // A parallel head whose points are cut barely past the centre plane: the tip passes it by this.
    let tip = sandpiper_tip();
    for past in [0.0001, 0.0003, 0.001, 0.01] {
        add(format!("point {past} past the centre"), &|d| {
            let half = d.head.half_width_at_start.treble;
            d.head.half_width_at_end.treble = half;
            d.head.half_width_at_end.bass = half;
            d.bores.depth = BoreDepth::BeyondBarrel(half - d.machines.barrel_length - tip + past);
        });
    }
    for extra in [0.0001, 0.0002] {
        add(format!("counterbore {extra} wider"), &|d| {
            d.bores.counterbore = Some(input::Counterbore {
                diameter: d.bores.diameter + extra,
                depth: 3.0,
            });
        });
    }
    let (mut written, mut faults) = (0, Vec::new());
    for (name, design) in &designs {
        let Some(checked) = check::run(design).1 else {
            continue;
        };
        let solids = solid::build(&checked).unwrap_or_else(|fault| panic!("{name}: {fault}"));
        for part in solids.parts() {
            if let Err(fault) = stl_file(&part.printed) {
                faults.push(format!("{name}, {}: {fault}", part.stem));
            }
        }
        match printed_parts(&checked, &solids, PrintOptions { mock: true }) {
            Ok(_) => written += 1,
            Err(fault) => faults.push(format!("{name}: {fault}")),
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(
        written > designs.len() * 3 / 4,
        "{written} of {}",
        designs.len()
    );
}

/// Height of the printed bit's point: a bore of 10.7 mm, 118 degrees.
fn sandpiper_tip() -> f64 {
    5.35 / 59f64.to_radians().tan()
}

/// Whatever passes its checks prints, parted for a small bed or whole; pieces hold what the whole
/// holds.
#[test]
fn random_designs_print() {
    let mut dice = random::Dice::new(23);
    let (mut printed, mut parted) = (0, 0);
    for _ in 0..150 {
        let text = random::design(&mut dice).in_one_file().millimetres().text;
        let Ok(mut design) = input::read_str(&text, "random.toml".as_ref(), ".".as_ref()) else {
            continue;
        };
        let Some(checked) = check::run(&design).1 else {
            continue;
        };
        let solids = solid::build(&checked).unwrap();
        let whole = printed_parts(&checked, &solids, PrintOptions { mock: true })
            .unwrap_or_else(|fault| panic!("{fault}\n{text}"));
        fit_gauges(&checked).unwrap_or_else(|fault| panic!("{fault}\n{text}"));
        printed += 1;
        design.print.bed = Some([110.0, 100.0, 120.0]);
        let checked = check::run(&design).1.unwrap();
        let pieces = printed_parts(&checked, &solids, PrintOptions { mock: true })
            .unwrap_or_else(|fault| panic!("{fault}\n{text}"));
        parted += usize::from(pieces.len() > whole.len());
        for piece in &pieces {
            let on_bed = piece.on_bed();
            let fits = on_bed.x <= 110.001 && on_bed.y <= 100.001;
            let said = pieces.iter().any(|part| {
                let stem = |name: &str| name.split(", piece").next().unwrap().to_owned();
                stem(&part.name) == stem(&piece.name)
                    && part.notes.iter().any(|note| note.contains("does not fit"))
            });
            assert!(fits || said, "{} {on_bed}\n{text}", piece.name);
        }
        let head = |parts: &[PrintPart]| -> f64 {
            parts
                .iter()
                .filter(|part| part.number.starts_with("mock-head"))
                .map(|part| part.volume)
                .sum()
        };
        assert!((head(&pieces) - head(&whole)).abs() < 1e-8 * head(&whole));
    }
    println!("{printed} printed, {parted} parted");
    assert!(
        printed > 30 && parted > 10,
        "{printed} printed, {parted} parted"
    );
}

/// Files for the library, and what it must find in them.
fn write_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut write = |stem: &str, parts: &[PrintPart], title: &str| {
        let about = About {
            title,
            description: &format!("{NOTCH_RULE} {GAUGE_RULE}"),
            date: Some("2026-03-14"),
        };
        let bytes = threemf(parts, &about).unwrap();
        assert_eq!(
            bytes,
            threemf(parts, &about).unwrap(),
            "the same parts, other bytes"
        );
        let expected: Vec<serde_json::Value> = parts
            .iter()
            .map(|part| {
                serde_json::json!({
                    "name": part.name, "number": part.number, "volume": part.volume,
                    "area": part.area, "size": part.size.to_array(),
                    "triangles": part.mesh.triangles.len(),
                })
            })
            .collect();
        let file = folder.join(stem).with_extension("3mf");
        fs::write(&file, bytes).unwrap();
        let expected = serde_json::json!({ "title": title, "chord": 0.02, "objects": expected });
        fs::write(file.with_extension("json"), expected.to_string()).unwrap();
        files.push(file);
    };
    for demo in demos() {
        let mut design = input::read(&demo_file(&demo)).unwrap();
        write(&demo, &parts(&design), &design.title);
        write(
            &format!("{demo}-gauge"),
            &fit_gauges(&built(&design).0).unwrap(),
            "Größe <&> \"定規\"",
        );
        design.print.bed = Some([100.0, 90.0, 120.0]);
        write(&format!("{demo}-small-bed"), &parts(&design), &design.title);
    }
    files
}

#[test]
fn the_consortiums_library_reads_every_file_without_a_warning() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("printed-files");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let files = write_files(&folder);
    let checks = 10 * files.len();
    all_hold(script("check_3mf.py").args(&files), checks);
}
