//! Verdicts of the checks as a person reads them, worst first.

use std::fmt::Write as _;

use crate::check::words::{self, basis_words, limit_words, margin_words, tightness};
use crate::check::{self, Finding, Report, RibWindow, Verdict};
use crate::input::Design;

use super::style::{self, Lengths, QUIET, STRONG, clean, fill, fill_after, paint};

/// Column at which the lines of a finding begin.
const INDENT: usize = 9;
/// How many of the clear checks are named where not all are shown.
const TIGHTEST: usize = 3;

/// `caution: 2 cautions, 21 clear`.
pub fn summary(report: &Report) -> String {
    let count = |verdict| {
        report
            .findings
            .iter()
            .filter(|f| f.verdict == verdict)
            .count()
    };
    let mut parts = Vec::new();
    for (verdict, one, many) in [
        (Verdict::Stop, "stop", "stops"),
        (Verdict::Caution, "caution", "cautions"),
    ] {
        match count(verdict) {
            0 => {}
            1 => parts.push(format!("1 {one}")),
            n => parts.push(format!("{n} {many}")),
        }
    }
    parts.push(format!("{} clear", count(Verdict::Clear)));
    let verdict = report.verdict();
    format!(
        "{}: {}",
        paint(style::of(verdict), verdict.name()),
        parts.join(", ")
    )
}

/// Every finding that is not clear in full; then all clear ones in full, or only their tightest.
pub fn listing(report: &Report, lengths: Lengths, all: bool) -> String {
    let mut out = String::new();
    for finding in report.worst_first() {
        if all || finding.verdict != Verdict::Clear {
            out.push_str(&full(finding, lengths));
        }
    }
    if !all {
        out.push_str(&tightest_clear(report, lengths, TIGHTEST));
    }
    out
}

/// One finding: what, measured, limit, margin, basis, where, file and line, advice.
pub fn full(finding: &Finding, lengths: Lengths) -> String {
    let word = finding.verdict.name();
    let mut out = format!(
        "{}{}{}  {}\n",
        paint(style::of(finding.verdict), word),
        " ".repeat(INDENT.saturating_sub(word.len())),
        paint(STRONG, finding.code),
        finding.title
    );
    let measured = format!(
        "measured {}, {}; {}",
        lengths.value(finding.value, finding.unit),
        limit_words(finding, lengths),
        margin_words(finding, lengths),
    );
    out.push_str(&fill(
        &format!("{measured} ({})", basis_words(finding, lengths)),
        INDENT,
    ));
    let mut place = clean(&finding.at);
    if let Some(set) = &finding.place {
        let separator = if place.is_empty() { "" } else { "; " };
        let file = clean(&set.file.display().to_string());
        let _ = write!(place, "{separator}set at {file}:{}", set.line);
    }
    if !place.is_empty() {
        out.push_str(&fill(&place, INDENT));
    }
    if let Some(advice) = &finding.advice {
        out.push_str(&fill_after("      -> ", &clean(advice), INDENT));
    }
    out
}

/// One finding in two lines: what was found, and what to change.
pub fn brief(finding: &Finding, lengths: Lengths) -> String {
    let word = finding.verdict.name();
    let line = format!(
        "{}: {}, {}, {} ({})",
        paint(STRONG, finding.code),
        finding.title,
        lengths.value(finding.value, finding.unit),
        limit_words(finding, lengths),
        basis_words(finding, lengths)
    );
    let mut out = fill_after(&paint(style::of(finding.verdict), word), &line, INDENT);
    if let Some(advice) = &finding.advice {
        out.push_str(&fill_after("      -> ", &clean(advice), INDENT));
    }
    out
}

/// The clear checks counted, and those with least to spare for their limit, a line each.
pub fn tightest_clear(report: &Report, lengths: Lengths, most: usize) -> String {
    let mut clear: Vec<&Finding> = report
        .findings
        .iter()
        .filter(|finding| finding.verdict == Verdict::Clear)
        .collect();
    if clear.is_empty() {
        return String::new();
    }
    // Stable, so that equal ones keep the order of the table.
    clear.sort_by(|a, b| tightness(a).total_cmp(&tightness(b)));
    let shown = clear.len().min(most);
    let checks = if clear.len() == 1 { "check" } else { "checks" };
    let mut out = format!(
        "{}    {} {checks}, the tightest:\n",
        paint(style::of(Verdict::Clear), "clear"),
        clear.len()
    );
    for finding in clear.into_iter().take(shown) {
        let line = format!(
            "{}: {}, {}, {}",
            finding.code,
            finding.title,
            lengths.value(finding.value, finding.unit),
            limit_words(finding, lengths)
        );
        out.push_str(&fill(&line, INDENT));
    }
    out
}

/// What no check speaks of, a line each.
pub fn remarks(design: &Design, lengths: Lengths) -> String {
    words::remarks(design, lengths)
        .iter()
        .map(|(table, text)| fill_after(&paint(STRONG, table), text, INDENT))
        .collect()
}

/// Numbers that were most likely mistyped, a remark each.
pub fn doubts(design: &Design, lengths: Lengths) -> String {
    check::doubts(design, lengths)
        .iter()
        .map(|text| fill_after(&paint(STRONG, "Look again"), &clean(text), 12))
        .collect()
}

/// The rib window in a line, beside the rib as it is.
pub fn rib_window(window: RibWindow, rib: Option<f64>, lengths: Lengths) -> String {
    let range = if !window.is_open() {
        format!(
            "none: bearing wants at least {}, the innermost strings at most {}",
            lengths.show(window.least),
            lengths.show(window.greatest)
        )
    } else if window.greatest.is_finite() {
        format!(
            "{} to {}",
            lengths.show(window.least),
            lengths.show(window.greatest)
        )
    } else {
        format!(
            "{} or more; no string limits it",
            lengths.show(window.least)
        )
    };
    let now = rib.map_or(String::new(), |rib| {
        format!("; it is {}", lengths.show(rib))
    });
    fill_after(
        &format!("{}  ", paint(STRONG, "Rib window")),
        &format!("{range}{now}"),
        12,
    )
}

/// A quiet note.
pub fn note(text: &str) -> String {
    fill(text, 0)
        .lines()
        .map(|line| format!("{}\n", paint(QUIET, line)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::Limit;
    use crate::cli::example::finding;

    const MM: Lengths = Lengths { inches: false };

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    #[test]
    fn a_finding_says_everything() {
        let text = plain(&full(&finding("web", 4.5, Limit::Single(5.0), -0.5), MM));
        assert_eq!(
            text,
            "caution  web  Some title\n\
             \x20        measured 4.50 mm, wanted at least 5.00 mm; short by 0.50 mm (our assumption)\n\
             \x20        treble bore 2; set at a.toml:7\n\
             \x20     -> make it thicker by 0.50 mm\n"
        );
    }

    #[test]
    fn the_tightest_is_told_by_its_share_of_the_limit() {
        let report = Report {
            findings: vec![
                finding("pair-offset", 0.0, Limit::Single(1e-6), 1e-6),
                finding("bearing", 3.1, Limit::Single(3.0), 0.1),
                finding("web", 24.0, Limit::Single(5.0), 19.0),
                finding("cheek", 8.4, Limit::Single(8.0), 0.4),
                finding("rib", 6.0, Limit::Single(7.0), -1.0),
            ],
            rib_window: None,
        };
        let text = plain(&listing(&report, MM, false));
        let at = |word: &str| text.find(word).unwrap_or(usize::MAX);
        assert!(
            at("rib") < at("4 checks") && at("4 checks") < at("bearing"),
            "{text}"
        );
        assert!(at("bearing") < at("cheek") && at("cheek") < at("pair-offset"));
        assert!(!text.contains("web"), "{text}");
        assert!(plain(&listing(&report, MM, true)).contains("web"));
        assert_eq!(plain(&summary(&report)), "caution: 1 caution, 4 clear");
    }

    #[test]
    fn rib_windows() {
        let window = |least, greatest| RibWindow { least, greatest };
        let open = plain(&rib_window(window(11.0, 16.5), Some(14.0), MM));
        assert_eq!(open, "Rib window  11.00 mm to 16.50 mm; it is 14.00 mm\n");
        assert!(plain(&rib_window(window(17.0, 16.5), None, MM)).contains("none: bearing"));
        let free = plain(&rib_window(window(5.0, f64::INFINITY), None, MM));
        assert!(free.contains("5.00 mm or more"), "{free}");
    }
}
