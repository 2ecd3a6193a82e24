//! Setup sheet, operation cards and bore list of every design at hand: texts that keep apart and
//! within the paper; figures equal to report.json's; holes that, carried back from the card or the
//! list by its own origin and turns, lie where report.json has them.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

mod figures;
mod holes;
mod keeping_apart;
mod told_once;
#[path = "../support"]
mod support {
    pub mod designs;
    pub mod has_poppler;
    pub mod pdf_text;
    pub mod process;
    pub mod project;
}

use std::path::Path;

use barrelhead::check::Report;
use barrelhead::layout::Layout;
use barrelhead::paper::{Item, Paper, Sheet, SheetOptions, Text};
use barrelhead::pipeline::judge_design;
use barrelhead::units::Lengths;
use barrelhead::write::pdf::pdf;
use barrelhead::write::report_json::report_json;
use barrelhead::{input, solid};
use serde_json::Value;
use support::pdf_text::pdf_text;

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

/// The text of some sheets as the PDF gives it.
fn printed(sheets: &[Sheet]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sheets.pdf");
    std::fs::write(&file, pdf(sheets).unwrap()).unwrap();
    pdf_text(&file)
}
