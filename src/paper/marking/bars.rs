//! The check bars, and the correction for a printer that scales.

use glam::DVec2;

use crate::paper::dimension::{Style, put};
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::units::show_mm;

/// Length of a check bar, mm.
pub const CHECK_BAR: f64 = 100.0;
/// A printed bar outside this range was not scaled by a printer but misread, or measured on
/// another sheet, mm (our assumption).
const CREDIBLE: (f64, f64) = (90.0, 110.0);
/// Ticks at the ends and within, mm.
const END_TICK: f64 = 4.0;
const TICK: f64 = 1.5;

/// A printed check bar as measured, mm, within reason.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CheckBar(f64);

/// A measured bar that cannot be right.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error(
    "the check bar is drawn 100 mm long; {measured} cannot be how it was printed. Measure it in \
     millimetres, from end tick to end tick, such as 99.6"
)]
pub struct BarError {
    measured: String,
}

impl CheckBar {
    /// A bar that measured `mm` on paper.
    ///
    /// # Errors
    /// A length outside 90 to 110 mm, or no number.
    pub fn measured(mm: f64) -> Result<CheckBar, BarError> {
        if mm >= CREDIBLE.0 && mm <= CREDIBLE.1 {
            Ok(CheckBar(mm))
        } else {
            Err(BarError {
                measured: show_mm(mm),
            })
        }
    }

    /// What it measured, mm.
    #[must_use]
    pub fn mm(self) -> f64 {
        self.0
    }

    /// By how much everything is drawn larger so that it prints true.
    #[must_use]
    pub fn scale(self) -> f64 {
        CHECK_BAR / self.0
    }
}

/// A bar from `at`, level or upright, ticks to the left of its way.
pub(super) fn bar(sheet: &mut Sheet, at: DVec2, along: DVec2) {
    let side = along.perp();
    let layer = Layer::CheckBar;
    sheet.line(layer, LineKind::Wide, at, at + along * CHECK_BAR);
    for tenth in 0..=10 {
        let foot = at + along * (f64::from(tenth) * CHECK_BAR / 10.0);
        let end = tenth % 10 == 0;
        let length = if end { END_TICK } else { TICK };
        sheet.line(layer, LineKind::Narrow, foot, foot + side * length);
    }
    let style = Style {
        text: 2.2,
        ..Style::default()
    };
    let middle = at + along * (CHECK_BAR / 2.0) + side * 2.2;
    let turn = along.to_angle();
    let text = "check bar: 100 mm from end to end";
    put(sheet, layer, middle, turn, Anchor::Middle, style, text);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_bar_that_a_printer_can_have_made_is_taken() {
        let bar = CheckBar::measured(99.6).unwrap();
        assert!((bar.scale() - 100.0 / 99.6).abs() < 1e-15);
        for wrong in [0.0, -99.6, 9.96, 996.0, f64::NAN, f64::INFINITY] {
            assert!(CheckBar::measured(wrong).is_err(), "{wrong}");
        }
    }
}
