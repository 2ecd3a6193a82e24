//! What the files of a design give, so that only the rest is assumed.

use crate::input::context::Context;
use crate::input::field::{Field, Sign};
use crate::input::reader::Reader;
use crate::input::tree::{Table, Value};

/// What the files give, to be asked table by table.
#[derive(Clone, Copy)]
pub(crate) struct Given<'a> {
    pub context: &'a Context,
    pub root: &'a Table,
}

impl Given<'_> {
    pub(super) fn table(&self, name: &str) -> Option<&Table> {
        match self.root.entries.get(name).map(|entry| &entry.node.value) {
            Some(Value::Table(table)) => Some(table),
            _ => None,
        }
    }

    pub(super) fn has(&self, table: &str, keys: &[&str]) -> bool {
        self.table(table)
            .is_some_and(|table| keys.iter().any(|key| table.entries.contains_key(*key)))
    }

    pub(super) fn length(&self, table: &str, key: &str) -> Option<f64> {
        let own = self.table(table)?;
        match Reader::of_free_keys(self.context, own, table).length(key, Sign::ZeroOrMore) {
            Field::Good(length) => Some(length),
            Field::Absent | Field::Bad => None,
        }
    }

    pub(super) fn says(&self, table: &str, key: &str, word: &str) -> bool {
        let value = self.table(table).and_then(|own| own.entries.get(key));
        matches!(value.map(|entry| &entry.node.value), Some(Value::Text(text)) if text == word)
    }
}
