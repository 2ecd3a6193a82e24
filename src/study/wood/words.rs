//! The study in words, the same for the screen and the page.

use super::{Eaten, Study, Weight};
use crate::input::{Climate, Cut, Wood};
use crate::standards::Mark;
use crate::standards::wood::Coefficient;
use crate::units::{Lengths, bare_inches, number, plain};

/// `0.07 to 0.12 mm`, or one number where both ends print alike; with `(0.003 to 0.005 in)` after it where
/// inches are asked for.
fn band(by: [f64; 2], lengths: Lengths) -> String {
    let written = |show: fn(f64) -> String| {
        let [low, high] = by.map(show);
        if low == high {
            low
        } else {
            format!("{low} to {high}")
        }
    };
    let metric = format!("{} mm", written(number));
    if lengths.inches {
        format!("{metric} ({} in)", written(bare_inches))
    } else {
        metric
    }
}

/// `mahogany, quarter-sawn, 40 to 60 % humidity at 21.1 °C`.
#[must_use]
pub fn name(wood: &Wood) -> String {
    let what = wood
        .species
        .map_or("wood with your own coefficients", |species| species.name);
    let cut = wood.cut.map_or("cut not given", Cut::name);
    let climate = match wood.climate {
        Climate::Humidity {
            percent: [low, high],
            celsius,
        } => {
            format!(
                "{} to {} % humidity at {} °C",
                plain(low),
                plain(high),
                plain(celsius)
            )
        }
        Climate::Moisture([low, high]) => {
            format!("{} to {} % moisture content", plain(low), plain(high))
        }
    };
    format!("{what}, {cut}, {climate}")
}

/// The study in a sentence.
#[must_use]
pub fn brief(study: &Study, lengths: Lengths) -> String {
    let movement = |what: &str| {
        let found = study
            .movements
            .iter()
            .find(|movement| movement.what.starts_with(what));
        found.map(|movement| format!("{what} moves {}", band(movement.by, lengths)))
    };
    let moved: Vec<String> = ["thickness", "cheek"]
        .into_iter()
        .filter_map(movement)
        .collect();
    let turned: Vec<&str> = study
        .eaten
        .iter()
        .filter(|e| e.turns())
        .map(|e| e.code)
        .collect();
    let verdicts = if turned.is_empty() {
        "no clear check is lost".to_owned()
    } else {
        format!("at the worst no longer clear: {}", turned.join(", "))
    };
    format!("{}: {}; {verdicts}", name(&study.wood), moved.join(", "))
}

/// Movements, margins and cautions, a line each.
#[must_use]
pub fn lines(study: &Study, lengths: Lengths) -> Vec<String> {
    let [dry, damp] = study.moisture;
    let mut lines = vec![format!(
        "Moisture content {} to {} %, {} points between them.",
        number(dry),
        number(damp),
        number(damp - dry)
    )];
    for movement in &study.movements {
        lines.push(format!(
            "{}, {}: moves {}.",
            movement.what,
            lengths.show(movement.across),
            band(movement.by, lengths)
        ));
    }
    lines.extend(study.eaten.iter().map(|eaten| margin(eaten, lengths)));
    lines.push(basis(study));
    lines
}

/// One margin.
fn margin(eaten: &Eaten, lengths: Lengths) -> String {
    let when = if eaten.drier { "drier" } else { "damper" };
    let left = [eaten.margin - eaten.by[1], eaten.margin - eaten.by[0]];
    let after = if eaten.turns() {
        "; no longer clear then"
    } else if eaten.verdict == crate::check::Verdict::Clear {
        ""
    } else {
        "; not clear as it is"
    };
    // The unit stands with the first length; with inches, each has both.
    let bare = |band: String| band.trim_end_matches(" mm").to_owned();
    let [margin, left] = [[eaten.margin; 2], left].map(|by| bare(band(by, lengths)));
    format!(
        "{}: loses {} when {when}; margin {margin}, then {left}{after}.",
        eaten.code,
        band(eaten.by, lengths)
    )
}

/// On what the figures rest.
#[must_use]
pub fn basis(study: &Study) -> String {
    let wood = &study.wood;
    let of = |own: bool, known: fn(&crate::standards::wood::Species) -> &'static [Coefficient]| {
        if own {
            return "your own".to_owned();
        }
        let all = wood.species.map(known).unwrap_or_default();
        let words: Vec<String> = all
            .iter()
            .map(|c| {
                let mark = match c.mark {
                    Mark::Confirmed => "published",
                    Mark::FromMemory => "from memory",
                    Mark::Computed => "computed from the published shrinkage",
                };
                format!("{:.5} {mark}", c.value)
            })
            .collect();
        words.join(" and ")
    };
    let mut text = format!(
        "Coefficients for 1 % of moisture: radial {}; tangential {}",
        of(wood.own[0], |species| species.radial),
        of(wood.own[1], |species| species.tangential)
    );
    if let Some(species) = wood.species.filter(|_| wood.own != [true; 2]) {
        text.push_str(&format!(". Source: {}", species.source));
    }
    if let Climate::Humidity { .. } = wood.climate {
        text.push_str(
            "; moisture of air by the Wood Handbook's equation 4-5, from memory, held against published values",
        );
    }
    text.push_str(
        ". Published figures are averages: your piece may move a good deal more or less. The wood is \
         taken to follow the air through and through; finish slows it. Veneers are left out, and \
         pitches stay: along the grain wood hardly moves.",
    );
    if !study.within {
        text.push_str(" The coefficients hold between 6 and 14 % of moisture; this goes beyond.");
    }
    text
}

/// What the head weighs, and on what that rests.
#[must_use]
pub fn weight_words(wood: &Wood, weight: &Weight) -> String {
    match weight.range {
        Some([low, high]) => format!(
            "{:.0} g at the mean density of the species, {low:.0} to {high:.0} g within its spread{}",
            weight.mean,
            density_basis(wood)
        ),
        None => format!("{:.0} g at your own density", weight.mean),
    }
}

/// On what density and spread rest.
fn density_basis(wood: &Wood) -> String {
    let Some((species, (mean, mark))) = wood.species.and_then(|s| Some((s, s.density?))) else {
        return String::new();
    };
    let read = match mark {
        Mark::FromMemory => "from memory",
        Mark::Confirmed | Mark::Computed => "published",
    };
    let spread = match species.density_range {
        Some((low, high)) => format!("{} to {} published", plain(low), plain(high)),
        None => "spread of a fifth either way, from memory".to_owned(),
    };
    format!(
        " ({} kg/m³ at 12 % of moisture, {read}; {spread}); veneers counted as the same wood",
        plain(mean)
    )
}
