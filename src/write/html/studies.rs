//! Readings with what hangs on them, and what the wood does. Empty where the design has neither.

use crate::check::Report;
use crate::layout::Layout;
use crate::solid::Solids;
use crate::study::measured::{self, Quantity};
use crate::study::wood;
use crate::units::{Lengths, number};

use super::escape::text;
use super::table::{Table, length, none};

/// Lengths that were read more than once.
pub fn readings(layout: &Layout, report: &Report, lengths: Lengths) -> String {
    let Some(study) = measured::study(&layout.design, report) else {
        return String::new();
    };
    let mut table = Table::new(
        "Lengths measured by readings (mm)",
        &[
            "Key",
            "Mean",
            "±, about 95 %",
            "Spread",
            "Standard error",
            "Readings",
            "Remarks",
        ],
    );
    let fine = |mm: f64| format!("{mm:.3}");
    for quantity in &study.quantities {
        let of = &quantity.uncertainty;
        let maybe = |mm: Option<f64>| mm.map_or_else(|| none("not known from one reading"), fine);
        let values: Vec<String> = quantity
            .readings
            .values
            .iter()
            .map(|mm| crate::units::plain((mm * 1000.0).round() / 1000.0))
            .collect();
        table.row(
            format!("<code>{}</code>", text(&quantity.readings.key)),
            vec![
                fine(of.mean),
                fine(of.expanded),
                maybe(of.spread),
                maybe(of.standard_error),
                text(&values.join(", ")),
                remarks(quantity),
            ],
        );
    }
    format!(
        "{}{}",
        table.draw(),
        list(&measured::lines(&study, lengths, true))
    )
}

fn remarks(quantity: &Quantity) -> String {
    let words = measured::remarks(quantity);
    if words.is_empty() {
        none("none")
    } else {
        text(&words.join("; "))
    }
}

/// What the wood does.
pub fn seasons(layout: &Layout, report: &Report, solids: &Solids) -> String {
    let Some(study) = wood::study(layout, report) else {
        return String::new();
    };
    let lengths = layout.design.lengths();
    let mm = |value: f64| length(value, lengths);
    let mut movements = Table::new(
        "What moves between the two climates (mm)",
        &["Dimension", "Across", "Least", "Most"],
    );
    for movement in &study.movements {
        let [least, most] = movement.by.map(mm);
        movements.row(text(movement.what), vec![mm(movement.across), least, most]);
    }
    let mut margins = Table::new(
        "Margins that the wood eats (mm)",
        &[
            "Check",
            "Margin",
            "Loses at least",
            "Loses at most",
            "When",
            "Left at the worst",
            "Then",
        ],
    );
    for eaten in &study.eaten {
        let [least, most] = eaten.by.map(mm);
        let then = match (eaten.turns(), eaten.verdict) {
            (true, _) => "no longer clear",
            (false, crate::check::Verdict::Clear) => "clear",
            (false, _) => "not clear as it is",
        };
        margins.row(
            format!(
                "<a href=\"#check-{}\">{}</a>",
                eaten.code,
                text(eaten.title)
            ),
            vec![
                mm(eaten.margin),
                least,
                most,
                (if eaten.drier { "drier" } else { "damper" }).to_owned(),
                mm(eaten.margin - eaten.by[1]),
                then.to_owned(),
            ],
        );
    }
    let mut out = format!(
        "<p class=\"lead\">{}.</p>\n<p>Moisture content {} to {} %.</p>\n{}{}",
        text(&wood::brief(&study, lengths)),
        number(study.moisture[0]),
        number(study.moisture[1]),
        movements.draw(),
        margins.draw()
    );
    if let Some(weight) = wood::weight(&study.wood, solids.head.measures.volume) {
        out.push_str(&format!(
            "<p>The head weighs {}.</p>\n",
            text(&wood::weight_words(&study.wood, &weight))
        ));
    }
    out.push_str(&format!(
        "<p class=\"note\">{}</p>\n",
        text(&wood::basis(&study))
    ));
    out
}

fn list(lines: &[String]) -> String {
    let items: String = lines
        .iter()
        .map(|line| format!("<li>{}</li>\n", text(line)))
        .collect();
    format!("<ul>\n{items}</ul>\n")
}
