//! The words that keys take, as they are typed: the readers go by them, and so does the schema.

use super::design::Side;
use super::wood::Cut;

/// `head.crest`, the default first.
pub(crate) const CREST: [&str; 2] = [FLAT, ARCH];
/// A flat crest; also the end of a bore, `bores.point`.
pub(crate) const FLAT: &str = "flat";
/// A crest that is an arc.
pub(crate) const ARCH: &str = "arch";
/// `unit`, the default first.
pub(crate) const UNIT: [&str; 2] = [MM, IN];
/// Millimetres.
pub(crate) const MM: &str = "mm";
/// Inches.
pub(crate) const IN: &str = "in";
/// `placement.along` and `placement.depth`, where they are no length.
pub(crate) const CENTRED: [&str; 1] = ["centred"];
/// `strings.leaves`: on the face's side of the barrel, or on the back's.
pub(crate) const LEAVES: [&str; 2] = ["over", "under"];
/// `strings.walk`: to the side, or to the rib.
pub(crate) const WALK: [&str; 2] = ["out", "in"];
/// `wood.cut`.
pub(crate) const CUT: [&str; 2] = [Cut::QuarterSawn.name(), Cut::FlatSawn.name()];
/// `drilled.side`.
pub(crate) const SIDE: [&str; 2] = [Side::Treble.name(), Side::Bass.name()];

/// The unit that a wrong word for one was meant to be.
pub(crate) fn unit_meant(text: &str) -> Option<&'static str> {
    let lower = text.trim().to_lowercase();
    if lower.starts_with('i') || lower.contains(['"', '\u{201d}', '\u{2033}']) {
        Some(IN)
    } else {
        lower.starts_with('m').then_some(MM)
    }
}
