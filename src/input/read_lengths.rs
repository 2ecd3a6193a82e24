//! Reading lengths: bare numbers in the file's unit, texts with their own, lists and pairs of
//! them, each with its sign and size.

use super::decimal_commas::{Item, pairs};
use super::defaults::{LONGEST, SHORTEST};
use super::design::Unit;
use super::field::{Field, Sign};
use super::outsized::Outsized;
use super::reader::{Reader, shown};
use super::tree::{Node, Number, Value};
use crate::units::{parse_length, plain, show_mm};

impl Reader<'_> {
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
        self.each_of(name, |index, item| {
            self.length_at(name, Some(index), item, sign)
        })
    }

    /// A list of what `read` makes of its items.
    pub(super) fn each_of<T>(
        &self,
        name: &str,
        read: impl Fn(usize, &Node) -> Option<T>,
    ) -> Field<Vec<T>> {
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
                _ => format!("a list, for example {}", self.sample(name, &node.at)),
            };
            self.fault(name, message, hint);
            return Field::Bad;
        };
        let values: Vec<Option<T>> = items
            .iter()
            .enumerate()
            .map(|(index, item)| read(index, item))
            .collect();
        Field::from_option(values.into_iter().collect())
    }

    /// A pair of lengths, mm.
    pub fn pair(&self, name: &str, sign: Sign) -> Field<[f64; 2]> {
        let one = self.node(name).map(|node| &node.value);
        let one = match one {
            Some(Value::Number(number)) if number.value.is_finite() => Some(plain(number.value)),
            Some(Value::Text(text)) => parse_length(text)
                .is_ok()
                .then(|| format!("\"{}\"", shown(text))),
            _ => None,
        };
        if let Some(one) = one {
            // Not as a list of one, which would only be the next mistake.
            self.fault(
                name,
                format!("`{name}` must hold two lengths, nut end and crest end, not one"),
                format!("[{one}, {one}], if both ends measure the same"),
            );
            return Field::Bad;
        }
        if self.pair_with_decimal_commas(name, "two lengths") {
            return Field::Bad;
        }
        match self.lengths(name, sign) {
            Field::Absent => Field::Absent,
            Field::Bad => Field::Bad,
            Field::Good(values) => match <[f64; 2]>::try_from(values) {
                Ok(pair) => Field::Good(pair),
                Err(values) => {
                    self.fault(
                        name,
                        format!("`{name}` must hold two lengths, not {}", values.len()),
                        format!("both, for example {}", self.sample(name, self.at(name))),
                    );
                    Field::Bad
                }
            },
        }
    }

    /// Reports a list that decimal commas made longer than the pair it was meant to be. It is asked
    /// before the numbers are read: what stands behind such a comma is no length of its own.
    pub(super) fn pair_with_decimal_commas(&self, name: &str, two: &str) -> bool {
        let Some(Value::List(items)) = self.node(name).map(|node| &node.value) else {
            return false;
        };
        let Some(sheet) = self.context().sheet(self.at(name).source) else {
            return false;
        };
        let mut end = None;
        let typed: Vec<Item<'_>> = items
            .iter()
            .map(|item| {
                // A decimal comma is typed without a blank behind it.
                let tight = end.is_some_and(|end| item.at.span.start == end + 1);
                end = Some(item.at.span.end);
                let text = sheet.source.text().get(item.at.span.clone());
                let text = text.unwrap_or_default();
                Item { text, tight }
            })
            .collect();
        let meant = pairs(&typed);
        if meant.is_empty() {
            return false;
        }
        let message = format!(
            "`{name}` must hold {two}, not {}; decimals begin with a point, not with a comma",
            items.len()
        );
        let commas = match items.len() {
            3 => "a decimal comma was",
            _ => "decimal commas were",
        };
        let hint = format!("{}, if {commas} meant", meant.join(" or "));
        self.fault(name, message, hint);
        true
    }

    /// A list of pairs of lengths, mm.
    pub fn points(&self, name: &str) -> Field<Vec<[f64; 2]>> {
        let Some(node) = self.node(name) else {
            return Field::Absent;
        };
        let sample = || format!("pairs, for example {}", self.sample(name, &node.at));
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
                        .map(|n| self.plain_length(name, n, Sign::Any))
                        .collect();
                    pair.into_iter()
                        .collect::<Option<Vec<f64>>>()
                        .and_then(|pair| <[f64; 2]>::try_from(pair).ok())
                }
                _ => {
                    let message =
                        format!("each of `{name}` must be a pair of lengths: along, across");
                    self.context()
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

    /// Reads a length from any node and checks its sign and size; readings give their mean.
    pub fn length_of(&self, name: &str, node: &Node, sign: Sign) -> Option<f64> {
        self.length_at(name, None, node, sign)
    }

    /// Reads a length that is one number or text.
    pub(super) fn plain_length(&self, name: &str, node: &Node, sign: Sign) -> Option<f64> {
        let key = self.dotted(name);
        let fault = |message: String, hint: String| {
            self.context().fault(&node.at, &key, message, Some(hint));
            None
        };
        let unit = self.context().unit(&node.at);
        let mm = match &node.value {
            Value::Number(number) => {
                if !number.value.is_finite() {
                    let called = if number.value.is_nan() { "nan" } else { "inf" };
                    return fault(
                        format!("`{name}` is {called}, which is no length"),
                        self.example("the length as measured", name, &node.at),
                    );
                }
                if !self.context().unit_known(&node.at) {
                    return self.size_unknown(name, node, number.value, sign);
                }
                number.value * unit.millimetres()
            }
            Value::Millimetres(mm) if mm.is_finite() => *mm,
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
                    _ => {
                        let sample = self.sample(name, &node.at);
                        format!("a length, for example {name} = {sample}")
                    }
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
                format!("a length of at most {LONGEST} mm")
            };
            return fault(
                format!("`{name}` is longer than {LONGEST} mm, which no length here may be"),
                hint,
            );
        }
        self.sign_fits(name, node, mm, sign)?;
        if sign != Sign::Any && mm > 0.0 && mm < SHORTEST {
            return fault(
                format!("`{name}` is shorter than 0.0001 mm, too small to be made"),
                self.example("a longer one", name, &node.at),
            );
        }
        if let Value::Number(number) = &node.value
            && unit == Unit::Inch
            && let Some(outsized) = Outsized::of(&key, number.value, mm)
        {
            self.context().keep_outsized(outsized);
        }
        Some(mm)
    }

    /// A bare number in a file whose unit is not known: wrong by its sign at most, and no length.
    fn size_unknown(&self, name: &str, node: &Node, value: f64, sign: Sign) -> Option<f64> {
        self.sign_fits(name, node, value, sign)?;
        None
    }

    /// Reports a sign that a length may not have; it is the same in every unit.
    fn sign_fits(&self, name: &str, node: &Node, value: f64, sign: Sign) -> Option<()> {
        let (message, hint) = match sign {
            Sign::AboveZero if value == 0.0 => (
                format!("`{name}` must be above zero"),
                self.example("a length above zero", name, &node.at),
            ),
            Sign::AboveZero if value < 0.0 => {
                (format!("`{name}` must be above zero"), positive(node))
            }
            Sign::ZeroOrMore if value < 0.0 => {
                (format!("`{name}` must be zero or more"), positive(node))
            }
            _ => return Some(()),
        };
        let key = self.dotted(name);
        self.context().fault(&node.at, &key, message, Some(hint));
        None
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
