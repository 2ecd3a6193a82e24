//! Volumes and bore positions of three designs against arithmetic written out here, from the
//! numbers of the parameter file alone. Nothing of the program's layout or closed forms is called:
//! only the finished `report.json` is read.
//!
//! Agreement to 1e-9 relative: both sides are short sums in double precision.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

use std::f64::consts::PI;
use std::fs;
use std::path::Path;

use barrelhead::pipeline::{self, Wanted};
use serde_json::Value;

/// Makes a design and returns its report.
fn report(name: &str, text: &str) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(format!("{name}.toml"));
    fs::write(&file, text).unwrap();
    let outcome = pipeline::make(
        &file,
        &folder.path().join("output"),
        &Wanted::nothing_more(),
    )
    .unwrap();
    read(&outcome.folder)
}

fn read(folder: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(folder.join("report.json")).unwrap()).unwrap()
}

#[track_caller]
fn close(got: &Value, wanted: f64) {
    let got = got.as_f64().unwrap();
    assert!(
        (got - wanted).abs() <= 1e-9 * wanted.abs().max(1.0),
        "{got} is not {wanted}"
    );
}

fn sin_cos_of_slope(rise: f64, run: f64) -> (f64, f64) {
    let slant = (rise * rise + run * run).sqrt();
    (rise / slant, run / slant)
}

const SANDPIPER: &str = r#"
head = { length = 196.0, width_at_nut_end = 63.0, width_at_crest_end = 71.0, side_end = 184.0, thickness = 20.4, face_veneer = 2.4, back_veneer = 0.6, angle = 14.0, crest = "arch" }
nut = { string_span = 43.0, string_height = 4.2 }
machines = { barrel_diameter = 10.0, barrel_length = 30.5, string_hole = 19.0, plate_width = 17.4, plate_thickness = 1.2, axis_offset = 0.0, pitches = [35.0, 35.0], overhang = [17.0, 18.5] }
placement = { along = "centred", depth = "centred" }
bores = { diameter = 10.5, beyond_barrel = 2.0, point = 118 }
slots = { width = 15.0, rib = 14.0, end_margin = [18.0, 18.0], ramp = { mouth = 19.0, angle = 24.0 } }
guide = { depth = 24.0, height = 20.4, end_margin = 31.0, scribe = { width = 0.8, depth = 0.4 } }
"#;

/// Six strings, arched crest, mirrored pairs whose points break through into one another.
#[test]
fn six_string_with_points_that_meet() {
    let report = report("six", SANDPIPER);
    let (sin, cos) = sin_cos_of_slope(4.0, 184.0);
    let tan = 4.0 / 184.0;
    let thickness = 20.4;

    // Stations: plate 17 + 70 + 18.5 = 105.5 centred on a side line of 184/cos.
    let first = 184.0 / cos / 2.0 - 105.5 / 2.0 + 17.0;
    let stations = [first, first + 35.0, first + 70.0];

    // Prism: trapezoid and circular segment (handbook: R²acos((R−h)/R) − (R−h)√(2Rh−h²)).
    let (chord, rise) = (71.0_f64, 12.0_f64);
    let radius = ((chord / 2.0).powi(2) + rise * rise) / (2.0 * rise);
    let segment = radius * radius * ((radius - rise) / radius).acos()
        - (radius - rise) * (2.0 * radius * rise - rise * rise).sqrt();
    let prism = thickness * ((63.0 + 71.0) / 2.0 * 184.0 + segment);

    // Slots: obrounds 15 wide between walls at 7 and 22, mid-line at 14.5.
    let at_mid_line = |s: f64| {
        let (x, y) = (31.5 + s * sin, s * cos);
        y + (x - 14.5) * tan
    };
    let length = 18.0 + at_mid_line(stations[2]) - at_mid_line(stations[0]) + 18.0;
    let slot = thickness * (15.0 * (length - 15.0) + PI * 15.0 * 15.0 / 4.0);

    // Ramp: over a bar 15 wide from 19 before the slot to where its walls begin (7.5), less the
    // half disc of the slot's own end; depth grows with tan 24°. The half disc's centroid lies
    // 4r/(3π) from its straight edge.
    let fall = 24.0_f64.to_radians().tan();
    let half_disc = PI * 7.5 * 7.5 / 2.0;
    let bar = 15.0 * 26.5 * (26.5 / 2.0);
    let end = half_disc * (19.0 + 7.5 - 4.0 * 7.5 / (3.0 * PI));
    let ramp = fall * (bar - end);

    // Bores: D = 32.5, through the cheek and from the rib's wall on; the point is cut by x = 0.
    let (r, depth, half_point) = (5.25_f64, 32.5, 59.0_f64.to_radians());
    let height = r / half_point.tan();
    let theta = tan.atan();
    let mut bores = 0.0;
    for s in stations {
        let x = 31.5 + s * sin;
        assert!(
            depth * cos + r * sin < x,
            "the rim stays short of the centre plane"
        );
        let straight = (x - 22.0) / cos + depth - (x - 7.0) / cos;
        // Past the plane: an oblique cone of height q over the ellipse that the plane cuts.
        let q = (depth + height) * cos - x;
        assert!(q > 0.0, "the point passes it");
        let (far, near) = (
            q * (half_point + theta).tan(),
            q * (half_point - theta).tan(),
        );
        let (semi, aside) = ((far + near) / 2.0, (far - near) / 2.0);
        let axial = q * theta.cos() + aside * theta.sin();
        let across = (axial * axial / half_point.cos().powi(2) - q * q - aside * aside).sqrt();
        let past = PI * semi * across * q / 3.0;
        bores += PI * r * r * straight + PI * r * r * height / 3.0 - past;
    }
    close(
        &report["solids"]["head"]["volume_mm3"],
        prism - 2.0 * (slot + ramp + bores),
    );

    for (index, s) in stations.into_iter().enumerate() {
        for (offset, sign) in [(0, 1.0), (3, -1.0)] {
            let bore = &report["bores"][index + offset];
            close(&bore["entry"][0], sign * (31.5 + s * sin));
            close(&bore["entry"][1], s * cos);
            close(&bore["entry"][2], -10.2);
            close(&bore["direction"][0], -sign * cos);
            close(&bore["direction"][1], sin);
            close(&bore["depth"], 32.5);
            close(&bore["length_in_model"], 32.5);
            close(&bore["point_height"], height);
            assert_eq!(bore["ends"], "opens");
        }
    }

    // Block: 2·31 + 70 long; three holes; three V grooves of section 0.8·0.4/2.
    let block = 132.0 * 24.0 * 20.4 - 3.0 * (PI * r * r + 0.8 * 0.4 / 2.0) * 24.0;
    close(&report["solids"]["guide-block"]["volume_mm3"], block);
    for (index, x) in [31.0, 66.0, 101.0].into_iter().enumerate() {
        close(&report["solids"]["guide-block"]["holes"][index]["x"], x);
        close(&report["solids"]["guide-block"]["holes"][index]["z"], 10.2);
    }
}

const DUNLIN: &str = r#"
head = { length = 122.0, width_at_nut_end = 47.0, width_at_crest_end = 53.0, side_end = 112.0, thickness = 16.0, angle = 12.0, crest = "arch" }
nut = { string_span = 28.0, string_height = 3.5 }
machines = { barrel_diameter = 8.0, barrel_length = 23.5, string_hole = 14.0, plate_width = 13.6, plate_thickness = 1.0, pitches = [30.0], overhang = [12.0, 12.0] }
placement = { along = "centred", depth = "centred" }
bores = { clearance = 0.4, beyond_barrel = 2.5, point = "flat" }
slots = { width = 11.0, rib = 10.0, end_margin = [13.0, 13.0], ramp = { mouth = 13.0, angle = 24.0 } }
guide = { depth = 18.0, end_margin = 25.0 }
"#;

/// Two a side with a flat bit: full diameters that meet in the plane x = 0 in ellipses.
#[test]
fn ukulele_with_flat_bits_that_meet() {
    let report = report("uke", DUNLIN);
    let (sin, cos) = sin_cos_of_slope(3.0, 112.0);
    let tan = 3.0 / 112.0;
    let first = 112.0 / cos / 2.0 - 27.0 + 12.0;
    let stations = [first, first + 30.0];

    let radius = (26.5 * 26.5 + 100.0) / 20.0;
    let segment = radius * radius * f64::acos((radius - 10.0) / radius)
        - (radius - 10.0) * f64::sqrt(2.0 * radius * 10.0 - 100.0);
    let prism = 16.0 * (50.0 * 112.0 + segment);

    let at_mid_line = |s: f64| s * cos + (23.5 + s * sin - 10.5) * tan;
    let length = 26.0 + at_mid_line(stations[1]) - at_mid_line(stations[0]);
    let slot = 16.0 * (11.0 * (length - 11.0) + PI * 11.0 * 11.0 / 4.0);
    let half_disc = PI * 5.5 * 5.5 / 2.0;
    let ramp = 24.0_f64.to_radians().tan()
        * (11.0 * 18.5 * 9.25 - half_disc * (18.5 - 4.0 * 5.5 / (3.0 * PI)));

    // An oblique cut through a cylinder's axis end takes and gives alike: a truncated cylinder
    // holds its section times its length on the axis.
    let r = 4.2;
    let mut bores = 0.0;
    for (index, s) in stations.into_iter().enumerate() {
        let x = 23.5 + s * sin;
        bores += PI * r * r * ((x - 16.0) / cos + 5.0 / cos);
        // D = 26 where the rim is past the plane already, else just far enough that it is.
        let depth = f64::max(26.0, (x + r * sin) / cos);
        for offset in [0, 2] {
            let bore = &report["bores"][index + offset];
            close(&bore["depth"], depth);
            close(&bore["length_in_model"], x / cos);
            close(&bore["entry"][1], s * cos);
            assert_eq!(bore["ends"], "opens");
        }
    }
    close(
        &report["solids"]["head"]["volume_mm3"],
        prism - 2.0 * (slot + ramp + bores),
    );
    let block = 80.0 * 18.0 * 16.0 - 2.0 * PI * r * r * 18.0;
    close(&report["solids"]["guide-block"]["volume_mm3"], block);
}

const PARLOUR: &str = r#"
head = { length = 180.0, width_at_nut_end = 60.0, width_at_crest_end = 66.0, thickness = 19.0, thickness_at_crest = 17.0, angle = 12.0 }
nut = { string_span = 42.0, string_height = 4.0 }
machines = { barrel_diameter = 10.0, barrel_length = 26.0, string_hole = 17.0, plate_width = 16.0, plate_thickness = 1.2, pitches = [32.0, 36.0], overhang = [16.0, 16.0], screws = { points = [[-11.0, 0.0], [79.0, 0.0]], pilot = 1.6, depth = 7.0 } }
placement = { first_barrel = 56.0, axis_below_face = 9.0 }
bores = { diameter = 10.5, beyond_barrel = 1.5, point = 118, counterbore = { diameter = 13.0, depth = 4.0 } }
slots = { width = 12.0, cheek = 11.0, end_margin = [16.0, 17.0], corner_radius = 3.0 }
guide = { depth = 20.0, height = 18.0, end_margin = 28.0, bush_diameter = 15.0 }
"#;

/// Slots parallel to the sides, a back that slopes, counterbores, pilots, blind pointed bores.
#[test]
fn slots_along_the_sides_under_a_sloping_back() {
    let report = report("parlour", PARLOUR);
    let (sin, cos) = sin_cos_of_slope(3.0, 180.0);
    let first = 56.0 / cos;
    let stations = [first, first + 32.0, first + 68.0];

    // ∫ (60 + y/30)(19 − y/90) dy from 0 to 180
    //   = 60·19·180 + (19/30 − 60/90)·180²/2 − 180³/(3·30·90).
    let prism = 60.0 * 19.0 * 180.0 + (19.0 / 30.0 - 60.0 / 90.0) * 180.0 * 180.0 / 2.0
        - 180.0_f64.powi(3) / (3.0 * 30.0 * 90.0);

    // Each slot: 12 wide with corners of radius 3, as thick as the head at its middle.
    let length = 16.0 + 68.0 + 17.0;
    let plan = 12.0 * length - (4.0 - PI) * 9.0;
    let middle_s = first - 16.0 + length / 2.0;
    // The mid-line runs 11 + 6 from the side.
    let middle_y = middle_s * cos + 17.0 * sin;
    let slot = plan * (19.0 - middle_y / 90.0);

    // Each bore: counterbore 4 deep, then to the slot at 11; again from 23 to D = 27.5; the point.
    let r = 5.25;
    let height = r / 59.0_f64.to_radians().tan();
    let section = PI * r * r;
    let bore = PI * 6.5 * 6.5 * 4.0
        + section * (11.0 - 4.0)
        + section * (27.5 - 23.0)
        + section * height / 3.0;
    let pilot = PI * 0.8 * 0.8 * 7.0;
    let head = prism - 2.0 * (slot + 3.0 * bore + 2.0 * pilot);
    close(&report["solids"]["head"]["volume_mm3"], head);

    for (index, s) in stations.into_iter().enumerate() {
        let bore = &report["bores"][index];
        close(&bore["entry"][0], 30.0 + s * sin);
        close(&bore["entry"][1], s * cos);
        close(&bore["entry"][2], -9.0);
        assert_eq!(bore["ends"], "blind");
    }
    // Uneven gaps: the bass side's block counts from the crest, so there are two blocks.
    let box_less_holes = (2.0 * 28.0 + 68.0) * 20.0 * 18.0 - 3.0 * PI * 7.5 * 7.5 * 20.0;
    close(
        &report["solids"]["guide-block-treble"]["volume_mm3"],
        box_less_holes,
    );
    close(
        &report["solids"]["guide-block-bass"]["volume_mm3"],
        box_less_holes,
    );
    close(
        &report["solids"]["guide-block-treble"]["holes"][1]["x"],
        60.0,
    );
    close(&report["solids"]["guide-block-bass"]["holes"][1]["x"], 64.0);
    close(&report["solids"]["guide-block-bass"]["holes"][0]["z"], 9.0);
}
