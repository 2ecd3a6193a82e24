//! `[slots]`: width, lie and ends of the string slots.

use super::defaults::{CORNER_SHARE, RAMP_BELOW};
use super::design::{Lie, Ramp, Slots};
use super::field::{Choice, Field, Sign};
use super::reader::Reader;
use super::{joined, together};

pub(crate) fn read(r: Reader<'_>) -> Option<Slots> {
    let width = r.need_length("width", Sign::AboveZero);
    let rib = r.length("rib", Sign::AboveZero);
    let cheek = r.length("cheek", Sign::AboveZero);
    let lie = match r.choose(joined::LIE) {
        Choice::Of("rib") => rib.good().map(Lie::Rib),
        Choice::Of("cheek") => cheek.good().map(Lie::Cheek),
        Choice::Of(_) | Choice::None | Choice::Several => None,
    };
    let end_margin = r.need("end_margin", r.pair("end_margin", Sign::ZeroOrMore));
    let corner = r.length("corner_radius", Sign::ZeroOrMore);
    let ramp = ramp(r);
    let half = width.map(|width| width * CORNER_SHARE);
    let corner_radius = match corner {
        Field::Absent => half,
        Field::Bad => None,
        Field::Good(radius) => {
            if let Some(half) = half.filter(|half| !together::corner_fits(radius, *half)) {
                let message = format!(
                    "`corner_radius` must not be more than half the slot's width, {}",
                    r.show(half)
                );
                r.clash(
                    "corner_radius",
                    message,
                    format!(
                        "\"{} {}\" or less",
                        r.unit("corner_radius").typed_down(half),
                        r.unit("corner_radius").name()
                    ),
                );
            }
            half.map(|half| radius.min(half))
        }
    };
    Some(Slots {
        width: width?,
        lie: lie?,
        end_margin: end_margin?,
        corner_radius: corner_radius?,
        ramp: ramp?,
    })
}

/// The ramp; inner `None`: none.
#[allow(clippy::option_option)]
fn ramp(r: Reader<'_>) -> Option<Option<Ramp>> {
    let table = match r.table("ramp") {
        Field::Absent => return Some(None),
        Field::Bad => return None,
        Field::Good(table) => table,
    };
    let s = Reader::new(r.context(), table, "slots.ramp");
    let mouth = s.need_length("mouth", Sign::ZeroOrMore);
    let fits = |degrees: f64| degrees > 0.0 && degrees < RAMP_BELOW;
    let angle = s.need(
        "angle",
        s.degrees("angle", "above 0 and below 80 degrees", fits),
    );
    Some(Some(Ramp {
        mouth: mouth?,
        angle: angle?.to_radians(),
    }))
}
