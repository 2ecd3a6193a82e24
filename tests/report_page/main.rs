//! `report.html`: well formed, alone on the disk, readable by a screen reader, and every figure that of
//! `report.json`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod alone;
mod figures;
mod for_every_reader;
#[path = "../support"]
mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::path::Path;
use std::sync::OnceLock;

use barrelhead::input::{self, Design};
use barrelhead::write::html::{Options, report_html};
use barrelhead::write::report_json::report_json;
use barrelhead::{pipeline, solid};
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

fn check<'a>(report: &'a Value, code: &str) -> &'a Value {
    let checks = report["checks"].as_array().unwrap();
    checks.iter().find(|check| check["code"] == code).unwrap()
}
