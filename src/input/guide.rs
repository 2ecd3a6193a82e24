//! `[guide]`: the drilling guide block.

use super::design::{Guide, Scribe};
use super::field::{Field, Sign};
use super::known::Known;
use super::reader::Reader;
use super::together;

pub(crate) fn read(r: Reader<'_>, known: &Known) -> Option<Guide> {
    let depth = r.need_length("depth", Sign::AboveZero);
    let height = match r.length("height", Sign::AboveZero) {
        Field::Absent => known.thickness,
        given => given.good(),
    };
    let axis_height = r.length("axis_height", Sign::AboveZero).optional();
    let end_margin = r.need_length("end_margin", Sign::AboveZero);
    let bore_diameter = match r.length("bore_diameter", Sign::AboveZero) {
        Field::Absent => known.bore_diameter,
        given => given.good(),
    };
    let bush_diameter = r.length("bush_diameter", Sign::AboveZero).optional();
    let scribe = scribe(r, height, end_margin, known);
    Some(Guide {
        depth: depth?,
        height: height?,
        axis_height: axis_height?,
        end_margin: end_margin?,
        bore_diameter: bore_diameter?,
        bush_diameter: bush_diameter?,
        scribe: scribe?,
    })
}

/// The scribe grooves; inner `None`: none.
#[allow(clippy::option_option)]
fn scribe(
    r: Reader<'_>,
    height: Option<f64>,
    end_margin: Option<f64>,
    known: &Known,
) -> Option<Option<Scribe>> {
    let table = match r.table("scribe") {
        Field::Absent => return Some(None),
        Field::Bad => return None,
        Field::Good(table) => table,
    };
    let s = Reader::new(r.context(), table, "guide.scribe");
    let width = s.need_length("width", Sign::AboveZero);
    let depth = s.need_length("depth", Sign::AboveZero);
    let deep = |(depth, height): &(f64, f64)| !together::groove_is_shallow_enough(*depth, *height);
    if let Some((_, height)) = depth.zip(height).filter(deep) {
        let message = format!(
            "the groove must be shallower than the block is high, {}",
            r.show(height)
        );
        s.clash(
            "depth",
            message,
            "a scratch to set a line by, such as \"0.4 mm\"",
        );
    }
    let pitches = known
        .pitches
        .iter()
        .flat_map(|p| p.treble.iter().chain(&p.bass))
        .copied();
    let room = pitches.chain(end_margin.map(|margin| 2.0 * margin));
    if let Some(width) = width.filter(|width| !together::groove_is_narrow_enough(*width, room)) {
        let message = format!(
            "a groove {} wide runs into the next groove or off the block's end",
            r.show(width)
        );
        s.clash(
            "width",
            message,
            "a scratch to set a line by, such as \"0.8 mm\"",
        );
    }
    Some(Some(Scribe {
        width: width?,
        depth: depth?,
    }))
}
