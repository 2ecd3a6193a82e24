//! A JSON Schema of the parameter file, for editors: which tables and keys there are, what they hold,
//! in words. Made from the list of keys that the reader itself goes by, so that neither has a key that
//! the other does not know; `shapes` adds what a value looks like.
//!
//! A schema sees a file's form, not its meaning: that a bore is wider than its barrel only reading the
//! file tells.

mod shapes;

use serde_json::{Map, Value, json};

use super::check_codes::{KNOWN_CHECK_CODES, LimitUnit};
use super::joined;
use super::keys::{KEYS, Key};
use super::words;

/// Dialect of the schema.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// Tables without which there is no design.
const REQUIRED_TABLES: [&str; 6] = ["head", "nut", "machines", "placement", "bores", "guide"];

/// Keys without which a table says too little, beside those joined by "or".
const REQUIRED: &[(&str, &[&str])] = &[
    (
        "head",
        &[
            "length",
            "width_at_nut_end",
            "width_at_crest_end",
            "thickness",
            "angle",
        ],
    ),
    ("head.bass", &["width_at_nut_end", "width_at_crest_end"]),
    ("nut", &["string_height"]),
    (
        "machines",
        &[
            "barrel_length",
            "string_hole",
            "plate_width",
            "plate_thickness",
            "overhang",
        ],
    ),
    ("machines.screws", &["points", "pilot", "depth"]),
    ("bores.counterbore", &["diameter", "depth"]),
    ("slots", &["width", "end_margin"]),
    ("slots.ramp", &["mouth", "angle"]),
    ("guide", &["depth", "end_margin"]),
    ("guide.scribe", &["width", "depth"]),
    ("press", &["travel"]),
    ("drilled", &["side", "number"]),
];

/// Keys that say nothing without another.
const NEEDS: &[(&str, &str, &str)] = &[
    ("machines", "over_outer_barrels", "barrels"),
    ("machines.bass", "over_outer_barrels", "barrels"),
    ("template", "bush", "cutter"),
];

/// The schema; with `part` that of a file that holds only some tables, as those that `from` names: no
/// table must be there, and whatever a table lacks may stand in the file that names it.
#[must_use]
pub fn schema(part: bool) -> Value {
    let mut root = table("", part);
    if let Some(root) = root.as_object_mut() {
        root.insert("$schema".to_owned(), DIALECT.into());
        root.insert("title".to_owned(), "barrelhead parameter file".into());
        if !part {
            root.insert("required".to_owned(), json!(REQUIRED_TABLES));
        }
        root.insert("$defs".to_owned(), shapes::definitions());
    }
    root
}

/// What a table may hold. A table within another is taken whole or not at all, so it is whole in a
/// part too.
fn table(path: &str, part: bool) -> Value {
    let mut properties = Map::new();
    for key in KEYS.iter().filter(|key| key.table == path) {
        properties.insert(key.name.to_owned(), property(key, part));
    }
    let mut rules = clashes(path);
    let within = path.contains('.') || path == "drilled";
    let needed = needs(path);
    if (within || !part) && !needed.is_empty() {
        if properties.contains_key("from") {
            // It may come from the file that `from` names.
            rules.push(json!({ "anyOf": [{ "required": ["from"] }, { "allOf": needed }] }));
        } else {
            rules.extend(needed);
        }
    }
    let mut made = json!({
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
    });
    if let Some(made) = made.as_object_mut().filter(|_| !rules.is_empty()) {
        made.insert("allOf".to_owned(), Value::Array(rules));
    }
    made
}

/// Any of these keys is given.
fn given(keys: &[&str]) -> Value {
    let keys: Vec<Value> = keys
        .iter()
        .map(|key| json!({ "required": [key] }))
        .collect();
    json!({ "anyOf": keys })
}

/// What may not stand together in a table, wherever else its other keys come from.
fn clashes(path: &str) -> Vec<Value> {
    let mut rules = Vec::new();
    for joined in joined::of(path) {
        for (index, one) in joined.ways.iter().enumerate() {
            for other in joined.ways.iter().skip(index + 1) {
                rules.push(json!({ "not": { "allOf": [given(one), given(other)] } }));
            }
        }
    }
    rules
}

/// What must be there in a table that stands alone.
fn needs(path: &str) -> Vec<Value> {
    let mut rules = Vec::new();
    for joined in joined::of(path).filter(|joined| joined.needed) {
        rules.push(given(&joined.ways.concat()));
    }
    let required = REQUIRED.iter().find(|(table, _)| *table == path);
    rules.extend(required.map(|(_, keys)| json!({ "required": keys })));
    for (_, key, other) in NEEDS.iter().filter(|(table, ..)| *table == path) {
        rules.push(json!({ "dependentRequired": { *key: [other] } }));
    }
    if joined::of(path).any(|joined| joined.ways == joined::BARRELS.ways) {
        // One barrel has no pitch, so nothing need be measured over it.
        rules.push(json!({
            "if": { "properties": { "barrels": { "not": { "const": 1 } } }, "required": ["barrels"] },
            "then": { "required": ["over_outer_barrels"] },
        }));
    }
    rules.extend(match path {
        // The barrel's diameter may come of pitches that were read over and between, on either side.
        "machines" => Some(json!({
            "anyOf": [
                given(&["barrel_diameter", "pitches"]),
                { "properties": { "bass": { "required": ["pitches"] } }, "required": ["bass"] },
            ]
        })),
        "head" => Some(json!({
            "if": { "properties": { "crest": { "const": words::ARCH } }, "required": ["crest"] },
            "then": { "required": ["side_end"] },
        })),
        "placement" => Some(json!({
            "if": { "properties": { "bass": { "required": ["first_barrel"] } }, "required": ["bass"] },
            "then": { "required": ["first_barrel"] },
        })),
        "wood" => Some(json!({
            "anyOf": [{ "required": ["species"] }, { "required": ["radial", "tangential"] }]
        })),
        _ => None,
    });
    rules
}

fn property(key: &Key, part: bool) -> Value {
    let path = if key.table.is_empty() {
        key.name.to_owned()
    } else {
        format!("{}.{}", key.table, key.name)
    };
    let mut made = match path.as_str() {
        "limits" => limits(),
        "drilled" => json!({ "type": "array", "items": table("drilled", part) }),
        _ if KEYS.iter().any(|inner| inner.table == path) => table(&path, part),
        _ => shapes::shape(&path, key),
    };
    if let Some(made) = made.as_object_mut() {
        made.insert("description".to_owned(), described(&path, key).into());
    }
    made
}

/// What a key is, with its default and, where it is a length, its unit.
fn described(path: &str, key: &Key) -> String {
    let mut letters = key.what.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    let mut text = format!("{}{}.", first.unwrap_or_default(), letters.as_str());
    if key.lengths {
        text.push_str(" A length: a number in the file's unit, or a text with its own unit.");
    }
    match shapes::default(path) {
        Some(default) => text.push_str(&format!(" Default {default}.")),
        None => text.push_str(&format!(" For example {}.", key.sample)),
    }
    text
}

/// `[limits]`: a limit by the code of each check.
fn limits() -> Value {
    let mut properties = Map::new();
    for known in KNOWN_CHECK_CODES {
        let limit = match known.unit {
            LimitUnit::Length => json!({ "$ref": "#/$defs/any length" }),
            LimitUnit::Degrees | LimitUnit::Ratio => json!({ "type": "number" }),
        };
        let made = if known.two_sided {
            json!({
                "type": "object",
                "properties": { "low": limit, "high": limit },
                "required": ["low", "high"],
                "additionalProperties": false,
            })
        } else {
            limit
        };
        properties.insert(known.code.to_owned(), made);
    }
    json!({ "type": "object", "properties": properties, "additionalProperties": false })
}

#[cfg(test)]
mod tests;
