//! The clear-text encoding of ISO 10303-21: instances and numbers, whatever they mean.

use super::strings::quoted;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Name of an instance in the data section, `#n`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Id(usize);

/// A value of an attribute.
#[derive(Debug, Clone)]
pub(super) enum Value<'a> {
    /// Text, not yet escaped.
    Text(&'a str),
    /// A real number.
    Real(f64),
    /// A whole number.
    Integer(u32),
    /// Another instance.
    Ref(Id),
    /// An enumeration value, without its dots.
    Enum(&'static str),
    /// An aggregate.
    List(Vec<Value<'a>>),
    /// A value of a select type that has to say its type.
    Typed(&'static str, f64),
    /// An optional attribute left out.
    Unset,
    /// An attribute that a subtype derives.
    Derived,
}

impl<'a> From<&'a str> for Value<'a> {
    fn from(text: &'a str) -> Self {
        Value::Text(text)
    }
}

impl From<f64> for Value<'_> {
    fn from(number: f64) -> Self {
        Value::Real(number)
    }
}

impl From<Id> for Value<'_> {
    fn from(id: Id) -> Self {
        Value::Ref(id)
    }
}

impl From<bool> for Value<'_> {
    fn from(flag: bool) -> Self {
        Value::Enum(if flag { "T" } else { "F" })
    }
}

impl From<Vec<Id>> for Value<'_> {
    fn from(ids: Vec<Id>) -> Self {
        Value::List(ids.into_iter().map(Value::Ref).collect())
    }
}

/// The data section while it is written. Instances keep the order in which they were added, and
/// each is added after those it names.
#[derive(Debug, Default)]
pub(super) struct Data {
    text: String,
    count: usize,
    shared: BTreeMap<String, Id>,
    not_finite: Option<String>,
}

impl Data {
    /// Adds an instance.
    pub(super) fn add(&mut self, keyword: &str, values: &[Value<'_>]) -> Id {
        let body = self.record(keyword, values);
        self.push(&body)
    }

    /// Adds an instance, or finds the one already added with the same text.
    pub(super) fn share(&mut self, keyword: &str, values: &[Value<'_>]) -> Id {
        let body = self.record(keyword, values);
        if let Some(&id) = self.shared.get(&body) {
            return id;
        }
        let id = self.push(&body);
        self.shared.insert(body, id);
        id
    }

    /// Adds an instance of several entity types; they are put in alphabetical order, as the
    /// encoding asks.
    pub(super) fn add_complex(&mut self, parts: &[(&str, &[Value<'_>])]) -> Id {
        let mut records: Vec<(&str, String)> = parts
            .iter()
            .map(|(keyword, values)| (*keyword, self.record(keyword, values)))
            .collect();
        records.sort();
        let body: String = records.into_iter().map(|(_, record)| record).collect();
        self.push(&format!("({body})"))
    }

    /// The lines of the section, or the keyword of the first instance that was given a number
    /// that is not finite.
    pub(super) fn finish(self) -> Result<String, String> {
        match self.not_finite {
            Some(keyword) => Err(keyword),
            None => Ok(self.text),
        }
    }

    fn push(&mut self, body: &str) -> Id {
        self.count += 1;
        let _ = writeln!(self.text, "#{}={body};", self.count);
        Id(self.count)
    }

    fn record(&mut self, keyword: &str, values: &[Value<'_>]) -> String {
        let mut out = String::from(keyword);
        self.list(&mut out, keyword, values);
        out
    }

    fn list(&mut self, out: &mut String, keyword: &str, values: &[Value<'_>]) {
        out.push('(');
        for (i, value) in values.iter().enumerate() {
            if i > 0 {
                out.push(',');
            }
            self.value(out, keyword, value);
        }
        out.push(')');
    }

    fn value(&mut self, out: &mut String, keyword: &str, value: &Value<'_>) {
        match value {
            Value::Text(text) => out.push_str(&quoted(text)),
            Value::Real(number) => out.push_str(&self.number(keyword, *number)),
            Value::Integer(number) => out.push_str(&number.to_string()),
            Value::Ref(Id(n)) => {
                let _ = write!(out, "#{n}");
            }
            Value::Enum(name) => {
                let _ = write!(out, ".{name}.");
            }
            Value::List(items) => self.list(out, keyword, items),
            Value::Typed(name, number) => {
                let number = self.number(keyword, *number);
                let _ = write!(out, "{name}({number})");
            }
            Value::Unset => out.push('$'),
            Value::Derived => out.push('*'),
        }
    }

    fn number(&mut self, keyword: &str, number: f64) -> String {
        if !number.is_finite() && self.not_finite.is_none() {
            self.not_finite = Some(keyword.to_owned());
        }
        real(number)
    }
}

/// A finite number with its decimal point, in the fewest digits that read back as the same
/// double. Minus zero is written as zero.
pub(super) fn real(number: f64) -> String {
    if number == 0.0 {
        return "0.".to_owned();
    }
    if (1e-4..1e15).contains(&number.abs()) {
        let text = number.to_string();
        return if text.contains('.') { text } else { text + "." };
    }
    let text = format!("{number:E}");
    match text.split_once('E') {
        Some((mantissa, exponent)) if !mantissa.contains('.') => format!("{mantissa}.E{exponent}"),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_point_and_every_digit() {
        for (number, text) in [
            (5.0, "5."),
            (-0.0, "0."),
            (0.1, "0.1"),
            (-35.25, "-35.25"),
            (1e-6, "1.E-6"),
            (1.5e-7, "1.5E-7"),
            (2e20, "2.E20"),
            (1.0 / 3.0, "0.3333333333333333"),
            (123_456_789.0, "123456789."),
        ] {
            assert_eq!(real(number), text);
        }
        let mut number = 1.234_567_890_123_456_7e-12;
        while number < 1e20 {
            let text = real(number);
            assert_eq!(text.parse::<f64>().unwrap().to_bits(), number.to_bits());
            assert!(text.contains('.'));
            number *= 7.3;
        }
    }

    #[test]
    fn instances_are_numbered_shared_and_sorted() {
        let mut data = Data::default();
        let a = data.share("P", &[1.0.into()]);
        let b = data.share("P", &[1.0.into()]);
        assert_eq!(a, b);
        data.add_complex(&[
            ("SI_UNIT", &[Value::Unset, Value::Enum("METRE")]),
            ("LENGTH_UNIT", &[]),
            ("NAMED_UNIT", &[Value::Derived]),
        ]);
        data.add("Q", &[vec![a, b].into(), true.into(), Value::Integer(3)]);
        assert_eq!(
            data.finish().unwrap(),
            "#1=P(1.);\n#2=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.));\n#3=Q((#1,#1),.T.,3);\n"
        );
    }

    #[test]
    fn a_number_that_is_not_finite_is_refused() {
        for bad in [f64::NAN, f64::INFINITY] {
            let mut data = Data::default();
            data.add("Q", &[Value::List(vec![bad.into()])]);
            assert_eq!(data.finish().unwrap_err(), "Q");
        }
    }
}
