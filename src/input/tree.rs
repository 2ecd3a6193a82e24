//! A parameter file as a tree of our own: every key and value with its place, so that tables of
//! two files can be laid over one another and a finding still points at the right line.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A place: which source, and its bytes there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct At {
    pub source: usize,
    pub span: Range<usize>,
}

/// A value with its place.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub at: At,
    pub value: Value,
}

/// A value as typed.
#[derive(Debug, Clone)]
pub(crate) enum Value {
    Text(String),
    Number(Number),
    /// A length in millimetres whatever the file's unit: never typed, put in the place of one.
    Millimetres(f64),
    Flag(bool),
    Date(String),
    List(Vec<Node>),
    Table(Table),
}

/// A number as typed: its value, and the integer if it was written as one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Number {
    pub value: f64,
    pub integer: Option<i64>,
}

/// A table with its place.
#[derive(Debug, Clone)]
pub(crate) struct Table {
    /// Where it is named.
    pub at: At,
    pub entries: BTreeMap<String, Entry>,
    /// Part of it could not be read, or it is only the half of a table that another completes:
    /// absent keys prove nothing.
    pub incomplete: bool,
}

/// A key with its place and value.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub key: At,
    pub node: Node,
}

impl Table {
    /// A table within it.
    pub fn inner(&self, name: &str) -> Option<&Table> {
        match &self.entries.get(name)?.node.value {
            Value::Table(table) => Some(table),
            _ => None,
        }
    }

    /// Marks this table and all within as not to be judged by what is absent.
    pub fn mark_incomplete(&mut self) {
        self.incomplete = true;
        for entry in self.entries.values_mut() {
            if let Value::Table(inner) = &mut entry.node.value {
                inner.mark_incomplete();
            }
        }
    }
}

impl Value {
    /// What kind of value it is, for messages.
    pub fn kind(&self) -> &'static str {
        match self {
            Value::Text(_) => "a text",
            Value::Number(_) | Value::Millimetres(_) => "a number",
            Value::Flag(_) => "true or false",
            Value::Date(_) => "a date",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}

/// Makes the tree of a parsed document. The parser bounds the depth of nesting.
pub(crate) fn from_document(document: &Spanned<DeTable<'_>>, source: usize) -> Table {
    table(document.get_ref(), At { source, span: 0..0 }, source)
}

fn table(parsed: &DeTable<'_>, at: At, source: usize) -> Table {
    let mut entries = BTreeMap::new();
    for (key, value) in parsed.iter() {
        // The parser stands in a value of no extent for one it could not read.
        if value.span().is_empty() && !matches!(value.get_ref(), DeValue::Table(_)) {
            continue;
        }
        let key_at = At {
            source,
            span: key.span(),
        };
        let mut node = node(value, source);
        if let Value::Table(inner) = &mut node.value {
            inner.at = key_at.clone();
        }
        entries.insert(key.get_ref().to_string(), Entry { key: key_at, node });
    }
    Table {
        at,
        entries,
        incomplete: false,
    }
}

fn node(value: &Spanned<DeValue<'_>>, source: usize) -> Node {
    let at = At {
        source,
        span: value.span(),
    };
    let value = match value.get_ref() {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(integer) => {
            Value::Number(integer_number(integer.as_str(), integer.radix()))
        }
        DeValue::Float(float) => Value::Number(float_number(float.as_str())),
        DeValue::Boolean(flag) => Value::Flag(*flag),
        DeValue::Datetime(date) => Value::Date(date.to_string()),
        DeValue::Array(items) => Value::List(items.iter().map(|item| node(item, source)).collect()),
        DeValue::Table(inner) => Value::Table(table(inner, at.clone(), source)),
    };
    Node { at, value }
}

fn integer_number(text: &str, radix: u32) -> Number {
    let integer = i64::from_str_radix(text, radix).ok();
    // Too large for 64 bits is also too large for any key: any huge number stands for it.
    let huge = if text.starts_with('-') {
        f64::MIN
    } else {
        f64::MAX
    };
    #[allow(clippy::cast_precision_loss)]
    Number {
        value: integer.map_or(huge, |i| i as f64),
        integer,
    }
}

fn float_number(text: &str) -> Number {
    let value = text.parse().unwrap_or(f64::NAN);
    let overflowed = f64::is_infinite(value) && !text.contains("inf");
    Number {
        value: if overflowed {
            f64::MAX.copysign(value)
        } else {
            value
        },
        integer: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_and_values_keep_their_bytes() {
        let text = "[head]\nlength = 0x10\nb = { c = -1e999 }\n";
        let parsed = DeTable::parse(text).unwrap();
        let root = from_document(&parsed, 3);
        let Value::Table(head) = &root.entries["head"].node.value else {
            panic!()
        };
        assert_eq!(&text[head.at.span.clone()], "head");
        let length = &head.entries["length"];
        assert_eq!(&text[length.key.span.clone()], "length");
        assert_eq!(&text[length.node.at.span.clone()], "0x10");
        assert!(matches!(
            length.node.value,
            Value::Number(Number {
                integer: Some(16),
                ..
            })
        ));
        let Value::Table(b) = &head.entries["b"].node.value else {
            panic!()
        };
        let Value::Number(c) = b.entries["c"].node.value else {
            panic!()
        };
        assert!(c.value.is_finite() && c.value < -1e300);
    }
}
