//! Every check with its figures, its bar and its explanation, the tightest first.

use std::cmp::Reverse;

use crate::check::words::{limit_phrase, margin_words, remarks, tightness};
use crate::check::{Finding, Report, Verdict, explain};
use crate::input::Design;
use crate::units::Lengths;

use super::escape::{isolated, text};
use super::gauge;

/// Findings: stops, cautions, clear; within a verdict the least to spare for its limit first.
pub fn tightest_first(report: &Report) -> Vec<&Finding> {
    let mut list: Vec<&Finding> = report.findings.iter().collect();
    // Stable: equal ones keep the order of the table.
    list.sort_by(|a, b| {
        Reverse(a.verdict)
            .cmp(&Reverse(b.verdict))
            .then(tightness(a).total_cmp(&tightness(b)))
    });
    list
}

/// The sign of a verdict: a shape of its own for each, for eyes that do not tell the colours apart.
pub fn symbol(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clear => {
            "<svg class=\"sign\" viewBox=\"0 0 16 16\" aria-hidden=\"true\" \
             xmlns=\"http://www.w3.org/2000/svg\"><circle cx=\"8\" cy=\"8\" r=\"7\"/>\
             <path d=\"M4.5 8.2l2.4 2.5 4.6-5.2\"/></svg>"
        }
        Verdict::Caution => {
            "<svg class=\"sign\" viewBox=\"0 0 16 16\" aria-hidden=\"true\" \
             xmlns=\"http://www.w3.org/2000/svg\"><polygon points=\"8,1 15.5,15 0.5,15\"/>\
             <path d=\"M8 5.5v5M8 12.4v1.2\"/></svg>"
        }
        Verdict::Stop => {
            "<svg class=\"sign\" viewBox=\"0 0 16 16\" aria-hidden=\"true\" \
             xmlns=\"http://www.w3.org/2000/svg\"><rect x=\"1\" y=\"1\" width=\"14\" \
             height=\"14\"/><path d=\"M5 5l6 6M11 5l-6 6\"/></svg>"
        }
    }
}

/// The list.
pub fn section(design: &Design, report: &Report, lengths: Lengths) -> String {
    let mut out = format!(
        "<p class=\"note\">{} “Common practice” and “our assumption” say on what a limit rests; \
         under [limits] of the parameter file you set cautions of your own.</p>\n",
        text(gauge::LEGEND)
    );
    for (table, remark) in remarks(design, lengths) {
        out.push_str(&format!(
            "<p class=\"note\"><strong>{table}</strong> {}.</p>\n",
            text(&remark)
        ));
    }
    out.push_str("<ol class=\"checks\">\n");
    for finding in tightest_first(report) {
        out.push_str(&item(finding, lengths));
    }
    out.push_str("</ol>\n");
    out
}

fn item(finding: &Finding, lengths: Lengths) -> String {
    let verdict = finding.verdict.name();
    let code = finding.code;
    let mut out = format!(
        "<li class=\"check {verdict}\" id=\"check-{code}\" data-code=\"{code}\">\n\
         <h3>{} <span class=\"state\">{verdict}</span> {}</h3>\n{}\
         <dl class=\"measures\">\n\
         <div><dt>measured</dt><dd class=\"value\">{}</dd></div>\n\
         <div><dt>wanted</dt><dd class=\"limit\">{}</dd></div>\n\
         <div><dt>margin</dt><dd class=\"margin\">{}</dd></div>\n\
         </dl>\n<p class=\"place\">{}</p>\n",
        symbol(finding.verdict),
        text(finding.title),
        gauge::gauge(finding),
        lengths.value(finding.value, finding.unit),
        text(&limit_phrase(finding, lengths)),
        text(&margin_words(finding, lengths)),
        place(finding),
    );
    if let Some(advice) = &finding.advice {
        out.push_str(&format!(
            "<p class=\"advice\"><strong>What to change:</strong> {}</p>\n",
            text(advice)
        ));
    }
    if let Some(meaning) = explain(code) {
        let open = if finding.verdict == Verdict::Clear {
            ""
        } else {
            " open=\"open\""
        };
        out.push_str(&format!(
            "<details{open}>\n<summary>What it means<span class=\"aloud\">: {}</span></summary>\n\
             <p>{}</p>\n<p>{}</p>\n<p>{}</p>\n<p class=\"limits\">{} Code: <code>{code}</code>.\
             </p>\n</details>\n",
            text(finding.title),
            text(meaning.measured),
            text(meaning.why),
            text(meaning.change),
            text(&meaning.limits),
        ));
    }
    out.push_str("</li>\n");
    out
}

/// Where it is worst, on what the limit rests, which line set the number.
fn place(finding: &Finding) -> String {
    let mut parts = Vec::new();
    if !finding.at.is_empty() {
        parts.push(format!(
            "<span class=\"where\">{}</span>",
            text(&finding.at)
        ));
    }
    parts.push(format!(
        "limit: <span class=\"basis\">{}</span>",
        text(finding.basis.name())
    ));
    if let Some(place) = &finding.place {
        // The file's name alone: the page is the same wherever the file lies.
        let file = place.file.file_name().unwrap_or(place.file.as_os_str());
        parts.push(format!(
            "set in {}, line {}",
            isolated(&file.to_string_lossy()),
            place.line
        ));
    }
    parts.join(" · ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::run;
    use crate::input::OwnLimit;
    use crate::input::sample::six_string;

    /// One who set a limit looser than a stop reads that it does not hold, on the page as on screen.
    #[test]
    fn an_own_limit_looser_than_its_stop_is_told() {
        let lengths = Lengths { inches: false };
        let page = |design: &Design| section(design, &run(design).0, lengths);
        let mut design = six_string();
        assert!(!page(&design).contains("cannot loosen it"));
        let loose = OwnLimit::Single(0.2);
        design.limits.insert("bearing".to_owned(), loose);
        let page = page(&design);
        assert!(page.contains("bearing lies beyond the stop at 0.50 mm and cannot loosen it."));
    }
}
