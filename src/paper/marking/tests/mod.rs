//! The marking sheet against the layout it is drawn from.

mod pages;
mod parts;

use glam::DVec2;

use super::*;
use crate::check::run;
use crate::input::{Design, read, sample::six_string};
use crate::layout::{Copy, Layout};
use crate::paper::{Item, Layer, LineKind, Text};
use crate::plane::Piece;
use crate::support::demos::demo_file;

fn demo(name: &str) -> (Layout, Report) {
    laid_out(&read(&demo_file(name)).unwrap())
}

fn laid_out(design: &Design) -> (Layout, Report) {
    let layout = Layout::new(design, Copy::Finished);
    let (report, _) = run(design);
    (layout, report)
}

/// Lines of one purpose and kind.
fn lines(sheet: &Sheet, layer: Layer, kind: LineKind) -> Vec<[DVec2; 2]> {
    let mut found = Vec::new();
    for item in &sheet.items {
        if let Item::Path(path) = item
            && path.layer == layer
            && path.line == Some(kind)
            && let [Piece::Line { a, b }] = path.pieces[..]
        {
            found.push([a, b]);
        }
    }
    found
}

fn texts(sheet: &Sheet) -> impl Iterator<Item = &Text> {
    sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    })
}

/// An uneven head with a sloping back, veneers to come and a rounding.
fn uneven() -> Design {
    let mut design = six_string();
    design.head.half_width_at_end.bass += 2.0;
    design.head.thickness_at_crest = 18.9;
    design.head.veneers_on = false;
    design.head.edge_radius = 2.0;
    design
}

fn same(a: DVec2, b: DVec2) -> bool {
    a.distance(b) < 1e-9
}
