//! What is assumed of a design of which only the machines, or little more, are known: every such
//! value with its basis, in one place. Nothing here enters a design that is read whole.
//!
//! "From memory" marks ranges of the trade that no published page was at hand for.

use super::design::{Machines, Side};
use super::words;
use crate::tolerance::WHOLE_STEP;
use crate::units::on_step;

use AssumedBasis::{CommonPractice, OurAssumption};
pub(crate) use given::Given;
pub(crate) use list::text;
pub use list::{Assumed, AssumedBasis, AssumedValue};
use list::{Gathered, tenth};

mod given;
mod list;

/// Straight side free beyond each end of the plate, mm.
const BESIDE_PLATE: f64 = 35.0;
/// How far an arched crest rises, mm.
const RISE: f64 = 12.0;
/// The same at most, as a share of the width at the nut end: a narrow head has a low arch.
const RISE_SHARE: f64 = 0.25;
/// Taper of each side, degrees.
const TAPER_DEGREES: f64 = 1.25;
/// Width at the nut end beyond the length of two barrels, mm.
const BEYOND_BARRELS: f64 = 2.0;
/// Thickness beyond the plate's width, mm.
const BEYOND_PLATE_WIDTH: f64 = 3.0;
/// Thickness beyond the barrel's diameter at least, mm.
const BEYOND_BARREL_DIAMETER: f64 = 8.0;
/// Head face to playing surface, degrees.
const ANGLE_DEGREES: f64 = 14.0;
/// Gap between neighbouring strings at the nut, mm.
const STRING_GAP: f64 = 8.6;
/// Head left outside the outer strings at the nut, both sides together, mm.
const BESIDE_STRINGS: f64 = 14.0;
/// String over the plane of the face, mm.
const STRING_HEIGHT: f64 = 4.5;
/// Most clearance of a barrel in its bore, mm.
const CLEARANCE: f64 = 0.5;
/// Step in which bits are sold, mm.
const BIT_STEP: f64 = 0.1;
/// Bore beyond the barrel's end, mm.
const BEYOND_BARREL: f64 = 2.0;
/// Slot width, mm.
const SLOT_WIDTH: f64 = 14.0;
/// A rib to begin with, mm; the study then lays the slots over the string holes.
const RIB: f64 = 14.0;
/// Slot's end beyond the bore and the rounding of the slot, mm.
const BEYOND_ROUNDING: f64 = 6.0;
/// Ramp's mouth before the slot, mm.
const RAMP_MOUTH: f64 = 18.0;
/// Wood kept between the ramp's mouth and the nut line, mm.
const BEFORE_RAMP: f64 = 6.0;
/// Ramp below the face, degrees.
const RAMP_DEGREES: f64 = 24.0;
/// Guide block's depth in diameters of the bit.
const GUIDED: f64 = 2.3;
/// Outer guide hole to the block's end, mm.
const BLOCK_END: f64 = 30.0;

/// Every value that a whole design needs and the files do not give.
pub(crate) fn assume(machines: &Machines, given: Given<'_>) -> Vec<Assumed> {
    let mut out = Gathered { list: Vec::new() };
    let plate = Side::BOTH
        .map(|side| {
            machines.overhang.get(side).iter().sum::<f64>()
                + machines.pitches.get(side).iter().sum::<f64>()
        })
        .into_iter()
        .fold(0.0, f64::max);
    let side = sides(&mut out, machines, given, plate);
    let nut_width = widths(&mut out, machines, given, side);
    if !given.has("head", &["thickness"]) {
        let thickness = (machines.plate_width + BEYOND_PLATE_WIDTH)
            .max(machines.barrel_diameter + BEYOND_BARREL_DIAMETER);
        let why = "1.5 mm beyond the plate either way, at least 4 mm beyond the barrel";
        out.length("head.thickness", thickness, OurAssumption, why);
    }
    if !given.has("head", &["angle"]) {
        let why = "10 to 15 degrees are usual";
        let value = AssumedValue::Degrees(ANGLE_DEGREES);
        out.add("head.angle", value, CommonPractice, why);
    }
    strings(&mut out, machines, given, nut_width);
    placement(&mut out, given);
    let bore = bores(&mut out, machines, given);
    let first = given
        .length("placement", "first_barrel")
        .unwrap_or_else(|| {
            f64::midpoint(side[0], side[1]) - plate / 2.0 + machines.overhang.treble[0]
        });
    slots(&mut out, given, bore, first);
    if !given.has("guide", &["depth"]) {
        let why = "a little over two diameters of the bit";
        out.length("guide.depth", (GUIDED * bore).ceil(), CommonPractice, why);
    }
    if !given.has("guide", &["end_margin"]) {
        let why = "room for a clamp at either end";
        out.length("guide.end_margin", BLOCK_END, OurAssumption, why);
    }
    out.list
}

/// Length of the head and where its straight sides end; gives where they begin and end.
fn sides(out: &mut Gathered, machines: &Machines, given: Given<'_>, plate: f64) -> [f64; 2] {
    let start = given.length("head", "side_start").unwrap_or(0.0);
    let flat = given.says("head", "crest", words::FLAT);
    let (length, end) = (
        given.length("head", "length"),
        given.length("head", "side_end"),
    );
    let width = given
        .length("head", "width_at_nut_end")
        .or_else(|| given.length("head", "width_at_crest_end"))
        .unwrap_or(2.0 * machines.barrel_length + BEYOND_BARRELS);
    let arched = tenth(RISE.min(width * RISE_SHARE));
    let rise = if flat { 0.0 } else { arched };
    let why_length = "the straight sides and an arch of 12 mm, at most a quarter of the width";
    let arch = |out: &mut Gathered| {
        if !given.has("head", &["crest"]) {
            let why = "most heads have a shaped crest";
            let value = AssumedValue::Word(words::ARCH);
            out.add("head.crest", value, OurAssumption, why);
        }
    };
    let why_end = "35 mm of straight side beyond either end of the plate";
    match (length, end) {
        (Some(_), Some(end)) => [start, end],
        (None, Some(end)) => {
            out.length("head.length", end + rise, OurAssumption, why_length);
            arch(out);
            [start, end]
        }
        (Some(length), None) if given.says("head", "crest", words::ARCH) => {
            let why = "the arch rises 12 mm, at most a quarter of the width";
            out.length("head.side_end", length - arched, OurAssumption, why);
            [start, length - arched]
        }
        (Some(length), None) => [start, length],
        (None, None) => {
            let end = tenth(start + plate + 2.0 * BESIDE_PLATE);
            if flat {
                out.length("head.length", end, OurAssumption, why_end);
            } else {
                out.length("head.side_end", end, OurAssumption, why_end);
                out.length("head.length", end + rise, OurAssumption, why_length);
                arch(out);
            }
            [start, end]
        }
    }
}

/// Widths at both ends of the straight sides; gives the one at the nut end.
fn widths(out: &mut Gathered, machines: &Machines, given: Given<'_>, side: [f64; 2]) -> f64 {
    let flare = 2.0 * TAPER_DEGREES.to_radians().tan() * (side[1] - side[0]);
    let why_flare = "each side flares 1.25 degrees; 1 to 3 are met, from memory";
    let (nut, crest) = (
        given.length("head", "width_at_nut_end"),
        given.length("head", "width_at_crest_end"),
    );
    let at_nut = nut.unwrap_or_else(|| {
        crest.map_or_else(
            || 2.0 * machines.barrel_length + BEYOND_BARRELS,
            |crest| (crest - flare).max(1.0),
        )
    });
    if nut.is_none() {
        let (basis, why) = if crest.is_some() {
            (CommonPractice, why_flare)
        } else {
            (OurAssumption, "two barrels end to end and 2 mm")
        };
        out.length("head.width_at_nut_end", at_nut, basis, why);
    }
    if crest.is_none() {
        let width = at_nut + flare;
        out.length("head.width_at_crest_end", width, CommonPractice, why_flare);
    }
    at_nut
}

#[allow(clippy::cast_precision_loss)]
fn strings(out: &mut Gathered, machines: &Machines, given: Given<'_>, nut_width: f64) {
    if !given.has("nut", &["string_span", "strings"]) {
        let gaps = machines.pitches.treble.len() + machines.pitches.bass.len() + 1;
        let span = (STRING_GAP * gaps as f64)
            .min(nut_width - BESIDE_STRINGS)
            .max(1.0);
        let why = "8.6 mm a gap, which six strings usually have (from memory), \
                   at most what the head's width leaves with 7 mm either side";
        out.length("nut.string_span", span, CommonPractice, why);
    }
    if !given.has("nut", &["string_height"]) {
        let why = "3 to 7 mm are met, from memory";
        out.length("nut.string_height", STRING_HEIGHT, CommonPractice, why);
    }
}

fn placement(out: &mut Gathered, given: Given<'_>) {
    let centred = AssumedValue::Word(words::CENTRED[0]);
    if !given.has("placement", &["along", "first_barrel"]) {
        let why = "the plate in the middle of the straight side";
        out.add("placement.along", centred, OurAssumption, why);
    }
    if !given.has("placement", &["depth", "axis_below_face"]) {
        let why = "the plate in the middle of the thickness";
        out.add("placement.depth", centred, CommonPractice, why);
    }
}

/// Gives the bore's diameter.
fn bores(out: &mut Gathered, machines: &Machines, given: Given<'_>) -> f64 {
    if !given.has("bores", &["beyond_barrel", "beyond_centre"]) {
        let why = "2 to 4 mm are usual, from memory";
        out.length("bores.beyond_barrel", BEYOND_BARREL, CommonPractice, why);
    }
    let barrel = machines.barrel_diameter;
    if given.has("bores", &["diameter", "clearance"]) {
        let clearance = given.length("bores", "clearance").unwrap_or(CLEARANCE);
        return given
            .length("bores", "diameter")
            .unwrap_or(barrel + clearance);
    }
    let bore = on_step(barrel + CLEARANCE, BIT_STEP, false, WHOLE_STEP);
    let why = "the largest bit by tenths that leaves no more than half a millimetre; \
               0.2 to 0.6 are usual";
    out.length("bores.diameter", bore, CommonPractice, why);
    tenth(bore)
}

fn slots(out: &mut Gathered, given: Given<'_>, bore: f64, first: f64) {
    if !given.has("slots", &["width"]) {
        let why = "12 to 16 mm are usual, from memory";
        out.length("slots.width", SLOT_WIDTH, CommonPractice, why);
    }
    let width = given.length("slots", "width").unwrap_or(SLOT_WIDTH);
    if !given.has("slots", &["rib", "cheek"]) {
        let why = "the slots' middle over the string holes, as near as the rib window lets it";
        out.length("slots.rib", RIB, OurAssumption, why);
    }
    let margin = (bore / 2.0 + width / 2.0 + BEYOND_ROUNDING).ceil();
    if !given.has("slots", &["end_margin"]) {
        let value = AssumedValue::Pair([margin; 2]);
        let why = "6 mm beyond the bore and the slot's rounding";
        out.add("slots.end_margin", value, OurAssumption, why);
    }
    // Slots described without a ramp have none.
    let mouth = RAMP_MOUTH.min(first - margin - BEFORE_RAMP);
    if given.table("slots").is_none() && mouth > 1.0 {
        let why = "5 to 19 mm before the slot are met, from memory; 6 mm of wood stay at the nut";
        out.length("slots.ramp.mouth", mouth, CommonPractice, why);
        let value = AssumedValue::Degrees(RAMP_DEGREES);
        let why = "20 to 45 degrees are met, from memory";
        out.add("slots.ramp.angle", value, CommonPractice, why);
    }
}
