//! Every figure of the page is that of `report.json`.

use roxmltree::Document;
use serde_json::Value;

use super::{Made, check, demos, has_class, named, parsed, text};

/// The numbers in a text, in order, those in brackets (inches) left out.
fn numbers(text: &str) -> Vec<f64> {
    let text = text.split('(').next().unwrap_or_default();
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter_map(|word| word.trim_end_matches('.').parse().ok())
        .collect()
}

/// Printed to two decimals, a figure is within half a hundredth of what it stands for.
fn same(printed: &str, value: &Value, what: &str) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{what}: {value}"));
    let found = numbers(printed);
    let [number] = found.as_slice() else {
        panic!("{what}: {printed:?} is not one number");
    };
    assert!(printed.contains('.'), "{what}: {printed}");
    assert!(
        (number - value).abs() <= 0.005 + 1e-9,
        "{what}: printed {printed}, report.json has {value}"
    );
}

/// Rows of the table whose caption begins so: row head, then cells.
fn table(document: &Document<'_>, caption: &str) -> Vec<Vec<String>> {
    let found = named(document, "table").find(|table| {
        table
            .descendants()
            .any(|node| node.tag_name().name() == "caption" && text(node).starts_with(caption))
    });
    let table = found.unwrap_or_else(|| panic!("no table {caption}"));
    table
        .descendants()
        .filter(|node| node.tag_name().name() == "tr")
        .skip(1)
        .map(|row| {
            row.children()
                .filter(|node| node.is_element())
                .map(|cell| text(cell).trim().to_owned())
                .collect()
        })
        .collect()
}

#[test]
fn bores_read_as_in_the_report() {
    for Made { name, page, report } in demos() {
        let document = parsed(page);
        let bores = report["bores"].as_array().unwrap();
        let marking = table(&document, "Marking the bores");
        let depths = table(&document, "Depths along each bore");
        let places = table(&document, "Bores in the head's frame");
        assert!(
            [&marking, &depths, &places]
                .iter()
                .all(|rows| rows.len() == bores.len())
        );
        let mut before: Option<&Value> = None;
        for (index, bore) in bores.iter().enumerate() {
            let side = bore["side"].as_str().unwrap();
            let what = format!("{name}, {side} {}", bore["number"]);
            let head = format!("{side} {}", bore["number"]);
            for rows in [&marking, &depths, &places] {
                assert_eq!(rows[index][0].to_lowercase(), head, "{what}");
            }
            same(&marking[index][1], &bore["along_side"], &what);
            same(&marking[index][3], &bore["entry"][1], &what);
            let gap = before
                .filter(|last| last["side"] == bore["side"])
                .map(|last| {
                    bore["along_side"].as_f64().unwrap() - last["along_side"].as_f64().unwrap()
                });
            match gap {
                Some(gap) => same(&marking[index][2], &Value::from(gap), &what),
                None => assert_eq!(marking[index][2], "–"),
            }
            same(&depths[index][1], &bore["depth"], &what);
            same(&depths[index][2], &bore["point_height"], &what);
            assert_eq!(depths[index][3], bore["ends"].as_str().unwrap(), "{what}");
            for axis in 0..3 {
                same(&places[index][1 + axis], &bore["entry"][axis], &what);
            }
            for axis in 0..2 {
                let printed: f64 = places[index][4 + axis].parse().unwrap();
                let exact = bore["direction"][axis].as_f64().unwrap();
                assert!((printed - exact).abs() <= 0.5e-6 + 1e-12, "{what}");
            }
            same(&places[index][6], &bore["length_in_model"], &what);
            same(&places[index][7], &bore["beyond_end_plane_at_most"], &what);
            before = Some(bore);
        }
        let least = depths
            .iter()
            .filter_map(|row| row.get(6)?.parse::<f64>().ok())
            .fold(f64::INFINITY, f64::min);
        let bearing = check(report, "bearing");
        same(
            &format!("{least:.2}"),
            &bearing["value"],
            &format!("{name}, bearing"),
        );
    }
}

/// What is to spare as a share of the limit, from the report alone.
fn share(check: &Value) -> f64 {
    let limit = &check["limit"];
    let scale = match limit.as_f64() {
        Some(limit) => limit.abs(),
        None => (limit["high"].as_f64().unwrap() - limit["low"].as_f64().unwrap()) / 2.0,
    };
    let margin = check["margin"].as_f64().unwrap();
    if scale > 0.0 { margin / scale } else { margin }
}

#[test]
fn checks_read_as_in_the_report_and_the_tightest_comes_first() {
    for Made { name, page, report } in demos() {
        let document = parsed(page);
        let items: Vec<_> = named(&document, "li")
            .filter(|li| has_class(*li, "check"))
            .collect();
        assert_eq!(items.len(), report["checks"].as_array().unwrap().len());
        let mut last: Option<(u8, f64)> = None;
        for item in items {
            let code = item.attribute("data-code").unwrap();
            let what = format!("{name}, {code}");
            let entry = check(report, code);
            let part = |class: &str| {
                let found = item.descendants().find(|node| has_class(*node, class));
                text(found.unwrap_or_else(|| panic!("{what}: no {class}")))
            };
            let verdict = entry["verdict"].as_str().unwrap();
            assert!(has_class(item, verdict), "{what}");
            assert_eq!(part("state"), verdict, "{what}");
            assert!(part("sign").is_empty());
            same(&part("value"), &entry["value"], &what);
            let limit = part("limit");
            match entry["limit"].as_f64() {
                Some(_) => same(&limit, &entry["limit"], &what),
                None => {
                    let ends = numbers(&limit);
                    assert_eq!(ends.len(), 2, "{what}: {limit}");
                    for (printed, key) in ends.iter().zip(["low", "high"]) {
                        same(&format!("{printed:.2}"), &entry["limit"][key], &what);
                    }
                }
            }
            let margin = entry["margin"].as_f64().unwrap();
            let words = part("margin");
            same(&words, &Value::from(margin.abs()), &what);
            let missed = words.starts_with("short by") || words.starts_with("over by");
            assert_eq!(missed, margin < 0.0, "{what}: {words}");
            assert_eq!(part("where"), entry["where"].as_str().unwrap(), "{what}");
            assert_eq!(part("basis"), entry["basis"].as_str().unwrap(), "{what}");
            let at = (u8::from(verdict == "clear"), share(entry));
            if let Some(before) = last {
                let in_order = before.0 < at.0 || (before.0 == at.0 && before.1 <= at.1);
                assert!(in_order, "{what}: {before:?} before {at:?}");
            }
            last = Some(at);
            let bar = item
                .descendants()
                .find(|node| has_class(*node, "bar"))
                .unwrap();
            let number = |key: &str| bar.attribute(key).unwrap().parse::<f64>().unwrap();
            let (x, width) = (number("x"), number("width"));
            if margin >= 0.0 {
                assert_eq!(x.to_bits(), 60.0_f64.to_bits(), "{what}: from the limit");
                let wanted = (share(entry) * 100.0).clamp(1.5, 100.0);
                assert!(
                    (width - wanted).abs() < 0.06,
                    "{what}: {width} for {wanted}"
                );
            } else {
                assert!((x + width - 60.0).abs() < 0.11, "{what}: up to the limit");
            }
        }
        assert!(page.contains("id=\"checks\""), "{name}");
    }
}

#[test]
fn blocks_stops_rib_and_solids_read_as_in_the_report() {
    for Made { name, page, report } in demos() {
        let document = parsed(page);
        let stops = table(&document, "Depth stop");
        let wanted = report["depth_stops"].as_array().unwrap();
        assert_eq!(stops.len(), wanted.len(), "{name}");
        for (row, stop) in stops.iter().zip(wanted) {
            assert_eq!(
                row[0].to_lowercase(),
                stop["sides"].as_str().unwrap(),
                "{name}"
            );
            for (cell, key) in row[1..]
                .iter()
                .zip(["block", "depth", "point", "from_block_top"])
            {
                same(cell, &stop[key], &format!("{name}, stop, {key}"));
            }
        }
        let volumes = table(&document, "Volume and area");
        let places = table(&document, "Centroid and extent");
        let solids = report["solids"].as_object().unwrap();
        assert_eq!(volumes.len(), solids.len(), "{name}");
        for (index, (stem, solid)) in solids.iter().enumerate() {
            let what = format!("{name}, {stem}");
            same(&volumes[index][1], &solid["volume_mm3"], &what);
            same(&volumes[index][2], &solid["area_mm2"], &what);
            let corners = &solid["bounding_box"];
            let points = [&solid["centroid"], &corners["min"], &corners["max"]];
            for (point, row) in points.iter().zip(&places[3 * index..]) {
                for axis in 0..3 {
                    same(&row[2 + axis], &point[axis], &what);
                }
            }
            let Some(holes) = solid["holes"].as_array() else {
                continue;
            };
            let title = match stem.as_str() {
                "guide-block" => "Holes of the guide block:",
                "guide-block-treble" => "Holes of the guide block, treble:",
                _ => "Holes of the guide block, bass:",
            };
            let rows = table(&document, title);
            assert_eq!(rows.len(), holes.len(), "{what}");
            for (row, hole) in rows.iter().zip(holes) {
                assert_eq!(row[0], hole["number"].to_string(), "{what}");
                for (cell, key) in row[1..].iter().zip(["x", "z", "diameter"]) {
                    same(cell, &hole[key], &what);
                }
                assert!(!row[4].is_empty(), "{what}: a hole without a bore");
            }
            let sizes = table(&document, "Guide block (");
            for (cell, axis) in sizes[index - 1][1..4].iter().zip(0..3) {
                same(cell, &corners["max"][axis], &what);
            }
            same(&sizes[index - 1][6], &solid["shim"], &what);
        }
        let rib = named(&document, "p").find(|p| has_class(*p, "rib-window"));
        let window = &report["rib_window"];
        assert_eq!(rib.is_some(), !window.is_null(), "{name}");
        if let (Some(rib), Some(least)) = (rib, window["least"].as_f64()) {
            assert!(text(rib).contains(&format!("{least:.2} mm")), "{name}");
        }
    }
}
