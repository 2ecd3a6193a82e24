//! What `suit --json` prints of one set.

use std::path::Path;

use serde_json::{Value, json};

use crate::input::AssumedValue;
use crate::study::suit::{End, Range};
use crate::write::entries;

use super::super::json;
use super::Asked;

/// One set that was worked out.
pub(super) fn entry(path: &Path, one: &Asked) -> Value {
    let suit = &one.suit;
    let end = |end: Option<End>| end.map(|end| json!({ "value": end.value, "check": end.check }));
    let range = |range: &Range| {
        json!({
            "least": end(range.least),
            "greatest": end(range.greatest),
            "never": range.never,
            "open": range.is_open(),
        })
    };
    let bounds: Vec<Value> = suit
        .bounds
        .iter()
        .map(|bound| {
            json!({
                "name": bound.number.name(),
                "here": bound.here,
                "assumed": bound.assumed,
                "clear": range(&bound.clear),
                "no_stop": range(&bound.no_stop),
                "checks": bound.checks,
                "left_out": bound.left_out,
            })
        })
        .collect();
    let assumed: Vec<Value> = suit
        .assumed
        .iter()
        .map(|assumed| {
            let (value, unit) = match assumed.value {
                AssumedValue::Length(mm) => (json!(mm), "mm"),
                AssumedValue::Pair(pair) => (json!(pair), "mm"),
                AssumedValue::Degrees(degrees) => (json!(degrees), "deg"),
                AssumedValue::Word(word) => (json!(word), ""),
            };
            json!({
                "key": assumed.key,
                "value": value,
                "unit": unit,
                "basis": assumed.basis.name(),
                "why": assumed.why,
            })
        })
        .collect();
    let blocks: Vec<Value> = suit
        .layout
        .blocks
        .iter()
        .map(|block| {
            json!({
                "drills": block.serves.name(),
                "length": block.length,
                "depth": block.depth,
                "height": block.height,
                "axis_height": block.axis_height,
            })
        })
        .collect();
    json!({
        "file": path.display().to_string(),
        "title": suit.design.title,
        "bounds": bounds,
        "no_bound": suit.no_bound,
        "slot_middle": suit.slot_middle,
        "rib_window": entries::rib_window(suit.rib_window),
        "bit": suit.design.bores.diameter,
        "blocks": blocks,
        "assumed": assumed,
        "verdict": one.report.verdict().name(),
        "checks": json::checks(&one.report),
    })
}
