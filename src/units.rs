//! Lengths and angles at the rim of the program: reading what a maker types, printing what a
//! maker reads. Inside, everything is millimetres and radians; this is the only 25.4.

use std::fmt;

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
    LengthError::new(
        "has no unit",
        format!("\"{shown} mm\" or \"{shown} in\", or the bare number without quotes"),
    )
}

fn unknown_unit(number: &str, unit: &str) -> LengthError {
    let shown = if number.is_empty() { "10.5" } else { number };
    let message = format!("has the unit `{}`, which is neither mm nor in", short(unit));
    let lower = unit.to_lowercase();
    let metric = |factor: f64| match parse_decimal(number, "mm") {
        Ok(value) => format!("\"{} mm\"", plain(value * factor)),
        Err(_) => "the length in millimetres, such as \"10.5 mm\"".to_owned(),
    };
    let hint = match lower.as_str() {
        "\"" | "\u{201d}" | "\u{2033}" | "''" | "inch" | "inches" | "in." | "ins" | "in"
        | "zoll" => {
            format!("\"{shown} in\"")
        }
        "mm" | "mm." | "millimetre" | "millimetres" | "millimeter" | "millimeters" => {
            format!("\"{shown} mm\"")
        }
        "cm" => metric(10.0),
        "m" => metric(1000.0),
        "nan" | "inf" => FORMS.to_owned(),
        _ => format!("\"{shown} mm\" or \"{shown} in\""),
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

/// A number in its shortest exact form, never "-0".
#[must_use]
pub fn plain(value: f64) -> String {
    format!("{}", value + 0.0)
}

/// Fixed decimals, never "-0.00".
fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// Millimetres to a hundredth, for people: `10.50 mm`.
#[must_use]
pub fn show_mm(mm: f64) -> String {
    format!("{} mm", fixed(mm, 2))
}

/// Inches to a thousandth, for people, from millimetres: `0.413 in`.
#[must_use]
pub fn show_inches(mm: f64) -> String {
    format!("{} in", fixed(mm / MM_PER_INCH, 3))
}

/// The nearest 1/64 inch, from millimetres, in lowest terms: `13/32 in`, `1-3/8 in`, `2 in`, `0 in`.
#[must_use]
pub fn show_sixty_fourths(mm: f64) -> String {
    format!("{} in", SixtyFourths::nearest(mm))
}

/// A count of 1/64 inch, printed as makers write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SixtyFourths(i64);

impl SixtyFourths {
    /// The count nearest to a length in millimetres.
    #[must_use]
    pub fn nearest(mm: f64) -> Self {
        // A float cast saturates and turns NaN to 0, so no input can panic here.
        #[allow(clippy::cast_possible_truncation)]
        SixtyFourths((mm / MM_PER_INCH * 64.0).round() as i64)
    }

    /// The length in millimetres.
    #[must_use]
    #[allow(clippy::cast_precision_loss)]
    pub fn mm(self) -> f64 {
        self.0 as f64 * MM_PER_INCH / 64.0
    }
}

impl fmt::Display for SixtyFourths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let count = self.0.unsigned_abs();
        let (whole, mut above, mut below) = (count / 64, count % 64, 64);
        while above > 0 && above % 2 == 0 {
            above /= 2;
            below /= 2;
        }
        if self.0 < 0 {
            f.write_str("-")?;
        }
        match (whole, above) {
            (whole, 0) => write!(f, "{whole}"),
            (0, above) => write!(f, "{above}/{below}"),
            (whole, above) => write!(f, "{whole}-{above}/{below}"),
        }
    }
}

/// Degrees to a hundredth, for people, from radians: `14.00°`.
#[must_use]
pub fn show_degrees(radians: f64) -> String {
    format!("{}°", fixed(radians.to_degrees(), 2))
}

/// How lengths are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lengths {
    /// Inches beside the millimetres.
    pub inches: bool,
}

impl Lengths {
    /// A length with its unit: `10.50 mm`, or `10.50 mm (0.413 in)`.
    #[must_use]
    pub fn show(self, mm: f64) -> String {
        if self.inches {
            format!("{} ({})", show_mm(mm), show_inches(mm))
        } else {
            show_mm(mm)
        }
    }

    /// A value in a check's unit.
    #[must_use]
    pub fn value(self, value: f64, unit: &str) -> String {
        match unit {
            "mm" => self.show(value),
            "deg" => format!("{}°", number(value)),
            "" => number(value),
            other => format!("{} {other}", number(value)),
        }
    }
}

/// Two decimals, never "-0.00"; four where two would show nothing of a number that is there.
#[must_use]
pub fn number(value: f64) -> String {
    let text = if value != 0.0 && value.abs() < 0.005 && value.abs() >= 0.000_05 {
        format!("{value:.4}")
    } else {
        format!("{value:.2}")
    };
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn good(text: &str, mm: f64) {
        let read = parse_length(text).unwrap();
        assert!((read - mm).abs() < 1e-12, "{text}: {read}");
    }

    fn bad(text: &str, message: &str, hint: &str) {
        let error = parse_length(text).unwrap_err();
        assert!(error.message.contains(message), "{text}: {}", error.message);
        assert!(error.hint.contains(hint), "{text}: {}", error.hint);
    }

    #[test]
    fn reads_every_form_of_the_contract() {
        good("10.5 mm", 10.5);
        good("0.413 in", 0.413 * 25.4);
        good("13/32 in", 10.31875);
        good("1-3/8 in", 34.925);
        good("1 3/8 in", 34.925);
        good("  11/16 in ", 17.4625);
        good("-11 mm", -11.0);
        good("-1/2 in", -12.7);
        good("+.5in", 12.7);
        good("20mm", 20.0);
        good("13/8 in", 41.275);
        good("0 mm", 0.0);
    }

    #[test]
    fn refuses_with_a_hint() {
        bad("10,5 mm", "comma", "\"10.5 mm\"");
        bad("10.5", "no unit", "\"10.5 mm\"");
        bad("13/32", "no unit", "\"13/32 in\"");
        bad("3/0 in", "zero", "3/16 in");
        bad("2-3/0 in", "zero", "2-3/16 in");
        bad("5/2 mm", "fraction of a millimetre", "\"2.5 mm\"");
        bad("1.5 cm", "`cm`", "\"15 mm\"");
        bad("1-3/8\"", "neither mm nor in", "\"1-3/8 in\"");
        bad("10 MM", "`MM`", "\"10 mm\"");
        bad("3 inches", "`inches`", "\"3 in\"");
        bad("", "empty", "10.5 mm");
        bad("mm", "no number", "10.5 mm");
        bad("ten mm", "neither", "mm");
        bad("1.2.3 mm", "not a length", "10.5 mm");
        bad("--5 mm", "two signs", "10.5 mm");
        bad("1.5/8 in", "fraction", "13/32 in");
        bad("1-9/8 in", "one or more", "1-3/8 in");
        bad("1/2/3 in", "fraction", "13/32 in");
        bad("nan mm", "neither", "10.5 mm");
        bad("1e400 mm", "not a length", "10.5 mm");
        bad("½ in", "not a length", "13/32 in");
    }

    #[test]
    fn prints_for_people() {
        assert_eq!(show_mm(10.5), "10.50 mm");
        assert_eq!(show_mm(-0.001), "0.00 mm");
        assert_eq!(show_mm(-0.126), "-0.13 mm");
        assert_eq!(show_inches(10.5), "0.413 in");
        assert_eq!(show_sixty_fourths(10.31875), "13/32 in");
        assert_eq!(show_sixty_fourths(34.925), "1-3/8 in");
        assert_eq!(show_sixty_fourths(50.8), "2 in");
        assert_eq!(show_sixty_fourths(0.1), "0 in");
        assert_eq!(show_sixty_fourths(-12.7), "-1/2 in");
        assert_eq!(show_degrees(14f64.to_radians()), "14.00°");
        assert_eq!(plain(-0.0), "0");
    }

    #[test]
    fn numbers() {
        assert_eq!(number(-0.0001), "-0.0001");
        assert_eq!(number(-1e-9), "0.00");
        assert_eq!(number(0.0002), "0.0002");
        let both = Lengths { inches: true };
        assert_eq!(both.value(10.5, "mm"), "10.50 mm (0.413 in)");
        assert_eq!(both.value(8.5, "deg"), "8.50°");
        assert_eq!(Lengths { inches: false }.show(10.5), "10.50 mm");
    }

    proptest! {
        #[test]
        fn printed_millimetres_read_back_to_the_hundredth(mm in -2000.0..2000.0f64) {
            let read = parse_length(&show_mm(mm)).unwrap();
            prop_assert!((read - mm).abs() <= 0.005 + 1e-9);
        }

        #[test]
        fn printed_inches_read_back_to_the_thousandth(mm in -2000.0..2000.0f64) {
            let read = parse_length(&show_inches(mm)).unwrap();
            prop_assert!((read - mm).abs() <= 0.0005 * MM_PER_INCH + 1e-9);
        }

        #[test]
        fn sixty_fourths_read_back_exactly(count in -5000i64..5000) {
            let mm = SixtyFourths(count).mm();
            let read = parse_length(&show_sixty_fourths(mm)).unwrap();
            prop_assert!((read - mm).abs() < 1e-12 * mm.abs().max(1.0));
        }

        #[test]
        fn a_plain_number_reads_back_exactly(mm in 0.0..2000.0f64) {
            prop_assert_eq!(parse_length(&format!("{} mm", plain(mm))).unwrap().to_bits(), mm.to_bits());
        }

        #[test]
        fn no_text_panics_and_every_hint_says_something(text in "\\PC{0,24}") {
            if let Err(error) = parse_length(&text) {
                prop_assert!(!error.message.is_empty() && !error.hint.is_empty());
            }
        }

        #[test]
        fn length_like_text_gives_a_finite_number_or_an_error(text in "[-+ ]?[0-9]{0,3}[-., /]?[0-9]{0,3}[/ ]?[0-9]{0,3} ?(mm|in|cm|)") {
            if let Ok(mm) = parse_length(&text) {
                prop_assert!(mm.is_finite());
            }
        }
    }
}
