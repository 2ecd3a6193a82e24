//! Drawings as DXF, read back by ezdxf.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod sheets;
mod support {
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::Path;

use barrelhead::paper::{Anchor, Item, Layer, LineKind, Sheet};
use barrelhead::plane::{Piece, Region};
use barrelhead::write::dxf::dxf;
use glam::{DVec2, dvec2};
use serde_json::Value;

use sheets::{AWKWARD, BAR, sheet};
use support::process::run;
use support::reference::script;

/// What ezdxf says of the items; anything its auditor finds or mends is a fault.
fn read(name: &str, items: &[Item]) -> Value {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers-dxf");
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    fs::write(&path, dxf(items)).unwrap();
    let output = run(script("read_dxf.py").arg(&path), "reading with ezdxf");
    let found: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(found["errors"], Value::Array(vec![]), "{name}");
    assert_eq!(found["fixes"], Value::Array(vec![]), "{name}");
    found
}

fn of_type<'a>(found: &'a Value, kind: &str) -> Vec<&'a Value> {
    let entities = found["entities"].as_array().unwrap();
    entities.iter().filter(|e| e["type"] == kind).collect()
}

fn place(value: &Value) -> DVec2 {
    dvec2(value[0].as_f64().unwrap(), value[1].as_f64().unwrap())
}

fn close(a: DVec2, b: DVec2) -> bool {
    a.distance(b) < 1e-6
}

#[test]
fn millimetres_layers_and_line_types() {
    let found = read("sheet.dxf", &sheet(210.0, 297.0).items);
    assert_eq!(found["version"], "AC1015");
    assert_eq!(found["units"], 4);
    assert_eq!(found["measurement"], 1);
    let layers: Vec<&str> = found["layers"]
        .as_array()
        .unwrap()
        .iter()
        .map(|l| l.as_str().unwrap())
        .collect();
    let wanted = [
        "0",
        "ADJACENT",
        "AXES",
        "BORES",
        "CHECK-BAR",
        "DIMENSIONS",
        "NOTES",
        "OUTLINE",
        "SLOTS",
    ];
    assert_eq!(layers, wanted);
    // Patterns of ISO 128-2 in widths of a narrow line of 0.25 mm.
    let pattern = |name: &str| -> Vec<f64> {
        let parts = found["linetypes"][name].as_array().expect(name);
        parts.iter().map(|p| p.as_f64().unwrap()).collect()
    };
    assert_eq!(pattern("HIDDEN"), [3.0, -0.75]);
    assert_eq!(pattern("CENTER"), [6.0, -0.75, 0.125, -0.75]);
    assert_eq!(pattern("PHANTOM"), [6.0, -0.75, 0.125, -0.75, 0.125, -0.75]);
}

#[test]
fn every_item_lands_where_it_is() {
    let found = read("places.dxf", &sheet(210.0, 297.0).items);
    let counts = ["LINE", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT"].map(|k| of_type(&found, k).len());
    assert_eq!(counts, [4, 1, 1, 2, 5]);
    assert_eq!(found["entities"].as_array().unwrap().len(), 13);

    let bar = of_type(&found, "LINE")[0];
    assert_eq!(bar["layer"], "CHECK-BAR");
    assert_eq!(bar["lineweight"], 50);
    assert!(close(place(&bar["points"][0]), BAR[0]) && close(place(&bar["points"][1]), BAR[1]));
    let axis = of_type(&found, "LINE")[1];
    assert_eq!(
        (&axis["layer"], &axis["linetype"]),
        (&"AXES".into(), &"CENTER".into())
    );

    let bore = of_type(&found, "CIRCLE")[0];
    assert_eq!(bore["layer"], "BORES");
    assert!(close(place(&bore["center"]), dvec2(100.123_456, 95.5)));
    assert!((bore["radius"].as_f64().unwrap() - 5.25).abs() < 1e-9);

    // Drawn clockwise from 0.3 to −1.7 rad; DXF runs the other way.
    let arc = of_type(&found, "ARC")[0];
    let at = |angle: f64| dvec2(70.0, 120.0) + 20.0 * DVec2::from_angle(angle);
    assert!(close(place(&arc["points"][0]), at(-1.7)), "{arc}");
    assert!(close(place(&arc["points"][1]), at(0.3)), "{arc}");
}

#[test]
fn outlines_are_closed_and_bulge_the_right_way() {
    let items = sheet(210.0, 297.0).items;
    let found = read("outlines.dxf", &items);
    let outlines = of_type(&found, "LWPOLYLINE");
    assert!(outlines.iter().all(|o| o["closed"] == true));
    let slot = outlines.iter().find(|o| o["layer"] == "SLOTS").unwrap();
    let corners = slot["points"].as_array().unwrap();
    assert_eq!(corners.len(), 4);
    // Half-round ends: a bulge of one, left of the way round an anticlockwise outline.
    let bulges: Vec<f64> = corners.iter().map(|c| c[2].as_f64().unwrap()).collect();
    for (bulge, wanted) in bulges.iter().zip([0.0, 1.0, 0.0, 1.0]) {
        assert!((bulge - wanted).abs() < 1e-12, "{bulges:?}");
    }
    // The area of polygon and segments is that of the stadium.
    let mut area = 0.0;
    for (index, corner) in corners.iter().enumerate() {
        let (a, b) = (place(corner), place(&corners[(index + 1) % corners.len()]));
        let quarter = corner[2].as_f64().unwrap().atan();
        area += a.perp_dot(b) / 2.0;
        if quarter != 0.0 {
            let radius = a.distance(b) / (2.0 * (2.0 * quarter).sin());
            area += radius * radius * (4.0 * quarter - (4.0 * quarter).sin()) / 2.0;
        }
    }
    let stadium = 30.0 * 10.0 + std::f64::consts::PI * 25.0;
    assert!((area - stadium).abs() < 1e-6, "{area}");
}

#[test]
fn arcs_past_half_a_turn_and_full_turns() {
    let turn = std::f64::consts::TAU;
    let arc = |sweep: f64| Piece::Arc {
        center: dvec2(5.0, 7.0),
        radius: 3.0,
        from: 0.5,
        sweep,
    };
    let mut drawing = Sheet::default();
    drawing.path(Layer::Outline, LineKind::Wide, vec![arc(turn)], true);
    drawing.path(Layer::Outline, LineKind::Wide, vec![arc(-turn)], false);
    let keyhole = arc(5.0);
    let chord = Piece::Line {
        a: keyhole.end(),
        b: keyhole.start(),
    };
    drawing.path(Layer::Slots, LineKind::Wide, vec![keyhole, chord], true);
    let found = read("turns.dxf", &drawing.items);
    assert_eq!(of_type(&found, "CIRCLE").len(), 2);
    let outline = of_type(&found, "LWPOLYLINE")[0];
    let corners = outline["points"].as_array().unwrap();
    assert_eq!(corners.len(), 3);
    assert!(close(place(&corners[1]), keyhole.at(0.5)));
    assert!((corners[0][2].as_f64().unwrap() - (5.0_f64 / 8.0).tan()).abs() < 1e-12);
    // The circle's reach: 3 mm round (5, 7).
    assert!(
        close(place(&found["extent"][0]), dvec2(2.0, 4.0)),
        "{}",
        found["extent"]
    );
    assert!(
        close(place(&found["extent"][1]), dvec2(8.0, 10.0)),
        "{}",
        found["extent"]
    );
}

#[test]
fn texts_keep_off_the_layers_that_are_cut() {
    let found = read("texts.dxf", &sheet(210.0, 297.0).items);
    let texts = of_type(&found, "TEXT");
    for text in &texts {
        let layer = text["layer"].as_str().unwrap();
        assert!(["NOTES", "DIMENSIONS", "FRAME"].contains(&layer), "{text}");
    }
    let find = |words: &str| *texts.iter().find(|t| t["text"] == words).expect(words);
    let bar = find("100 mm");
    assert_eq!(bar["align"], "CENTER");
    assert!(close(place(&bar["points"][0]), dvec2(80.0, 23.0)), "{bar}");
    assert_eq!(find("bore 1")["align"], "RIGHT");
    let turned = find("30.00");
    assert!((turned["rotation"].as_f64().unwrap() - 90.0).abs() < 1e-9);
    assert!((turned["height"].as_f64().unwrap() - 2.5).abs() < 1e-12);
    find("Bore ⌀10.50 − Ёлка Ύψος");
    // A backslash and a doubled percent sign are spelt out; a caret has a space behind it.
    find("Ear <wig> & \"Son's\" ; 50%%d \\U+0041 ^ I {x} (open ▯ ▯▯▯ ▯end");
}

#[test]
fn nothing_awkward_breaks_the_file() {
    let mut drawing = Sheet::new(AWKWARD, 10.0, 10.0);
    for title in [
        "",
        "\u{0}",
        "  0\nEOF\n",
        "\r\n  0\r\nENDSEC",
        "%%u%%",
        "\\P\\~;{}",
        "\u{FFFF}",
    ] {
        drawing.text(Layer::Notes, DVec2::ZERO, 2.5, Anchor::Middle, title);
    }
    drawing.line(Layer::Axes, LineKind::Axis, DVec2::NAN, DVec2::ZERO);
    drawing.circle(Layer::Bores, LineKind::Wide, DVec2::INFINITY, 1.0);
    drawing.path(Layer::Slots, LineKind::Wide, vec![], true);
    let found = read("awkward.dxf", &drawing.items);
    assert_eq!(
        of_type(&found, "TEXT").len(),
        found["entities"].as_array().unwrap().len()
    );
    read("empty.dxf", &[]);
}

#[test]
fn same_items_same_bytes_and_handles_of_their_own() {
    let items = sheet(210.0, 297.0).items;
    assert_eq!(dxf(&items), dxf(&items));
    let text = dxf(&items);
    let lines: Vec<&str> = text.lines().collect();
    let handles: Vec<&str> = lines
        .chunks_exact(2)
        .filter(|pair| matches!(pair[0], "  5" | "105"))
        .map(|pair| pair[1])
        .collect();
    // The first is the seed in the header: above all others.
    let number = |handle: &str| u32::from_str_radix(handle, 16).unwrap();
    let seed = number(handles[0]);
    let mut others: Vec<u32> = handles[1..].iter().map(|h| number(h)).collect();
    assert!(others.iter().all(|&handle| handle < seed));
    let count = others.len();
    others.sort_unstable();
    others.dedup();
    assert_eq!(others.len(), count);
    let square = Region::polygon(&[DVec2::ZERO, DVec2::X, DVec2::Y]);
    let mut filled = Sheet::default();
    let fill = barrelhead::paper::Fill::Grey(0.5);
    filled.area(Layer::Outline, None, &square, fill);
    assert!(!dxf(&filled.items).contains("LWPOLYLINE"));
}
