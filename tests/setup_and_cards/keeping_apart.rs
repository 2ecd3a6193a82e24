//! Texts within the paper and apart, however much there is to say.

use barrelhead::layout::{Copy, Layout};
use barrelhead::paper::operations::operation_cards;
use barrelhead::paper::place::text_box;
use barrelhead::paper::setup::setup_sheets;
use barrelhead::paper::{Paper, Sheet, Text};
use glam::DVec2;

use super::{designs, options, texts};

/// Lower left and upper right corner of a text.
fn bounds(text: &Text) -> [DVec2; 2] {
    let corners = text_box(text);
    [
        corners.into_iter().fold(DVec2::INFINITY, DVec2::min),
        corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max),
    ]
}

/// What leaves the paper's margin or lies over another text.
fn clashes(sheet: &Sheet) -> Vec<String> {
    let all: Vec<(&str, [DVec2; 2])> = texts(sheet)
        .into_iter()
        .map(|text| (text.text.as_str(), bounds(text)))
        .collect();
    let mut found = Vec::new();
    let paper = DVec2::new(sheet.width, sheet.height);
    for (index, (text, [low, high])) in all.iter().enumerate() {
        if low.cmplt(DVec2::splat(9.0)).any() || high.cmpgt(paper - 9.0).any() {
            found.push(format!("outside: {text}"));
        }
        for (other, [other_low, other_high]) in &all[index + 1..] {
            if low.cmplt(*other_high).all() && high.cmpgt(*other_low).all() {
                found.push(format!("{text:?} over {other:?}"));
            }
        }
    }
    found
}

#[test]
fn every_text_keeps_within_the_paper_and_apart() {
    let mut faults = String::new();
    for made in designs() {
        for (inches, paper) in [
            (false, Paper::A4),
            (true, Paper::A4),
            (false, Paper::Letter),
            (true, Paper::Letter),
        ] {
            let wanted = options(inches, paper);
            let mut sheets = setup_sheets(&made.layout, &made.report, wanted);
            sheets.extend(operation_cards(&made.layout, &made.report, wanted));
            for sheet in &sheets {
                for clash in clashes(sheet) {
                    let (name, title) = (&made.name, &sheet.title);
                    faults += &format!("{name} {paper:?} inches {inches}, {title}: {clash}\n");
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults}");
}

#[test]
fn the_setup_sheet_is_two_pages_of_text_to_be_read_at_the_press() {
    for made in designs() {
        let sheets = setup_sheets(&made.layout, &made.report, options(false, Paper::A4));
        assert_eq!(sheets.len(), 2, "{}", made.name);
        // The steps: no smaller than print of nine points, capitals 2.3 mm high.
        let step = texts(&sheets[0])
            .into_iter()
            .find(|text| text.text.starts_with("The block is screwed or clamped"))
            .unwrap();
        assert!(step.height >= 2.3, "{}: {}", made.name, step.height);
    }
}

/// A design of many bores and many cautions: nothing may fall off the paper.
#[test]
fn much_to_say_goes_on_over_further_sheets() {
    let mut all = designs();
    let made = all.iter_mut().find(|made| made.name == "whimbrel").unwrap();
    let mut design = made.layout.design.clone();
    design.machines.pitches.treble = vec![9.0; 60];
    design.machines.pitches.bass = vec![9.0; 60];
    let layout = Layout::new(&design, Copy::Finished);
    let mut report = made.report.clone();
    for finding in &mut report.findings {
        finding.verdict = barrelhead::check::Verdict::Caution;
        finding.advice = Some("Set one of many keys to one of many figures. ".repeat(4));
    }
    let wanted = options(true, Paper::Letter);
    let setup = setup_sheets(&layout, &report, wanted);
    assert!(setup.len() > 2, "{}", setup.len());
    let text = setup
        .iter()
        .flat_map(texts)
        .map(|text| text.text.as_str())
        .collect::<Vec<_>>()
        .join(" ");
    for finding in &report.findings {
        let code = format!("({})", finding.code);
        assert!(text.contains(&code), "{code}");
    }
    let cards = operation_cards(&layout, &report, wanted);
    assert!(cards.len() > 3, "{}", cards.len());
    for sheet in setup.iter().chain(&cards) {
        let outside: Vec<String> = clashes(sheet)
            .into_iter()
            .filter(|clash| clash.starts_with("outside"))
            .collect();
        // The small picture's own numbers may crowd; the text must not be lost.
        assert!(outside.is_empty(), "{}: {outside:?}", sheet.title);
    }
    let rows = |card: &Sheet| texts(card).iter().filter(|t| t.text == "bore").count();
    assert_eq!(cards.iter().map(rows).sum::<usize>(), 2 * 2 * 61);
}
