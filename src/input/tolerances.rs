//! `[tolerances]`: how true the shop must work. Design data; nothing computes with it.

use super::defaults::{
    AXIS_TOLERANCE, BORE_TOLERANCE, BUSH_SEAT, PITCH_TOLERANCE, SQUARENESS_BELOW,
    SQUARENESS_DEGREES,
};
use super::field::{Field, Sign};
use super::reader::{Reader, shown};
use crate::diagnostic::meant::nearest;
use crate::standards::iso286::{self, HOLES, HoleClass};

/// Tolerances stated on the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerances {
    /// Either way, mm: distance of any two neighbouring bores of one side, along that side.
    pub pitch: f64,
    /// Above the nominal bore diameter, nothing below it, mm.
    pub bore_diameter: f64,
    /// Either way, mm: bore axis below the face.
    pub axis_below_face: f64,
    /// Either way, radians: bore axis to the side it enters.
    pub squareness: f64,
    /// Class of the seats of drill bushes in the guide block.
    pub bush_seat: &'static HoleClass,
}

pub(crate) fn read(r: Reader<'_>) -> Option<Tolerances> {
    let pitch = r.length("pitch", Sign::AboveZero).or(PITCH_TOLERANCE);
    let bore = r
        .length("bore_diameter", Sign::AboveZero)
        .or(BORE_TOLERANCE);
    let axis = r
        .length("axis_below_face", Sign::AboveZero)
        .or(AXIS_TOLERANCE);
    let fits = |degrees: f64| degrees > 0.0 && degrees < SQUARENESS_BELOW;
    let squareness = r
        .degrees("squareness", "above 0 and below 5 degrees", fits)
        .or(SQUARENESS_DEGREES);
    let bush_seat = bush_seat(r).or(BUSH_SEAT);
    Some(Tolerances {
        pitch: pitch?,
        bore_diameter: bore?,
        axis_below_face: axis?,
        squareness: squareness?.to_radians(),
        bush_seat: iso286::hole_class(bush_seat?)?,
    })
}

/// The name of the class of the bush seats.
fn bush_seat(r: Reader<'_>) -> Field<&'static str> {
    let name = match r.text("bush_seat") {
        Field::Absent => return Field::Absent,
        Field::Bad => return Field::Bad,
        Field::Good(name) => name,
    };
    let names = || HOLES.iter().map(|class| class.name);
    if let Some(known) = names().find(|known| *known == name) {
        return Field::Good(known);
    }
    let capital = name.trim().to_uppercase();
    let hint = names()
        .find(|known| *known == capital)
        .or_else(|| nearest(&capital, names()))
        .map_or_else(
            || format!("one of {}", names().collect::<Vec<_>>().join(", ")),
            |near| format!("\"{near}\""),
        );
    let message = if name != capital && names().any(|known| known == capital) {
        format!(
            "`bush_seat`: \"{}\" is not how a hole is written; small letters are for shafts",
            shown(&name)
        )
    } else {
        format!(
            "`bush_seat`: \"{}\" is no hole class of {} known here",
            shown(&name),
            iso286::DESIGNATION
        )
    };
    r.fault("bush_seat", message, hint);
    Field::Bad
}
