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

/// Keys that cannot stand together, beside those joined by "or".
const NOT_BOTH: &[(&str, &str, &str)] = &[("placement", "along", "bass")];

/// Keys that say nothing without another.
const NEEDS: &[(&str, &str, &str)] = &[
    ("machines", "barrels", "over_outer_barrels"),
    ("machines", "over_outer_barrels", "barrels"),
    ("machines.bass", "barrels", "over_outer_barrels"),
    ("machines.bass", "over_outer_barrels", "barrels"),
    ("placement", "bass", "first_barrel"),
    ("template", "bush", "cutter"),
];

/// The schema; with `part` that of a file that holds only some tables, as those that `from` names.
#[must_use]
pub fn schema(part: bool) -> Value {
    let mut root = table("");
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

/// What a table may hold.
fn table(path: &str) -> Value {
    let mut properties = Map::new();
    for key in KEYS.iter().filter(|key| key.table == path) {
        properties.insert(key.name.to_owned(), property(key));
    }
    let mut rules: Vec<Value> = Vec::new();
    for joined in joined::of(path) {
        let given = |keys: &[&str]| {
            let keys: Vec<Value> = keys
                .iter()
                .map(|key| json!({ "required": [key] }))
                .collect();
            json!({ "anyOf": keys })
        };
        let ways: Vec<Value> = joined
            .ways
            .iter()
            .map(|keys| json!({ "required": keys }))
            .collect();
        if joined.needed {
            rules.push(json!({ "oneOf": ways }));
        } else {
            for (index, one) in joined.ways.iter().enumerate() {
                for other in joined.ways.iter().skip(index + 1) {
                    rules.push(json!({ "not": { "allOf": [given(one), given(other)] } }));
                }
            }
        }
    }
    for (_, one, other) in NOT_BOTH.iter().filter(|(table, ..)| *table == path) {
        rules.push(json!({ "not": { "required": [one, other] } }));
    }
    let mut needs = Map::new();
    for (_, key, other) in NEEDS.iter().filter(|(table, ..)| *table == path) {
        needs.insert((*key).to_owned(), json!([other]));
    }
    rules.extend(match path {
        // The barrel's diameter may come of pitches that were read over and between.
        "machines" => Some(json!({
            "anyOf": [{ "required": ["barrel_diameter"] }, { "required": ["pitches"] }]
        })),
        "head" => Some(json!({
            "if": { "properties": { "crest": { "const": "arch" } }, "required": ["crest"] },
            "then": { "required": ["side_end"] },
        })),
        "wood" => Some(json!({
            "anyOf": [{ "required": ["species"] }, { "required": ["radial", "tangential"] }]
        })),
        _ => None,
    });
    let required = REQUIRED.iter().find(|(table, _)| *table == path);
    if let Some((_, keys)) = required {
        rules.push(json!({ "required": keys }));
    }
    // Whatever is needed may come from the file that `from` names.
    if properties.contains_key("from") && !rules.is_empty() {
        rules = vec![json!({ "anyOf": [{ "required": ["from"] }, { "allOf": rules }] })];
    }
    let mut made = json!({
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
    });
    if let Some(made) = made.as_object_mut() {
        if !rules.is_empty() {
            made.insert("allOf".to_owned(), Value::Array(rules));
        }
        if !needs.is_empty() {
            made.insert("dependentRequired".to_owned(), Value::Object(needs));
        }
    }
    made
}

fn property(key: &Key) -> Value {
    let path = if key.table.is_empty() {
        key.name.to_owned()
    } else {
        format!("{}.{}", key.table, key.name)
    };
    let mut made = match path.as_str() {
        "limits" => limits(),
        "drilled" => json!({ "type": "array", "items": table("drilled") }),
        _ if KEYS.iter().any(|inner| inner.table == path) => table(&path),
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
