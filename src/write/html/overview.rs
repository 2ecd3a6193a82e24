//! The top of the page: what it is, the verdict in words, what to read first.

use crate::check::words::{limit_phrase, margin_words};
use crate::check::{Finding, Report, Verdict};
use crate::layout::{Block, Layout, Serves};
use crate::study::drilled::words::needs_repair;
use crate::tolerance::NOISE;
use crate::units::{Lengths, number, show_degrees};

use super::checks;
use super::escape::{isolated, text};

/// Title, verdict, findings that ask for judgement, the figures wanted at hand.
pub fn header(layout: &Layout, report: &Report, lengths: Lengths) -> String {
    let verdict = report.verdict();
    let mut out = format!(
        "<header>\n<p class=\"kind\">Slotted head and its guide block</p>\n<h1>{}</h1>\n{}\
         <div class=\"verdict {}\">\n<p class=\"word\">{} {}</p>\n",
        isolated(&layout.design.title),
        job(layout),
        verdict.name(),
        checks::symbol(verdict),
        text(&sentence(report)),
    );
    for line in needs_repair(layout) {
        out.push_str(&format!(
            "<p><strong>{}</strong> The checks speak of the design, not of these bores: see bench/rescue-sheet.pdf.</p>\n",
            text(&line)
        ));
    }
    let ordered = checks::tightest_first(report);
    let open: Vec<&&Finding> = ordered
        .iter()
        .filter(|finding| finding.verdict != Verdict::Clear)
        .collect();
    if !open.is_empty() {
        out.push_str("<ul>\n");
        for finding in open {
            out.push_str(&format!(
                "<li><a href=\"#check-{}\">{}</a>: {}, wanted {}. {}</li>\n",
                finding.code,
                text(finding.title),
                lengths.value(finding.value, finding.unit),
                text(&limit_phrase(finding, lengths)),
                text(finding.advice.as_deref().unwrap_or_default()),
            ));
        }
        out.push_str("</ul>\n");
    }
    if let Some(finding) = ordered
        .iter()
        .find(|finding| finding.verdict == Verdict::Clear)
    {
        out.push_str(&format!(
            "<p>Least to spare among the clear checks: <a href=\"#check-{}\">{}</a>, {}, {}.</p>\n",
            finding.code,
            text(finding.title),
            lengths.value(finding.value, finding.unit),
            text(&margin_words(finding, lengths)),
        ));
    }
    out.push_str("</div>\n");
    out.push_str(&at_hand(layout, lengths));
    out.push_str("</header>\n");
    out
}

/// The verdict in words.
fn sentence(report: &Report) -> String {
    let count = |verdict| {
        let of = report.findings.iter().filter(|f| f.verdict == verdict);
        of.count()
    };
    let all = report.findings.len();
    match report.verdict() {
        Verdict::Clear => format!("Clear: all {all} checks hold."),
        Verdict::Caution => {
            let asks = match count(Verdict::Caution) {
                1 => format!("1 of {all} checks asks"),
                cautions => format!("{cautions} of {all} checks ask"),
            };
            format!("Caution: {asks} for your judgement. Nothing stops the design.")
        }
        Verdict::Stop => {
            let stops = match count(Verdict::Stop) {
                1 => format!("1 of {all} checks stops"),
                stops => format!("{stops} of {all} checks stop"),
            };
            format!("Stop: {stops} the design. Do not build it as it is.")
        }
    }
}

/// What `[job]` says, as far as it says anything.
fn job(layout: &Layout) -> String {
    let job = &layout.design.job;
    let entries = [
        ("Number", &job.number),
        ("Revision", &job.revision),
        ("Date", &job.date),
        ("Material", &job.material),
        ("Quantity", &job.quantity),
        ("Contact", &job.contact),
        ("Legal owner", &job.owner),
        ("Created by", &job.creator),
        ("Approved by", &job.approver),
    ];
    let said: String = entries
        .iter()
        .filter(|(_, value)| !value.trim().is_empty())
        .map(|(name, value)| format!("<div><dt>{name}</dt><dd>{}</dd></div>\n", isolated(value)))
        .collect();
    if said.is_empty() {
        String::new()
    } else {
        format!("<dl class=\"job\">\n{said}</dl>\n")
    }
}

/// The figures one wants when going to the bench.
fn at_hand(layout: &Layout, lengths: Lengths) -> String {
    let design = &layout.design;
    let head = &design.head;
    let width = |half: &crate::input::PerSide<f64>| lengths.show(half.treble + half.bass);
    let (treble, bass) = (
        layout.sides.treble.bores.len(),
        layout.sides.bass.bores.len(),
    );
    let thick = if (head.thickness - head.thickness_at_crest).abs() <= NOISE {
        format!("{} thick", lengths.show(head.thickness))
    } else {
        format!(
            "{} thick at the nut line, {} at the crest",
            lengths.show(head.thickness),
            lengths.show(head.thickness_at_crest)
        )
    };
    let mut entries = vec![
        (
            "Head".to_owned(),
            format!(
                "{} long, {} wide where the straight sides begin, {} where they end, {thick}; \
                 face at {} to the playing surface",
                lengths.show(head.length),
                width(&head.half_width_at_start),
                width(&head.half_width_at_end),
                show_degrees(head.angle),
            ),
        ),
        (
            "Machines".to_owned(),
            format!(
                "{treble} on the treble side, {bass} on the bass side; barrels {} by {}",
                lengths.show(design.machines.barrel_diameter),
                lengths.show(design.machines.barrel_length),
            ),
        ),
    ];
    for stop in layout.stops() {
        let side = match stop.serves {
            Serves::Both => "Depth stop, both sides".to_owned(),
            Serves::Only(side) => format!("Depth stop, {} side", side.name()),
        };
        entries.push((
            side,
            format!(
                "<strong>{}</strong> from the block's top to the tip of the bit",
                lengths.show(stop.figure)
            ),
        ));
    }
    let shim = layout.blocks.first().and_then(Block::shim_to_lay);
    if let Some((thick, between)) = shim {
        entries.push((
            "Shim".to_owned(),
            format!(
                "<strong>{}</strong> between {}",
                lengths.show(thick),
                text(between)
            ),
        ));
    }
    let said: String = entries
        .iter()
        .map(|(name, value)| format!("<div><dt>{name}</dt><dd>{value}</dd></div>\n"))
        .collect();
    format!("<dl class=\"at-hand\">\n{said}</dl>\n")
}

/// The foot of the page.
pub fn footer(layout: &Layout) -> String {
    format!(
        "<footer>\n<p>{}: every figure here is that of report.json, rounded: lengths to {} mm, \
         angles to a hundredth of a degree. A computed layout is no proof that the work is \
         safe.</p>\n</footer>\n",
        isolated(&layout.design.title),
        number(0.01),
    )
}
