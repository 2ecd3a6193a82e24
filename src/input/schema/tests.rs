use std::collections::BTreeSet;

use super::*;
use crate::input::keys;
use crate::units::parse_length;

/// Every key of the reader's list stands in the schema, and no other: the list is walked one way, the
/// schema the other.
#[test]
fn schema_and_reader_know_the_same_keys() {
    fn walk(object: &Value, path: &str, found: &mut BTreeSet<String>) {
        let items = object.get("items").filter(|_| path == "drilled");
        let properties = items.unwrap_or(object).get("properties");
        for (name, inner) in properties.and_then(Value::as_object).into_iter().flatten() {
            let path = if path.is_empty() {
                name.clone()
            } else {
                format!("{path}.{name}")
            };
            found.insert(path.clone());
            if path != "limits" {
                walk(inner, &path, found);
            }
        }
    }
    let mut in_schema = BTreeSet::new();
    walk(&schema(false), "", &mut in_schema);
    let in_reader: BTreeSet<String> = keys::KEYS
        .iter()
        .map(|key| match key.table {
            "" => key.name.to_owned(),
            table => format!("{table}.{}", key.name),
        })
        .collect();
    assert_eq!(in_schema, in_reader);
}

/// Whatever the rules name is a key: a misspelt one would be a rule that never speaks.
#[test]
fn rules_name_keys() {
    let known =
        |table: &str, name: &str| assert!(keys::key(table, name).is_some(), "{table} {name}");
    for (table, names) in REQUIRED {
        names.iter().for_each(|name| known(table, name));
    }
    for joined in joined::JOINED {
        let keys = joined.ways.iter().copied().flatten();
        keys.for_each(|name| known(joined.table, name));
    }
    for (table, one, other) in NEEDS {
        known(table, one);
        known(table, other);
    }
    REQUIRED_TABLES.iter().for_each(|name| known("", name));
}

/// Every description says what the key is, and a default or an example.
#[test]
fn every_key_is_described() {
    for key in KEYS {
        let text = described(&format!("{}.{}", key.table, key.name), key);
        assert!(
            text.contains("Default ") || text.contains("For example "),
            "{text}"
        );
        assert!(text.starts_with(|c: char| !c.is_lowercase()), "{text}");
    }
}

/// What a value breaks of the part of JSON Schema that the shapes are made of; the pattern of lengths is
/// asked of the program's own reading of lengths. (Whole files are held against a validator of others.)
fn breaks(value: &Value, shape: &Value, definitions: &Value) -> Option<String> {
    let no = |what: &str| Some(format!("{value}: {what} of {shape}"));
    let number = |name: &str| shape.get(name).and_then(Value::as_f64);
    for (name, wanted) in shape.as_object().into_iter().flatten() {
        let good = match name.as_str() {
            "$ref" => {
                let name = wanted
                    .as_str()
                    .and_then(|name| name.strip_prefix("#/$defs/"));
                breaks(value, &definitions[name.unwrap()], definitions).is_none()
            }
            "anyOf" => wanted
                .as_array()
                .unwrap()
                .iter()
                .any(|one| breaks(value, one, definitions).is_none()),
            "enum" => wanted.as_array().unwrap().contains(value),
            "const" => wanted == value,
            "type" => match wanted.as_str().unwrap() {
                "number" => value.is_number(),
                "integer" => value.is_i64(),
                "string" => value.is_string(),
                "boolean" => value.is_boolean(),
                "array" => value.is_array(),
                "object" => value.is_object(),
                other => panic!("{other}"),
            },
            "pattern" => value
                .as_str()
                .is_some_and(|text| parse_length(text).is_ok()),
            "minimum" => value.as_f64().is_none_or(|v| v >= number(name).unwrap()),
            "exclusiveMinimum" => value.as_f64().is_none_or(|v| v > number(name).unwrap()),
            "maximum" => value.as_f64().is_none_or(|v| v <= number(name).unwrap()),
            "exclusiveMaximum" => value.as_f64().is_none_or(|v| v < number(name).unwrap()),
            "minItems" => value
                .as_array()
                .is_none_or(|list| list.len() as u64 >= wanted.as_u64().unwrap()),
            "maxItems" => value
                .as_array()
                .is_none_or(|list| list.len() as u64 <= wanted.as_u64().unwrap()),
            "items" => value
                .as_array()
                .into_iter()
                .flatten()
                .all(|item| breaks(item, wanted, definitions).is_none()),
            "properties" => value
                .as_object()
                .into_iter()
                .flatten()
                .all(|(name, inner)| {
                    wanted
                        .get(name)
                        .is_some_and(|wanted| breaks(inner, wanted, definitions).is_none())
                }),
            "required" => wanted
                .as_array()
                .unwrap()
                .iter()
                .all(|key| value.get(key.as_str().unwrap()).is_some()),
            // Said of tables, whose keys `properties` has asked.
            "additionalProperties" | "minProperties" | "description" => true,
            other => panic!("the shapes hold `{other}`, which this test does not know"),
        };
        if !good {
            return no(name);
        }
    }
    None
}

/// The sample of every key has the shape that the schema asks; and a value of another kind has not.
#[test]
fn samples_have_the_shape_of_their_keys() {
    let definitions = shapes::definitions();
    let mut tried = 0;
    for key in KEYS {
        let path = match key.table {
            "" => key.name.to_owned(),
            table => format!("{table}.{}", key.name),
        };
        if KEYS.iter().any(|inner| inner.table == path) || path == "limits" {
            continue;
        }
        let shape = shapes::shape(&path, key);
        let sample: toml::Table = toml::from_str(&format!("x = {}", key.sample)).unwrap();
        let sample = serde_json::to_value(&sample["x"]).unwrap();
        assert_eq!(breaks(&sample, &shape, &definitions), None, "{path}");
        let other = if sample.is_boolean() {
            json!("yes")
        } else {
            json!(true)
        };
        assert!(breaks(&other, &shape, &definitions).is_some(), "{path}");
        tried += 1;
    }
    assert!(tried > 120, "{tried}");
}

/// Only a whole design must have tables, and only a whole table its keys.
#[test]
fn part_files_need_no_table() {
    assert!(schema(true).get("required").is_none());
    assert_eq!(schema(false)["required"].as_array().map(Vec::len), Some(6));
}

/// The schema takes zero and lengths below it exactly where the reader does: every key is tried in a
/// file of its own.
#[test]
fn schema_and_reader_agree_on_signs() {
    let schema = schema(true);
    let takes = |path: &str, value: f64| -> bool {
        let shape = shapes::shape(
            path,
            KEYS.iter()
                .find(|key| path == format!("{}.{}", key.table, key.name))
                .unwrap(),
        );
        let text = shape.to_string();
        let sign = |name: &str| text.contains(&format!("{name}\""));
        let number = |name: &str| schema["$defs"][name]["anyOf"][0].clone();
        let number = if sign("any length") {
            number("any length")
        } else if sign("length or zero") {
            number("length or zero")
        } else {
            number("length")
        };
        let least = number.get("minimum").and_then(Value::as_f64);
        let above = number.get("exclusiveMinimum").and_then(Value::as_f64);
        least.is_none_or(|least| value >= least) && above.is_none_or(|above| value > above)
    };
    let (mut tried, mut differ) = (0, Vec::new());
    for key in KEYS.iter().filter(|key| key.lengths) {
        let path = format!("{}.{}", key.table, key.name);
        if KEYS.iter().any(|inner| inner.table == path) {
            continue;
        }
        for value in [0.0, -1.0] {
            let number = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
            let mut given = String::new();
            let mut rest = key.sample;
            while let Some(at) = rest.find(number) {
                let end = rest[at..]
                    .find(|c| !number(c))
                    .map_or(rest.len(), |end| at + end);
                given.push_str(&rest[..at]);
                given.push_str(&format!("{value:?}"));
                rest = &rest[end..];
            }
            given.push_str(rest);
            let header = if key.table == "drilled" {
                "[[drilled]]".to_owned()
            } else {
                format!("[{}]", key.table)
            };
            let text = format!("{header}\n{} = {given}\n", key.name);
            let found = crate::input::read_str(&text, "t.toml".as_ref(), ".".as_ref()).unwrap_err();
            let refused = found.iter().any(|finding| {
                finding.at.is_some_and(|(line, _)| line == 2)
                    && (finding.message.contains("must be above zero")
                        || finding.message.contains("must be zero or more"))
            });
            if takes(&path, value) == refused {
                differ.push(format!("{path} = {given}"));
            }
            tried += 1;
        }
    }
    assert!(tried > 100, "{tried}");
    assert!(differ.is_empty(), "{differ:?}");
}
