//! Checks and bores as `report.json` and `--json` give them (contract, section 5): millimetres
//! and degrees, full precision, one shape wherever a program meets them.

use glam::DVec3;
use serde_json::{Map, Value, json};

use crate::check::{Finding, Limit, RibWindow};
use crate::layout::{Bore, DepthStop};

/// −0.0 would puzzle a reader and differ between equal designs.
#[must_use]
pub fn plain_zero(value: f64) -> f64 {
    value + 0.0
}

/// A point or vector.
#[must_use]
pub fn point(p: DVec3) -> Value {
    json!(p.to_array().map(plain_zero))
}

/// One check, exactly the keys of the contract.
#[must_use]
pub fn check_entry(finding: &Finding) -> Map<String, Value> {
    let limit = match finding.limit {
        Limit::Single(limit) => json!(limit),
        Limit::Band { low, high } => json!({ "low": low, "high": high }),
    };
    let mut entry = Map::new();
    entry.insert("code".into(), json!(finding.code));
    entry.insert("title".into(), json!(finding.title));
    entry.insert("verdict".into(), json!(finding.verdict.name()));
    entry.insert("value".into(), json!(plain_zero(finding.value)));
    entry.insert("limit".into(), limit);
    entry.insert("margin".into(), json!(plain_zero(finding.margin)));
    entry.insert("unit".into(), json!(finding.unit));
    entry.insert("basis".into(), json!(finding.basis.name()));
    entry.insert("where".into(), json!(finding.at));
    entry
}

/// One bore: the keys of the contract, its place along the side line, and the bound on the wood that
/// drilling takes beyond its end plane.
#[must_use]
pub fn bore_entry(bore: &Bore) -> Value {
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
        "beyond_end_plane_at_most": plain_zero(bore.beyond_end_plane),
    })
}

/// Where the depth stop is set, from the block's top to the tip, with what it is made of.
#[must_use]
pub fn stop_entry(stop: &DepthStop) -> Value {
    json!({
        "sides": stop.serves.name(),
        "from_block_top": stop.figure,
        "block": stop.block,
        "depth": stop.deepest,
        "point": stop.point,
    })
}

/// The rib window; `null` where there is no rib, and for a greatest rib that no string limits.
#[must_use]
pub fn rib_window(window: Option<RibWindow>) -> Value {
    match window {
        Some(window) => json!({
            "least": window.least,
            "greatest": window.greatest.is_finite().then_some(window.greatest),
            "open": window.is_open(),
        }),
        None => Value::Null,
    }
}
