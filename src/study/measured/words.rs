//! The study in words, the same for the screen and the page.

use super::{Effect, Quantity, Study, Turn};
use crate::input::defaults::CALIPERS_OFF;
use crate::units::{Lengths, number};

/// A small length in mm, to the thousandth that a mean is good for.
fn fine(mm: f64) -> String {
    format!("{mm:.3}")
}

/// `machines.barrel_diameter 10.007 mm ± 0.040`.
#[must_use]
pub fn title(quantity: &Quantity) -> String {
    format!(
        "{} {} mm ± {}",
        quantity.readings.key,
        fine(quantity.uncertainty.mean),
        fine(quantity.uncertainty.expanded)
    )
}

/// How it comes about, and what cannot be told.
#[must_use]
pub fn short(quantity: &Quantity) -> String {
    let of = &quantity.uncertainty;
    let mut parts = Vec::new();
    if let (Some(spread), Some(error)) = (of.spread, of.standard_error) {
        parts.push(format!(
            "{} readings, spread {}, standard error {}, factor {:.2}",
            quantity.readings.values.len(),
            fine(spread),
            fine(error),
            of.factor
        ));
    }
    parts.extend(remarks(quantity));
    parts.join("; ")
}

/// Readings that disagree, and what cannot be told.
#[must_use]
pub fn remarks(quantity: &Quantity) -> Vec<String> {
    let mut parts = Vec::new();
    for index in &quantity.uncertainty.disagreeing {
        if let Some(value) = quantity.readings.values.get(*index) {
            parts.push(format!(
                "reading {}, {} mm, disagrees with the others",
                index + 1,
                fine(*value)
            ));
        }
    }
    parts.extend(quantity.readings.untold().map(str::to_owned));
    parts
}

/// What follows from the readings, a line each: numbers given, disagreements, verdicts; in full also
/// how far each check's value is unsure, and what ± means.
#[must_use]
pub fn lines(study: &Study, lengths: Lengths, full: bool) -> Vec<String> {
    let mut lines = Vec::new();
    if !study.given.is_empty() {
        let given: Vec<String> = study
            .given
            .iter()
            .map(|given| {
                format!(
                    "{} {} mm ± {}",
                    given.name,
                    fine(given.value),
                    fine(given.expanded)
                )
            })
            .collect();
        lines.push(format!("These give {}.", given.join(", ")));
    }
    if let Some(two) = study.diameters {
        lines.push(format!(
            "The barrel's diameter is {} mm as given, but {} mm by the pitches read over and between: \
             further apart than the ± {} mm that readings explain. Measure it again.",
            fine(two.typed),
            fine(two.of_pairs),
            fine(two.expanded)
        ));
    }
    for refusal in &study.refusals {
        lines.push(format!(
            "With {} moved by {} mm the file would be refused: {}.",
            refusal.key,
            signed(refusal.by),
            refusal.message
        ));
    }
    lines.extend(study.turns.iter().map(|turn| sentence(turn, lengths)));
    if study.turns.is_empty() {
        lines.push("No verdict changes within these uncertainties.".to_owned());
    }
    if !full {
        return lines;
    }
    // What would print as ± 0.000 is left to report.json.
    let told: Vec<&Effect> = study
        .effects
        .iter()
        .filter(|effect| effect.expanded >= 0.001)
        .collect();
    if !told.is_empty() {
        let effects: Vec<String> = told
            .iter()
            .map(|effect| {
                let value = lengths.value(effect.value, effect.unit);
                format!("{} {value} ± {}", effect.code, fine(effect.expanded))
            })
            .collect();
        lines.push(format!(
            "So these checks are unsure: {}.",
            effects.join(", ")
        ));
    }
    lines.push(format!(
        "± holds the true length about 95 times in 100 (k = 2, for few readings Student's t; JCGM 100); \
         calipers count as up to {} mm off whatever they repeat to (our assumption). Numbers typed \
         plainly are taken as they stand.",
        number(CALIPERS_OFF)
    ));
    lines
}

fn sentence(turn: &Turn, lengths: Lengths) -> String {
    let value = turn.value.map_or(String::new(), |value| {
        format!(", at {}", lengths.value(value, turn.unit))
    });
    let cause = match &turn.by {
        Some((key, by)) => format!("with {key} {} mm", signed(*by)),
        None => "with several of them off together, none of them far".to_owned(),
    };
    format!(
        "{} ({}) is {} but would be {}{value}, {cause}.",
        turn.code,
        turn.title,
        turn.now.name(),
        turn.then.name()
    )
}

fn signed(mm: f64) -> String {
    format!("{}{}", if mm < 0.0 { "−" } else { "+" }, fine(mm.abs()))
}
