//! The shop drawing of every design at hand: figures against the layout and the report, texts
//! that neither overlap nor leave the frame.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

mod support {
    pub mod designs;
    pub mod project;
}

use std::path::Path;

use barrelhead::check::Report;
use barrelhead::input;
use barrelhead::layout::Layout;
use barrelhead::paper::drawing::{DrawingOptions, drawing_sheets};
use barrelhead::paper::place::text_box;
use barrelhead::paper::{Item, Layer, LineKind, Sheet, Text};
use barrelhead::pipeline::judge_design;
use barrelhead::plane::Piece;
use barrelhead::solid::{self, Solids};
use barrelhead::write::report_json::report_json;
use glam::DVec2;
use support::designs::designs;

/// The folders of the designs drawn here.
const FOLDERS: [&str; 3] = ["params", "tests/good", "tests/reference/designs"];

fn built(path: &Path) -> (Layout, Report, Solids) {
    let design = input::read(path).unwrap();
    let (layout, report, checked) = judge_design(&design, path).unwrap();
    let solids = solid::build(&checked.unwrap()).unwrap();
    (layout, report, solids)
}

fn sheets(made: &(Layout, Report, Solids), units_both: bool) -> Vec<Sheet> {
    drawing_sheets(&made.0, &made.1, &made.2, &DrawingOptions { units_both })
}

fn texts(sheet: &Sheet) -> impl Iterator<Item = &Text> {
    sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    })
}

/// Lower left and upper right corner of a text.
fn bounds(text: &Text) -> (DVec2, DVec2) {
    let corners = text_box(text);
    let low = corners.into_iter().fold(DVec2::INFINITY, DVec2::min);
    let high = corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max);
    (low, high)
}

/// A small head in inches: two machines a side close to their plate's ends, screws, a short block.
const SMALL: &str = r#"
unit = "in"
head = { length = 4.776, side_end = 4.5, width_at_nut_end = "1-15/16 in", width_at_crest_end = "2-1/8 in", thickness = 0.63, angle = 12, crest = "arch" }
nut = { string_span = 1.102, string_height = 0.138 }
placement = { along = "centred", depth = "centred" }
bores = { diameter = "21/64 in", beyond_barrel = 0.079, point = 118 }
slots = { width = 0.413, rib = 0.453, end_margin = [0.531, 0.531], ramp = { mouth = 0.512, angle = 24 } }
guide = { depth = 0.748, end_margin = 1.102, scribe = { width = 0.031, depth = 0.016 } }
[machines]
barrel_diameter = "5/16 in"
barrel_length = "15/16 in"
string_hole = "9/16 in"
pitches = [1.5]
plate_width = 0.55
plate_thickness = 0.047
overhang = [0.313, 0.313]
"#;

fn small(screws: &str) -> (Layout, Report, Solids) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("small.toml");
    std::fs::write(&file, format!("{SMALL}{screws}\n")).unwrap();
    built(&file)
}

/// Whether a straight line runs through a box.
fn runs_through(a: DVec2, b: DVec2, (low, high): (DVec2, DVec2)) -> bool {
    let step = b - a;
    let (mut from, mut to) = (0.0, 1.0);
    for (start, step, low, high) in [(a.x, step.x, low.x, high.x), (a.y, step.y, low.y, high.y)] {
        if step.abs() < 1e-12 {
            if start <= low || start >= high {
                return false;
            }
            continue;
        }
        let (one, other) = ((low - start) / step, (high - start) / step);
        from = f64::max(from, one.min(other));
        to = f64::min(to, one.max(other));
    }
    from < to
}

/// Texts that begin so, with the straight lines that run through them.
fn struck(sheet: &Sheet, begins: impl Fn(&str) -> bool) -> (usize, Vec<String>) {
    let (mut seen, mut faults) = (0, Vec::new());
    for text in texts(sheet).filter(|text| begins(&text.text)) {
        seen += 1;
        let own = bounds(text);
        for item in &sheet.items {
            let Item::Path(path) = item else { continue };
            // White paper under a text has no line.
            if path.line.is_none() {
                continue;
            }
            for piece in &path.pieces {
                if let Piece::Line { a, b } = *piece
                    && runs_through(a, b, own)
                {
                    faults.push(format!("{:?} through \"{}\"", path.layer, text.text));
                }
            }
        }
    }
    (seen, faults)
}

/// Bores' numbers against plate's edges, the pilots' note against extension lines, the block's caption
/// against the axis of its end view.
#[test]
fn no_line_runs_through_numbers_notes_and_captions() {
    let screws =
        "screws = { points = [[-0.2, 0.2], [1.7, 0.2]], pilot = \"1/16 in\", depth = 0.28 }";
    let mut all = vec![small(""), small(screws)];
    all.extend(designs(&FOLDERS).iter().map(|path| built(path)));
    for made in all {
        let title = &made.0.design.title;
        for both in [false, true] {
            let drawn = sheets(&made, both);
            let bore = |text: &str| {
                let number = text.strip_prefix(['T', 'B']);
                number.is_some_and(|number| number.parse::<u32>().is_ok())
            };
            // In the views; in the table each stands between its rules.
            let (seen, mut faults) = struck(&drawn[1], bore);
            assert!(seen > 0);
            faults.extend(struck(&drawn[1], |text| text.contains("× Ø")).1);
            for sheet in &drawn[2..] {
                faults.extend(struck(sheet, |text| text.starts_with("Front: ")).1);
            }
            assert!(faults.is_empty(), "{title} {both}: {faults:?}");
        }
    }
}

/// On a small head, the rib's figure stands outside its arrows: its inches leave the nut line's name alone.
#[test]
fn what_stands_outside_its_arrows_runs_into_no_words() {
    let drawn = sheets(&small(""), true);
    let all: Vec<&Text> = texts(&drawn[0]).collect();
    let name = all.iter().find(|text| text.text == "nut line").unwrap();
    let (low, high) = bounds(name);
    let rib = all.iter().find(|text| text.text == "[0.453]").unwrap();
    let (rib_low, rib_high) = bounds(rib);
    let apart = rib_low - high;
    let other = low - rib_high;
    // Half a millimetre of paper between the two, which no bracket closes.
    assert!(apart.max(other).max_element() > 0.5, "{apart} {other}");
}

#[test]
fn no_text_overlaps_another_or_leaves_the_frame() {
    let mut faults = String::new();
    for path in designs(&FOLDERS) {
        let made = built(&path);
        for both in [false, true] {
            for (number, sheet) in (1..).zip(sheets(&made, both)) {
                let all: Vec<(&Text, DVec2, DVec2)> = texts(&sheet)
                    .map(|text| {
                        let (low, high) = bounds(text);
                        (text, low, high)
                    })
                    .collect();
                let name = path.file_stem().unwrap().to_string_lossy();
                for (index, (text, low, high)) in all.iter().enumerate() {
                    let inside = low.x > 20.0
                        && low.y > 10.0
                        && high.x < sheet.width - 10.0
                        && high.y < sheet.height - 10.0;
                    if !inside {
                        faults += &format!("{name} {number} {both}: outside: {}\n", text.text);
                    }
                    for (other, other_low, other_high) in &all[index + 1..] {
                        let apart = low.cmpge(*other_high).any() || high.cmple(*other_low).any();
                        if !apart {
                            faults += &format!(
                                "{name} {number} {both}: \"{}\" over \"{}\"\n",
                                text.text, other.text
                            );
                        }
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults}");
}

/// Running dimensions of a side: what is written is what is drawn. The bores' circles stand on the
/// paper at the written distance from the origin, times the scale in the title block.
#[test]
fn stations_are_drawn_where_they_are_written() {
    for path in designs(&FOLDERS) {
        let made = built(&path);
        let sheet = &sheets(&made, false)[1];
        let scale = texts(sheet)
            .filter(|text| text.layer == Layer::Frame)
            .find_map(|text| {
                let (a, b) = text.text.split_once(':')?;
                Some(a.parse::<f64>().ok()? / b.parse::<f64>().ok()?)
            })
            .unwrap();
        let written: Vec<f64> = texts(sheet)
            .filter(|text| text.layer == Layer::Dimensions && text.turn > 1.0)
            .filter_map(|text| text.text.parse().ok())
            .collect();
        let centres: Vec<DVec2> = sheet
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Circle {
                    layer: Layer::Bores,
                    center,
                    ..
                } => Some(*center),
                _ => None,
            })
            .collect();
        let bores: Vec<_> = made.0.bores().collect();
        assert_eq!(centres.len(), bores.len());
        // Circles come in the bores' order; the origin is the same for both sides.
        let origin = centres[0].x - bores[0].s * scale;
        for (bore, centre) in bores.iter().zip(&centres) {
            assert!((centre.x - origin - bore.s * scale).abs() < 1e-9);
            let near = written
                .iter()
                .filter(|v| (*v - bore.s).abs() <= 0.005 + 1e-9);
            assert!(near.count() >= 1, "{}: {}", path.display(), bore.s);
        }
    }
}

/// Sandpiper in longhand: straight sides 184 long on the centre line, half widths 31.5 to 35.5.
#[test]
fn sandpipers_figures_in_longhand() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("params/sandpiper.toml");
    let made = built(&path);
    let all = sheets(&made, false);
    let said = |sheet: usize, wanted: &str| {
        let found = texts(&all[sheet]).any(|text| text.text == wanted);
        assert!(found, "sheet {}: {wanted}", sheet + 1);
    };
    let side = 184.0_f64.hypot(4.0);
    let first = side / 2.0 - 105.5 / 2.0 + 17.0;
    for station in [
        first,
        first + 35.0,
        first + 70.0,
        first - 11.0,
        first + 81.0,
        side,
    ] {
        said(1, &format!("{station:.2}"));
    }
    let (sin, cos) = (4.0 / side, 184.0 / side);
    for i in 0..3 {
        let s = first + 35.0 * f64::from(i);
        said(1, &format!("{:.2}", 31.5 + s * sin));
        said(1, &format!("{:.2}", s * cos));
    }
    // Slot ends: 18 from where the outer axes cross the mid-line x = 14.5; the ramp's mouth 19 before.
    let crossing = |s: f64| s * cos + (31.5 + s * sin - 14.5) * (sin / cos);
    let start = crossing(first) - 18.0;
    let end = crossing(first + 70.0) + 18.0;
    for y in [start - 19.0, start, end] {
        said(0, &format!("{y:.2}"));
    }
    for plain in [
        "0",
        "184",
        "196",
        "63",
        "71",
        "14",
        "15",
        "R7.5",
        "10.2",
        "D 32.5",
        "2× ramp 24°",
    ] {
        said(0, plain);
    }
    said(0, "6× Ø10.5 +0.1/0, full to D, point 118°");
    said(0, &format!("(R{:.2})", (35.5_f64 * 35.5 + 144.0) / 24.0));
    said(1, "20.4");
    said(1, "2× Ø1.6 × 7 deep, flat, on the bores' axis");
    for plain in [
        "31", "66", "101", "132", "24", "20.4", "10.2", "±0.1", "±0.3°",
    ] {
        said(2, plain);
    }
}

/// Every bore of the report stands in the table to the printed digit, and every part's volume in a
/// note.
#[test]
fn tables_and_notes_agree_with_the_report() {
    for path in designs(&FOLDERS) {
        let made = built(&path);
        let json = report_json(&made.0, &made.1, &made.2);
        let all = sheets(&made, false);
        let words = |sheet: &Sheet| {
            texts(sheet)
                .map(|text| text.text.clone())
                .collect::<Vec<_>>()
                .join(" ")
        };
        let rows: Vec<&Text> = texts(&all[1]).collect();
        for bore in json["bores"].as_array().unwrap() {
            let side = if bore["side"] == "treble" { "T" } else { "B" };
            let name = format!("{side}{}", bore["number"]);
            let figures = [
                bore["entry"][0].as_f64().unwrap(),
                bore["entry"][1].as_f64().unwrap(),
                bore["depth"].as_f64().unwrap(),
            ];
            let row = rows.iter().filter(|text| text.text == name).find(|head| {
                figures.iter().all(|figure| {
                    // The half goes away from zero; a double may lie a hair nearer.
                    let figure = figure + 1e-10_f64.copysign(*figure);
                    let wanted = format!("{figure:.2}").replace("-0.00", "0.00");
                    rows.iter()
                        .any(|cell| (cell.at.y - head.at.y).abs() < 1e-9 && cell.text == wanted)
                })
            });
            assert!(row.is_some(), "{}: {name} {figures:?}", path.display());
        }
        let solids = json["solids"].as_object().unwrap();
        let notes: Vec<String> = all.iter().map(words).collect();
        for (index, (part, solid)) in solids.iter().enumerate() {
            let volume = format!("{:.2}", solid["volume_mm3"].as_f64().unwrap());
            let sheet = if index == 0 { 0 } else { index + 1 };
            assert!(notes[sheet].contains(&volume), "{part} {volume}");
        }
        for needed in [
            "Partial model",
            "Arrive finished",
            "Smallest cutter assumed",
            "parallel to the face",
        ] {
            let slotted = made.0.design.slots.is_some() || needed != "Smallest cutter assumed";
            assert!(!slotted || notes[0].contains(needed), "{needed}");
        }
        assert!(notes[0].contains("eneers"));
    }
}

/// ISO 128 kinds in use: wide outlines, hidden bores, axes, plates as adjacent parts.
#[test]
fn line_kinds_say_what_a_line_is() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("params/turnstone.toml");
    let all = sheets(&built(&path), false);
    let has = |layer: Layer, kind: LineKind| {
        all.iter().flat_map(|sheet| &sheet.items).any(
            |item| matches!(item, Item::Path(path) if path.layer == layer && path.line == Some(kind)),
        )
    };
    assert!(has(Layer::Outline, LineKind::Wide));
    assert!(has(Layer::Bores, LineKind::Hidden));
    assert!(has(Layer::Axes, LineKind::Axis));
    assert!(has(Layer::Adjacent, LineKind::Adjacent));
    assert!(has(Layer::Dimensions, LineKind::Narrow));
    // The outline on the paper is true size at 1:1: its crest arc has the layout's radius.
    let arc = all[0].items.iter().find_map(|item| match item {
        Item::Path(path) if path.layer == Layer::Outline => {
            path.pieces.iter().find_map(|piece| match *piece {
                Piece::Arc { radius, .. } => Some(radius),
                Piece::Line { .. } => None,
            })
        }
        _ => None,
    });
    let (half, rise) = (31.75, 25.4 * (7.0 - 6.625));
    assert!((arc.unwrap() - (half * half + rise * rise) / (2.0 * rise)).abs() < 1e-9);
}

/// A cutting plane has its letter and arrow at both ends, also where it runs through one bore alone and ends
/// within the head.
#[test]
fn the_cutting_plane_is_marked_at_both_ends() {
    let mut alone = 0;
    for path in designs(&FOLDERS) {
        let made = built(&path);
        let front = &sheets(&made, false)[0];
        let letters = texts(front).filter(|text| text.text == "C").count();
        assert_eq!(letters, 2, "{}", path.display());
        alone += texts(front)
            .filter(|text| text.text.contains("through bore "))
            .count();
    }
    assert!(
        alone > 0,
        "no design of these has a section through one bore"
    );
}
