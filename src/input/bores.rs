//! `[bores]`: diameter, depth and end of the barrel bores.

use super::defaults::{POINT_DEGREES, POINT_RANGE, SHORTEST};
use super::design::{BoreDepth, Bores, Counterbore, Point};
use super::field::{Choice, Field, Sign};
use super::joined;
use super::known::Known;
use super::reader::Reader;
use super::tree::{Node, Value};
use super::words;
use crate::tolerance::NOISE;

pub(crate) fn read(r: Reader<'_>, known: &mut Known) -> Option<Bores> {
    let given = r.length("diameter", Sign::AboveZero);
    let clearance = r.length("clearance", Sign::AboveZero);
    let diameter = match r.choose(joined::BORE) {
        Choice::Of("diameter") => given.good(),
        Choice::Of("clearance") => clearance
            .good()
            .zip(known.barrel_diameter)
            .map(|(clearance, barrel)| barrel + clearance),
        Choice::Of(_) | Choice::None | Choice::Several => None,
    };
    known.bore_diameter = diameter;
    let beyond_barrel = r.length("beyond_barrel", Sign::ZeroOrMore);
    let beyond_centre = r.length("beyond_centre", Sign::ZeroOrMore);
    let depth = match r.choose(joined::BORE_DEPTH) {
        Choice::Of("beyond_barrel") => beyond_barrel.good().map(BoreDepth::BeyondBarrel),
        Choice::Of("beyond_centre") => beyond_centre.good().map(BoreDepth::BeyondCentre),
        Choice::Of(_) | Choice::None | Choice::Several => None,
    };
    let point = point(r);
    let counterbore = counterbore(r, diameter, depth, known.barrel_length);
    Some(Bores {
        diameter: diameter?,
        depth: depth?,
        point: point?,
        counterbore: counterbore?,
    })
}

fn point(r: Reader<'_>) -> Option<Point> {
    let Some((_, entry)) = r.entries().find(|(name, _)| *name == "point") else {
        return Some(Point::Angle(POINT_DEGREES.to_radians()));
    };
    let node: &Node = &entry.node;
    if let Value::Text(text) = &node.value {
        if text == words::FLAT {
            return Some(Point::Flat);
        }
        if text.trim().eq_ignore_ascii_case(words::FLAT) {
            r.fault("point", "the word for a flat end is \"flat\"", "\"flat\"");
            return None;
        }
    }
    let (least, below) = POINT_RANGE;
    let degrees = r.number_of("point", node, "a bare number of degrees or \"flat\"")?;
    if degrees < least || degrees >= below {
        let hint = if (degrees - below).abs() < 1.0 {
            "\"flat\""
        } else {
            "118, or \"flat\""
        };
        r.fault(
            "point",
            "`point` must be from 60 to below 180 degrees, or \"flat\"",
            hint,
        );
        return None;
    }
    Some(Point::Angle(degrees.to_radians()))
}

/// The counterbore; inner `None`: none.
#[allow(clippy::option_option)]
fn counterbore(
    r: Reader<'_>,
    bore: Option<f64>,
    depth_rule: Option<BoreDepth>,
    barrel_length: Option<f64>,
) -> Option<Option<Counterbore>> {
    let table = match r.table("counterbore") {
        Field::Absent => return Some(None),
        Field::Bad => return None,
        Field::Good(table) => table,
    };
    let c = Reader::new(r.context(), table, "bores.counterbore");
    let diameter = c.need_length("diameter", Sign::AboveZero);
    let depth = c.need_length("depth", Sign::AboveZero);
    // A ring or a length below the shortest of all counts as none.
    let least = SHORTEST - NOISE;
    let narrow = |(wide, bore): &(f64, f64)| wide - bore < 2.0 * least;
    if let Some((wide, bore)) = diameter.zip(bore).filter(narrow) {
        let message = format!(
            "the counterbore, {}, must be wider than the bore, {}",
            r.show(wide),
            r.show(bore)
        );
        c.clash("diameter", message, "the diameter of the bush that goes in");
    }
    // With `beyond_centre` the bore's depth hangs on the layout, which checks it there.
    if let (Some(depth), Some(BoreDepth::BeyondBarrel(beyond)), Some(barrel)) =
        (depth, depth_rule, barrel_length)
        && barrel + beyond - depth < least
    {
        let message = format!(
            "the counterbore must be shallower than the bore, {} deep",
            r.show(barrel + beyond)
        );
        c.clash("depth", message, "the length of the bush that goes in");
    }
    Some(Some(Counterbore {
        diameter: diameter?,
        depth: depth?,
    }))
}
