//! One typed answer: a length as typed, and in millimetres.

use crate::input::Unit;
use crate::units::{self, LengthError};

/// A length as it was answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// As it goes into the file: a bare number, or a text with its unit in quotes.
    pub typed: String,
    /// Millimetres.
    pub mm: f64,
    /// The unit a bare number stood for; `None` where the text has its own.
    pub bare: Option<Unit>,
}

/// All ten answers, A to J, and the unit of bare numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Answers {
    /// Unit of the file.
    pub unit: Unit,
    /// A to J.
    pub lengths: Vec<Answer>,
}

impl Answers {
    /// Millimetres of one letter; 0 for a letter not answered.
    pub fn mm(&self, letter: char) -> f64 {
        self.answer(letter).map_or(0.0, |answer| answer.mm)
    }

    /// What stands in the file for one letter. A bare number typed before the unit was changed is
    /// given its own.
    pub fn typed(&self, letter: char) -> String {
        let Some(answer) = self.answer(letter) else {
            return "0".to_owned();
        };
        match answer.bare.filter(|unit| *unit != self.unit) {
            Some(unit) => format!("\"{} {}\"", answer.typed, unit.name()),
            None => answer.typed.clone(),
        }
    }

    fn answer(&self, letter: char) -> Option<&Answer> {
        let index = (letter as usize).checked_sub('A' as usize)?;
        self.lengths.get(index)
    }
}

/// The unit in a sentence.
pub const fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Mm => "millimetres",
        Unit::Inch => "inches",
    }
}

/// A length in the unit of the dialogue; inches with the millimetres beside them.
pub fn show(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Mm => units::show_mm(mm),
        Unit::Inch => format!("{} ({})", units::show_inches(mm), units::show_mm(mm)),
    }
}

/// Reads a length with its own unit, or a bare number in `unit`.
///
/// # Errors
/// Whatever is no length, with what to type instead.
pub fn read(text: &str, unit: Unit) -> Result<Answer, LengthError> {
    let text = text.trim();
    // Copied from a file, a text still has both its quotes; one mark at the end means inches.
    let whole = text
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'));
    let inches = text
        .strip_suffix(['"', '″'])
        .map(|rest| format!("{} in", rest.trim()));
    let text = match (whole, &inches) {
        (Some(inside), _) => inside.trim(),
        (None, Some(inches)) => inches,
        (None, None) => text,
    };
    let bare = text
        .chars()
        .next_back()
        .is_some_and(|last| last.is_ascii_digit() || last == '.');
    if !bare {
        let mm = units::parse_length(text)?;
        return Ok(Answer {
            typed: format!("\"{text}\""),
            mm,
            bare: None,
        });
    }
    let with_unit = format!("{text} {}", unit.name());
    let mm = units::parse_length(&with_unit)?;
    // TOML wants a digit on either side of the point and knows no fractions.
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && !text.starts_with('.')
        && !text.ends_with('.')
        && (text.len() == 1 || !text.starts_with('0') || text.starts_with("0."));
    let typed = if plain {
        text.to_owned()
    } else {
        format!("\"{with_unit}\"")
    };
    let bare = plain.then_some(unit);
    Ok(Answer { typed, mm, bare })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bare_numbers_take_the_unit_others_keep_theirs() {
        let answer = |text: &str, unit| read(text, unit).unwrap();
        assert_eq!(answer("10.5", Unit::Mm).typed, "10.5");
        assert_eq!(answer(" 13/32 in ", Unit::Mm).typed, "\"13/32 in\"");
        assert!((answer("13/32", Unit::Inch).mm - 10.318_75).abs() < 1e-12);
        assert_eq!(answer("13/32", Unit::Inch).typed, "\"13/32 in\"");
        assert!((answer("0.25", Unit::Inch).mm - 6.35).abs() < 1e-12);
        assert_eq!(answer(".25", Unit::Inch).typed, "\".25 in\"");
        assert_eq!(answer("010", Unit::Mm).typed, "\"010 mm\"");
    }

    #[test]
    fn what_is_no_length_is_refused_with_a_hint() {
        for text in [
            "", "ten", "10,5", "nan", "inf", "1e5", "3/0", "--2", "1.2.3", "½",
        ] {
            let error = read(text, Unit::Inch).unwrap_err();
            assert!(!error.hint.is_empty(), "{text}");
        }
    }

    #[test]
    fn every_answer_reads_back_as_toml() {
        for text in ["10.5", "007", "+3", "5.", ".5", "1-3/8 in", "20 mm"] {
            let answer = read(text, Unit::Mm).unwrap();
            let line = format!("key = {}", answer.typed);
            assert!(line.parse::<toml::Table>().is_ok(), "{line}");
        }
    }
}
