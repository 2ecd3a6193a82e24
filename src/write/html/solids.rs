//! Measures of the solids.

use crate::solid::{Part, Solids};
use crate::units::{Lengths, number};

use super::escape::text;
use super::table::{Table, length, unit_note};

/// Volume, area, centroid, extent of every solid.
pub fn section(solids: &Solids, lengths: Lengths) -> String {
    let mut measures = Table::new(
        "Volume and area of the finished solids, printing allowances left out",
        &["Solid", "Volume, mm³", "Area, mm²", "Volume, cm³"],
    );
    let mut places = Table::new(
        &format!(
            "Centroid and extent, each solid in its own frame ({})",
            unit_note(lengths)
        ),
        &["Solid", "Point", "x", "y", "z"],
    );
    for part in solids.parts() {
        let of = &part.measures;
        measures.row(
            name(part),
            vec![
                number(of.volume),
                number(of.area),
                number(of.volume / 1000.0),
            ],
        );
        for (what, point) in [
            ("centroid", of.centroid),
            ("least corner", of.min),
            ("greatest corner", of.max),
        ] {
            let mut cells = vec![what.to_owned()];
            cells.extend(point.to_array().iter().map(|mm| length(*mm, lengths)));
            places.row(name(part), cells);
        }
    }
    format!(
        "<p>Exact solids, proved closed and oriented, their volume integrated over the faces and \
         held against the closed form. Weight: the volume in cm³ times the wood's density in \
         g/cm³ gives grams.</p>\n{}{}",
        measures.draw(),
        places.draw()
    )
}

fn name(part: &Part) -> String {
    let mut letters = part.name.chars();
    let first = letters
        .next()
        .map(|letter| letter.to_uppercase().collect::<String>());
    text(&format!(
        "{}{}",
        first.unwrap_or_default(),
        letters.as_str()
    ))
}
