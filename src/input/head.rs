//! `[head]`: outline, thickness and angle.

use super::defaults::{ANGLE_BELOW, EDGE_RADIUS, LEAST_ARCH, SIDE_START, VENEER, VENEERS_ON};
use super::design::{Crest, Head, PerSide};
use super::field::{Field, Sign};
use super::known::Known;
use super::reader::{Reader, shown};
use super::tree::Value;
use super::{together, words};
use crate::tolerance::NOISE;
use crate::units::plain;

pub(crate) fn read(r: Reader<'_>, known: &mut Known) -> Option<Head> {
    let length = r.need_length("length", Sign::AboveZero);
    let side_start = r.length("side_start", Sign::ZeroOrMore).or(SIDE_START);
    let side_end = r.length("side_end", Sign::AboveZero);
    let at_start = r.need_length("width_at_nut_end", Sign::AboveZero);
    let at_end = r.need_length("width_at_crest_end", Sign::AboveZero);
    let shoulder = r.length("shoulder_width", Sign::AboveZero).optional();
    let thickness = r.need_length("thickness", Sign::AboveZero);
    let crest_thickness = r.length("thickness_at_crest", Sign::AboveZero);
    let face_veneer = r.length("face_veneer", Sign::ZeroOrMore).or(VENEER);
    let back_veneer = r.length("back_veneer", Sign::ZeroOrMore).or(VENEER);
    let veneers_on = r.flag("veneers_on").or(VENEERS_ON);
    let below = |degrees: f64| (0.0..ANGLE_BELOW).contains(&degrees);
    let angle = r.need(
        "angle",
        r.degrees("angle", "from 0 to below 90 degrees", below),
    );
    let crest = r.word("crest", &words::CREST).or(words::FLAT).map(|word| {
        if word == words::ARCH {
            Crest::Arch
        } else {
            Crest::Flat
        }
    });
    let edge_radius = r.length("edge_radius", Sign::ZeroOrMore).or(EDGE_RADIUS);
    let bass = bass(r);

    known.thickness = thickness;
    let thickness_at_crest = match (crest_thickness, thickness) {
        (Field::Absent, default) => default,
        (given, _) => given.good(),
    };
    if let (Some(nut), Some(crest), Some(face), Some(back)) =
        (thickness, thickness_at_crest, face_veneer, back_veneer)
        && !together::veneers_leave_wood([face, back], [nut, crest])
    {
        let key = if r.has("face_veneer") && face >= back {
            "face_veneer"
        } else {
            "back_veneer"
        };
        let message = format!(
            "the veneers, {} together, leave no wood between them",
            r.show(face + back)
        );
        r.clash(
            key,
            message,
            format!("veneers that come to less than {}", r.show(nut.min(crest))),
        );
    }
    let start = at_start
        .zip(bass)
        .map(|(w, bass)| halves(w, bass.map(|b| b[0])));
    let end = at_end
        .zip(bass)
        .map(|(w, bass)| halves(w, bass.map(|b| b[1])));
    let side_end = end_of_sides(r, length, side_end, crest, end);
    if let (Some(start), Some(end)) = (side_start, side_end)
        && !together::sides_have_length(start, end)
    {
        let key = if r.has("side_start") {
            "side_start"
        } else {
            "side_end"
        };
        let message = format!(
            "the straight sides end at {}, but begin at {}",
            r.show(end),
            r.show(start)
        );
        let unit = r.unit(key);
        let hint = format!("a side_start below \"{} {}\"", unit.typed(end), unit.name());
        r.clash(key, message, hint);
    }
    let side_start = side_start?;
    Some(Head {
        length: length?,
        side_start,
        side_end: side_end?,
        half_width_at_start: start?,
        half_width_at_end: end?,
        shoulder_width: shoulder?.filter(|_| side_start > 0.0),
        thickness: thickness?,
        thickness_at_crest: thickness_at_crest?,
        face_veneer: face_veneer?,
        back_veneer: back_veneer?,
        veneers_on: veneers_on?,
        angle: angle?.to_radians(),
        crest: crest?,
        edge_radius: edge_radius?,
    })
}

fn halves(width: f64, bass: Option<f64>) -> PerSide<f64> {
    PerSide {
        treble: width / 2.0,
        bass: bass.unwrap_or(width) / 2.0,
    }
}

/// The bass side's own widths at start and end; inner `None`: a true head.
#[allow(clippy::option_option)]
fn bass(r: Reader<'_>) -> Option<Option<[f64; 2]>> {
    let table = match r.table("bass") {
        Field::Absent => return Some(None),
        Field::Bad => return None,
        Field::Good(table) => table,
    };
    let b = Reader::new(r.context(), table, "head.bass");
    let start = b.need_length("width_at_nut_end", Sign::AboveZero);
    let end = b.need_length("width_at_crest_end", Sign::AboveZero);
    Some(Some([start?, end?]))
}

/// `side_end` as the crest's shape demands it.
fn end_of_sides(
    r: Reader<'_>,
    length: Option<f64>,
    side_end: Field<f64>,
    crest: Option<Crest>,
    half_widths: Option<PerSide<f64>>,
) -> Option<f64> {
    let length = length?;
    let given = side_end != Field::Absent;
    let end = side_end.or(length)?;
    match crest? {
        Crest::Flat if (end - length).abs() > NOISE => {
            // Rounded it might miss the length again.
            let same = match r.node("length").map(|node| &node.value) {
                Some(Value::Number(number)) if r.unit("length") == r.unit("side_end") => {
                    plain(number.value)
                }
                Some(Value::Text(text)) => format!("\"{}\"", shown(text)),
                _ => format!("\"{} mm\"", plain(length)),
            };
            let hint = if end < length {
                format!("{same} (the length), or crest = \"arch\" for a crest that rises to it")
            } else {
                format!("{same}, the length")
            };
            r.clash(
                "side_end",
                "with a flat crest the sides end at the crest, so `side_end` is `length`",
                hint,
            );
            None
        }
        Crest::Flat => Some(length),
        Crest::Arch if !given => {
            if !r.misspelt("side_end") {
                r.clash(
                    "crest",
                    "an arched crest needs `side_end`, where the sides end and the arch begins",
                    format!(
                        "crest = \"arch\" and a line such as side_end = {}",
                        r.unit("crest").typed(length - length / 16.0)
                    ),
                );
            }
            None
        }
        Crest::Arch => {
            let rise = length - end;
            let most =
                half_widths.map_or(f64::INFINITY, |half| f64::midpoint(half.treble, half.bass));
            if !together::arch_is_high_enough(rise) {
                let message = if rise < 0.0 {
                    format!(
                        "the crest lies {} below the sides' ends; an arch must rise at least {} above them",
                        r.show(-rise),
                        r.show(LEAST_ARCH)
                    )
                } else {
                    format!(
                        "the arch rises {} above the sides' ends; it must rise at least {}",
                        r.show(rise),
                        r.show(LEAST_ARCH)
                    )
                };
                r.clash(
                    "side_end",
                    message,
                    "a smaller side_end or a greater length, or crest = \"flat\"",
                );
                return None;
            }
            if !together::arch_is_low_enough(rise, most) {
                let message = format!(
                    "the arch rises {} above the sides' ends, more than half the width there, {}",
                    r.show(rise),
                    r.show(most)
                );
                r.clash(
                    "side_end",
                    message,
                    format!(
                        "a side_end of at least \"{} {}\"",
                        r.unit("side_end").typed_up(length - most),
                        r.unit("side_end").name()
                    ),
                );
                return None;
            }
            Some(end)
        }
    }
}
