//! A few hundred random designs, drawn afresh every time, against OpenCASCADE: its reader, its own
//! booleans from the parameter file, and the least wood as it measures it.
//!
//! The seed is printed. `BARRELHEAD_SEED=n` draws the same designs again, `BARRELHEAD_DESIGNS=n` as
//! many as you have time for.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod random;
mod support {
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::Path;

use barrelhead::pipeline::{self, Failure, Wanted};
use support::project::root;
use support::reference::script;

/// As many as two cores hold in two minutes; an unoptimised build takes a look only.
const DESIGNS: usize = if cfg!(debug_assertions) { 20 } else { 200 };

fn number(variable: &str) -> Option<u64> {
    let text = std::env::var(variable).ok()?;
    Some(
        text.parse()
            .unwrap_or_else(|_| panic!("{variable}={text}: a whole number is wanted")),
    )
}

/// Writes accepted designs with what `make` makes of them, one folder each; how many were drawn.
fn draw(folder: &Path, seed: u64, wanted: usize) -> usize {
    let mut dice = random::Dice::new(seed);
    let (mut accepted, mut drawn) = (0, 0);
    let only_the_contract = Wanted {
        folders: Vec::new(),
        ..Wanted::default()
    };
    while accepted < wanted {
        drawn += 1;
        assert!(
            drawn <= 20 * wanted,
            "{accepted} of {drawn} designs accepted: too few to mean anything"
        );
        let place = folder.join(format!("{accepted:04}"));
        fs::create_dir_all(&place).unwrap();
        let file = place.join("design.toml");
        fs::write(&file, random::design(&mut dice).millimetres()).unwrap();
        match pipeline::make(&file, &place, &only_the_contract) {
            Ok(_) => accepted += 1,
            Err(Failure::Stopped(..) | Failure::Input(_)) => fs::remove_dir_all(&place).unwrap(),
            Err(other) => panic!("seed {seed}, {}: {other:?}", file.display()),
        }
    }
    drawn
}

#[test]
fn fresh_designs_agree_with_opencascade() {
    let seed = number("BARRELHEAD_SEED").unwrap_or_else(|| {
        std::time::UNIX_EPOCH
            .elapsed()
            .map_or(0, |now| now.as_nanos() as u64)
    });
    let wanted = number("BARRELHEAD_DESIGNS").map_or(DESIGNS, |n| n as usize);
    println!("BARRELHEAD_SEED={seed}");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("reference-fresh");
    let _ = fs::remove_dir_all(&folder);
    let drawn = draw(&folder, seed, wanted);
    println!("{wanted} designs accepted of {drawn} drawn");
    let (held, text, errors) = check(&folder);
    println!("{text}");
    let failures: Vec<&str> = text
        .lines()
        .filter(|line| line.contains("failed:"))
        .collect();
    assert!(
        held,
        "BARRELHEAD_SEED={seed} (designs are in {})\n{}\n{errors}",
        folder.display(),
        failures.join("\n"),
    );
    // A script that checked nothing must not pass for one that found nothing.
    let agreed = text.lines().filter(|line| line.starts_with("ok")).count();
    assert_eq!(agreed, wanted, "only {agreed} designs were checked");
}

/// Whether every design of the folder agrees, what the script prints, and its complaints.
fn check(folder: &Path) -> (bool, String, String) {
    let output = script("check_fresh.py").arg(folder).output().unwrap();
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.success(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

/// The comparison itself: changes little more than its tolerances must be seen, what is right must not.
#[test]
fn a_spoilt_design_is_noticed() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("reference-fresh-spoilt");
    let _ = fs::remove_dir_all(&folder);
    let wanted = Wanted {
        folders: Vec::new(),
        ..Wanted::default()
    };
    let demo = fs::read_to_string(root().join("params/whimbrel.toml")).unwrap();
    let make = |name: &str| {
        let place = folder.join(name);
        fs::create_dir_all(&place).unwrap();
        fs::write(place.join("design.toml"), &demo).unwrap();
        pipeline::make(&place.join("design.toml"), &place, &wanted).unwrap();
        place
    };
    make("right");
    // Figures of the report, each a little more than its tolerance off.
    let codes = ["wood-over", "wood-under", "web", "cheek", "rib", "bearing"];
    let file = make("figures").join("report.json");
    let mut report: serde_json::Value = serde_json::from_slice(&fs::read(&file).unwrap()).unwrap();
    for code in codes {
        let checks = report["checks"].as_array_mut().unwrap();
        let check = checks.iter_mut().find(|check| check["code"] == code);
        let check = check.unwrap_or_else(|| panic!("the demo has no {code}"));
        check["value"] = (check["value"].as_f64().unwrap() + 2e-6).into();
    }
    let volume = &mut report["solids"]["head"]["volume_mm3"];
    *volume = (volume.as_f64().unwrap() * (1.0 + 2e-8)).into();
    fs::write(&file, report.to_string()).unwrap();
    // A solid 0.01 mm wider than the parameter file beside it says.
    let place = make("difference");
    let wider = demo.replacen("width_at_nut_end", "width_at_nut_end = 60.01 # ", 1);
    assert_ne!(wider, demo);
    fs::write(place.join("design.toml"), wider).unwrap();

    let (held, text, errors) = check(&folder);
    assert!(!held, "{text}");
    let named = |name: &str, fault: &str| {
        text.lines()
            .any(|line| line.contains(&format!("failed: {name}")) && line.contains(fault))
    };
    for code in codes {
        let fault = format!("{code}: 2e-06");
        assert!(named("figures", &fault), "{code}\n{text}\n{errors}");
    }
    assert!(
        named("figures/head", "volume against report.json: 2e-08"),
        "{text}"
    );
    assert!(
        named("difference/head", "symmetric difference to the reference"),
        "{text}"
    );
    assert!(text.contains("ok    right"), "{text}\n{errors}");
}
