//! Reading what was measured more than once: readings instead of a length, over and between instead of
//! a pitch.

use super::defaults::{MOST_READINGS, SPREAD_LEAST, SPREAD_SHARE};
use super::field::{Field, Sign};
use super::keys;
use super::reader::{Reader, shown};
use super::readings::{Gap, Readings};
use super::tree::{Node, Table, Value};
use crate::diagnostic::meant::nearest;
use crate::statistics::{mean, median};
use crate::units::{plain, show_mm};

/// Tables whose lengths are measured with calipers or a rule; tolerances, allowances and limits are
/// chosen.
pub(super) const MEASURABLE: [&str; 8] = [
    "head",
    "nut",
    "machines",
    "placement",
    "bores",
    "slots",
    "guide",
    "press",
];

impl Reader<'_> {
    /// A length that may be a table of readings; `index` is its place in a list.
    pub(super) fn length_at(
        &self,
        name: &str,
        index: Option<usize>,
        node: &Node,
        sign: Sign,
    ) -> Option<f64> {
        let Value::Table(table) = &node.value else {
            return self.plain_length(name, node, sign);
        };
        let key = self.dotted(name);
        let outer = key.split('.').next().unwrap_or_default();
        let known = keys::key(self.path(), name).is_some_and(|key| key.lengths);
        if !known || !MEASURABLE.contains(&outer) {
            return self.plain_length(name, node, sign);
        }
        let pitch = name == "pitches";
        if !self.only(
            name,
            table,
            if pitch {
                &["repeats", "over", "between"]
            } else {
                &["repeats"]
            },
        ) {
            return None;
        }
        let Some(repeats) = table.entries.get("repeats") else {
            if !table.incomplete {
                let message = format!("`{name}` is a table without readings");
                let hint = self.repeats_sample(name, node);
                self.context().fault(&node.at, &key, message, Some(hint));
            }
            return None;
        };
        self.readings(name, "repeats", &indexed(&key, index), &repeats.node, sign)
    }

    /// A pitch: a length, or readings of it, or readings over and between two neighbours.
    pub(super) fn gap(&self, name: &str, index: usize, node: &Node) -> Option<Gap> {
        let table = match &node.value {
            Value::Table(table)
                if table.entries.contains_key("over") || table.entries.contains_key("between") =>
            {
                table
            }
            _ => {
                return self
                    .length_at(name, Some(index), node, Sign::AboveZero)
                    .map(Gap::Pitch);
            }
        };
        if !self.only(name, table, &["over", "between", "repeats"]) {
            return None;
        }
        let key = self.dotted(name);
        if let Some(repeats) = table.entries.get("repeats") {
            let message = format!(
                "`{name}` gives `repeats` of the pitch itself, and `over` or `between` beside it"
            );
            let hint = "either `repeats`, or `over` and `between`".to_owned();
            self.context()
                .fault(&repeats.key, &key, message, Some(hint));
            return None;
        }
        let read = |what: &str| {
            table.entries.get(what).map(|entry| {
                let id = format!("{}.{what}", indexed(&key, Some(index)));
                self.readings(name, what, &id, &entry.node, Sign::AboveZero)
            })
        };
        match (read("over"), read("between")) {
            (Some(over), Some(between)) => {
                let (over, between) = (over?, between?);
                if over <= between {
                    let at = table
                        .entries
                        .get("over")
                        .map_or(&node.at, |entry| &entry.node.at);
                    let message = format!(
                        "`over`, {}, must be more than `between`, {}",
                        show_mm(over),
                        show_mm(between)
                    );
                    let hint =
                        "over: outside to outside of the two barrels; between: inside to inside";
                    self.context()
                        .fault(at, &key, message, Some(hint.to_owned()));
                    return None;
                }
                Some(Gap::Both { over, between })
            }
            (Some(over), None) => over.map(Gap::Over),
            (None, Some(between)) => between.map(Gap::Between),
            (None, None) => None,
        }
    }

    /// Whether a table of readings holds no other keys; those are reported.
    fn only(&self, name: &str, table: &Table, allowed: &[&str]) -> bool {
        let mut good = true;
        for (inner, entry) in &table.entries {
            if allowed.contains(&inner.as_str()) {
                continue;
            }
            good = false;
            let (message, hint) = if ["over", "between"].contains(&inner.as_str()) {
                (
                    format!(
                        "`{name}` takes no `{inner}`: only `pitches` are read over and between"
                    ),
                    "`repeats`, with readings of the length itself".to_owned(),
                )
            } else {
                (
                    format!("readings of `{name}` have no key `{}`", shown(inner)),
                    nearest(inner, allowed.iter().copied()).map_or_else(
                        || {
                            let names: Vec<String> =
                                allowed.iter().map(|key| format!("`{key}`")).collect();
                            names.join(", ")
                        },
                        |near| format!("`{near}`"),
                    ),
                )
            };
            self.context()
                .fault(&entry.key, &self.dotted(name), message, Some(hint));
        }
        good
    }

    /// The mean of a list of readings, or of the one that stands there for `over` and `between`.
    fn readings(&self, name: &str, what: &str, id: &str, node: &Node, sign: Sign) -> Option<f64> {
        let key = self.dotted(name);
        let fault = |at: &Node, message: String, hint: String| {
            self.context().fault(&at.at, &key, message, Some(hint));
        };
        let Value::List(items) = &node.value else {
            if what != "repeats" {
                let value = self.plain_length(name, node, sign)?;
                return Some(self.keep(id, vec![value], node));
            }
            let message = format!(
                "`repeats` must be a list of readings, not {}",
                node.value.kind()
            );
            fault(node, message, self.repeats_sample(name, node));
            return None;
        };
        if items.is_empty() {
            fault(
                node,
                format!("`{what}` holds no readings"),
                self.repeats_sample(name, node),
            );
            return None;
        }
        let values: Vec<Option<f64>> = items
            .iter()
            .map(|item| self.plain_length(name, item, sign))
            .collect();
        let values = values.into_iter().collect::<Option<Vec<f64>>>()?;
        if let [only] = items.as_slice() {
            let alone = typed(only);
            let hint = if what == "repeats" {
                format!("a second reading, or {alone} alone without the table")
            } else {
                format!("a second reading, or {what} = {alone} without brackets")
            };
            fault(
                node,
                format!("`{what}` holds one reading, which has no spread"),
                hint,
            );
            return None;
        }
        if items.len() > MOST_READINGS {
            let message = format!(
                "`{what}` holds {} readings, more than {MOST_READINGS}",
                items.len()
            );
            fault(node, message, "those of one length".to_owned());
            return None;
        }
        if let Some(other) = self.of_another_unit(items) {
            fault(
                other,
                format!("`{what}` mixes millimetres and inches"),
                "every reading in the unit the calipers show".to_owned(),
            );
            return None;
        }
        if let Some((worst, message)) = absurd(&values) {
            let hint = "measure this one again; the calipers slipped, or a digit did".to_owned();
            fault(
                items.get(worst).unwrap_or(node),
                format!("`{what}`: {message}"),
                hint,
            );
            return None;
        }
        Some(self.keep(id, values, node))
    }

    /// Keeps the readings, gives their mean.
    fn keep(&self, id: &str, values: Vec<f64>, node: &Node) -> f64 {
        let mean = mean(&values) + self.context().shift(id);
        if !self.incomplete() {
            self.context().keep(Readings {
                key: id.to_owned(),
                values,
                place: self.context().place(&node.at),
            });
        }
        mean
    }

    /// The first reading that is not in the unit of the one before it.
    fn of_another_unit<'n>(&self, items: &'n [Node]) -> Option<&'n Node> {
        // A number put in place of another is in millimetres, whatever stood there.
        let typed = |node: &&Node| !matches!(node.value, Value::Millimetres(_));
        let inches = |node: &Node| match &node.value {
            Value::Text(text) => text.trim_end().ends_with("in"),
            _ => self.context().unit(&node.at) == super::design::Unit::Inch,
        };
        let first = items.iter().find(typed).map(inches)?;
        let mut typed = items.iter().filter(typed);
        typed.find(|item| inches(item) != first)
    }

    fn repeats_sample(&self, name: &str, node: &Node) -> String {
        let sample = self.sample(name, &node.at);
        let one = sample
            .trim_start_matches('[')
            .split([',', ']'])
            .next()
            .unwrap_or_default()
            .to_owned();
        format!("{{ repeats = [{one}, {one}, {one}] }}, with your own readings")
    }
}

/// Readings that cannot all be of one length: the one furthest from the middle, and why.
fn absurd(values: &[f64]) -> Option<(usize, String)> {
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let middle = median(values);
    if most - least <= SPREAD_LEAST + SPREAD_SHARE * middle.abs() {
        return None;
    }
    let far = |i: &usize| values.get(*i).map_or(0.0, |v| (v - middle).abs());
    let worst = (0..values.len()).max_by(|a, b| far(a).total_cmp(&far(b)))?;
    let message = format!(
        "the readings run from {} to {}, too far apart to be of one length",
        show_mm(least),
        show_mm(most)
    );
    Some((worst, message))
}

/// `key[2]`, counted from 1.
fn indexed(key: &str, index: Option<usize>) -> String {
    index.map_or_else(|| key.to_owned(), |index| format!("{key}[{}]", index + 1))
}

fn typed(node: &Node) -> String {
    match &node.value {
        Value::Number(number) => plain(number.value),
        Value::Text(text) => format!("\"{}\"", shown(text).trim()),
        other => other.kind().to_owned(),
    }
}

/// Pitches from what was given of them; those that hang on an unknown diameter are left to whoever
/// reports that.
pub(super) fn pitches(
    r: Reader<'_>,
    gaps: Field<Vec<Gap>>,
    diameter: Option<f64>,
) -> Field<Vec<f64>> {
    let Field::Good(gaps) = gaps else {
        return match gaps {
            Field::Absent => Field::Absent,
            _ => Field::Bad,
        };
    };
    let mut pitches = Vec::new();
    for gap in gaps {
        let Some(pitch) = gap.pitch(diameter) else {
            return Field::Bad;
        };
        if pitch <= 0.0 {
            let message = format!(
                "`pitches`: `over` must be more than one barrel's diameter, {}",
                show_mm(diameter.unwrap_or_default())
            );
            r.clash(
                "pitches",
                message,
                "over: outside to outside of two neighbouring barrels",
            );
            return Field::Bad;
        }
        pitches.push(pitch);
    }
    Field::Good(pitches)
}
