//! Every figure of the setup sheet stands in `report.json` or in the parameter file.

use std::collections::BTreeSet;

use barrelhead::layout::RigLayout;
use barrelhead::paper::Paper;
use barrelhead::paper::setup::setup_sheets;
use serde_json::Value;

use super::{Made, designs, options, printed};
use crate::support::has_poppler::has_poppler;

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

/// Two decimals without a sign, the half upwards; a double may lie a hair below the half it stands for.
fn two_decimals(value: f64) -> String {
    format!("{:.2}", value.abs() + 1e-10)
}

/// Every number of a JSON value, printed to two decimals without its sign.
fn numbers(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Number(number) => {
            into.insert(two_decimals(number.as_f64().unwrap()));
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
    // Told beside the depth itself, which is the report's; `tests/figures.rs` has it by the contract's rule.
    own.extend(made.layout.deeper().map(|one| one.by));
    // What the rig takes of the daylight: its own sheet's height, and the check's figures with the bare table's out.
    let daylight = made.report.finding("press-daylight");
    if let (Some(daylight), Some(rig)) = (daylight, RigLayout::new(&made.layout)) {
        let head = &made.layout.outline.region();
        let width = head.reach(glam::DVec2::X) + head.reach(glam::DVec2::NEG_X);
        let takes = daylight.value - width - design.guide.depth + rig.height_over_table();
        let there = design.press.as_ref().and_then(|press| press.daylight);
        own.extend([rig.height_over_table(), takes]);
        own.extend(there.map(|there| (there - takes).abs()));
    }
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
        known.extend(own_figures(&made).iter().map(|mm| two_decimals(*mm)));
        // The advice of a caution is in the report on the screen, not in report.json.
        for finding in &made.report.findings {
            known.extend(figures(finding.advice.as_deref().unwrap_or_default()));
        }
        let strange: Vec<String> = figures(&text).difference(&known).cloned().collect();
        assert!(strange.is_empty(), "{}: {strange:?}", made.name);
        // And what must be there is there.
        for stop in made.json["depth_stops"].as_array().unwrap() {
            for key in ["from_block_top", "depth", "block"] {
                let figure = two_decimals(stop[key].as_f64().unwrap());
                assert!(text.contains(&figure), "{}: {key} {figure}", made.name);
            }
        }
        let wedge = made.json["wedge_deg"].as_f64().unwrap().abs();
        assert!(
            wedge < 1e-9 || text.contains(&format!("{}°", two_decimals(wedge))),
            "{}: wedge {wedge}",
            made.name
        );
    }
}
