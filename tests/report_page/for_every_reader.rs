//! By ear, by light, by dark and on paper.

use roxmltree::Node;

use super::{Made, demos, named, parsed, text};

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
