//! The rib window: how narrow and how wide the rib between the slots may be.

use crate::input::Lie;
use crate::layout::Layout;

use super::RibWindow;

/// Barrel that should bear in the rib, mm, along the axis.
const BEARING: f64 = 3.0;
/// Distance of a string from the rib, mm, where it meets the face.
const STRING: f64 = 0.5;

/// The least rib for 3 mm of bearing in every bore, at least 0, and the greatest that every string
/// clears by 0.5 mm where it meets the face; `None` unless the slots leave a rib.
#[must_use]
pub fn rib_window(layout: &Layout) -> Option<RibWindow> {
    let Lie::Rib(_) = layout.design.slots.as_ref()?.lie else {
        return None;
    };
    let length = layout.design.machines.barrel_length;
    // The axis is at the inner wall, |x| = rib/2, at depth (|x of the entry| − rib/2)/cos θ.
    let least = layout
        .bores()
        .map(|bore| 2.0 * (bore.half_width() - (length - BEARING) * bore.taper.cos()))
        .fold(0.0, f64::max);
    let greatest = layout
        .strings
        .iter()
        .filter_map(|string| Some(2.0 * (string.at_face?.x * string.side.sign() - STRING)))
        .fold(f64::INFINITY, f64::min);
    Some(RibWindow { least, greatest })
}
