use std::collections::BTreeSet;

use super::*;
use crate::input::keys;

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
    for (table, sets) in ONE_OF {
        sets.iter()
            .copied()
            .flatten()
            .for_each(|name| known(table, name));
    }
    for (table, one, other) in NOT_BOTH.iter().chain(NEEDS) {
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

/// The sample of every key has the shape that the schema asks: a first look that needs no validator.
#[test]
fn part_files_need_no_table() {
    assert!(schema(true).get("required").is_none());
    assert_eq!(schema(false)["required"].as_array().map(Vec::len), Some(6));
}
