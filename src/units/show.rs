//! Lengths, angles and bare numbers as people read them.

use std::fmt;

use super::MM_PER_INCH;

/// A number in its shortest exact form, never "-0".
#[must_use]
pub fn plain(value: f64) -> String {
    format!("{}", value + 0.0)
}

/// What one value may come to when it is worked out in two ways, in its own unit: rounding noise of sums.
const SAME: f64 = 1e-9;

/// Fixed decimals, never "-0.00". A value at the half goes away from zero, however it was worked out: one
/// point must not have two figures.
fn fixed(value: f64, decimals: u8) -> String {
    let scale = 10f64.powi(i32::from(decimals));
    let steps = value.abs() * scale;
    let below = steps.floor();
    let at_half = (steps - below - 0.5).abs() < SAME * scale;
    let rounded = if at_half {
        ((below + 1.0) / scale).copysign(value)
    } else {
        value
    };
    let decimals = usize::from(decimals);
    let text = format!("{rounded:.decimals$}");
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
    format!("{} in", bare_inches(mm))
}

/// Inches to a thousandth without their unit, for tables, from millimetres: `0.413`.
#[must_use]
pub fn bare_inches(mm: f64) -> String {
    fixed(mm / MM_PER_INCH, 3)
}

/// A value rounded up or down to a whole number of steps; one within `slack` of a step, as a share of it,
/// stays on that step.
#[must_use]
pub fn on_step(value: f64, step: f64, up: bool, slack: f64) -> f64 {
    let steps = value / step;
    let near = steps.round();
    let steps = if (steps - near).abs() < slack {
        near
    } else if up {
        steps.ceil()
    } else {
        steps.floor()
    };
    steps * step
}

/// The nearest 1/64 inch, from millimetres, in lowest terms: `13/32 in`, `1-3/8 in`, `2 in`, `0 in`.
#[must_use]
pub fn show_sixty_fourths(mm: f64) -> String {
    format!("{} in", SixtyFourths::nearest(mm))
}

/// A count of 1/64 inch, printed as makers write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SixtyFourths(pub(super) i64);

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
    let small = value != 0.0 && value.abs() < 0.005 - SAME && value.abs() >= 0.000_05;
    fixed(value, if small { 4 } else { 2 })
}
