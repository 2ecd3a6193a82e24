//! Holes of the cards and of the list, carried back by their own origin and turns.

use barrelhead::paper::Paper;
use barrelhead::paper::operations::operation_cards;
use barrelhead::write::csv::bore_list;
use glam::DVec3;
use serde_json::Value;

use super::{designs, options, printed};
use crate::support::has_poppler::has_poppler;

/// Half of the last digit printed, and what rounding adds.
const PRINTED: f64 = 0.005 + 1e-9;

/// Half of the list's last digit, and what rounding adds.
const LISTED: f64 = 0.5e-6 + 1e-12;

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
