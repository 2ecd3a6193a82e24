//! Lengths and angles at the rim of the program: reading what a maker types, printing what a
//! maker reads. Inside, everything is millimetres and radians; this is the only 25.4.

mod show;

pub use show::{
    Lengths, SixtyFourths, bare_inches, number, on_step, plain, show_degrees, show_inches, show_mm,
    show_sixty_fourths,
};

/// Millimetres in an inch, exact by definition (international inch, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// Longest run of digits taken in one number; more is a slip of the keyboard, not a measurement.
const MOST_DIGITS: usize = 15;

/// Why a text is not a length.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct LengthError {
    /// What is wrong, without the text itself, such as "has a comma where a decimal point belongs".
    pub message: String,
    /// What to write instead, quotes included where it is a text.
    pub hint: String,
}

impl LengthError {
    fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        LengthError {
            message: message.into(),
            hint: hint.into(),
        }
    }
}

/// Reads a length that carries its own unit: `10.5 mm`, `0.413 in`, `13/32 in`, `1-3/8 in`,
/// `1 3/8 in`, each with an optional sign. Returns millimetres.
///
/// # Errors
/// A decimal comma, a missing or unknown unit, a fraction of a millimetre, a zero divisor and
/// anything else that is no number, each with what to write instead.
pub fn parse_length(text: &str) -> Result<f64, LengthError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(LengthError::new("is empty", FORMS));
    }
    let (number, unit) = split_unit(trimmed);
    let unit = match unit {
        "mm" => 1.0,
        "in" => MM_PER_INCH,
        "" => return Err(no_unit(number)),
        _ if number.is_empty() => return Err(LengthError::new("is no length", FORMS)),
        other => return Err(unknown_unit(number, other)),
    };
    let inches = unit > 1.0;
    let unit_name = if inches { "in" } else { "mm" };
    let (sign, digits) = split_sign(number);
    if digits.starts_with('-') || digits.starts_with('\u{2212}') {
        return Err(LengthError::new("has two signs", FORMS));
    }
    if digits.is_empty() {
        return Err(LengthError::new("has a unit but no number", FORMS));
    }
    if digits.contains('/') {
        let mixed = parse_fraction(digits, unit_name)?;
        if !inches {
            return Err(fraction_in_mm(number, sign * mixed.value()));
        }
        return Ok(sign * mixed.numerator() * unit / mixed.divisor);
    }
    let value = parse_decimal(digits, unit_name)?;
    Ok(sign * value * unit)
}

/// The forms a length text may take, for hints.
const FORMS: &str = "\"10.5 mm\", \"0.413 in\", \"13/32 in\" or \"1-3/8 in\"";

/// Splits "10.5 mm" into ("10.5", "mm"); the unit is whatever follows the last digit, point or comma.
fn split_unit(text: &str) -> (&str, &str) {
    let end = text
        .char_indices()
        .rev()
        .find(|(_, c)| c.is_numeric() || matches!(c, '.' | ',' | '/'))
        .map_or(0, |(at, c)| at + c.len_utf8());
    let (number, unit) = text.split_at(end);
    (number.trim(), unit.trim())
}

fn split_sign(number: &str) -> (f64, &str) {
    if let Some(rest) = number.strip_prefix('-') {
        (-1.0, rest.trim_start())
    } else if let Some(rest) = number.strip_prefix('+') {
        (1.0, rest.trim_start())
    } else {
        (1.0, number)
    }
}

fn no_unit(number: &str) -> LengthError {
    let shown = number.replace(',', ".");
    if shown.contains('/') {
        return LengthError::new("has no unit", format!("\"{shown} in\""));
    }
    if parse_decimal(split_sign(&shown).1, "mm").is_err() {
        return LengthError::new("is no length", FORMS);
    }
    LengthError::new(
        "has no unit",
        format!("\"{shown} mm\" or \"{shown} in\", or the bare number without quotes"),
    )
}

fn unknown_unit(number: &str, unit: &str) -> LengthError {
    let message = format!("has the unit `{}`, which is neither mm nor in", short(unit));
    let lower = unit.to_lowercase();
    let metric = |factor: f64| match parse_decimal(number, "mm") {
        Ok(value) => format!("\"{} mm\"", plain(value * factor)),
        Err(_) => "the length in millimetres, such as \"10.5 mm\"".to_owned(),
    };
    let hint = match lower.as_str() {
        "\"" | "\u{201d}" | "\u{2033}" | "''" | "inch" | "inches" | "in." | "ins" | "in"
        | "zoll" => {
            format!("\"{number} in\"")
        }
        "mm" | "mm." | "millimetre" | "millimetres" | "millimeter" | "millimeters" => {
            format!("\"{number} mm\"")
        }
        "cm" => metric(10.0),
        "m" => metric(1000.0),
        _ => format!("\"{number} mm\" or \"{number} in\""),
    };
    LengthError::new(message, hint)
}

fn fraction_in_mm(number: &str, value: f64) -> LengthError {
    LengthError::new(
        "is a fraction of a millimetre; fractions are for inches",
        format!(
            "\"{} mm\", or \"{number} in\" if inches are meant",
            plain((value * 1000.0).round() / 1000.0)
        ),
    )
}

/// A whole number and a fraction, each non-negative.
struct Mixed {
    whole: f64,
    above: f64,
    divisor: f64,
}

impl Mixed {
    fn numerator(&self) -> f64 {
        self.whole * self.divisor + self.above
    }
    fn value(&self) -> f64 {
        self.numerator() / self.divisor
    }
}

/// `13/32`, `1-3/8` or `1 3/8`.
fn parse_fraction(text: &str, unit: &str) -> Result<Mixed, LengthError> {
    let wrong = || {
        LengthError::new(
            "is not a fraction that can be read",
            "\"13/32 in\", \"1-3/8 in\" or \"1 3/8 in\"",
        )
    };
    let (left, below) = text.split_once('/').ok_or_else(wrong)?;
    let left = left.trim();
    let below = below.trim();
    if left.contains(',') || below.contains(',') {
        return Err(wrong());
    }
    let (whole, above) = match left.split_once(['-', ' ']) {
        Some((whole, above)) => (whole.trim(), above.trim()),
        None => ("0", left),
    };
    let divisor = whole_number(below).ok_or_else(wrong)?;
    if divisor == 0.0 {
        return Err(LengthError::new(
            "divides by zero",
            format!("\"{left}/16 {unit}\" or another divisor"),
        ));
    }
    let mixed = Mixed {
        whole: whole_number(whole).ok_or_else(wrong)?,
        above: whole_number(above).ok_or_else(wrong)?,
        divisor,
    };
    if mixed.whole > 0.0 && mixed.above >= mixed.divisor {
        return Err(LengthError::new(
            "has a fraction of one or more beside its whole inches",
            "a whole number and a fraction below one, such as \"1-3/8 in\"",
        ));
    }
    Ok(mixed)
}

fn whole_number(text: &str) -> Option<f64> {
    let fits =
        !text.is_empty() && text.len() <= MOST_DIGITS && text.bytes().all(|b| b.is_ascii_digit());
    if fits { text.parse().ok() } else { None }
}

/// Digits with at most one point; no sign, no exponent.
fn parse_decimal(text: &str, unit: &str) -> Result<f64, LengthError> {
    if text.contains(',') {
        let mended = text.replace(',', ".");
        let hint = if parse_decimal(&mended, unit).is_ok() {
            format!("\"{mended} {unit}\"")
        } else {
            FORMS.to_owned()
        };
        return Err(LengthError::new(
            "has a comma where a decimal point belongs",
            hint,
        ));
    }
    let digits = text.bytes().filter(u8::is_ascii_digit).count();
    let points = text.bytes().filter(|b| *b == b'.').count();
    let clean =
        digits + points == text.len() && points <= 1 && digits > 0 && digits <= 2 * MOST_DIGITS;
    match text.parse::<f64>() {
        Ok(value) if clean && value.is_finite() => Ok(value),
        _ => Err(LengthError::new("is not a length", FORMS)),
    }
}

/// A foreign text cut to a length that fits a message.
fn short(text: &str) -> String {
    let mut out: String = text.chars().filter(|c| !c.is_control()).take(12).collect();
    if text.chars().count() > 12 {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests;
