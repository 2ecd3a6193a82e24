//! `[machines]`: the tuning machines as measured, treble and bass.

use super::defaults::{AXIS_OFFSET, MOST_BARRELS, MOST_SCREWS, PLATE_LENGTH_SLACK};
use super::design::{Machines, PerSide, Screws};
use super::field::{Choice, Field, Sign};
use super::joined;
use super::known::Known;
use super::read_readings;
use super::reader::Reader;
use super::readings::Gap;
use crate::statistics::mean;
use crate::tolerance::NOISE;

pub(crate) fn read(r: Reader<'_>, known: &mut Known) -> Option<Machines> {
    let gaps = gaps(r);
    let bass_reader = match r.table("bass") {
        Field::Good(table) => Field::Good(Reader::new(r.context(), table, "machines.bass")),
        Field::Absent => Field::Absent,
        Field::Bad => Field::Bad,
    };
    let bass_gaps = match &bass_reader {
        Field::Good(b) => self::gaps(*b),
        _ => Field::Absent,
    };
    let barrel_diameter = diameter(r, [&gaps, &bass_gaps]);
    let barrel_length = r.need_length("barrel_length", Sign::AboveZero);
    let string_hole = r.need_length("string_hole", Sign::AboveZero);
    let plate_width = r.need_length("plate_width", Sign::AboveZero);
    let plate_thickness = r.need_length("plate_thickness", Sign::AboveZero);
    let axis_offset = r.length("axis_offset", Sign::Any).or(AXIS_OFFSET);
    let treble = pitches(r, gaps, barrel_diameter, true).good();
    let overhang = r.need("overhang", r.pair("overhang", Sign::ZeroOrMore));
    let plate_length = r.length("plate_length", Sign::AboveZero).optional();
    // Text: the file's own wish is read elsewhere, its kind was checked there.
    let screws = screws(r);
    let bass = bass(bass_reader, bass_gaps, barrel_diameter);

    if let (Some(Some(given)), Some(pitches), Some(overhang)) = (plate_length, &treble, overhang) {
        check_plate_length(r, given, pitches, overhang);
    }
    known.barrel_diameter = barrel_diameter;
    known.barrel_length = barrel_length;
    let pitches = treble.zip(bass.pitches).map(|(treble, bass)| match bass {
        Some(bass) => PerSide { treble, bass },
        None => PerSide {
            bass: treble.clone(),
            treble,
        },
    });
    known.pitches.clone_from(&pitches);
    let overhang = overhang.zip(bass.overhang).map(|(treble, bass)| PerSide {
        treble,
        bass: bass.unwrap_or(treble),
    });
    Some(Machines {
        barrel_diameter: barrel_diameter?,
        barrel_length: barrel_length?,
        string_hole: string_hole?,
        plate_width: plate_width?,
        plate_thickness: plate_thickness?,
        axis_offset: axis_offset?,
        pitches: pitches?,
        overhang: overhang?,
        screws: screws?,
    })
}

/// What `pitches` gives.
fn gaps(r: Reader<'_>) -> Field<Vec<Gap>> {
    r.each_of("pitches", |index, node| r.gap("pitches", index, node))
}

/// The barrels' diameter: the key's, or else the mean of what pitches read over and between give.
fn diameter(r: Reader<'_>, gaps: [&Field<Vec<Gap>>; 2]) -> Option<f64> {
    let of_pairs: Vec<f64> = gaps
        .iter()
        .filter_map(|gaps| match gaps {
            Field::Good(gaps) => Some(gaps.iter().filter_map(|gap| gap.diameter())),
            _ => None,
        })
        .flatten()
        .collect();
    let of_pairs = (!of_pairs.is_empty()).then(|| mean(&of_pairs));
    if !r.incomplete() {
        r.context().keep_diameter(of_pairs);
    }
    match r.length("barrel_diameter", Sign::AboveZero) {
        Field::Absent if of_pairs.is_some() => of_pairs,
        given => r.need("barrel_diameter", given),
    }
}

/// Pitches from `pitches`, or from `barrels` with `over_outer_barrels`.
fn pitches(
    r: Reader<'_>,
    gaps: Field<Vec<Gap>>,
    barrel_diameter: Option<f64>,
    needed: bool,
) -> Field<Vec<f64>> {
    let list = read_readings::pitches(r, gaps, barrel_diameter);
    let barrels = r.count("barrels", 1, MOST_BARRELS);
    let over = r.length("over_outer_barrels", Sign::AboveZero);
    let joined = if needed {
        joined::BARRELS
    } else {
        joined::BASS_BARRELS
    };
    match r.choose(joined) {
        Choice::None if needed => Field::Bad,
        Choice::None => Field::Absent,
        Choice::Of("pitches") => match list {
            Field::Good(list) if list.len() >= MOST_BARRELS => {
                let message = format!(
                    "`pitches` makes {} barrels a side; at most {MOST_BARRELS} are possible",
                    list.len() + 1
                );
                r.fault(
                    "pitches",
                    message,
                    "one pitch fewer than the plate has barrels",
                );
                Field::Bad
            }
            list => list,
        },
        Choice::Of("barrels") => even_pitches(r, barrels, over, barrel_diameter),
        Choice::Of(_) | Choice::Several => Field::Bad,
    }
}

fn even_pitches(
    r: Reader<'_>,
    barrels: Field<usize>,
    over: Field<f64>,
    diameter: Option<f64>,
) -> Field<Vec<f64>> {
    if barrels == Field::Absent {
        r.missing("barrels");
    }
    // One barrel has no pitch, so nothing need be measured over it.
    if over == Field::Absent && barrels != Field::Good(1) {
        r.missing("over_outer_barrels");
    }
    let (Field::Good(count), Some(diameter)) = (barrels, diameter) else {
        return Field::Bad;
    };
    if count == 1 {
        return match over {
            Field::Bad => Field::Bad,
            Field::Good(over) if (over - diameter).abs() > PLATE_LENGTH_SLACK => {
                r.clash(
                    "over_outer_barrels",
                    "over one barrel its own diameter is measured",
                    r.unit("over_outer_barrels").typed(diameter),
                );
                Field::Bad
            }
            _ => Field::Good(Vec::new()),
        };
    }
    let Field::Good(over) = over else {
        return Field::Bad;
    };
    if over <= diameter + NOISE {
        let message = format!(
            "`over_outer_barrels` must be more than one barrel's diameter, {}",
            r.show(diameter)
        );
        r.clash(
            "over_outer_barrels",
            message,
            "the length from the outside of the first barrel to the outside of the last",
        );
        return Field::Bad;
    }
    #[allow(clippy::cast_precision_loss)]
    let pitch = (over - diameter) / (count - 1) as f64;
    Field::Good(vec![pitch; count - 1])
}

fn check_plate_length(r: Reader<'_>, given: f64, pitches: &[f64], overhang: [f64; 2]) {
    let sum = overhang[0] + pitches.iter().sum::<f64>() + overhang[1];
    if (given - sum).abs() > PLATE_LENGTH_SLACK + NOISE {
        let message = format!(
            "`plate_length` is {}, but the overhangs and pitches come to {}",
            r.show(given),
            r.show(sum)
        );
        let measured = if r.has("over_outer_barrels") {
            "over_outer_barrels (outside to outside over the outer barrels) and overhang"
        } else if r.has("pitches") {
            "pitches and overhang"
        } else {
            // A single barrel has neither.
            "overhang"
        };
        let displacing = ["pitches", "barrels", "over_outer_barrels", "overhang"]
            .iter()
            .find(|key| r.has(key) && r.at(key).source != r.at("plate_length").source);
        // Where one of them stands in another file, what is typed beside it is in that file's unit.
        let (unit, place) = match displacing {
            Some(key) => (
                r.unit(key),
                " beside the keys that displace those of this file",
            ),
            None => (r.unit("plate_length"), ""),
        };
        let hint = format!(
            "{measured}, measured again; or, if those are right, plate_length = {}{place}",
            unit.typed(sum)
        );
        r.clash("plate_length", message, hint);
    }
}

/// Screw pilots; inner `None`: none to be drilled.
#[allow(clippy::option_option)]
fn screws(r: Reader<'_>) -> Option<Option<Screws>> {
    let table = match r.table("screws") {
        Field::Absent => return Some(None),
        Field::Bad => return None,
        Field::Good(table) => table,
    };
    let s = Reader::new(r.context(), table, "machines.screws");
    let points = s.need("points", s.points("points"));
    let pilot = s.need_length("pilot", Sign::AboveZero);
    let depth = s.need_length("depth", Sign::AboveZero);
    let points = points?;
    if points.len() > MOST_SCREWS {
        s.fault(
            "points",
            format!("more than {MOST_SCREWS} screws on one plate"),
            "the screws of one plate",
        );
        return None;
    }
    let screws = Screws {
        points,
        pilot: pilot?,
        depth: depth?,
    };
    Some(Some(screws).filter(|screws| !screws.points.is_empty()))
}

/// What `[machines.bass]` gives. Outer `None`: wrong; inner `None`: as the treble.
#[allow(clippy::option_option)]
struct Bass {
    pitches: Option<Option<Vec<f64>>>,
    overhang: Option<Option<[f64; 2]>>,
}

fn bass(reader: Field<Reader<'_>>, gaps: Field<Vec<Gap>>, barrel_diameter: Option<f64>) -> Bass {
    match reader {
        Field::Absent => Bass {
            pitches: Some(None),
            overhang: Some(None),
        },
        Field::Bad => Bass {
            pitches: None,
            overhang: None,
        },
        Field::Good(b) => Bass {
            pitches: pitches(b, gaps, barrel_diameter, false).optional(),
            overhang: b.pair("overhang", Sign::ZeroOrMore).optional(),
        },
    }
}
