//! `from`: a table of the same name read from another file, under the keys given here.

use std::path::PathBuf;

use super::context::Context;
use super::defaults::LONGEST_CHAIN;
use super::joined;
use super::reader::{Reader, shown};
use super::tree::{At, Entry, Table, Value};
use super::{guide, machines};

/// A table that may be taken from another file.
pub(crate) struct Takeable {
    pub name: &'static str,
    /// Reads the table alone, for what is wrong in it.
    pub check: fn(Reader<'_>),
}

/// `[machines]`.
pub(crate) const MACHINES: Takeable = Takeable {
    name: "machines",
    check: |reader| {
        machines::read(reader, &mut super::known::Known::default());
    },
};

/// `[guide]`.
pub(crate) const GUIDE: Takeable = Takeable {
    name: "guide",
    check: |reader| {
        guide::read(reader, &super::known::Known::default());
    },
};

/// The table with everything that its `from` brings, and what that brings in turn.
pub(crate) fn resolve(context: &Context, own: &Table, what: &Takeable) -> Table {
    let mut chain = Vec::new();
    follow(context, own, what, &mut chain)
}

fn follow(context: &Context, own: &Table, what: &Takeable, chain: &mut Vec<usize>) -> Table {
    let Some(entry) = own.entries.get("from") else {
        return own.clone();
    };
    let Some(taken) = take(context, entry, what, chain) else {
        // Whatever is absent may stand in the file that could not be had.
        let mut own = own.clone();
        own.mark_incomplete();
        return own;
    };
    let mut alone = taken.clone();
    alone.mark_incomplete();
    (what.check)(Reader::new(context, &alone, what.name));
    lay_over(own, taken, what.name)
}

fn take(
    context: &Context,
    entry: &Entry,
    what: &Takeable,
    chain: &mut Vec<usize>,
) -> Option<Table> {
    let at = &entry.node.at;
    let key = format!("{}.from", what.name);
    let fault = |message: String, hint: &str| {
        context.fault(at, &key, message, Some(hint.to_owned()));
        None
    };
    let Value::Text(text) = &entry.node.value else {
        let message = format!(
            "`from` must be the path of a file, not {}",
            entry.node.value.kind()
        );
        return fault(message, "from = \"sets/plain-35.toml\"");
    };
    if text.trim().is_empty() {
        return fault(
            "`from` names no file".to_owned(),
            "from = \"sets/plain-35.toml\"",
        );
    }
    if text.contains('\0') {
        return fault(
            "`from` holds a control character".to_owned(),
            "from = \"sets/plain-35.toml\"",
        );
    }
    chain.push(at.source);
    if chain.len() > LONGEST_CHAIN {
        return fault(
            format!(
                "this `from` is the {LONGEST_CHAIN}th file in a row that only leads to another"
            ),
            "the file that holds the table itself",
        );
    }
    let path: PathBuf = context.sheet(at.source)?.source.base.join(text);
    let number = context.open(&path, Some((at, &key)))?;
    if chain.contains(&number) {
        return fault(
            format!(
                "`from` leads back to {}, which is being read already",
                shown(&path.display().to_string())
            ),
            "the file that holds the table itself",
        );
    }
    let sheet = context.sheet(number)?;
    if sheet.scrambled {
        return None;
    }
    match sheet.root.entries.get(what.name) {
        Some(Entry { node, .. }) => match &node.value {
            Value::Table(table) => Some(follow(context, table, what, chain)),
            other => {
                let message = format!("`{}` must be a table, not {}", what.name, other.kind());
                context.fault(
                    &node.at,
                    what.name,
                    message,
                    Some(format!("[{}]", what.name)),
                );
                None
            }
        },
        None if sheet.root.incomplete => None,
        None => fault(
            format!(
                "the file {} has no table [{}]",
                shown(&path.display().to_string()),
                what.name
            ),
            "a file with that table in it",
        ),
    }
}

/// Lays the keys given here over those of the table taken: each displaces the same key there and
/// the keys joined to it by "or", with what goes only beside any of these.
pub(crate) fn lay_over(own: &Table, taken: Table, table: &str) -> Table {
    let mut entries = taken.entries;
    for name in own.entries.keys() {
        entries.remove(name);
        for beside in joined::beside(table, name) {
            entries.remove(beside);
        }
        for joined in joined::of(table) {
            if !joined.ways.iter().any(|keys| keys.contains(&name.as_str())) {
                continue;
            }
            let others = joined
                .ways
                .iter()
                .filter(|keys| !keys.contains(&name.as_str()));
            for other in others.copied().flatten() {
                entries.remove(*other);
                for beside in joined::beside(table, other) {
                    entries.remove(beside);
                }
            }
        }
    }
    entries.extend(
        own.entries
            .iter()
            .map(|(name, entry)| (name.clone(), entry.clone())),
    );
    let at: At = own.at.clone();
    Table {
        at,
        entries,
        incomplete: own.incomplete || taken.incomplete,
    }
}
