//! Checks and bores as `report.json` and `--json` give them (contract, section 5): millimetres
//! and degrees, full precision, one shape wherever a program meets them.

use glam::DVec3;
use serde_json::{Map, Value, json};

use crate::check::{Finding, Limit, RibWindow};
use crate::layout::{Bore, Clearance, DepthStop, Layout, StringPath};

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

/// One string on its way: where it runs, its angles, and, with `[strings]`, how it lies on its barrel
/// and the least distance to everything it passes (else `null`).
#[must_use]
pub fn string_entry(layout: &Layout, string: &StringPath) -> Value {
    let run = string.run();
    let wound = string.strung.as_ref();
    let list = |near: Vec<Clearance>| {
        wound.map(|_| near.iter().map(clearance_entry).collect::<Vec<Value>>())
    };
    json!({
        "number": string.number,
        "side": string.side.name(),
        "barrel": string.barrel,
        "at_nut": point(run.from),
        "at_barrel": point(run.to),
        "length_behind_nut": run.length(),
        "side_pull_deg": plain_zero(string.side_pull.to_degrees()),
        "nut_break_deg": plain_zero(string.nut_break.to_degrees()),
        "at_face": string.at_face.map(|at| [at.x, at.y].map(plain_zero)),
        "diameter": wound.map(|wound| wound.diameter),
        "diameter_basis": wound
            .and(layout.design.strings.as_ref())
            .map(|strings| strings.diameter_basis.name()),
        "leaves": wound.map(|wound| if wound.over { "over" } else { "under" }),
        "turns": wound.map(|wound| wound.turns),
        "walk": wound.map(|wound| if wound.outwards { "out" } else { "in" }),
        "winding": wound.map(|wound| json!({
            "from": plain_zero(wound.winding[0]),
            "to": plain_zero(wound.winding[1]),
            "diameter": 2.0 * wound.winding_radius,
        })),
        "to_wood": list(layout.string_to_wood(string)),
        "to_barrels": list(layout.string_to_barrels(string)),
        "to_strings": list(layout.string_to_strings(string)),
    })
}

fn clearance_entry(near: &Clearance) -> Value {
    json!({
        "to": near.to.words(),
        "distance": plain_zero(near.distance),
        "at": point(near.at),
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
