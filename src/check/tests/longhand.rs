//! Values against arithmetic written out here.

use super::super::sample::*;
use super::*;
use crate::input::*;

fn is(design: &Design, code: &str, value: f64) {
    let finding = found(design, code);
    assert!(
        (finding.value - value).abs() < 1e-9,
        "{code}: {} against {value}",
        finding.value
    );
}

#[test]
fn sandpiper_by_hand() {
    let d = sandpiper();
    // Sides rise 4 over 184; the plate, 105.5 long, is centred on them.
    let rise: f64 = 4.0 / 184.0;
    let (cos, sin) = (
        1.0 / (1.0 + rise * rise).sqrt(),
        rise / (1.0 + rise * rise).sqrt(),
    );
    let s = |i: f64| 184.0 / cos / 2.0 - 105.5 / 2.0 + 17.0 + 35.0 * i;
    let half_width = |i: f64| 31.5 + s(i) * sin;
    is(&d, "wood-over", 10.2 - 5.25);
    is(&d, "wood-under", 10.2 - 5.25);
    is(&d, "web", 24.5);
    is(&d, "rib", 14.0);
    is(&d, "bearing", 30.5 - (half_width(2.0) - 7.0) / cos);
    is(
        &d,
        "rim",
        (32.5 - (half_width(2.0) - 7.0) / cos) * cos - 5.25 * sin,
    );
    is(&d, "clearance", 0.5);
    is(&d, "bore-depth", 2.0);
    // Ends of the first two barrels: the corners nearest the nut, mirrored in the centre line.
    is(
        &d,
        "barrels-apart",
        2.0 * (half_width(0.0) - 30.5 * cos - 5.0 * sin),
    );
    is(&d, "plate-thickness", (20.4 - 17.4) / 2.0);
    is(&d, "plate-side", 184.0 / cos / 2.0 - 105.5 / 2.0);
    is(&d, "block-wood", 20.4 - 10.2 - 5.25 - 0.4);
    is(&d, "block-guided", 24.0 / 10.5);
    is(
        &d,
        "press-travel",
        24.0 + 32.5 + 5.25 / 59.0_f64.to_radians().tan(),
    );
    // Where the first axis crosses the slot's mid-line, x = 14.5: 18 + 19 before it the mouth.
    let crossing = s(0.0) * cos + (half_width(0.0) - 14.5) * rise;
    is(&d, "end-wood", crossing - 18.0 - 19.0);
    // The outer wall is x = 22; the side is nearest where the wall's straight part begins or on the
    // arc before it, whose centre lies at x = 14.5, 7.5 past the slot's end.
    let centre = (14.5, crossing - 18.0 + 7.5);
    is(&d, "cheek", (31.5 - centre.0) * cos + centre.1 * sin - 7.5);
    // First bore on the outer wall, nut end: half the ellipse is 5.25/cos.
    let at_outer = s(0.0) * cos + (half_width(0.0) - 22.0) * rise;
    is(&d, "slot-end", at_outer - 5.25 / cos - centre.1);
    is(
        &d,
        "ramp-depth",
        20.4 - (19.0 + 7.5) * 24.0_f64.to_radians().tan(),
    );
    is(
        &d,
        "hole-in-slot",
        7.5 - (half_width(0.0) - 19.0 * cos - 14.5).abs(),
    );
    // The outer string runs from x = 21.5 to the first hole; it falls 4.2 + 5.2 on its way.
    let hole = (half_width(0.0) - 19.0 * cos, s(0.0) * cos + 19.0 * sin);
    is(&d, "string-face", hole.1 * 4.2 / 9.4 - (crossing - 37.0));
    is(
        &d,
        "side-pull",
        ((21.5 - hole.0) / hole.1).atan().to_degrees(),
    );
    is(&d, "nut-break", 14.0 + (9.4 / hole.1).atan().to_degrees());
    let window = report(&d).rib_window.unwrap();
    assert!((window.least - 2.0 * (half_width(2.0) - 27.5 * cos)).abs() < 1e-9);
    // The innermost string, x = 4.3 at the nut, goes to the third hole.
    let third = (half_width(2.0) - 19.0 * cos, s(2.0) * cos + 19.0 * sin);
    let inner = 4.3 + (third.0 - 4.3) * 4.2 / 9.4;
    is(&d, "string-edge", inner - 7.0);
    assert!((window.greatest - 2.0 * (inner - 0.5)).abs() < 1e-9);
    assert!(window.is_open());
    // Every pair opens: no end of a bore is left in the wood.
    assert!(report(&d).finding("far-wood").is_none());
}

#[test]
fn veneers_to_come_count_the_core() {
    let mut d = sandpiper();
    d.head.veneers_on = false;
    is(&d, "wood-over", 10.2 - 2.4 - 5.25);
    is(&d, "wood-under", 10.2 - 0.6 - 5.25);
    // The core lies against the upright: h = 10.2 − 2.4.
    d.guide.axis_height = Some(10.2);
    is(&d, "block-axis", 2.4);
    assert!(
        found(&d, "block-axis")
            .at
            .contains("2.40 mm between the head's face and the upright")
    );
}

#[test]
fn counterbore_by_hand() {
    let mut d = sandpiper();
    d.bores.counterbore = Some(Counterbore {
        diameter: 13.0,
        depth: 4.0,
    });
    // To the face 10.2 − 6.5 = 3.7; the floor is further from the slot.
    is(&d, "counterbore", 3.7);
    d.bores.counterbore = Some(Counterbore {
        diameter: 13.0,
        depth: 8.0,
    });
    let rise: f64 = 4.0 / 184.0;
    let (cos, sin) = (
        1.0 / (1.0 + rise * rise).sqrt(),
        rise / (1.0 + rise * rise).sqrt(),
    );
    let s = 184.0 / cos / 2.0 - 105.5 / 2.0 + 17.0;
    let outer = (31.5 + s * sin - 22.0) / cos;
    is(&d, "counterbore", (outer - 8.0) * cos - 6.5 * sin);
}

#[test]
fn block_with_bushes() {
    let mut d = turnstone();
    let inch = crate::units::MM_PER_INCH;
    is(&d, "block-bore", 0.0);
    d.guide.bore_diameter = 0.28 * inch;
    is(&d, "block-bore", (0.28 - 17.0 / 64.0) * inch);
    // A bush hole smaller than the bit.
    d.guide.bush_diameter = Some(0.25 * inch);
    is(&d, "block-bore", (0.25 - 17.0 / 64.0) * inch);
}

#[test]
fn press_figures_from_table_and_file() {
    let mut d = sandpiper();
    let flutes = |d: &Design| found(d, "press-flutes").limit;
    assert_eq!(flutes(&d), super::super::Limit::Single(87.0));
    d.press = Some(Press {
        travel: 80.0,
        daylight: Some(330.0),
        bit_length: None,
        flute_length: Some(60.0),
    });
    assert_eq!(flutes(&d), super::super::Limit::Single(60.0));
    // Widest 71 at the crest end, block 24, bit 133.
    is(&d, "press-daylight", 71.0 + 24.0 + 133.0);
    // No row for 14.2 mm.
    d.bores.diameter = 14.2;
    d.press = Some(Press {
        travel: 80.0,
        daylight: Some(330.0),
        bit_length: None,
        flute_length: None,
    });
    let report = report(&d);
    assert!(report.finding("press-flutes").is_none() && report.finding("press-daylight").is_none());
    assert!(report.finding("press-travel").is_some());
}
