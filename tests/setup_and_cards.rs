//! Setup sheet, operation cards and bore list of every design at hand: texts that keep apart and
//! within the paper; figures equal to report.json's; holes that, carried back from the card or the
//! list by its own origin and turns, lie where report.json has them.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

mod support {
    pub mod designs;
    pub mod has_poppler;
    pub mod pdf_text;
    pub mod process;
    pub mod project;
}

use std::collections::BTreeSet;
use std::path::Path;

use barrelhead::check::Report;
use barrelhead::input;
use barrelhead::layout::{Copy, Layout};
use barrelhead::paper::operations::operation_cards;
use barrelhead::paper::place::text_box;
use barrelhead::paper::setup::setup_sheets;
use barrelhead::paper::{Item, Paper, Sheet, SheetOptions, Text};
use barrelhead::pipeline::judge_design;
use barrelhead::solid;
use barrelhead::units::Lengths;
use barrelhead::write::csv::bore_list;
use barrelhead::write::pdf::pdf;
use barrelhead::write::report_json::report_json;
use glam::{DVec2, DVec3};
use serde_json::Value;
use support::has_poppler::has_poppler;
use support::pdf_text::pdf_text;

/// Half of the last digit printed, and what rounding adds.
const PRINTED: f64 = 0.005 + 1e-9;
/// Half of the list's last digit, and what rounding adds.
const LISTED: f64 = 0.5e-6 + 1e-12;

struct Made {
    name: String,
    layout: Layout,
    report: Report,
    json: Value,
}

fn designs() -> Vec<Made> {
    let paths = support::designs::designs(&["params", "tests/good", "tests/reference/designs"]);
    paths.iter().map(|path| made(path)).collect()
}

fn made(path: &Path) -> Made {
    let design = input::read(path).unwrap();
    let (layout, report, checked) = judge_design(&design, path).unwrap();
    let solids = solid::build(&checked.unwrap()).unwrap();
    let json = report_json(&layout, &report, &solids);
    Made {
        name: path.file_stem().unwrap().to_string_lossy().into_owned(),
        layout,
        report,
        json,
    }
}

fn options(inches: bool, paper: Paper) -> SheetOptions {
    SheetOptions {
        lengths: Lengths { inches },
        paper,
    }
}

fn texts(sheet: &Sheet) -> Vec<&Text> {
    let each = sheet.items.iter();
    each.filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    })
    .collect()
}

/// Lower left and upper right corner of a text.
fn bounds(text: &Text) -> [DVec2; 2] {
    let corners = text_box(text);
    [
        corners.into_iter().fold(DVec2::INFINITY, DVec2::min),
        corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max),
    ]
}

/// What leaves the paper's margin or lies over another text.
fn clashes(sheet: &Sheet) -> Vec<String> {
    let all: Vec<(&str, [DVec2; 2])> = texts(sheet)
        .into_iter()
        .map(|text| (text.text.as_str(), bounds(text)))
        .collect();
    let mut found = Vec::new();
    let paper = DVec2::new(sheet.width, sheet.height);
    for (index, (text, [low, high])) in all.iter().enumerate() {
        if low.cmplt(DVec2::splat(9.0)).any() || high.cmpgt(paper - 9.0).any() {
            found.push(format!("outside: {text}"));
        }
        for (other, [other_low, other_high]) in &all[index + 1..] {
            if low.cmplt(*other_high).all() && high.cmpgt(*other_low).all() {
                found.push(format!("{text:?} over {other:?}"));
            }
        }
    }
    found
}

#[test]
fn every_text_keeps_within_the_paper_and_apart() {
    let mut faults = String::new();
    for made in designs() {
        for (inches, paper) in [
            (false, Paper::A4),
            (true, Paper::A4),
            (false, Paper::Letter),
            (true, Paper::Letter),
        ] {
            let wanted = options(inches, paper);
            let mut sheets = setup_sheets(&made.layout, &made.report, wanted);
            sheets.extend(operation_cards(&made.layout, &made.report, wanted));
            for sheet in &sheets {
                for clash in clashes(sheet) {
                    let (name, title) = (&made.name, &sheet.title);
                    faults += &format!("{name} {paper:?} inches {inches}, {title}: {clash}\n");
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults}");
}

#[test]
fn the_setup_sheet_is_two_pages_of_text_to_be_read_at_the_press() {
    for made in designs() {
        let sheets = setup_sheets(&made.layout, &made.report, options(false, Paper::A4));
        assert_eq!(sheets.len(), 2, "{}", made.name);
        // The steps: no smaller than print of nine points, capitals 2.3 mm high.
        let step = texts(&sheets[0])
            .into_iter()
            .find(|text| text.text.starts_with("The block is screwed or clamped"))
            .unwrap();
        assert!(step.height >= 2.3, "{}: {}", made.name, step.height);
    }
}

/// A design of many bores and many cautions: nothing may fall off the paper.
#[test]
fn much_to_say_goes_on_over_further_sheets() {
    let mut all = designs();
    let made = all.iter_mut().find(|made| made.name == "whimbrel").unwrap();
    let mut design = made.layout.design.clone();
    design.machines.pitches.treble = vec![9.0; 60];
    design.machines.pitches.bass = vec![9.0; 60];
    let layout = Layout::new(&design, Copy::Finished);
    let mut report = made.report.clone();
    for finding in &mut report.findings {
        finding.verdict = barrelhead::check::Verdict::Caution;
        finding.advice = Some("Set one of many keys to one of many figures. ".repeat(4));
    }
    let wanted = options(true, Paper::Letter);
    let setup = setup_sheets(&layout, &report, wanted);
    assert!(setup.len() > 2, "{}", setup.len());
    let text = setup
        .iter()
        .flat_map(texts)
        .map(|text| text.text.as_str())
        .collect::<Vec<_>>()
        .join(" ");
    for finding in &report.findings {
        let code = format!("({})", finding.code);
        assert!(text.contains(&code), "{code}");
    }
    let cards = operation_cards(&layout, &report, wanted);
    assert!(cards.len() > 3, "{}", cards.len());
    for sheet in setup.iter().chain(&cards) {
        let outside: Vec<String> = clashes(sheet)
            .into_iter()
            .filter(|clash| clash.starts_with("outside"))
            .collect();
        // The small picture's own numbers may crowd; the text must not be lost.
        assert!(outside.is_empty(), "{}: {outside:?}", sheet.title);
    }
    let rows = |card: &Sheet| texts(card).iter().filter(|t| t.text == "bore").count();
    assert_eq!(cards.iter().map(rows).sum::<usize>(), 2 * 2 * 61);
}

/// The text of some sheets as the PDF gives it.
fn printed(sheets: &[Sheet]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sheets.pdf");
    std::fs::write(&file, pdf(sheets).unwrap()).unwrap();
    pdf_text(&file)
}

/// Numbers of exactly two decimals that stand before "mm" or alone in a sum, as printed.
fn figures(text: &str) -> BTreeSet<String> {
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    text.split(|c: char| !is_part(c))
        .map(|word| word.trim_end_matches('.'))
        .filter(|word| {
            word.rsplit_once('.').is_some_and(|(whole, decimals)| {
                !whole.is_empty() && !whole.contains('.') && decimals.len() == 2
            })
        })
        .map(str::to_owned)
        .collect()
}

/// Every number of a JSON value, printed to two decimals without its sign.
fn numbers(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Number(number) => {
            into.insert(format!("{:.2}", number.as_f64().unwrap().abs()));
        }
        Value::Array(list) => list.iter().for_each(|item| numbers(item, into)),
        Value::Object(map) => map.values().for_each(|item| numbers(item, into)),
        // Places and advice hold figures in words.
        Value::String(text) => into.extend(figures(text)),
        Value::Null | Value::Bool(_) => {}
    }
}

/// What the parameter file says itself and no report repeats.
fn own_figures(made: &Made) -> Vec<f64> {
    let design = &made.layout.design;
    let mut own = vec![design.guide.depth, design.head.edge_radius];
    own.extend(design.guide.bush_diameter);
    own.extend(
        design
            .bores
            .counterbore
            .iter()
            .flat_map(|c| [c.diameter, c.depth]),
    );
    own.extend(
        design
            .machines
            .screws
            .iter()
            .flat_map(|s| [s.pilot, s.depth]),
    );
    own
}

#[test]
fn every_figure_of_the_setup_sheet_is_the_reports() {
    if !has_poppler() {
        return;
    }
    for made in designs() {
        let text = printed(&setup_sheets(
            &made.layout,
            &made.report,
            options(false, Paper::A4),
        ));
        let mut known = BTreeSet::new();
        numbers(&made.json, &mut known);
        known.extend(own_figures(&made).iter().map(|mm| format!("{mm:.2}")));
        // The advice of a caution is in the report on the screen, not in report.json.
        for finding in &made.report.findings {
            known.extend(figures(finding.advice.as_deref().unwrap_or_default()));
        }
        let strange: Vec<String> = figures(&text).difference(&known).cloned().collect();
        assert!(strange.is_empty(), "{}: {strange:?}", made.name);
        // And what must be there is there.
        for stop in made.json["depth_stops"].as_array().unwrap() {
            for key in ["from_block_top", "depth", "block"] {
                let figure = format!("{:.2}", stop[key].as_f64().unwrap());
                assert!(text.contains(&figure), "{}: {key} {figure}", made.name);
            }
        }
        let wedge = made.json["wedge_deg"].as_f64().unwrap().abs();
        assert!(
            wedge < 1e-9 || text.contains(&format!("{wedge:.2}°")),
            "{}: wedge {wedge}",
            made.name
        );
    }
}

/// Carries a point of an operation back into the head frame, by its origin and its turns about the
/// head's y and then z, in degrees.
fn back(p: DVec3, origin: DVec3, about_y: f64, about_z: f64) -> DVec3 {
    let (sin, cos) = about_y.to_radians().sin_cos();
    let p = DVec3::new(p.x * cos + p.z * sin, p.y, p.z * cos - p.x * sin);
    let (sin, cos) = about_z.to_radians().sin_cos();
    origin + DVec3::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos, p.z)
}

fn vector(value: &Value) -> DVec3 {
    let at = |index: usize| value[index].as_f64().unwrap();
    DVec3::new(at(0), at(1), at(2))
}

fn bore<'a>(json: &'a Value, side: &str, number: u64) -> &'a Value {
    let mut bores = json["bores"].as_array().unwrap().iter();
    bores
        .find(|bore| bore["side"] == side && bore["number"] == number)
        .unwrap_or_else(|| panic!("no bore {side} {number}"))
}

fn number(text: &str) -> f64 {
    text.replace('\u{2212}', "-").parse().unwrap()
}

/// The numbers of a line, signs as a person reads them.
fn signed(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | '\u{2212}')))
        .map(|word| word.trim_end_matches('.'))
        .filter(|word| word.contains('.'))
        .map(number)
        .collect()
}

#[test]
fn holes_of_the_cards_carried_back_lie_where_report_json_has_them() {
    if !has_poppler() {
        return;
    }
    for made in designs() {
        let cards = operation_cards(&made.layout, &made.report, options(false, Paper::A4));
        let mut seen = 0;
        for card in &cards {
            let text = printed(std::slice::from_ref(card));
            let Some(side) = ["treble", "bass"]
                .into_iter()
                .find(|side| card.title.contains(&format!("{side} side up")))
            else {
                continue;
            };
            let part = |from: &str, to: &str| {
                let start = text.find(from).unwrap();
                let end = start + text[start..].find(to).unwrap();
                &text[start..end]
            };
            let origin = signed(part("Origin ", "mm"));
            let origin = DVec3::new(origin[0], origin[1], origin[2]);
            let turns = signed(part("Rotation ", "Positive"));
            assert_eq!(turns.len(), 2, "{}: {turns:?}", made.name);
            for line in text.lines() {
                let Some(at) = line.find("bore ").filter(|at| {
                    // "counterbore" ends so too; the picture's words come before.
                    !line[..*at].ends_with("counter")
                }) else {
                    continue;
                };
                let cells: Vec<&str> = line[at..].split_whitespace().collect();
                let Some(which) = cells.get(1).and_then(|cell| cell.parse().ok()) else {
                    continue;
                };
                let wanted = bore(&made.json, side, which);
                let (x, y) = (number(cells[2]), number(cells[3]));
                let point = back(DVec3::new(x, y, 0.0), origin, turns[0], turns[1]);
                // x, y and the origin are printed to a hundredth, the turns to a ten-thousandth.
                let off = (point - vector(&wanted["entry"])).abs().max_element();
                assert!(off < 3.0 * PRINTED, "{} {side} {which}: {off}", made.name);
                let down = back(DVec3::NEG_Z, DVec3::ZERO, turns[0], turns[1]);
                assert!(down.distance(vector(&wanted["direction"])) < 2e-6);
                for (cell, key) in [(cells[4], "diameter"), (cells[5], "depth")] {
                    let off = (number(cell) - wanted[key].as_f64().unwrap()).abs();
                    assert!(off <= PRINTED, "{} {side} {which} {key}", made.name);
                }
                assert_eq!(cells.last(), wanted["ends"].as_str().as_ref());
                seen += 1;
            }
        }
        assert_eq!(
            seen,
            made.json["bores"].as_array().unwrap().len(),
            "{}",
            made.name
        );
    }
}

/// The cells of a record; the designs' titles hold neither commas nor quotes.
fn cells(line: &str) -> Vec<&str> {
    line.split(',').collect()
}

#[test]
fn holes_of_the_list_carried_back_lie_where_report_json_has_them() {
    for made in designs() {
        let list = String::from_utf8(bore_list(&made.layout)).unwrap();
        let mut lines = list.split_terminator("\r\n");
        let headings = cells(lines.next().unwrap());
        let column = |name: &str| {
            let at = headings.iter().position(|heading| *heading == name);
            at.unwrap_or_else(|| panic!("no column {name}"))
        };
        let mut seen = 0;
        for line in lines {
            let row = cells(line);
            if row[column("feature")] != "bore" {
                continue;
            }
            let get = |name: &str| number(row[column(name)]);
            let point = |names: [&str; 3]| DVec3::from_array(names.map(get));
            let origin = point(["origin_head_x_mm", "origin_head_y_mm", "origin_head_z_mm"]);
            let turns = [get("turn_about_head_y_deg"), get("turn_about_head_z_deg")];
            let at = point(["x_mm", "y_mm", "z_mm"]);
            let side = row[column("side")];
            let wanted = bore(&made.json, side, row[column("number")].parse().unwrap());
            let off = back(at, origin, turns[0], turns[1]) - vector(&wanted["entry"]);
            // Two roundings, and a turn rounded to a millionth of a degree over a long head.
            assert!(
                off.abs().max_element() < 2.0 * LISTED + 1e-8 * at.length(),
                "{} {side}: {off}",
                made.name
            );
            for (name, key) in [
                ("diameter_mm", "diameter"),
                ("depth_mm", "depth"),
                ("point_length_mm", "point_height"),
            ] {
                let off = (get(name) - wanted[key].as_f64().unwrap()).abs();
                assert!(off <= LISTED, "{} {side} {key}: {off}", made.name);
            }
            assert_eq!(row[column("ends")], wanted["ends"].as_str().unwrap());
            seen += 1;
        }
        assert_eq!(
            seen,
            made.json["bores"].as_array().unwrap().len(),
            "{}",
            made.name
        );
    }
}
