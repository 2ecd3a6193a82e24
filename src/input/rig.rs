//! `[rig]`: the wooden rig that holds head and block square under the drill press.

use super::defaults::{
    RIG_BASE, RIG_BEHIND, RIG_BEYOND, RIG_FIXING, RIG_FRONT, RIG_PACKING, RIG_RELIEF, RIG_UPRIGHT,
    RIG_WEDGE_THIN_END,
};
use super::design::Rig;
use super::field::Sign;
use super::reader::Reader;
use crate::standards::iso273::THREADS;

pub(crate) fn read(r: Reader<'_>) -> Option<Rig> {
    let length = |name: &str, default: f64| r.length(name, Sign::AboveZero).or(default);
    let (base, upright) = (length("base", RIG_BASE), length("upright", RIG_UPRIGHT));
    let (front, behind) = (length("front", RIG_FRONT), length("behind", RIG_BEHIND));
    let (beyond, relief) = (length("beyond", RIG_BEYOND), length("relief", RIG_RELIEF));
    let packing = length("packing", RIG_PACKING);
    let thin_end = length("wedge_thin_end", RIG_WEDGE_THIN_END);
    let fixing = r.word("fixing", THREADS).or(RIG_FIXING);
    if let Some((upright, relief)) = upright.zip(relief).filter(|(u, relief)| relief >= u) {
        let message = format!(
            "the relief, {}, must be shallower than the upright is thick, {}",
            r.show(relief),
            r.show(upright)
        );
        let name = if r.has("relief") { "relief" } else { "upright" };
        let hint = if r.has("relief") {
            "about half the upright's thickness"
        } else {
            "a thicker upright, or a smaller `relief` given beside it"
        };
        r.clash(name, message, hint);
        return None;
    }
    Some(Rig {
        base: base?,
        upright: upright?,
        front: front?,
        behind: behind?,
        beyond: beyond?,
        relief: relief?,
        packing: packing?,
        wedge_thin_end: thin_end?,
        fixing: fixing?.to_owned(),
    })
}
