//! `report.json`: measures of the solids, bores and verdicts, for programs. Always millimetres
//! and degrees, full precision (contract, section 5).

use glam::DVec3;
use serde_json::{Map, Value, json};

use crate::check::{Finding, Limit, Report, RibWindow};
use crate::layout::{Block, Bore, Layout};
use crate::solid::brep::Measures;
use crate::solid::{Part, Solids};

/// The report of a design that was made.
#[must_use]
pub fn report_json(layout: &Layout, report: &Report, solids: &Solids) -> Value {
    let mut parts = Map::new();
    parts.insert(solids.head.stem.to_owned(), measures(&solids.head.measures));
    for (part, block) in solids.blocks.iter().zip(&layout.blocks) {
        parts.insert(part.stem.to_owned(), block_measures(part, block));
    }
    let mut whole = verdicts_json(layout, report);
    // Measures stand where the contract puts them: after the units.
    let rest: Vec<(String, Value)> = whole
        .iter()
        .skip(2)
        .map(|(k, v)| (k.clone(), v.clone()))
        .collect();
    let mut ordered: Map<String, Value> = whole
        .iter()
        .take(2)
        .map(|(k, v)| (k.clone(), v.clone()))
        .collect();
    ordered.insert("solids".to_owned(), Value::Object(parts));
    ordered.extend(rest);
    whole = ordered;
    Value::Object(whole)
}

/// What can be said without solids: title, units, bores, checks, rib window, stop figures,
/// verdict.
#[must_use]
pub fn verdicts_json(layout: &Layout, report: &Report) -> Map<String, Value> {
    let mut whole = Map::new();
    whole.insert("title".to_owned(), json!(layout.design.title));
    whole.insert("units".to_owned(), json!("mm"));
    whole.insert("bores".to_owned(), layout.bores().map(bore).collect());
    whole.insert(
        "checks".to_owned(),
        report.findings.iter().map(check).collect(),
    );
    if let Some(window) = report.rib_window {
        whole.insert("rib_window".to_owned(), rib_window(window));
    }
    whole.insert("verdict".to_owned(), json!(report.verdict().name()));
    whole
}

fn point(p: DVec3) -> Value {
    // −0.0 would puzzle a reader and differ between equal designs.
    json!([p.x + 0.0, p.y + 0.0, p.z + 0.0])
}

fn measures(of: &Measures) -> Value {
    json!({
        "volume_mm3": of.volume,
        "area_mm2": of.area,
        "centroid": point(of.centroid),
        "bounding_box": { "min": point(of.min), "max": point(of.max) },
    })
}

fn block_measures(part: &Part, block: &Block) -> Value {
    let mut value = measures(&part.measures);
    if let Value::Object(map) = &mut value {
        let holes: Vec<Value> = block
            .holes
            .iter()
            .map(|hole| {
                json!({ "number": hole.number, "x": hole.x, "z": hole.z, "diameter": hole.diameter })
            })
            .collect();
        map.insert("holes".to_owned(), Value::Array(holes));
        map.insert("shim".to_owned(), json!(block.shim + 0.0));
    }
    value
}

fn bore(bore: &Bore) -> Value {
    json!({
        "side": bore.side.name(),
        "number": bore.number,
        "entry": point(bore.entry),
        "direction": point(bore.direction),
        "diameter": bore.diameter,
        "depth": bore.depth,
        "point_height": bore.point_height,
        "ends": bore.end.name(),
        "length_in_model": bore.length_in_model,
        "along_side": bore.s,
        "beyond_end_plane_at_most": bore.beyond_end_plane,
    })
}

fn check(finding: &Finding) -> Value {
    let limit = match finding.limit {
        Limit::Single(value) => json!(value),
        Limit::Band { low, high } => json!({ "low": low, "high": high }),
    };
    json!({
        "code": finding.code,
        "title": finding.title,
        "verdict": finding.verdict.name(),
        "value": finding.value + 0.0,
        "limit": limit,
        "margin": finding.margin + 0.0,
        "unit": finding.unit,
        "basis": finding.basis.name(),
        "where": finding.at,
    })
}

fn rib_window(window: RibWindow) -> Value {
    if window.is_open() {
        json!({ "least": window.least, "greatest": window.greatest })
    } else {
        json!("none")
    }
}
