//! Trial prints: every kind of part, whole and parted, proved.

use super::*;
use crate::check;
use crate::input::Design;
use crate::input::sample::six_string;
use crate::solid;

/// Every part of a design, mock included, and its gauges.
fn parts(design: &Design) -> Vec<PrintPart> {
    let (report, checked) = check::run(design);
    let checked = checked.unwrap_or_else(|| panic!("{report:?}"));
    let solids = solid::build(&checked).unwrap();
    let mut parts = printed_parts(&checked, &solids, PrintOptions { mock: true }).unwrap();
    parts.extend(fit_gauges(&checked).unwrap());
    parts
}

fn with(change: impl FnOnce(&mut Design)) -> Vec<PrintPart> {
    let mut design = six_string();
    change(&mut design);
    parts(&design)
}

fn numbers(parts: &[PrintPart]) -> Vec<&str> {
    parts.iter().map(|part| part.number.as_str()).collect()
}

#[test]
fn the_plain_design_prints() {
    let parts = with(|_| {});
    assert_eq!(
        numbers(&parts),
        [
            "guide-block",
            "trial-bar-treble",
            "mock-head",
            "fit-gauge-barrel"
        ]
    );
    for part in &parts {
        println!(
            "{}: {:.1} mm, {:.1} cm3, plastic {:.1} cm3, {:.0} min, {} triangles, {:?}",
            part.name,
            part.size,
            part.volume / 1000.0,
            part.plastic() / 1000.0,
            part.minutes(),
            part.mesh.triangles.len(),
            part.notes
        );
        assert!(part.notes.is_empty(), "{:?}", part.notes);
    }
    // Block: 2·31 + 70 long, as high as the head is thick, as deep as asked.
    assert!(parts[0].size.distance(DVec3::new(132.0, 20.4, 24.0)) < 1e-4);
    // Bar: as long as the plate.
    assert!((parts[1].size.x - 105.5).abs() < 1e-4);
}
