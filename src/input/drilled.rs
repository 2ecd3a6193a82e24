//! `[[drilled]]`: bores as they are in the wood. What a record leaves out is as designed.

use std::f64::consts::PI;

use super::context::Context;
use super::defaults::{DRILLED_LEAN_BELOW, DRILLED_READINGS_AGREE};
use super::design::{PerSide, Place, Side};
use super::field::{Choice, Field, Sign};
use super::joined;
use super::reader::Reader;
use super::tree::{Node, Table, Value};
use super::words;
use crate::tolerance::NOISE;

/// The table's name.
const NAME: &str = "drilled";

/// Where a recorded bore's centre is along its side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DrilledAlong {
    /// As designed.
    AsDesigned,
    /// From the nut line along the side line, mm.
    FromNutLine(f64),
    /// From the edge, nearest to it, of the bore before it on that side, mm.
    FromPrevious(f64),
}

/// One bore as it is in the wood. Lengths in mm, angles in radians.
#[derive(Debug, Clone, PartialEq)]
pub struct Drilled {
    /// Side it enters.
    pub side: Side,
    /// 1-based, from the nut.
    pub number: usize,
    /// Where its centre is along the side.
    pub along: DrilledAlong,
    /// Its centre below the face; `None`: as designed.
    pub below_face: Option<f64>,
    /// Lean along the side: its bottom nearer the crest is above zero.
    pub lean_along: f64,
    /// Lean across the thickness: its bottom nearer the face is above zero.
    pub lean_across: f64,
    /// Diameter; `None`: as designed.
    pub diameter: Option<f64>,
    /// The line of its record.
    pub place: Option<Place>,
    /// The keys that say so.
    pub keys: DrilledKeys,
}

/// A key of a record, and where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DrilledKey {
    /// Dotted.
    pub name: &'static str,
    /// 1-based line.
    pub line: usize,
}

/// The keys of a record by what they give; `None`: left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DrilledKeys {
    /// Its place along the side.
    pub along: Option<DrilledKey>,
    /// Its place below the face.
    pub below_face: Option<DrilledKey>,
    /// Its diameter.
    pub diameter: Option<DrilledKey>,
}

impl DrilledKeys {
    fn of(r: Reader<'_>) -> DrilledKeys {
        let first = |keys: &[(&'static str, &'static str)]| {
            let (short, name) = *keys.iter().find(|(short, _)| r.has(short))?;
            let line = r.context().place(r.at(short))?.line;
            Some(DrilledKey { name, line })
        };
        DrilledKeys {
            along: first(&[
                ("along", "drilled.along"),
                ("edges_along", "drilled.edges_along"),
                ("edges_from_previous", "drilled.edges_from_previous"),
            ]),
            below_face: first(&[
                ("below_face", "drilled.below_face"),
                ("edges_below_face", "drilled.edges_below_face"),
            ]),
            diameter: first(&[("diameter", "drilled.diameter")]),
        }
    }
}

/// Two readings from one datum to a bore's edges.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Edges {
    centre: f64,
    diameter: f64,
}

/// Reads the records; none where the key is absent. `barrels`: on each side, where known.
pub(crate) fn read(
    context: &Context,
    node: Option<&Node>,
    barrels: Option<PerSide<usize>>,
) -> Option<Vec<Drilled>> {
    let Some(node) = node else {
        return Some(Vec::new());
    };
    let hint = "[[drilled]] in double brackets, with its keys below it, once for each bore";
    let Value::List(items) = &node.value else {
        let message = match &node.value {
            Value::Table(_) => "each bore as drilled has a record of its own".to_owned(),
            other => format!("`{NAME}` must be records of bores, not {}", other.kind()),
        };
        context.fault(&node.at, NAME, message, Some(hint.to_owned()));
        return None;
    };
    let mut found: Vec<Drilled> = Vec::new();
    let mut good = true;
    for item in items {
        let Value::Table(table) = &item.value else {
            let message = format!(
                "each of `{NAME}` must be a record of a bore, not {}",
                item.value.kind()
            );
            context.fault(&item.at, NAME, message, Some(hint.to_owned()));
            good = false;
            continue;
        };
        let Some(record) = record(context, table, barrels) else {
            good = false;
            continue;
        };
        let same = |other: &&Drilled| (other.side, other.number) == (record.side, record.number);
        if let Some(first) = found.iter().find(same) {
            let r = Reader::of_free_keys(context, table, NAME);
            let line = first.place.as_ref().map_or(String::new(), |place| {
                format!(", first on line {}", place.line)
            });
            r.fault(
                "number",
                format!(
                    "the {} side's bore {} is recorded twice{line}",
                    record.side.name(),
                    record.number
                ),
                "one record for each bore, with all that was measured of it",
            );
            good = false;
            continue;
        }
        found.push(record);
    }
    found.sort_by_key(|record| (record.side, record.number));
    good.then_some(found)
}

fn record(context: &Context, table: &Table, barrels: Option<PerSide<usize>>) -> Option<Drilled> {
    let r = Reader::new(context, table, NAME);
    let side = r.need("side", r.word("side", &words::SIDE)).map(|word| {
        let treble = word == Side::Treble.name();
        if treble { Side::Treble } else { Side::Bass }
    });
    let number = r.need(
        "number",
        r.count("number", 1, super::defaults::MOST_BARRELS),
    );
    let number = match (number, side.zip(barrels)) {
        (Some(number), Some((side, barrels))) if number > *barrels.get(side) => {
            let count = *barrels.get(side);
            let has = if count == 1 {
                "has only bore 1".to_owned()
            } else {
                format!("has bores 1 to {count}")
            };
            r.fault(
                "number",
                format!("there is no bore {number}: the {} side {has}", side.name()),
                "the bore's number, counted from the nut",
            );
            None
        }
        (number, _) => number,
    };
    let (along, edges_along) = along(r, number);
    let edges_below = edges(r, "edges_below_face").good();
    let below_face = r.length("below_face", Sign::AboveZero).optional();
    let below_face = match r.choose(joined::DRILLED_BELOW) {
        Choice::None => Some(None),
        Choice::Of("below_face") => below_face,
        Choice::Of("edges_below_face") => edges_below.map(|edges| Some(edges.centre)),
        Choice::Of(_) | Choice::Several => None,
    };
    let lean = |name: &str| {
        let fits = |degrees: f64| degrees.abs() < DRILLED_LEAN_BELOW;
        r.degrees(name, "between -10 and 10 degrees", fits).or(0.0)
    };
    let (lean_along, lean_across) = (lean("lean_along"), lean("lean_across"));
    let given = r.length("diameter", Sign::AboveZero).optional();
    let read = [edges_along, edges_below];
    let diameter = given.and_then(|given| agreed(r, given, &read));
    Some(Drilled {
        side: side?,
        number: number?,
        along: along?,
        below_face: below_face?,
        lean_along: lean_along? * PI / 180.0,
        lean_across: lean_across? * PI / 180.0,
        diameter: diameter?,
        place: context.place(r.at("number")),
        keys: DrilledKeys::of(r),
    })
}

/// Where the centre is along the side, and the two readings where it is given by them.
fn along(r: Reader<'_>, number: Option<usize>) -> (Option<DrilledAlong>, Option<Edges>) {
    let along = r.length("along", Sign::AboveZero);
    let (nut, previous) = (edges(r, "edges_along"), edges(r, "edges_from_previous"));
    match r.choose(joined::DRILLED_ALONG) {
        Choice::None => (Some(DrilledAlong::AsDesigned), None),
        Choice::Of("along") => (along.good().map(DrilledAlong::FromNutLine), None),
        Choice::Of("edges_along") => {
            let edges = nut.good();
            let place = edges.map(|edges| DrilledAlong::FromNutLine(edges.centre));
            (place, edges)
        }
        Choice::Of("edges_from_previous") if number == Some(1) => {
            r.fault(
                "edges_from_previous",
                "bore 1 has no bore before it",
                "`edges_along`, measured from the nut line",
            );
            (None, None)
        }
        Choice::Of("edges_from_previous") => {
            let edges = previous.good();
            let place = edges.map(|edges| DrilledAlong::FromPrevious(edges.centre));
            (place, edges)
        }
        Choice::Of(_) | Choice::Several => (None, None),
    }
}

/// Two readings: to the near and to the far edge.
fn edges(r: Reader<'_>, name: &str) -> Field<Edges> {
    let two = "two readings: to the near edge and to the far edge";
    let single = matches!(
        r.node(name).map(|node| &node.value),
        Some(Value::Number(_) | Value::Text(_))
    );
    let wrong = || {
        let hint = format!("both, for example {}", r.sample(name, r.at(name)));
        r.fault(name, format!("`{name}` must hold {two}"), hint);
        Field::Bad
    };
    if single {
        return wrong();
    }
    if r.pair_with_decimal_commas(name, "two readings") {
        return Field::Bad;
    }
    let list = match r.lengths(name, Sign::AboveZero) {
        Field::Absent => return Field::Absent,
        Field::Bad => return Field::Bad,
        Field::Good(list) => list,
    };
    let Ok([near, far]) = <[f64; 2]>::try_from(list) else {
        return wrong();
    };
    if near >= far {
        r.fault(
            name,
            format!(
                "`{name}`: the near edge, {}, lies beyond the far edge, {}",
                r.show(near),
                r.show(far)
            ),
            "the smaller reading first; both from the same place",
        );
        return Field::Bad;
    }
    Field::Good(Edges {
        centre: (near + far) / 2.0,
        diameter: far - near,
    })
}

/// The diameter: as given, else the mean of what the readings give. Outer `None`: they disagree.
#[allow(clippy::option_option)]
fn agreed(r: Reader<'_>, given: Option<f64>, read: &[Option<Edges>; 2]) -> Option<Option<f64>> {
    let diameters: Vec<f64> = read.iter().flatten().map(|edges| edges.diameter).collect();
    let all = || given.iter().chain(&diameters).copied();
    let (least, most) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    if most - least > DRILLED_READINGS_AGREE + NOISE {
        let name = ["edges_below_face", "edges_from_previous", "edges_along"]
            .into_iter()
            .find(|name| r.has(name))
            .unwrap_or("diameter");
        r.fault(
            name,
            format!(
                "what was measured gives this bore two diameters, {} and {}",
                r.show(least),
                r.show(most)
            ),
            "the readings taken again; they may differ by 0.3 mm",
        );
        return None;
    }
    let mean = diameters.iter().sum::<f64>() / diameters.len().max(1) as f64;
    Some(given.or((!diameters.is_empty()).then_some(mean)))
}
