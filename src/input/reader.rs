//! Reading one table: its place, its unknown and missing keys, keys joined by "or". A reader
//! reports whatever is wrong and goes on, so that all mistakes of a file come at once. Reading
//! lengths is in `read_lengths`, everything else in `read_plain`.

use super::context::Context;
use super::design::Unit;
use super::field::{Choice, Field};
use super::joined::Joined;
use super::keys;
use super::tree::{At, Entry, Node, Table, Value};
use crate::diagnostic::meant::did_you_mean;
use crate::units::Lengths;

/// Reads one table.
#[derive(Clone, Copy)]
pub(crate) struct Reader<'a> {
    context: &'a Context,
    table: &'a Table,
    path: &'a str,
}

impl<'a> Reader<'a> {
    /// Begins to read a table: unknown keys are reported, places of known ones remembered.
    pub fn new(context: &'a Context, table: &'a Table, path: &'a str) -> Self {
        let reader = Reader {
            context,
            table,
            path,
        };
        for (name, entry) in &table.entries {
            if keys::key(path, name).is_none() {
                reader.unknown(name, &entry.key);
            } else if !table.incomplete {
                context.remember(|| reader.dotted(name), &entry.key);
            }
        }
        reader
    }

    /// As `new`, but for a table whose keys are not in the list of keys.
    pub fn of_free_keys(context: &'a Context, table: &'a Table, path: &'a str) -> Self {
        Reader {
            context,
            table,
            path,
        }
    }

    pub fn context(&self) -> &'a Context {
        self.context
    }

    pub fn entries(&self) -> impl Iterator<Item = (&'a str, &'a Entry)> {
        self.table
            .entries
            .iter()
            .map(|(name, entry)| (name.as_str(), entry))
    }

    pub fn has(&self, name: &str) -> bool {
        self.table.entries.contains_key(name)
    }

    /// Absent keys prove nothing.
    pub fn incomplete(&self) -> bool {
        self.table.incomplete
    }

    /// The place of a key's value, or of the table where the key is absent.
    pub fn at(&self, name: &str) -> &'a At {
        self.table
            .entries
            .get(name)
            .map_or(&self.table.at, |entry| &entry.node.at)
    }

    /// The dotted path of the table.
    pub fn path(&self) -> &'a str {
        self.path
    }

    /// The dotted path of a key.
    pub fn dotted(&self, name: &str) -> String {
        if self.path.is_empty() {
            name.to_owned()
        } else {
            format!("{}.{name}", self.path)
        }
    }

    /// Reports a fault at the value of a key.
    pub fn fault(&self, name: &str, message: impl Into<String>, hint: impl Into<String>) {
        self.context.fault(
            self.at(name),
            &self.dotted(name),
            message.into(),
            Some(hint.into()),
        );
    }

    /// Reports a fault that lies between keys; only where the table is whole.
    pub fn clash(&self, name: &str, message: impl Into<String>, hint: impl Into<String>) {
        if !self.incomplete() {
            self.fault(name, message, hint);
        }
    }

    /// The key of this table that an unknown name was meant to be.
    fn meant(&self, name: &str) -> Option<&'static str> {
        keys::meant(self.path, name)
    }

    /// Whether the table has an unknown key that was meant to be this one: that is reported, and
    /// its absence would be the same mistake over again.
    pub fn misspelt(&self, name: &str) -> bool {
        self.table
            .entries
            .keys()
            .any(|own| keys::key(self.path, own).is_none() && self.meant(own) == Some(name))
    }

    /// Reports a key that the table does not have.
    pub(super) fn unknown(&self, name: &str, at: &At) {
        let own: Vec<&str> = keys::names(self.path).collect();
        let meant = self.meant(name);
        let hint = if let Some(meant) = meant {
            self.as_typed(&self.dotted(meant), at)
                .unwrap_or_else(|| format!("`{meant}`"))
        } else if let Some(table) = keys::table_having(name).filter(|table| *table != self.path) {
            if table.is_empty() {
                format!("`{name}` above the first table")
            } else {
                format!("`{name}` in the table [{table}]")
            }
        } else {
            format!(
                "one of {}",
                own.iter()
                    .map(|key| format!("`{key}`"))
                    .collect::<Vec<_>>()
                    .join(", ")
            )
        };
        let message = if self.path.is_empty() {
            format!("there is no key or table `{}` here", shown(name))
        } else {
            format!("[{}] has no key `{}`", self.path, shown(name))
        };
        let message = match meant {
            Some(meant) => format!("{message}; {}", did_you_mean(meant)),
            None => message,
        };
        self.context
            .fault(at, &self.dotted(name), message, Some(hint));
    }

    /// A table's name in the brackets that stand round the one at a place.
    fn as_typed(&self, path: &str, at: &At) -> Option<String> {
        let sheet = self.context.sheet(at.source)?;
        let (before, from) = sheet.source.text().split_at_checked(at.span.start)?;
        let behind = from.get(at.span.len()..)?;
        let header = before.rsplit('\n').next()?.trim_start();
        let (open, close) = if header.starts_with("[[") {
            ("[[", "]]")
        } else {
            ("[", "]")
        };
        (header.starts_with('[') && behind.trim_start().starts_with(close))
            .then(|| format!("{open}{path}{close}"))
    }

    /// Reports that a required key is absent.
    pub fn missing(&self, name: &str) {
        if self.incomplete() || self.misspelt(name) {
            return;
        }
        let (what, sample) = self.about(name);
        let message = format!("[{}] lacks `{name}`: {what}", self.path);
        // A table within a table mostly stands in braces, on one line.
        let hint = if self.path.contains('.') {
            format!("{name} = {sample} beside its other keys")
        } else {
            format!("[{}] with a line such as {name} = {sample}", self.path)
        };
        self.context
            .fault(&self.table.at, &self.dotted(name), message, Some(hint));
    }

    fn about(&self, name: &str) -> (&'static str, String) {
        let unit = self.context.unit(&self.table.at);
        keys::key(self.path, name)
            .map_or(("", String::new()), |key| (key.what, key.sample_in(unit)))
    }

    /// A length for messages, beside it in inches where the table's file is in inches.
    pub fn show(&self, mm: f64) -> String {
        let inches = self.context.unit(&self.table.at) == Unit::Inch;
        Lengths { inches }.show(mm)
    }

    /// The unit of the file that a key stands in, or its table where it is absent.
    pub fn unit(&self, name: &str) -> Unit {
        self.context.unit(self.at(name))
    }

    /// A sample value in the unit of a place.
    pub fn sample(&self, name: &str, at: &At) -> String {
        keys::key(self.path, name).map_or_else(
            || "a number such as 2.5".to_owned(),
            |key| key.sample_in(self.context.unit(at)),
        )
    }

    /// What is wanted, with a sample that cannot be taken for the answer.
    pub fn example(&self, what: &str, name: &str, at: &At) -> String {
        format!("{what}, for example {}", self.sample(name, at))
    }

    /// A required value: reports its absence.
    pub fn need<T>(&self, name: &str, field: Field<T>) -> Option<T> {
        if matches!(field, Field::Absent) {
            self.missing(name);
        }
        field.good()
    }

    /// Decides between keys joined by "or": each alternative is one key or several that go together.
    pub fn choose(&self, joined: Joined) -> Choice {
        let given = |keys: &[&'static str]| keys.iter().copied().find(|key| self.has(key));
        let present: Vec<(&'static str, &str)> = joined
            .ways
            .iter()
            .filter_map(|keys| Some((*keys.first()?, given(keys)?)))
            .collect();
        match present.as_slice() {
            [] => {
                let misspelt = joined.ways.iter().copied().flatten();
                let misspelt = misspelt.into_iter().any(|key| self.misspelt(key));
                if joined.needed && !self.incomplete() && !misspelt {
                    self.none_of(joined.ways);
                }
                Choice::None
            }
            [(only, _)] => Choice::Of(only),
            [.., _] => {
                let mut named: Vec<&str> = present.iter().map(|(_, key)| *key).collect();
                named.sort_by_key(|key| (self.at(key).source, self.at(key).span.start));
                let last = named.last().copied().unwrap_or_default();
                let at = self
                    .table
                    .entries
                    .get(last)
                    .map_or(&self.table.at, |entry| &entry.key);
                let both = named
                    .iter()
                    .map(|key| format!("`{key}`"))
                    .collect::<Vec<_>>();
                let message = format!(
                    "[{}] gives both {}, which say the same thing",
                    self.path,
                    both.join(" and ")
                );
                let hint = format!("either {}", both.join(" or "));
                self.context
                    .fault(at, &self.dotted(last), message, Some(hint));
                Choice::Several
            }
        }
    }

    fn none_of(&self, alternatives: &[&[&str]]) {
        let names: Vec<String> = alternatives
            .iter()
            .map(|keys| {
                keys.iter()
                    .map(|key| format!("`{key}`"))
                    .collect::<Vec<_>>()
                    .join(" with ")
            })
            .collect();
        let first = alternatives
            .first()
            .and_then(|keys| keys.first())
            .copied()
            .unwrap_or_default();
        let (what, sample) = self.about(first);
        let message = format!("[{}] needs {}: {what}", self.path, names.join(" or "));
        let hint = format!("[{}] with a line such as {first} = {sample}", self.path);
        self.context
            .fault(&self.table.at, &self.dotted(first), message, Some(hint));
    }

    /// The value of a key.
    pub fn node(&self, name: &str) -> Option<&'a Node> {
        self.table.entries.get(name).map(|entry| &entry.node)
    }

    /// A table within this one, with its dotted path.
    pub fn table(&self, name: &str) -> Field<&'a Table> {
        match self.node(name).map(|node| &node.value) {
            None => Field::Absent,
            Some(Value::Table(table)) => Field::Good(table),
            Some(other) => {
                let path = self.dotted(name);
                let list = matches!(other, Value::List(_));
                let hint = if list {
                    format!("[{path}] in single brackets")
                } else {
                    format!("[{path}] with its keys below it")
                };
                self.fault(
                    name,
                    format!("`{name}` must be a table, not {}", other.kind()),
                    hint,
                );
                Field::Bad
            }
        }
    }
}

/// A foreign text cut to a length that fits a message.
pub(crate) fn shown(text: &str) -> String {
    let mut out: String = text.chars().take(40).collect();
    if text.chars().count() > 40 {
        out.push('…');
    }
    out
}
