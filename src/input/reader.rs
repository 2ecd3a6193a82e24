//! Reading one table: every key by its kind, with its sign and range. A reader reports whatever
//! is wrong and goes on, so that all mistakes of a file come at once.

use super::context::Context;
use super::defaults::{LONGEST, SHORTEST};
use super::design::Unit;
use super::keys;
use super::nearest::nearest;
use super::tree::{At, Entry, Node, Number, Table, Value};
use crate::units::{MM_PER_INCH, parse_length, plain, show_mm};

/// What a key gave.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Field<T> {
    /// The key is not there.
    Absent,
    /// It is there but wrong, and that is reported.
    Bad,
    /// A good value.
    Good(T),
}

impl<T> Field<T> {
    /// The value, or the default where the key is absent; `None` where it is wrong.
    pub fn or(self, default: T) -> Option<T> {
        match self {
            Field::Absent => Some(default),
            Field::Bad => None,
            Field::Good(value) => Some(value),
        }
    }

    /// The value if there is one; `None` where it is wrong.
    #[allow(clippy::option_option)]
    pub fn optional(self) -> Option<Option<T>> {
        match self {
            Field::Absent => Some(None),
            Field::Bad => None,
            Field::Good(value) => Some(Some(value)),
        }
    }

    /// A good value, whatever else it may be.
    pub fn good(self) -> Option<T> {
        match self {
            Field::Good(value) => Some(value),
            _ => None,
        }
    }

    fn from_option(value: Option<T>) -> Self {
        value.map_or(Field::Bad, Field::Good)
    }
}

/// The sign a length may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sign {
    Any,
    ZeroOrMore,
    AboveZero,
}

/// Which of the keys joined by "or" a table gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Choice {
    /// None, and none is needed (or that is reported).
    None,
    /// The alternative of this index.
    Of(usize),
    /// More than one; reported.
    Several,
}

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
                context.remember(reader.dotted(name), &entry.key);
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

    fn unknown(&self, name: &str, at: &At) {
        let own: Vec<&str> = keys::names(self.path).collect();
        let within = own
            .iter()
            .find(|key| name.len() > 3 && (key.contains(name) || name.contains(*key)));
        let hint = if let Some(near) = nearest(name, own.iter().copied()) {
            format!("`{near}`")
        } else if let Some(within) = within {
            format!("`{within}`")
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
        self.context
            .fault(at, &self.dotted(name), message, Some(hint));
    }

    /// Reports that a required key is absent.
    pub fn missing(&self, name: &str) {
        if self.incomplete() {
            return;
        }
        let (what, sample) = self.about(name);
        let message = format!("[{}] lacks `{name}`: {what}", self.path);
        let hint = format!("[{}] with a line such as {name} = {sample}", self.path);
        self.context
            .fault(&self.table.at, &self.dotted(name), message, Some(hint));
    }

    fn about(&self, name: &str) -> (&'static str, String) {
        let unit = self.context.unit(&self.table.at);
        keys::key(self.path, name)
            .map_or(("", String::new()), |key| (key.what, key.sample_in(unit)))
    }

    fn sample(&self, name: &str, at: &At) -> String {
        keys::key(self.path, name).map_or_else(
            || "a number such as 2.5".to_owned(),
            |key| key.sample_in(self.context.unit(at)),
        )
    }

    /// A required value: reports its absence.
    pub fn need<T>(&self, name: &str, field: Field<T>) -> Option<T> {
        if matches!(field, Field::Absent) {
            self.missing(name);
        }
        field.good()
    }

    /// Decides between keys joined by "or": each alternative is one key or several that go together.
    pub fn choose(&self, alternatives: &[&[&'static str]], needed: bool) -> Choice {
        let given = |keys: &[&'static str]| keys.iter().copied().find(|key| self.has(key));
        let present: Vec<(usize, &str)> = alternatives
            .iter()
            .enumerate()
            .filter_map(|(i, keys)| Some((i, given(keys)?)))
            .collect();
        match present.as_slice() {
            [] => {
                if needed && !self.incomplete() {
                    self.none_of(alternatives);
                }
                Choice::None
            }
            [(only, _)] => Choice::Of(*only),
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
        let message = format!("[{}] lacks {}: {what}", self.path, names.join(" or "));
        let hint = format!("[{}] with a line such as {first} = {sample}", self.path);
        self.context
            .fault(&self.table.at, &self.dotted(first), message, Some(hint));
    }

    fn node(&self, name: &str) -> Option<&'a Node> {
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

    /// A length, mm.
    pub fn length(&self, name: &str, sign: Sign) -> Field<f64> {
        self.node(name).map_or(Field::Absent, |node| {
            Field::from_option(self.length_of(name, node, sign))
        })
    }

    /// A required length, mm.
    pub fn need_length(&self, name: &str, sign: Sign) -> Option<f64> {
        self.need(name, self.length(name, sign))
    }

    /// A list of lengths, mm.
    pub fn lengths(&self, name: &str, sign: Sign) -> Field<Vec<f64>> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        let Value::List(items) = &node.value else {
            let message = format!(
                "`{name}` must be a list of lengths, not {}",
                node.value.kind()
            );
            let hint = match &node.value {
                Value::Number(number) => format!("[{}]", plain(number.value)),
                _ => self.sample(name, &node.at),
            };
            self.fault(name, message, hint);
            return Field::Bad;
        };
        let values: Vec<Option<f64>> = items
            .iter()
            .map(|item| self.length_of(name, item, sign))
            .collect();
        Field::from_option(values.into_iter().collect())
    }

    /// A pair of lengths, mm.
    pub fn pair(&self, name: &str, sign: Sign) -> Field<[f64; 2]> {
        match self.lengths(name, sign) {
            Field::Absent => Field::Absent,
            Field::Bad => Field::Bad,
            Field::Good(values) => match <[f64; 2]>::try_from(values) {
                Ok(pair) => Field::Good(pair),
                Err(values) => {
                    let hint = self.sample(name, self.at(name));
                    self.fault(
                        name,
                        format!("`{name}` must hold two lengths, not {}", values.len()),
                        hint,
                    );
                    Field::Bad
                }
            },
        }
    }

    /// A list of pairs of lengths, mm.
    pub fn points(&self, name: &str) -> Field<Vec<[f64; 2]>> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        let sample = || self.sample(name, &node.at);
        let Value::List(items) = &node.value else {
            self.fault(
                name,
                format!(
                    "`{name}` must be a list of pairs, not {}",
                    node.value.kind()
                ),
                sample(),
            );
            return Field::Bad;
        };
        let mut points = Some(Vec::new());
        for item in items {
            let point = match &item.value {
                Value::List(pair) if pair.len() == 2 => {
                    let pair: Vec<_> = pair
                        .iter()
                        .map(|n| self.length_of(name, n, Sign::Any))
                        .collect();
                    pair.into_iter()
                        .collect::<Option<Vec<f64>>>()
                        .and_then(|pair| <[f64; 2]>::try_from(pair).ok())
                }
                _ => {
                    let message =
                        format!("each of `{name}` must be a pair of lengths: along, across");
                    self.context
                        .fault(&item.at, &self.dotted(name), message, Some(sample()));
                    None
                }
            };
            points = points.zip(point).map(|(mut points, point)| {
                points.push(point);
                points
            });
        }
        Field::from_option(points)
    }

    /// Reads a length from any node and checks its sign and size.
    pub fn length_of(&self, name: &str, node: &Node, sign: Sign) -> Option<f64> {
        let key = self.dotted(name);
        let fault = |message: String, hint: String| {
            self.context.fault(&node.at, &key, message, Some(hint));
            None
        };
        let unit = self.context.unit(&node.at);
        let mm = match &node.value {
            Value::Number(number) => {
                if !number.value.is_finite() {
                    let called = if number.value.is_nan() { "nan" } else { "inf" };
                    return fault(
                        format!("`{name}` is {called}, which is no length"),
                        self.sample(name, &node.at),
                    );
                }
                number.value * if unit == Unit::Inch { MM_PER_INCH } else { 1.0 }
            }
            Value::Text(text) => match parse_length(text) {
                Ok(mm) => mm,
                Err(error) => {
                    return fault(format!("`{name}`: \"{}\" {error}", shown(text)), error.hint);
                }
            },
            other => {
                let hint = match other {
                    Value::List(items) if items.len() == 1 => {
                        "the one length without brackets".to_owned()
                    }
                    _ => format!("{name} = {}", self.sample(name, &node.at)),
                };
                return fault(
                    format!("`{name}` must be a length, not {}", other.kind()),
                    hint,
                );
            }
        };
        if mm.abs() > LONGEST {
            let typed = if let Value::Number(Number { value, .. }) = &node.value {
                *value
            } else {
                mm
            };
            let hint = if unit == Unit::Inch && typed.abs() <= LONGEST {
                format!("\"{} mm\", if millimetres are meant", plain(typed))
            } else {
                "a length of at most 2000 mm".to_owned()
            };
            return fault(
                format!("`{name}` is longer than 2000 mm, which no length here may be"),
                hint,
            );
        }
        match sign {
            Sign::AboveZero if mm <= 0.0 => {
                let hint = if mm < 0.0 {
                    positive(node)
                } else {
                    self.sample(name, &node.at)
                };
                fault(format!("`{name}` must be above zero"), hint)
            }
            Sign::ZeroOrMore if mm < 0.0 => {
                fault(format!("`{name}` must be zero or more"), positive(node))
            }
            Sign::AboveZero | Sign::ZeroOrMore if mm > 0.0 && mm < SHORTEST => fault(
                format!("`{name}` is shorter than 0.0001 mm, too small to be made"),
                self.sample(name, &node.at),
            ),
            _ => Some(mm),
        }
    }

    /// A bare number, such as degrees; `what` says so in messages.
    pub fn number_of(&self, name: &str, node: &Node, what: &str) -> Option<f64> {
        let key = self.dotted(name);
        let sample = self.sample(name, &node.at);
        let (message, hint) = match &node.value {
            Value::Number(number) if number.value.is_finite() => return Some(number.value),
            Value::Number(number) => {
                let called = if number.value.is_nan() { "nan" } else { "inf" };
                (
                    format!("`{name}` is {called}, which is no number to work with"),
                    sample,
                )
            }
            Value::Text(text) => {
                let lead: String = text
                    .trim()
                    .chars()
                    .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | '-'))
                    .collect();
                let hint = if lead.parse::<f64>().is_ok() {
                    lead
                } else {
                    sample
                };
                (format!("`{name}` must be {what}, not a text"), hint)
            }
            other => (
                format!("`{name}` must be {what}, not {}", other.kind()),
                sample,
            ),
        };
        self.context.fault(&node.at, &key, message, Some(hint));
        None
    }

    /// Bare degrees that pass `fits`; `range` names what fits. Returns degrees.
    pub fn degrees(&self, name: &str, range: &str, fits: impl Fn(f64) -> bool) -> Field<f64> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        let Some(degrees) = self.number_of(name, node, "a bare number of degrees") else {
            return Field::Bad;
        };
        if fits(degrees) {
            return Field::Good(degrees);
        }
        let sample = self.sample(name, &node.at);
        self.fault(
            name,
            format!("`{name}` must be {range}"),
            format!("an angle in that range, such as {sample}"),
        );
        Field::Bad
    }

    /// A whole number within bounds.
    pub fn count(&self, name: &str, least: usize, most: usize) -> Field<usize> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        if let Value::Number(Number {
            integer: Some(integer),
            ..
        }) = &node.value
            && let Some(count) = usize::try_from(*integer)
                .ok()
                .filter(|n| (least..=most).contains(n))
        {
            return Field::Good(count);
        }
        let sample = self.sample(name, &node.at);
        let message = format!("`{name}` must be a whole number from {least} to {most}");
        self.fault(name, message, format!("a count such as {sample}"));
        Field::Bad
    }

    /// True or false.
    pub fn flag(&self, name: &str) -> Field<bool> {
        match self.node(name).map(|node| &node.value) {
            None => Field::Absent,
            Some(Value::Flag(flag)) => Field::Good(*flag),
            Some(other) => {
                self.fault(
                    name,
                    format!("`{name}` must be true or false, not {}", other.kind()),
                    "true or false, without quotes",
                );
                Field::Bad
            }
        }
    }

    /// Any text.
    pub fn text(&self, name: &str) -> Field<String> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        let typed = match &node.value {
            Value::Text(text) => return Field::Good(text.clone()),
            Value::Number(number) => plain(number.value),
            Value::Flag(flag) => flag.to_string(),
            Value::Date(date) => date.clone(),
            Value::List(_) | Value::Table(_) => {
                self.sample(name, &node.at).trim_matches('"').to_owned()
            }
        };
        self.fault(
            name,
            format!(
                "`{name}` must be a text in quotes, not {}",
                node.value.kind()
            ),
            format!("\"{typed}\""),
        );
        Field::Bad
    }

    /// One of a few words.
    pub fn word(&self, name: &str, words: &[&'static str]) -> Field<&'static str> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        let listed = words
            .iter()
            .map(|word| format!("\"{word}\""))
            .collect::<Vec<_>>()
            .join(" or ");
        let hint = match &node.value {
            Value::Text(text) => {
                if let Some(word) = words.iter().find(|word| *word == text) {
                    return Field::Good(word);
                }
                nearest(text, words.iter().copied())
                    .map_or(listed.clone(), |word| format!("\"{word}\""))
            }
            _ => listed.clone(),
        };
        self.fault(name, format!("`{name}` must be {listed}"), hint);
        Field::Bad
    }
}

/// The same value without its minus sign, as it would be typed.
fn positive(node: &Node) -> String {
    match &node.value {
        Value::Number(number) => plain(number.value.abs()),
        Value::Text(text) => format!("\"{}\"", shown(text).trim().trim_start_matches('-').trim()),
        _ => show_mm(0.0),
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
