//! The numbers of a parameter file and of the tables it takes, each with its key, and the design
//! that other values for some of them make.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use super::again::Again;
use super::check_codes::{LimitUnit, check_code};
use super::context::{Context, Sheets};
use super::design::{Design, Place, Unit};
use super::source::Source;
use super::tree::{At, Node, Number, Table, Value};
use super::{Diagnostic, finish, from, keys, read_sheet};
use crate::units::parse_length;

/// What a number of the parameter file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberKind {
    /// A length, in millimetres here whatever the file's unit.
    Length,
    /// An angle, in degrees as typed.
    Degrees,
    /// A count: only whole numbers are taken.
    Count,
    /// Anything else, such as a ratio.
    Bare,
}

/// One number of the parameter file, or of a table taken by `from`.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyedNumber {
    /// Its key, places in a list counted from 1: `slots.rib`, `slots.end_margin[1]`,
    /// `machines.screws.points[1][2]`.
    pub key: String,
    /// What it is.
    pub kind: NumberKind,
    /// Its present value: mm, degrees or bare.
    pub value: f64,
    /// Unit of the file it stands in, for who types another.
    pub unit: Unit,
    /// Where it stands.
    pub place: Place,
    at: At,
}

/// A parameter file that was read, with its numbers.
#[derive(Debug, Clone)]
pub struct Numbers {
    again: Again,
    design: Design,
    list: Vec<KeyedNumber>,
}

impl Numbers {
    /// Reads a parameter file.
    ///
    /// # Errors
    /// Everything that is wrong with it, as [`super::read`].
    pub fn read(path: &Path) -> Result<Numbers, Vec<Diagnostic>> {
        let context = Context::default();
        let number = context.open(path, None);
        Numbers::of(context, number, path)
    }

    /// Reads a text as if it stood in a file called `name`; a `from` starts at `base_dir`.
    ///
    /// # Errors
    /// Everything that is wrong with it, as [`super::read_str`].
    pub fn read_str(text: &str, name: &Path, base_dir: &Path) -> Result<Numbers, Vec<Diagnostic>> {
        let context = Context::default();
        let source = Source::new(name.to_path_buf(), base_dir.to_path_buf(), text);
        let number = context.add(source, None);
        Numbers::of(context, Some(number), name)
    }

    fn of(
        context: Context,
        number: Option<usize>,
        path: &Path,
    ) -> Result<Numbers, Vec<Diagnostic>> {
        let design = number.and_then(|number| read_sheet(&context, number));
        let sheets = context.sheets();
        let first = number.unwrap_or_default();
        let design = finish(context, design, first, path)?;
        let mut numbers = Numbers {
            list: listed(&sheets, first, &design),
            again: Again {
                sheets,
                first,
                places: Some(design.places.clone()),
            },
            design,
        };
        numbers.find_counts();
        Ok(numbers)
    }

    /// The design as the file has it.
    #[must_use]
    pub fn design(&self) -> &Design {
        &self.design
    }

    /// Every number, in the order of the file, those of taken tables after it.
    #[must_use]
    pub fn list(&self) -> &[KeyedNumber] {
        &self.list
    }

    /// The number of a key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&KeyedNumber> {
        self.list.iter().find(|number| number.key == key)
    }

    /// The design with other values (mm, degrees or bare) for some of the numbers.
    ///
    /// # Errors
    /// What the reader says against the file so changed. The lines shown are those of the file as it
    /// is.
    pub fn with(&self, changes: &[(&KeyedNumber, f64)]) -> Result<Design, Vec<Diagnostic>> {
        let changes: Vec<(&At, Value)> = changes
            .iter()
            .map(|(number, value)| (&number.at, put(number.kind, *value)))
            .collect();
        self.again.read(&changes, &BTreeMap::new())
    }

    /// Bare whole numbers that take no other are counts.
    fn find_counts(&mut self) {
        let fits =
            |number: &KeyedNumber, by: f64| self.with(&[(number, number.value + by)]).is_ok();
        let counts: BTreeSet<usize> = self
            .list
            .iter()
            .enumerate()
            .filter(|(_, number)| number.kind == NumberKind::Bare && number.value.fract() == 0.0)
            .filter(|(_, number)| !fits(number, 1e-3) && !fits(number, -1e-3))
            .map(|(index, _)| index)
            .collect();
        for (index, number) in self.list.iter_mut().enumerate() {
            if counts.contains(&index) {
                number.kind = NumberKind::Count;
            }
        }
    }
}

/// A value to put into the tree.
fn put(kind: NumberKind, value: f64) -> Value {
    if kind == NumberKind::Length {
        return Value::Millimetres(value);
    }
    // Counts are read from integers alone.
    let whole = value.fract() == 0.0 && value.abs() < 1e15;
    #[allow(clippy::cast_possible_truncation)]
    let integer = whole.then_some(value as i64);
    Value::Number(Number { value, integer })
}

/// Every number of the file's tables, taken tables laid under their own.
fn listed(sheets: &Sheets, first: usize, design: &Design) -> Vec<KeyedNumber> {
    // What reading finds was said before: this context only resolves.
    let context = Context::again(sheets.clone(), BTreeMap::new(), None);
    let mut list = Vec::new();
    let Some(sheet) = context.sheet(first) else {
        return list;
    };
    let mut walk = Walk {
        context: &context,
        design,
        list: &mut list,
    };
    for (name, entry) in &sheet.root.entries {
        let takeable = [&from::MACHINES, &from::GUIDE]
            .into_iter()
            .find(|takeable| takeable.name == name);
        match (&entry.node.value, takeable) {
            (Value::Table(own), Some(takeable)) => {
                walk.table(name, name, &from::resolve(&context, own, takeable), None);
            }
            _ => walk.node(name, name, &entry.node, keys::key("", name)),
        }
    }
    list.sort_by_key(|number| {
        (
            number.at.source != first,
            number.at.source,
            number.at.span.start,
        )
    });
    list
}

/// Gathers numbers. `path` is a key with the places in its lists, `plain` the same without them.
struct Walk<'a> {
    context: &'a Context,
    design: &'a Design,
    list: &'a mut Vec<KeyedNumber>,
}

impl Walk<'_> {
    /// Readings of a length, a table under `outer`, are lengths as it is.
    fn table(&mut self, path: &str, plain: &str, table: &Table, outer: Option<&'static keys::Key>) {
        for (name, entry) in &table.entries {
            let key = keys::key(plain, name).or(outer.filter(|key| key.lengths));
            let path = format!("{path}.{name}");
            self.node(&path, &format!("{plain}.{name}"), &entry.node, key);
        }
    }

    fn node(&mut self, path: &str, plain: &str, node: &Node, key: Option<&'static keys::Key>) {
        let kind = kind(plain, key);
        let value = match &node.value {
            Value::Table(table) => return self.table(path, plain, table, key),
            Value::List(items) => {
                for (index, item) in items.iter().enumerate() {
                    self.node(&format!("{path}[{}]", index + 1), plain, item, key);
                }
                return;
            }
            Value::Number(number) => match kind {
                NumberKind::Length => number.value * self.context.unit(&node.at).millimetres(),
                _ => number.value,
            },
            Value::Text(text) if kind == NumberKind::Length => match parse_length(text) {
                Ok(mm) => mm,
                Err(_) => return,
            },
            _ => return,
        };
        // The reader's own list of places has the key's line; a list may go on over several.
        let place = self.context.place(&node.at);
        if let Some(place) = place.or_else(|| self.design.place_near(plain).cloned()) {
            self.list.push(KeyedNumber {
                key: path.to_owned(),
                kind,
                value,
                unit: self.context.unit(&node.at),
                place,
                at: node.at.clone(),
            });
        }
    }
}

/// What a key's number is; counts are found later.
fn kind(plain: &str, key: Option<&'static keys::Key>) -> NumberKind {
    if let Some(limit) = plain.strip_prefix("limits.") {
        let code = limit.split('.').next().unwrap_or_default();
        return match check_code(code).map(|known| known.unit) {
            Some(LimitUnit::Length) => NumberKind::Length,
            Some(LimitUnit::Degrees) => NumberKind::Degrees,
            Some(LimitUnit::Ratio) | None => NumberKind::Bare,
        };
    }
    match key {
        Some(key) if key.lengths => NumberKind::Length,
        Some(key) if key.what.contains("degrees") => NumberKind::Degrees,
        _ => NumberKind::Bare,
    }
}

#[cfg(test)]
mod tests;
