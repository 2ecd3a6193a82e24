//! A parameter file with some of its numbers replaced: parsed once, replaced in the tree, read and
//! checked anew as if the number stood in the file. What hangs on the number follows, a taken table
//! is taken as before, and the disk is not touched again.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

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
    /// Its key: `slots.rib`, `slots.end_margin[0]`, `machines.screws.points[0][1]`.
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
    sheets: Sheets,
    first: usize,
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
        let design = finish(context, design, path)?;
        let first = number.unwrap_or_default();
        let mut numbers = Numbers {
            list: listed(&sheets, first, &design),
            sheets,
            first,
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
        let mut sheets = self.sheets.clone();
        for (number, value) in changes {
            if let Some(sheet) = sheets.sheets.get_mut(number.at.source)
                && let Some(node) = node_at(&mut Arc::make_mut(sheet).root, &number.at)
            {
                node.value = put(number.kind, *value);
            }
        }
        let context = Context::of(sheets);
        let design = read_sheet(&context, self.first);
        let mut design = finish(context, design, &self.design_path())?;
        if !changes.is_empty() {
            // The texts kept with the readings are those of the file as it is: what follows from them
            // would not follow from the numbers put here.
            design.measurements = super::Measurements::default();
        }
        Ok(design)
    }

    fn design_path(&self) -> std::path::PathBuf {
        self.design.files.first().cloned().unwrap_or_default()
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

/// The node at a place.
fn node_at<'t>(table: &'t mut Table, at: &At) -> Option<&'t mut Node> {
    table
        .entries
        .values_mut()
        .find_map(|entry| within(&mut entry.node, at))
}

fn within<'t>(node: &'t mut Node, at: &At) -> Option<&'t mut Node> {
    if node.at == *at && !matches!(node.value, Value::List(_) | Value::Table(_)) {
        return Some(node);
    }
    match &mut node.value {
        Value::List(items) => items.iter_mut().find_map(|item| within(item, at)),
        Value::Table(table) => node_at(table, at),
        _ => None,
    }
}

/// Every number of the file's tables, taken tables laid under their own.
fn listed(sheets: &Sheets, first: usize, design: &Design) -> Vec<KeyedNumber> {
    // What reading finds was said before: this context only resolves.
    let context = Context::of(sheets.clone());
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
                walk.table(name, name, &from::resolve(&context, own, takeable));
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
    fn table(&mut self, path: &str, plain: &str, table: &Table) {
        for (name, entry) in &table.entries {
            let key = keys::key(plain, name);
            let path = format!("{path}.{name}");
            self.node(&path, &format!("{plain}.{name}"), &entry.node, key);
        }
    }

    fn node(&mut self, path: &str, plain: &str, node: &Node, key: Option<&'static keys::Key>) {
        let kind = kind(plain, key);
        let value = match &node.value {
            Value::Table(table) => return self.table(path, plain, table),
            Value::List(items) => {
                for (index, item) in items.iter().enumerate() {
                    self.node(&format!("{path}[{index}]"), plain, item, key);
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
mod tests {
    use super::*;
    use crate::input::read_str;

    const TEXT: &str = include_str!("../../params/sandpiper.toml");

    fn read(text: &str) -> Numbers {
        let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
        match Numbers::read_str(text, Path::new("t.toml"), dir) {
            Ok(numbers) => numbers,
            Err(found) => panic!("{found:?}"),
        }
    }

    fn demos() -> Vec<(String, String)> {
        let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
        let mut list: Vec<(String, String)> = std::fs::read_dir(dir)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.is_file())
            .map(|path| {
                (
                    path.display().to_string(),
                    std::fs::read_to_string(path).unwrap(),
                )
            })
            .collect();
        list.sort();
        list
    }

    /// Numbers and lengths that stand as a value in a text: counted by the toml crate's own values,
    /// not by our tree.
    fn count(value: &toml::Value) -> usize {
        match value {
            toml::Value::String(text) => usize::from(parse_length(text).is_ok()),
            toml::Value::Integer(_) | toml::Value::Float(_) => 1,
            toml::Value::Array(items) => items.iter().map(count).sum(),
            toml::Value::Table(table) => table.values().map(count).sum(),
            _ => 0,
        }
    }

    #[test]
    fn every_number_of_every_demo_is_listed_once_and_put_back_changes_nothing() {
        for (name, text) in demos() {
            let numbers = read(&text);
            let own = count(&text.parse::<toml::Table>().map(toml::Value::Table).unwrap());
            let here = |n: &&KeyedNumber| n.at.source == 0;
            assert_eq!(numbers.list().iter().filter(here).count(), own, "{name}");
            let keys: BTreeSet<&str> = numbers.list().iter().map(|n| n.key.as_str()).collect();
            assert_eq!(keys.len(), numbers.list().len(), "{name}");
            let mut plain = numbers.design().clone();
            plain.measurements = super::super::Measurements::default();
            for number in numbers.list() {
                let same = numbers.with(&[(number, number.value)]).unwrap();
                assert_eq!(same, plain, "{name} {}", number.key);
            }
        }
    }

    #[test]
    fn a_number_replaced_reads_as_the_text_with_it_edited() {
        let numbers = read(TEXT);
        let (before, after) = ("thickness          = 20.4", "thickness = 21.7");
        assert!(TEXT.contains(before));
        let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
        let edited = read_str(&TEXT.replace(before, after), Path::new("t.toml"), dir).unwrap();
        let number = numbers.get("head.thickness").unwrap();
        let put = numbers.with(&[(number, 21.7)]).unwrap();
        assert_eq!(put, edited);
        assert_ne!(put, *numbers.design());
        // What hangs on the clearance follows: barrel and clearance of 0.37.
        let numbers = read(include_str!("../../params/dunlin.toml"));
        let number = numbers.get("bores.clearance").unwrap();
        let design = numbers.with(&[(number, 0.37)]).unwrap();
        assert!((design.bores.diameter - design.machines.barrel_diameter - 0.37).abs() < 1e-12);
    }

    #[test]
    fn a_refusal_is_the_readers_own() {
        let numbers = read(TEXT);
        let number = numbers.get("head.thickness").unwrap();
        let found = numbers.with(&[(number, -1.0)]).unwrap_err();
        assert!(found[0].message.contains("above zero"), "{found:?}");
        for odd in [f64::NAN, f64::INFINITY, f64::MAX] {
            assert!(numbers.with(&[(number, odd)]).is_err(), "{odd}");
        }
    }

    #[test]
    fn numbers_of_a_taken_table_are_there_unless_displaced() {
        let own = |n: &KeyedNumber| n.at.source == 0;
        let curlew = read(include_str!("../../params/curlew.toml"));
        let width = curlew.get("machines.plate_width").unwrap();
        assert!(!own(width) && width.place.file.ends_with("three-and-four-35.toml"));
        // Without its strings: the set has seven barrels.
        let strings = TEXT.find("[strings]").unwrap();
        let next = TEXT[strings + 1..]
            .find("\n[")
            .map_or(TEXT.len(), |at| strings + 1 + at);
        let text = format!("{}{}", &TEXT[..strings], &TEXT[next..]);
        let displaced = read(&text.replace(
            "[machines]",
            "[machines]\nfrom = \"sets/three-and-four-35.toml\"",
        ));
        let width = displaced.get("machines.plate_width").unwrap();
        assert!(own(width) && width.place.file == Path::new("t.toml"));
        let bass = displaced.get("machines.bass.pitches[2]").unwrap();
        assert!(!own(bass));
        let moved = displaced.with(&[(bass, 34.0)]).unwrap();
        assert_eq!(moved.machines.pitches.bass, [35.0, 35.0, 34.0]);
    }

    #[test]
    fn kinds_and_units() {
        let inches = "unit = \"in\"\n[head]\nangle = 14\n[nut]\nstrings = [-1, \"3 mm\"]\n[machines]\nbarrels = 3\n\
            [bores]\npoint = 118\n[tolerances]\nsquareness = 0.3\n[limits]\nweb = 0.1\nside-pull = 9\n\
            nut-break = { low = 8, high = 25 }\nblock-guided = 2\n";
        let context = Context::default();
        let number = context.add(Source::new("t".into(), "".into(), inches), None);
        let sheets = context.sheets();
        let design = read(TEXT).design().clone();
        let list = listed(&sheets, number, &design);
        let of = |key: &str| {
            let number = list.iter().find(|n| n.key == key).unwrap();
            (number.kind, number.value)
        };
        assert_eq!(of("head.angle"), (NumberKind::Degrees, 14.0));
        assert_eq!(of("bores.point"), (NumberKind::Degrees, 118.0));
        assert_eq!(of("tolerances.squareness"), (NumberKind::Degrees, 0.3));
        assert_eq!(of("nut.strings[0]"), (NumberKind::Length, -25.4));
        assert_eq!(of("nut.strings[1]"), (NumberKind::Length, 3.0));
        assert_eq!(of("limits.web"), (NumberKind::Length, 0.1 * 25.4));
        assert_eq!(of("limits.side-pull"), (NumberKind::Degrees, 9.0));
        assert_eq!(of("limits.nut-break.high"), (NumberKind::Degrees, 25.0));
        assert_eq!(of("limits.block-guided"), (NumberKind::Bare, 2.0));
        // A count shows itself by taking no part of one.
        let godwit = read(include_str!("../../params/godwit.toml"));
        assert_eq!(
            godwit.get("machines.barrels").unwrap().kind,
            NumberKind::Count
        );
        let counts = godwit.list().iter().filter(|n| n.kind == NumberKind::Count);
        assert_eq!(counts.count(), 1);
    }
}
