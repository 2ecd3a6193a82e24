//! Which verdict hangs on a measurement: every length that was read more than once is moved by its
//! expanded uncertainty, up and down, the file is read again with it and judged by the real checks.
//!
//! Then all at once: for each check the changes that the single lengths bring are put together as
//! independent (root of the sum of squares, JCGM 100:2008, 5.1.2), each length is moved by its share
//! of that in the direction that counts, and the design is judged once more. Numbers that were typed
//! plainly are taken as they stand.

mod both_ways;
mod words;

use std::collections::BTreeMap;

use crate::check::{self, Report, Verdict};
use crate::input::{Design, Readings, Side, Uncertainty, read_again};
use crate::layout::{Copy, Layout, faults};
use crate::tolerance::NOISE;
use both_ways::{directions, size};

pub use words::{lines, remarks, short, title};

/// What the readings of a design say.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// Every length that was read, in file order.
    pub quantities: Vec<Quantity>,
    /// What pitches read over or between give.
    pub given: Vec<Given>,
    /// Checks whose value moves, in the order of the report.
    pub effects: Vec<Effect>,
    /// Verdicts that would change.
    pub turns: Vec<Turn>,
    /// Lengths with which the file would no longer read, or not be laid out.
    pub refusals: Vec<Refusal>,
    /// Diameter as typed and as pitches read over and between give it, where the two disagree.
    pub diameters: Option<Disagreement>,
}

/// A length with its readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The readings.
    pub readings: Readings,
    /// Their figures.
    pub uncertainty: Uncertainty,
}

/// A number that follows from readings of something else.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// In words: `treble pitch 1`, `barrel diameter`.
    pub name: String,
    /// mm.
    pub value: f64,
    /// Expanded uncertainty, mm.
    pub expanded: f64,
}

/// How far the value of a check is unsure.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The check.
    pub code: &'static str,
    /// Its value with the means.
    pub value: f64,
    /// Expanded uncertainty of that value, in the check's unit.
    pub expanded: f64,
    /// `"mm"`, `"deg"` or `""`.
    pub unit: &'static str,
}

/// A verdict that would change within the uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// The check.
    pub code: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Its verdict with the means.
    pub now: Verdict,
    /// What it would become.
    pub then: Verdict,
    /// Its value then, if it still applies.
    pub value: Option<f64>,
    /// `"mm"`, `"deg"` or `""`.
    pub unit: &'static str,
    /// The key moved and how far, mm; `None`: several together, none of which does it alone.
    pub by: Option<(String, f64)>,
}

/// A length that the file's own cross-checks would refuse.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// The key moved.
    pub key: String,
    /// How far, mm.
    pub by: f64,
    /// What would then be wrong.
    pub message: String,
}

/// Two figures of the barrels' diameter further apart than both are unsure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disagreement {
    /// As `barrel_diameter` gives it, mm.
    pub typed: f64,
    /// As the pitches give it, mm.
    pub of_pairs: f64,
    /// Expanded uncertainty of the difference, mm.
    pub expanded: f64,
}

/// A design with one length moved.
struct Moved {
    by: f64,
    design: Design,
    report: Report,
}

/// Reads the design again with some lengths moved, and judges it.
fn moved(design: &Design, shifts: &BTreeMap<String, f64>) -> Result<(Design, Report), String> {
    let design = read_again(design, shifts).map_err(|found| {
        found
            .first()
            .map(|first| first.message.clone())
            .unwrap_or_default()
    })?;
    let finished = Layout::new(&design, Copy::Finished);
    if let Some(fault) = faults(&finished).into_iter().next() {
        return Err(fault.message);
    }
    let printed = Layout::new(&design, Copy::Printed);
    let (report, _) = check::verdicts(finished, printed);
    Ok((design, report))
}

/// Works out what the readings of a design say; `report` is that of the design. `None` without
/// readings.
#[must_use]
pub fn study(design: &Design, report: &Report) -> Option<Study> {
    if design.measurements.readings.is_empty() {
        return None;
    }
    let quantities: Vec<Quantity> = design
        .measurements
        .readings
        .iter()
        .map(|readings| Quantity {
            readings: readings.clone(),
            uncertainty: readings.uncertainty(),
        })
        .collect();
    let mut refusals = Vec::new();
    let both_ways: Vec<[Option<Moved>; 2]> = quantities
        .iter()
        .map(|quantity| {
            [1.0, -1.0].map(|sign| {
                let by = sign * quantity.uncertainty.expanded;
                let key = quantity.readings.key.clone();
                match moved(design, &BTreeMap::from([(key.clone(), by)])) {
                    Ok((design, report)) => Some(Moved { by, design, report }),
                    Err(message) => {
                        refusals.push(Refusal { key, by, message });
                        None
                    }
                }
            })
        })
        .collect();
    let mut turns = single_turns(report, &quantities, &both_ways);
    let mut effects = Vec::new();
    for finding in &report.findings {
        let changes = both_ways_change(&both_ways, finding);
        let sizes: Vec<f64> = changes.iter().copied().map(size).collect();
        let expanded = root_of_squares(&sizes);
        if expanded <= NOISE || !expanded.is_finite() {
            continue;
        }
        effects.push(Effect {
            code: finding.code,
            value: finding.value,
            expanded,
            unit: finding.unit,
        });
        turns.extend(together(
            design,
            report,
            finding,
            &quantities,
            &changes,
            &turns,
        ));
    }
    Some(Study {
        given: given(design, &both_ways),
        diameters: diameters(design, &both_ways),
        quantities,
        effects,
        turns,
        refusals,
    })
}

/// Half of what moving each length up and down changes a number by, signed.
fn changes(
    both_ways: &[[Option<Moved>; 2]],
    number: impl Fn(&Design, &Report) -> Option<f64>,
    now: f64,
) -> Vec<f64> {
    both_ways
        .iter()
        .map(|ways| {
            let [up, down] = ways.each_ref().map(|way| {
                way.as_ref()
                    .and_then(|moved| number(&moved.design, &moved.report))
            });
            match (up, down) {
                (Some(up), Some(down)) => (up - down) / 2.0,
                (Some(up), None) => up - now,
                (None, Some(down)) => now - down,
                (None, None) => 0.0,
            }
        })
        .collect()
}

/// What moving each length up, and down, changes a check's value by.
fn both_ways_change(both_ways: &[[Option<Moved>; 2]], finding: &check::Finding) -> Vec<[f64; 2]> {
    let change = |way: &Option<Moved>| {
        let then = way.as_ref()?.report.finding(finding.code)?;
        Some(then.value - finding.value)
    };
    let pairs = both_ways
        .iter()
        .map(|ways| match ways.each_ref().map(change) {
            [Some(up), Some(down)] => [up, down],
            // What is known of one way alone is taken for both.
            [Some(up), None] => [up, -up],
            [None, Some(down)] => [-down, down],
            [None, None] => [0.0, 0.0],
        });
    pairs.collect()
}

fn root_of_squares(changes: &[f64]) -> f64 {
    changes
        .iter()
        .map(|change| change * change)
        .sum::<f64>()
        .sqrt()
}

/// Verdicts that one length alone changes.
fn single_turns(
    report: &Report,
    quantities: &[Quantity],
    both_ways: &[[Option<Moved>; 2]],
) -> Vec<Turn> {
    let mut turns = Vec::new();
    for finding in &report.findings {
        for (quantity, ways) in quantities.iter().zip(both_ways) {
            for moved in ways.iter().flatten() {
                let then = moved.report.finding(finding.code);
                let verdict = then.map_or(Verdict::Clear, |then| then.verdict);
                if verdict != finding.verdict {
                    turns.push(Turn {
                        code: finding.code,
                        title: finding.title,
                        now: finding.verdict,
                        then: verdict,
                        value: then.map(|then| then.value),
                        unit: finding.unit,
                        by: Some((quantity.readings.key.clone(), moved.by)),
                    });
                }
            }
        }
    }
    turns
}

/// Verdicts that several lengths change together though none does alone.
fn together(
    design: &Design,
    report: &Report,
    finding: &check::Finding,
    quantities: &[Quantity],
    changes: &[[f64; 2]],
    known: &[Turn],
) -> Vec<Turn> {
    let most: f64 = changes.iter().copied().map(size).sum();
    let several = changes.iter().filter(|ways| size(**ways) > NOISE).count() > 1;
    if !several || (finding.verdict == Verdict::Clear && finding.margin > most) {
        return Vec::new();
    }
    let mut turns: Vec<Turn> = Vec::new();
    for by in directions(changes) {
        let root = root_of_squares(&by);
        if root <= NOISE {
            continue;
        }
        let shifts: BTreeMap<String, f64> = quantities
            .iter()
            .zip(&by)
            .map(|(quantity, by)| {
                let share = by / root;
                (
                    quantity.readings.key.clone(),
                    share * quantity.uncertainty.expanded,
                )
            })
            .collect();
        let Ok((_, then)) = moved(design, &shifts) else {
            continue;
        };
        let then = then.finding(finding.code);
        let verdict = then.map_or(Verdict::Clear, |then| then.verdict);
        let told = |turn: &Turn| turn.code == finding.code && turn.then == verdict;
        if verdict != finding.verdict && !known.iter().chain(&turns).any(told) {
            turns.push(Turn {
                code: finding.code,
                title: finding.title,
                now: finding.verdict,
                then: verdict,
                value: then.map(|then| then.value),
                unit: finding.unit,
                by: None,
            });
        }
    }
    debug_assert!(report.finding(finding.code).is_some());
    turns
}

/// Pitches and diameter that follow from readings of something else.
fn given(design: &Design, both_ways: &[[Option<Moved>; 2]]) -> Vec<Given> {
    let mut all = Vec::new();
    let mut add = |name: String, number: &dyn Fn(&Design) -> Option<f64>| {
        let Some(value) = number(design) else { return };
        let changes = changes(both_ways, |design, _| number(design), value);
        let expanded = root_of_squares(&changes);
        if expanded > NOISE {
            all.push(Given {
                name,
                value,
                expanded,
            });
        }
    };
    let read = |key: &str| {
        design
            .measurements
            .readings
            .iter()
            .any(|readings| readings.key == key)
    };
    if !read("machines.barrel_diameter") {
        add("barrel diameter".to_owned(), &|design| {
            Some(design.machines.barrel_diameter)
        });
    }
    let mirrored = design.machines.pitches.treble == design.machines.pitches.bass;
    for side in Side::BOTH {
        if mirrored && side == Side::Bass {
            continue;
        }
        let table = match side {
            Side::Treble => "machines",
            Side::Bass => "machines.bass",
        };
        let whose = if mirrored { "" } else { side.name() };
        for index in 0..design.machines.pitches.get(side).len() {
            if !read(&format!("{table}.pitches[{}]", index + 1)) {
                let name = format!("{whose} pitch {}", index + 1);
                add(name.trim().to_owned(), &|design: &Design| {
                    design.machines.pitches.get(side).get(index).copied()
                });
            }
        }
    }
    all
}

/// Whether the diameter that was typed and the one that pitches give fit one another.
fn diameters(design: &Design, both_ways: &[[Option<Moved>; 2]]) -> Option<Disagreement> {
    let of_pairs = design.measurements.diameter_of_pairs?;
    let typed = design.machines.barrel_diameter;
    let apart = |design: &Design, _: &Report| {
        Some(design.machines.barrel_diameter - design.measurements.diameter_of_pairs?)
    };
    let expanded = root_of_squares(&changes(both_ways, apart, typed - of_pairs));
    ((typed - of_pairs).abs() > expanded + NOISE).then_some(Disagreement {
        typed,
        of_pairs,
        expanded,
    })
}

#[cfg(test)]
mod tests;
