//! One file that needs no other, holds nothing foreign, and is the same every time.

use std::collections::BTreeSet;

use barrelhead::write::html::Options;
use roxmltree::Node;

use super::{Made, check, demos, design, made, named, parsed, text};

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
