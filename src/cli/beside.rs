//! What stands beside the verdicts: a head drilled already that wants repair, lengths that were read more
//! than once, and what the wood does.

use crate::check::Report;
use crate::layout::Layout;
use crate::study::drilled::words::needs_repair;
use crate::study::{measured, wood};

use super::style::{Lengths, STRONG, clean, fill, fill_after, paint};

/// Column at which the text beside a heading begins.
const INDENT: usize = 12;

/// Readings and what hangs on them; empty without readings. In full: how each ± comes about.
pub fn readings(layout: &Layout, report: &Report, lengths: Lengths, full: bool) -> String {
    let Some(study) = measured::study(&layout.design, report) else {
        return String::new();
    };
    let mut lines = Vec::new();
    for quantity in &study.quantities {
        let title = measured::title(quantity);
        let loud = !quantity.uncertainty.disagreeing.is_empty();
        lines.push(if full || loud {
            format!("{title} ({})", measured::short(quantity))
        } else {
            title
        });
    }
    let rest = measured::lines(&study, lengths, full);
    if !full {
        // One paragraph, so that the screen `make` ends with stays a screen.
        lines = vec![format!("{}. {}", lines.join("; "), rest.join(" "))];
    } else {
        lines.extend(rest);
    }
    block("Measured", &lines)
}

/// What the wood does; empty without `[wood]`. In full: every movement and margin.
pub fn seasons(layout: &Layout, report: &Report, lengths: Lengths, full: bool) -> String {
    let Some(study) = wood::study(layout, report) else {
        return String::new();
    };
    let mut lines = vec![wood::brief(&study, lengths)];
    if full {
        lines.extend(wood::lines(&study, lengths));
    }
    block("Wood", &lines)
}

/// What a head that is drilled already asks for before anything of the design is done; empty where its
/// machines go in, or without records.
pub fn drilled(layout: &Layout) -> String {
    let mut lines = needs_repair(layout);
    if !lines.is_empty() {
        lines.push(
            "`barrelhead fit` with this file says what to do; `make` draws bench/rescue-sheet.pdf."
                .to_owned(),
        );
    }
    block("Drilled", &lines)
}

fn block(word: &str, lines: &[String]) -> String {
    let mut out = String::new();
    for (index, line) in lines.iter().enumerate() {
        let line = clean(line);
        out.push_str(&if index == 0 {
            fill_after(&paint(STRONG, word), &line, INDENT)
        } else {
            fill(&line, INDENT)
        });
    }
    out
}
