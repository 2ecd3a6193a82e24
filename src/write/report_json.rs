//! `report.json`: measures of the solids, bores and verdicts, for programs. Always millimetres
//! and degrees, full precision (contract, section 5).

use serde_json::{Map, Value, json};

use crate::check::Report;
use crate::layout::{Block, Layout};
use crate::solid::brep::Measures;
use crate::solid::{Part, Solids};

use super::{entries, studies};

/// The report of a design that was made.
#[must_use]
pub fn report_json(layout: &Layout, report: &Report, solids: &Solids) -> Value {
    let mut parts = Map::new();
    parts.insert(solids.head.stem.to_owned(), measures(&solids.head.measures));
    for (part, block) in solids.blocks.iter().zip(&layout.blocks) {
        parts.insert(part.stem.to_owned(), block_measures(part, block));
    }
    json!({
        "title": layout.design.title,
        "units": "mm",
        "solids": parts,
        "bores": layout.bores().map(entries::bore_entry).collect::<Vec<_>>(),
        "strings": layout
            .strings
            .iter()
            .map(|string| entries::string_entry(layout, string))
            .collect::<Vec<_>>(),
        "depth_stops": layout.stops().iter().map(entries::stop_entry).collect::<Vec<_>>(),
        "wedge_deg": entries::plain_zero(layout.wedge_angle().to_degrees()),
        "checks": report.findings.iter().map(entries::check_entry).collect::<Vec<_>>(),
        "rib_window": entries::rib_window(report.rib_window),
        "measured": studies::measured_entry(layout, report),
        "wood": studies::wood_entry(layout, report, Some(solids)),
        "verdict": report.verdict().name(),
    })
}

fn measures(of: &Measures) -> Value {
    json!({
        "volume_mm3": of.volume,
        "area_mm2": of.area,
        "centroid": entries::point(of.centroid),
        "bounding_box": { "min": entries::point(of.min), "max": entries::point(of.max) },
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
        map.insert("shim".to_owned(), json!(entries::plain_zero(block.shim)));
    }
    value
}
