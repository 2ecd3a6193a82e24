//! `[job]`, `[press]`, `[print]` and `[limits]`: what belongs to the shop, not to the head.

use std::collections::BTreeMap;

use super::check_codes::{CheckCode, KNOWN_CHECK_CODES, LimitUnit, check_code};
use super::context::Context;
use super::defaults::{BLOCK_ALLOWANCE, BUSH_ALLOWANCE, CHORD, HEAD_ALLOWANCE};
use super::design::{Job, OwnLimit, Press, Print};
use super::field::Sign;
use super::known::Known;
use super::reader::{Reader, shown};
use super::together;
use super::tree::{Node, Table, Value};
use crate::diagnostic::meant::nearest;

pub(crate) fn job(r: Reader<'_>) -> Option<Job> {
    let text = |name: &str| r.text(name).or(String::new());
    let (number, revision, date) = (text("number"), text("revision"), text("date"));
    let (material, quantity, contact) = (text("material"), text("quantity"), text("contact"));
    let (owner, creator, approver) = (text("owner"), text("creator"), text("approver"));
    Some(Job {
        number: number?,
        revision: revision?,
        date: date?,
        material: material?,
        quantity: quantity?,
        contact: contact?,
        owner: owner?,
        creator: creator?,
        approver: approver?,
    })
}

pub(crate) fn press(r: Reader<'_>) -> Option<Press> {
    let travel = r.need_length("travel", Sign::AboveZero);
    let optional = |name: &str| r.length(name, Sign::AboveZero).optional();
    let (daylight, bit, flute) = (
        optional("daylight"),
        optional("bit_length"),
        optional("flute_length"),
    );
    if let (Some(Some(bit)), Some(Some(flute))) = (bit, flute)
        && !together::flutes_fit(flute, bit)
    {
        r.fault(
            "flute_length",
            format!(
                "the flutes, {}, are longer than the whole bit, {}",
                r.show(flute),
                r.show(bit)
            ),
            "measure both again; flute_length is a part of bit_length".to_owned(),
        );
    }
    Some(Press {
        travel: travel?,
        daylight: daylight?,
        bit_length: bit?,
        flute_length: flute?,
    })
}

pub(crate) fn print(r: Reader<'_>, known: &Known) -> Option<Print> {
    let head = r.length("head_allowance", Sign::Any).or(HEAD_ALLOWANCE);
    let block = r.length("block_allowance", Sign::Any).or(BLOCK_ALLOWANCE);
    let bush = r.length("bush_allowance", Sign::Any).or(BUSH_ALLOWANCE);
    let chord = r.length("chord", Sign::AboveZero).or(CHORD);
    let bed = bed(r);
    let leaves = |name: &str, allowance: Option<f64>, hole: Option<f64>| {
        if let Some((_, hole)) = allowance
            .zip(hole)
            .filter(|(allowance, hole)| !together::hole_is_left(*hole, *allowance))
        {
            let message = format!(
                "`{name}` leaves nothing of the hole, {} across",
                r.show(hole)
            );
            r.clash(
                name,
                message,
                "a few tenths of a millimetre, such as \"0.2 mm\"",
            );
        }
    };
    leaves("head_allowance", head, known.bore_diameter);
    if known.bush == Some(None) {
        leaves("block_allowance", block, known.guide_bore);
    }
    leaves("bush_allowance", bush, known.bush.flatten());
    Some(Print {
        head_allowance: head?,
        block_allowance: block?,
        bush_allowance: bush?,
        chord: chord?,
        bed: bed?,
    })
}

/// The printer's bed and height: three lengths.
#[allow(
    clippy::option_option,
    reason = "outer: whether it reads; inner: whether it is given"
)]
fn bed(r: Reader<'_>) -> Option<Option<[f64; 3]>> {
    let given = r.lengths("bed", Sign::AboveZero).optional()?;
    let Some(lengths) = given else {
        return Some(None);
    };
    match <[f64; 3]>::try_from(lengths) {
        Ok(bed) => Some(Some(bed)),
        Err(lengths) => {
            r.fault(
                "bed",
                format!(
                    "`bed` must hold three lengths, the bed both ways and the height, not {}",
                    lengths.len()
                ),
                r.example("all three", "bed", r.at("bed")),
            );
            None
        }
    }
}

/// The maker's own limits, by the code of the check.
pub(crate) fn limits(context: &Context, table: &Table) -> Option<BTreeMap<String, OwnLimit>> {
    let r = Reader::of_free_keys(context, table, "limits");
    let mut limits = Some(BTreeMap::new());
    for (name, entry) in r.entries() {
        let limit = match check_code(name) {
            Some(known) => {
                if !r.incomplete() {
                    context.remember(|| r.dotted(name), &entry.key);
                }
                limit(r, known, &entry.node)
            }
            None => {
                let codes = KNOWN_CHECK_CODES.iter().map(|known| known.code);
                let hint = nearest(name, codes.clone()).map_or_else(
                    || format!("one of {}", codes.collect::<Vec<_>>().join(", ")),
                    |near| format!("`{near}`"),
                );
                context.fault(
                    &entry.key,
                    &r.dotted(name),
                    format!("no check has the code `{}`", shown(name)),
                    Some(hint),
                );
                None
            }
        };
        limits = limits.zip(limit).map(|(mut limits, limit)| {
            limits.insert(name.to_owned(), limit);
            limits
        });
    }
    limits
}

fn limit(r: Reader<'_>, known: &CheckCode, node: &Node) -> Option<OwnLimit> {
    match (&node.value, known.two_sided) {
        (Value::Table(table), true) => band(r, known, table),
        (_, true) => {
            let hint = match known.unit {
                LimitUnit::Length => "{ low = 0.3, high = 0.7 }",
                LimitUnit::Degrees | LimitUnit::Ratio => "{ low = 8, high = 25 }",
            };
            r.fault(
                known.code,
                format!(
                    "`{}` takes two limits, a low one and a high one",
                    known.code
                ),
                hint,
            );
            None
        }
        (Value::Table(_), false) => {
            r.fault(
                known.code,
                format!("`{}` takes one limit", known.code),
                "one number without braces",
            );
            None
        }
        (_, false) => amount(r, known, known.code, node).map(OwnLimit::Single),
    }
}

fn amount(r: Reader<'_>, known: &CheckCode, name: &str, node: &Node) -> Option<f64> {
    match known.unit {
        LimitUnit::Length => r.length_of(name, node, Sign::Any),
        LimitUnit::Degrees => r.number_of(name, node, "a bare number of degrees"),
        LimitUnit::Ratio => r.number_of(name, node, "a bare number"),
    }
}

fn band(outer: Reader<'_>, known: &CheckCode, table: &Table) -> Option<OwnLimit> {
    let path = outer.dotted(known.code);
    let r = Reader::of_free_keys(outer.context(), table, &path);
    for (name, entry) in r.entries() {
        if !matches!(name, "low" | "high") {
            let message = format!("[{path}] has no key `{}`", shown(name));
            r.context().fault(
                &entry.key,
                &r.dotted(name),
                message,
                Some("`low` or `high`".to_owned()),
            );
        } else if !r.incomplete() {
            r.context().remember(|| r.dotted(name), &entry.key);
        }
    }
    let find = |wanted: &str| {
        let found = r.entries().find(|(name, _)| *name == wanted);
        if found.is_none() && !r.incomplete() {
            let message = format!("`{}` lacks its `{wanted}` limit", known.code);
            r.context().fault(
                &table.at,
                &r.dotted(wanted),
                message,
                Some("both low and high".to_owned()),
            );
        }
        found.and_then(|(name, entry)| amount(r, known, name, &entry.node))
    };
    let (low, high) = (find("low"), find("high"));
    let (low, high) = (low?, high?);
    if low > high {
        r.fault(
            "low",
            format!("the low limit of `{}` is above its high limit", known.code),
            "the smaller of the two as low",
        );
        return None;
    }
    Some(OwnLimit::Band { low, high })
}
