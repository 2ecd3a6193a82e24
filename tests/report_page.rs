//! `report.html`: well formed, alone on the disk, readable by a screen reader, and every figure that of
//! `report.json`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

use barrelhead::input::{self, Design};
use barrelhead::pipeline;
use barrelhead::solid;
use barrelhead::write::html::{Options, report_html};
use barrelhead::write::report_json::report_json;
use roxmltree::{Document, Node, ParsingOptions};
use serde_json::Value;
use support::demos::demo_file;

struct Made {
    name: String,
    page: String,
    report: Value,
}

fn design(name: &str) -> Design {
    input::read(&demo_file(name)).unwrap()
}

fn made(design: &Design, options: Options) -> (String, Value) {
    let (layout, report, checked) = pipeline::judge_design(design, Path::new("a.toml")).unwrap();
    let solids = solid::build(&checked.unwrap()).unwrap();
    let files = ["head.step", "report.json", "bench/odd name & <more>.pdf"].map(String::from);
    (
        report_html(&layout, &report, &solids, &files, options),
        report_json(&layout, &report, &solids),
    )
}

/// Every demo's page and report, made once.
fn demos() -> &'static [Made] {
    static MADE: OnceLock<Vec<Made>> = OnceLock::new();
    MADE.get_or_init(|| {
        support::demos::demos()
            .into_iter()
            .map(|name| {
                let (page, report) = made(&design(&name), Options::default());
                Made { name, page, report }
            })
            .collect()
    })
}

fn parsed(page: &str) -> Document<'_> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    Document::parse_with_options(page, options).expect("well-formed as XML")
}

fn has_class(node: Node<'_, '_>, class: &str) -> bool {
    node.attribute("class")
        .is_some_and(|own| own.split(' ').any(|word| word == class))
}

/// The text of an element, without what is only for inches or for the ear.
fn text(node: Node<'_, '_>) -> String {
    if has_class(node, "inch") || has_class(node, "aloud") {
        return String::new();
    }
    match node.text() {
        Some(text) if node.is_text() => text.to_owned(),
        _ => node.children().map(text).collect(),
    }
}

fn named<'a>(document: &'a Document<'_>, name: &'a str) -> impl Iterator<Item = Node<'a, 'a>> {
    document
        .descendants()
        .filter(move |node| node.tag_name().name() == name)
}

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
fn the_page_stands_alone_and_is_small() {
    for Made { name, page, .. } in demos() {
        let document = parsed(page);
        assert!(page.len() < 300_000, "{name}: {} bytes", page.len());
        for forbidden in [
            "script", "link", "iframe", "object", "embed", "base", "form",
        ] {
            assert_eq!(
                named(&document, forbidden).count(),
                0,
                "{name}: {forbidden}"
            );
        }
        let style: String = named(&document, "style").map(text).collect();
        for reaching in ["url(", "@import", "http", "expression"] {
            assert!(!style.contains(reaching), "{name}: style has {reaching}");
        }
        let ids: Vec<&str> = document
            .descendants()
            .filter_map(|node| node.attribute("id"))
            .collect();
        let unique: BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), unique.len(), "{name}: an id is used twice");
        for node in document.descendants() {
            for attribute in node.attributes() {
                let (key, value) = (attribute.name(), attribute.value());
                assert!(!key.starts_with("on"), "{name}: {key}");
                assert!(!value.contains("//") || key == "src", "{name}: {value}");
                if key == "href" {
                    let inside = value.strip_prefix('#');
                    let fits = inside.map_or_else(
                        || !value.contains(':') && !value.starts_with('/'),
                        |id| unique.contains(id),
                    );
                    assert!(fits, "{name}: {value}");
                }
                if key == "src" {
                    assert!(value.starts_with("data:image/png;base64,"), "{name}");
                }
            }
        }
    }
}

#[test]
fn a_screen_reader_finds_its_way() {
    for Made { name, page, .. } in demos() {
        let document = parsed(page);
        assert_eq!(document.root_element().attribute("lang"), Some("en"));
        assert_eq!(named(&document, "main").count(), 1);
        let mut level = 0;
        for node in document.descendants() {
            let tag = node.tag_name().name();
            if let Some(next) = tag.strip_prefix('h').and_then(|n| n.parse::<u32>().ok()) {
                assert!(next <= level + 1, "{name}: {tag} under h{level}");
                assert!(!text(node).trim().is_empty(), "{name}: an empty {tag}");
                level = next;
            }
        }
        assert_eq!(named(&document, "h1").count(), 1);
        let images: Vec<_> = named(&document, "img").collect();
        assert!(images.len() >= 4, "{name}: {} pictures", images.len());
        for image in images {
            assert!(image.attribute("alt").is_some_and(|alt| alt.len() > 30));
        }
        for svg in named(&document, "svg") {
            let first = svg.first_element_child().map(|node| node.tag_name().name());
            let told = svg.attribute("aria-hidden") == Some("true")
                || (svg.attribute("role") == Some("img") && first == Some("title"));
            assert!(told, "{name}: a drawing without a title");
        }
        for table in named(&document, "table") {
            let first = table.first_element_child().unwrap();
            assert_eq!(first.tag_name().name(), "caption", "{name}");
            let width = |row: Node<'_, '_>| row.children().filter(Node::is_element).count();
            let rows: Vec<_> = table
                .descendants()
                .filter(|node| node.tag_name().name() == "tr")
                .collect();
            assert!(rows.len() > 1, "{name}: an empty table");
            assert!(
                rows.iter().all(|row| width(*row) == width(rows[0])),
                "{name}"
            );
        }
        for head in named(&document, "th") {
            let scope = head.attribute("scope");
            assert!(matches!(scope, Some("row" | "col")), "{name}: {scope:?}");
        }
    }
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

fn check<'a>(report: &'a Value, code: &str) -> &'a Value {
    let checks = report["checks"].as_array().unwrap();
    checks.iter().find(|check| check["code"] == code).unwrap()
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

#[test]
fn a_hostile_title_is_only_a_title() {
    let titles = [
        "</title><script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "]]> <!-- <![CDATA[ &amp; &#0; %s {}",
        "nul \u{0}, bell \u{7}, escape \u{1b}[31m, last \u{ffff}",
        "\u{202e}backwards\u{2066} شنقب 鷸 🪶",
    ];
    let mut design = design("dunlin");
    let plain = made(&design, Options::default()).0;
    let count = |page: &str| parsed(page).descendants().filter(Node::is_element).count();
    let job = "</style><svg onload=alert(1)>'\"";
    design.job.contact = job.to_owned();
    design.title = "Plain".to_owned();
    let with_contact = count(&made(&design, Options::default()).0);
    assert!(with_contact > count(&plain));
    for title in titles {
        design.title = title.to_owned();
        let page = made(&design, Options::default()).0;
        let document = parsed(&page);
        assert_eq!(
            count(&page),
            with_contact,
            "{title:?} made elements of its own"
        );
        let shown: String = title
            .chars()
            .map(|c| {
                if c.is_control() || c == '\u{ffff}' {
                    '\u{fffd}'
                } else {
                    c
                }
            })
            .collect();
        let heading = named(&document, "h1").next().unwrap();
        assert_eq!(text(heading), shown);
        assert!(text(named(&document, "title").next().unwrap()).starts_with(&shown));
        assert!(page.contains("&lt;/style&gt;&lt;svg onload"));
    }
}

#[test]
fn the_same_design_gives_the_same_page_and_inches_stand_beside_where_asked() {
    let design = design("dunlin");
    let (page, report) = made(&design, Options::default());
    let alone = demos().iter().find(|made| made.name == "dunlin").unwrap();
    assert_eq!(page, alone.page);
    assert!(!page.contains("(0."));
    let (both, _) = made(&design, Options { inches: true });
    let bearing = check(&report, "bearing")["value"].as_f64().unwrap();
    let wanted = format!("{bearing:.2} mm ({:.3} in)", bearing / 25.4);
    assert!(both.contains(&wanted), "{wanted}");
    let inch = demos()
        .iter()
        .find(|made| made.name == "turnstone")
        .unwrap();
    assert!(inch.page.contains("class=\"inch\">2.000<"));
}

/// The colours of one block of the style sheet, by name.
fn colours(block: &str) -> Vec<(String, [f64; 3])> {
    block
        .split(';')
        .filter_map(|entry| {
            let (name, value) = entry.split_once(": #")?;
            let name = name.rsplit("--").next()?.trim().to_owned();
            let value = u32::from_str_radix(value.trim(), 16).ok()?;
            let part = |shift: u32| f64::from(value >> shift & 255) / 255.0;
            Some((name, [part(16), part(8), part(0)]))
        })
        .collect()
}

/// Relative luminance of an sRGB colour (WCAG 2, from memory).
fn luminance(colour: [f64; 3]) -> f64 {
    let linear = colour.map(|part| {
        if part <= 0.04045 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    });
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}

#[test]
fn words_stand_out_from_their_ground_by_light_by_dark_and_on_paper() {
    // The rule itself on two known pairs: black on white 21, mid grey #767676 on white 4.54.
    let contrast = |a: [f64; 3], b: [f64; 3]| {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    };
    assert!((contrast([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    assert!((contrast([f64::from(0x76) / 255.0; 3], [1.0; 3]) - 4.54).abs() < 0.01);
    let page = &demos()[0].page;
    let blocks: Vec<_> = page
        .split(":root {")
        .skip(1)
        .map(|rest| colours(rest.split('}').next().unwrap_or_default()))
        .collect();
    assert_eq!(blocks.len(), 3, "light, dark, paper");
    for block in &blocks {
        let colour = |name: &str| {
            let found = block.iter().find(|(own, _)| own == name);
            found.unwrap_or_else(|| panic!("no colour {name}")).1
        };
        let grounds = ["page", "card", "clear-back", "caution-back", "stop-back"];
        for words in ["ink", "quiet", "link"] {
            for ground in grounds {
                let contrast = contrast(colour(words), colour(ground));
                assert!(contrast >= 4.5, "{words} on {ground}: {contrast:.2}");
            }
        }
        for verdict in ["clear", "caution", "stop"] {
            for ground in ["page", "card", &format!("{verdict}-back")] {
                let contrast = contrast(colour(verdict), colour(ground));
                assert!(contrast >= 4.5, "{verdict} on {ground}: {contrast:.2}");
            }
        }
    }
}
