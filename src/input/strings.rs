//! `[strings]`: which string runs to which barrel, how thick it is and how it lies on the barrel.
//! Without the table the strings' paths are the contract's plain ones.

use super::defaults::{
    MOST_TURNS, NYLON_SIX, OTHER_STRINGS, OUTWARDS, STEEL_SIX, STEEL_TWELVE, THIN_POST, TURNS,
};
use super::design::{PerSide, Side};
use super::field::{Field, Sign};
use super::known::Known;
use super::reader::Reader;
use super::tree::{Node, Number, Value};
use super::words;
use crate::tolerance::NOISE;

/// On what the strings' diameters rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DiameterBasis {
    /// The file gives them.
    Given,
    /// Six steel strings, light: common practice.
    CommonPractice,
    /// From memory of the trade: the nylon six, the steel twelve.
    FromMemory,
    /// Our assumption: every string as thick as the thickest of a nylon six.
    Assumed,
}

impl DiameterBasis {
    /// Words of the report.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            DiameterBasis::Given => "given",
            DiameterBasis::CommonPractice => "common practice",
            DiameterBasis::FromMemory => "from memory of the trade",
            DiameterBasis::Assumed => "our assumption",
        }
    }
}

/// `[strings]`: one entry a string, bass to treble, as `[nut]` has them.
#[derive(Debug, Clone, PartialEq)]
pub struct Strings {
    /// Diameters, mm.
    pub diameters: Vec<f64>,
    /// On what they rest.
    pub diameter_basis: DiameterBasis,
    /// Side and number, from the nut, of each string's barrel.
    pub barrels: Vec<(Side, usize)>,
    /// Whether the string leaves its barrel on the face's side.
    pub over: Vec<bool>,
    /// Turns on the barrel, zero or more.
    pub turns: Vec<f64>,
    /// Whether the turns walk from the string hole towards the side; else towards the rib.
    pub outwards: Vec<bool>,
}

pub(crate) fn read(r: Reader<'_>, known: &Known) -> Option<Strings> {
    let counts = known.barrels();
    let count = counts.map(|n| n.treble + n.bass);
    let diameters = each(r, "diameters", count, |node| {
        r.length_of("diameters", node, Sign::AboveZero)
    });
    let barrels = each(r, "barrels", count, |node| whole(r, "barrels", node));
    let over = each(r, "leaves", count, |node| {
        word(r, "leaves", node, words::LEAVES)
    });
    let turns = each(r, "turns", count, |node| turns_of(r, node));
    let outwards = each(r, "walk", count, |node| word(r, "walk", node, words::WALK));

    let (counts, count) = (counts?, count?);
    let barrels = match barrels {
        Field::Good(numbers) => assigned(r, &numbers, counts),
        Field::Absent => Some(usual_barrels(counts)),
        Field::Bad => None,
    };
    let (diameters, diameter_basis) = match diameters.optional()? {
        Some(list) => (list, DiameterBasis::Given),
        None => usual_diameters(count, known.barrel_diameter?),
    };
    Some(Strings {
        diameters,
        diameter_basis,
        barrels: barrels?,
        over: over.or(vec![true; count])?,
        turns: turns.or(vec![TURNS; count])?,
        outwards: outwards.or(vec![OUTWARDS; count])?,
    })
}

/// One value a string: a list, or one value for all.
fn each<T: Clone>(
    r: Reader<'_>,
    name: &str,
    count: Option<usize>,
    read: impl Fn(&Node) -> Option<T>,
) -> Field<Vec<T>> {
    let Some(node) = r.node(name) else {
        return Field::Absent;
    };
    let Value::List(items) = &node.value else {
        // A text or a number is every string's; barrels differ, so they need a list.
        if name == "barrels" {
            let hint = r.sample(name, &node.at);
            let kind = node.value.kind();
            let message = format!("`{name}` must be a list of whole numbers, not {kind}");
            r.fault(name, message, hint);
            return Field::Bad;
        }
        let value = read(node).zip(count);
        return Field::from_option(value.map(|(value, count)| vec![value; count]));
    };
    let values: Option<Vec<T>> = items
        .iter()
        .map(&read)
        .collect::<Vec<_>>()
        .into_iter()
        .collect();
    if let Some(count) = count.filter(|count| *count != items.len()) {
        let message = format!(
            "`{name}` holds {}, but there are {count} strings",
            items.len()
        );
        let hint = if name == "barrels" {
            "the number of its barrel for each string, bass to treble"
        } else {
            "one for each string, bass to treble, or a single one for all"
        };
        r.clash(name, message, hint);
        return Field::Bad;
    }
    Field::from_option(values)
}

fn whole(r: Reader<'_>, name: &str, node: &Node) -> Option<usize> {
    if let Value::Number(Number {
        integer: Some(integer),
        ..
    }) = &node.value
        && let Some(number) = usize::try_from(*integer).ok().filter(|n| *n > 0)
    {
        return Some(number);
    }
    let message = format!("each of `{name}` must be a whole number, 1 for the barrel next the nut");
    let hint = r.sample(name, &node.at);
    r.context()
        .fault(&node.at, &r.dotted(name), message, Some(hint));
    None
}

fn turns_of(r: Reader<'_>, node: &Node) -> Option<f64> {
    let turns = r.number_of("turns", node, "a bare number of turns")?;
    if (0.0..=MOST_TURNS).contains(&turns) {
        return Some(turns);
    }
    let message = format!("`turns` must be from 0 to {MOST_TURNS}");
    let hint = Some("a number such as 3".to_owned());
    r.context()
        .fault(&node.at, &r.dotted("turns"), message, hint);
    None
}

/// Whether it is the first of two words.
fn word(r: Reader<'_>, name: &str, node: &Node, words: [&str; 2]) -> Option<bool> {
    if let Value::Text(text) = &node.value
        && let Some(index) = words.iter().position(|word| word == text)
    {
        return Some(index == 0);
    }
    let listed = format!("\"{}\" or \"{}\"", words[0], words[1]);
    let message = format!("`{name}` must be {listed}, for all strings or one a string");
    r.context()
        .fault(&node.at, &r.dotted(name), message, Some(listed));
    None
}

/// Barrel numbers as typed, bass to treble: the first strings belong to the bass side, and every
/// barrel of a side takes one string.
fn assigned(
    r: Reader<'_>,
    numbers: &[usize],
    counts: PerSide<usize>,
) -> Option<Vec<(Side, usize)>> {
    let (bass, treble) = numbers.split_at(counts.bass.min(numbers.len()));
    for (side, own) in [(Side::Bass, bass), (Side::Treble, treble)] {
        let mut sorted = own.to_vec();
        sorted.sort_unstable();
        if !sorted.iter().copied().eq(1..=own.len()) {
            let message = format!(
                "the {} side's {} strings must each have a barrel of their own, numbered from the nut",
                side.name(),
                own.len()
            );
            let usual: Vec<String> = usual_barrels(counts)
                .iter()
                .map(|(_, number)| number.to_string())
                .collect();
            r.clash("barrels", message, format!("[{}]", usual.join(", ")));
            return None;
        }
    }
    let on = |side| move |number: &usize| (side, *number);
    Some(
        bass.iter()
            .map(on(Side::Bass))
            .chain(treble.iter().map(on(Side::Treble)))
            .collect(),
    )
}

/// Outer strings to the nut-end barrels, inner ones to the crest end (contract, section 4).
fn usual_barrels(counts: PerSide<usize>) -> Vec<(Side, usize)> {
    (1..=counts.bass)
        .map(|number| (Side::Bass, number))
        .chain(
            (1..=counts.treble)
                .rev()
                .map(|number| (Side::Treble, number)),
        )
        .collect()
}

fn usual_diameters(count: usize, barrel: f64) -> (Vec<f64>, DiameterBasis) {
    let thin = barrel < THIN_POST - NOISE;
    match count {
        6 if thin => (STEEL_SIX.to_vec(), DiameterBasis::CommonPractice),
        6 => (NYLON_SIX.to_vec(), DiameterBasis::FromMemory),
        12 if thin => (STEEL_TWELVE.to_vec(), DiameterBasis::FromMemory),
        _ => (vec![OTHER_STRINGS; count], DiameterBasis::Assumed),
    }
}
