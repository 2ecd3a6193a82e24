//! `[template]`: the router bit and what guides it, for the routing template of the slots.

use super::defaults::STRAIGHT_BITS;
use super::design::Slots;
use super::field::Sign;
use super::reader::Reader;
use super::together;
use crate::tolerance::NOISE;
use crate::units::plain;

/// Bit and guide of the routing template.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Template {
    /// Diameter of the bit, mm.
    pub cutter: f64,
    /// Outside diameter of the guide bush or bearing that runs in the template, mm.
    pub bush: f64,
}

/// Outer `None`: wrong; inner `None`: a head without slots needs no template. `slots`: `None` where
/// that table is wrong.
#[allow(clippy::option_option)]
pub(crate) fn read(
    r: Reader<'_>,
    given: bool,
    slots: Option<Option<&Slots>>,
) -> Option<Option<Template>> {
    let cutter = r.length("cutter", Sign::AboveZero).optional();
    let bush = r.length("bush", Sign::AboveZero).optional();
    let (cutter, bush, slots) = (cutter?, bush?, slots?);
    let Some(slots) = slots else {
        if given {
            r.clash(
                r.entries().next().map_or("cutter", |(name, _)| name),
                "the head has no [slots] for a template to rout",
                "a table [slots], or no table [template]",
            );
        }
        return Some(None);
    };
    if bush.is_some() && cutter.is_none() {
        r.missing("cutter");
        return None;
    }
    let cutter = cutter.unwrap_or_else(|| usual_cutter(slots));
    if !together::cutter_fits(cutter, slots.width) {
        let message = format!(
            "a cutter of {} does not go into a slot {} wide",
            r.show(cutter),
            r.show(slots.width)
        );
        r.clash(
            "cutter",
            message,
            format!("\"{} mm\" or less", plain(usual_cutter(slots))),
        );
    }
    Some(Some(Template {
        cutter,
        // A bit with a bearing of its own diameter.
        bush: bush.unwrap_or(cutter),
    }))
}

/// The largest usual straight bit that reaches into the slot's corners, or that goes into a slot
/// with square ones; where there is none so small, one as wide as they allow.
fn usual_cutter(slots: &Slots) -> f64 {
    let most = if slots.corner_radius > 0.0 {
        2.0 * slots.corner_radius
    } else {
        slots.width
    };
    STRAIGHT_BITS
        .iter()
        .copied()
        .filter(|bit| *bit <= most + NOISE)
        .fold(None, |best: Option<f64>, bit| {
            Some(best.map_or(bit, |best| best.max(bit)))
        })
        .unwrap_or(most)
}
