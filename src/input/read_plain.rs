//! Reading everything that is no length: degrees, counts, true or false, texts, words.

use super::field::Field;
use super::reader::Reader;
use super::tree::{Node, Number, Value};
use crate::diagnostic::meant::nearest;
use crate::units::plain;

impl Reader<'_> {
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
                    format!("a number, for example {sample}"),
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
                    format!("a number, for example {sample}")
                };
                (format!("`{name}` must be {what}, not a text"), hint)
            }
            other => (
                format!("`{name}` must be {what}, not {}", other.kind()),
                format!("a number, for example {sample}"),
            ),
        };
        self.context().fault(&node.at, &key, message, Some(hint));
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
        let quoted = match &node.value {
            Value::Text(text) => text.trim().parse::<usize>().ok(),
            _ => None,
        };
        let quoted = quoted.filter(|count| (least..=most).contains(count));
        let (kind, hint) = match quoted {
            Some(count) => (", not a text", count.to_string()),
            None => (
                "",
                format!("a count such as {}", self.sample(name, &node.at)),
            ),
        };
        let message = format!("`{name}` must be a whole number from {least} to {most}{kind}");
        self.fault(name, message, hint);
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
            Value::Millimetres(mm) => plain(*mm),
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
