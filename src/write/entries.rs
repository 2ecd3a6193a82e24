//! Checks and bores as `report.json` and `--json` give them (contract, section 5): millimetres
//! and degrees, full precision, one shape wherever a program meets them.

use serde_json::{Map, Value, json};

use crate::check::{Basis, Finding, Limit, RibWindow};
use crate::layout::Bore;

/// The word for what a limit rests on.
#[must_use]
pub fn basis_word(basis: &Basis) -> &'static str {
    match basis {
        Basis::CommonPractice => "common practice",
        Basis::Assumed => "our assumption",
        Basis::Own => "your own limit",
        Basis::Buildable => "what can be built",
        Basis::Published(source) => source,
    }
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
    entry.insert("value".into(), json!(finding.value));
    entry.insert("limit".into(), limit);
    entry.insert("margin".into(), json!(finding.margin));
    entry.insert("unit".into(), json!(finding.unit));
    entry.insert("basis".into(), json!(basis_word(&finding.basis)));
    entry.insert("where".into(), json!(finding.at));
    entry
}

/// One bore, exactly the keys of the contract.
#[must_use]
pub fn bore_entry(bore: &Bore) -> Value {
    json!({
        "side": bore.side.name(),
        "number": bore.number,
        "entry": bore.entry.to_array(),
        "direction": bore.direction.to_array(),
        "diameter": bore.diameter,
        "depth": bore.depth,
        "point_height": bore.point_height,
        "ends": bore.end.name(),
        "length_in_model": bore.length_in_model,
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
