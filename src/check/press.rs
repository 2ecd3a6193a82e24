//! `press-travel`, `press-flutes`, `press-daylight`: whether the job fits the drill press. Only
//! where `[press]` describes one. The value is what the job needs, the limit what there is.
//!
//! Bit and flute lengths come from the file, else from the jobber table for the bore; where neither
//! knows, the check is absent.

use crate::input::Press;
use crate::layout::Layout;
use crate::plane::Region;
use crate::standards::jobber::{Row, jobber};

use super::Basis;
use super::measure::Measure;

/// A length from the file, or from the table's row for the bore.
fn length(layout: &Layout, given: Option<f64>, of: impl Fn(&Row) -> f64) -> Option<(f64, Basis)> {
    given.map(|length| (length, Basis::Own)).or_else(|| {
        let row = jobber(layout.design.bores.diameter)?;
        let basis = match row.mark {
            crate::standards::Mark::Confirmed => {
                "ISO 235 / DIN 338 jobber series, confirmed in a trade copy"
            }
            _ => "ISO 235 / DIN 338 jobber series, from memory",
        };
        Some((of(&row), Basis::Published(basis)))
    })
}

fn with_press(layout: &Layout, make: impl Fn(&Press) -> Option<Measure>) -> Vec<Measure> {
    layout
        .design
        .press
        .as_ref()
        .and_then(make)
        .into_iter()
        .collect()
}

/// Stop figure against the quill's travel.
pub(super) fn travel(layout: &Layout) -> Vec<Measure> {
    with_press(layout, |press| {
        let at = "from the block's top to the point's end";
        Some(
            Measure::new(layout.longest_stop(), at, &["press.travel", "guide.depth"])
                .caution_at(press.travel, Basis::Own),
        )
    })
}

/// The same against the bit's flutes, which must still clear chips out of the block at full depth.
pub(super) fn flutes(layout: &Layout) -> Vec<Measure> {
    with_press(layout, |press| {
        let (flute, basis) = length(layout, press.flute_length, |row| row.flute)?;
        // No bit has flutes longer than itself.
        let (flute, basis) = match press.bit_length {
            Some(bit) if bit < flute => (bit, Basis::Own),
            _ => (flute, basis),
        };
        let at = "from the block's top to the point's end";
        Some(
            Measure::new(
                layout.longest_stop(),
                at,
                &["press.flute_length", "guide.depth"],
            )
            .caution_at(flute, basis),
        )
    })
}

/// Head on edge, block on it, bit above: against the largest opening of the press.
pub(super) fn daylight(layout: &Layout) -> Vec<Measure> {
    with_press(layout, |press| {
        let daylight = press.daylight?;
        let (bit, _) = length(layout, press.bit_length, |row| row.overall)?;
        let outline: Region = layout.outline.region();
        let width = outline.reach(glam::DVec2::X) + outline.reach(-glam::DVec2::X);
        Some(
            Measure::new(
                width + layout.design.guide.depth + bit,
                "head on edge, block and bit",
                &["press.daylight", "press.bit_length", "guide.depth"],
            )
            .caution_at(daylight, Basis::Own),
        )
    })
}
