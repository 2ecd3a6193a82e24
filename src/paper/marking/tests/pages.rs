//! Pages: their count and size, check bars, joins, numbers and words.

use glam::DVec2;

use super::super::{CheckBar, MarkingOptions, marking_sheets, marking_whole};
use super::{demo, laid_out, lines, same, texts, uneven};
use crate::input::sample::six_string;
use crate::paper::overlaps::overlaps;
use crate::paper::place::{extent, text_box};
use crate::paper::{Anchor, Item, Layer, LineKind, Paper, Sheet};
use crate::support::demos::demos;

/// Numbers that stand after `s` or `y` on a sheet, in order.
fn printed(sheets: &[Sheet], letter: &str) -> Vec<f64> {
    let mut found: Vec<f64> = sheets
        .iter()
        .flat_map(texts)
        .filter_map(|text| text.text.strip_prefix(letter)?.parse().ok())
        .collect();
    found.sort_by(f64::total_cmp);
    found.dedup();
    found
}

#[test]
fn every_number_is_the_layouts_to_a_hundredth_and_none_is_missing() {
    let papers = [Paper::A4, Paper::Letter];
    for (name, paper) in demos()
        .iter()
        .flat_map(|name| papers.map(|paper| (name, paper)))
    {
        let (layout, report) = demo(name);
        let options = MarkingOptions { paper, bar: None };
        let sheets = marking_sheets(&layout, &report, &options);
        let bores = |what: fn(&crate::layout::Bore) -> f64| -> Vec<f64> {
            let mut list: Vec<f64> = layout
                .bores()
                .map(|bore| (what(bore) * 100.0).round() / 100.0)
                .collect();
            list.sort_by(f64::total_cmp);
            list.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
            list
        };
        for (letter, expected) in [
            ("s ", bores(|bore| bore.s)),
            ("y ", bores(crate::layout::Bore::squares_across_at)),
        ] {
            let found = printed(&sheets, letter);
            assert_eq!(found.len(), expected.len(), "{name} {letter}");
            for (found, expected) in found.iter().zip(expected) {
                assert!((found - expected).abs() < 1e-9, "{name}: {found}");
            }
        }
    }
}

#[test]
fn pages_of_every_demo() {
    // Counted on the sheets as looked at; the papers' sizes as published.
    let counts = [
        ("sandpiper", 1, 2),
        ("dunlin", 1, 1),
        ("curlew", 2, 2),
        ("godwit", 2, 2),
        ("plover", 1, 2),
        ("snipe", 1, 2),
        ("turnstone", 1, 1),
        ("whimbrel", 2, 2),
    ];
    assert_eq!(counts.len(), demos().len(), "every demo has its row");
    for (name, a4, letter) in counts {
        let (layout, report) = demo(name);
        for (paper, count, sides) in [
            (Paper::A4, a4, [210.0, 297.0]),
            (Paper::Letter, letter, [215.9, 279.4]),
        ] {
            let options = MarkingOptions { paper, bar: None };
            let sheets = marking_sheets(&layout, &report, &options);
            assert_eq!(sheets.len(), count, "{name} on {}", paper.name());
            for (index, sheet) in sheets.iter().enumerate() {
                let mut size = [sheet.width, sheet.height];
                size.sort_by(f64::total_cmp);
                assert!((size[0] - sides[0]).abs() < 1e-9 && (size[1] - sides[1]).abs() < 1e-9);
                let page = format!("page {} of {count}", index + 1);
                assert!(texts(sheet).any(|text| text.text.contains(&page)));
            }
        }
    }
}

/// The two bars of a sheet.
fn bars(sheet: &Sheet) -> Vec<[DVec2; 2]> {
    lines(sheet, Layer::CheckBar, LineKind::Wide)
}

#[test]
fn nothing_leaves_the_printable_paper_and_every_page_has_both_bars() {
    let bar = CheckBar::measured(97.0).unwrap();
    let mut designs: Vec<_> = demos().iter().map(|name| demo(name)).collect();
    designs.push(laid_out(&uneven()));
    for (layout, report) in &designs {
        for paper in [Paper::A4, Paper::Letter] {
            for bar in [None, Some(bar)] {
                for sheet in marking_sheets(layout, report, &MarkingOptions { paper, bar }) {
                    let drawn = extent(&sheet).unwrap();
                    let far = DVec2::new(sheet.width - 9.5, sheet.height - 9.5);
                    let title = &sheet.title;
                    assert!(
                        drawn.min.cmpge(DVec2::splat(9.5)).all(),
                        "{title}: {drawn:?}"
                    );
                    assert!(drawn.max.cmple(far).all(), "{title}: {drawn:?}");
                    let mut ways: Vec<DVec2> = bars(&sheet).iter().map(|b| b[1] - b[0]).collect();
                    ways.sort_by(|a, b| b.x.total_cmp(&a.x));
                    let long = 100.0 * bar.map_or(1.0, |bar| 100.0 / bar.mm());
                    assert_eq!(ways.len(), 2);
                    assert!(same(ways[0], DVec2::new(long, 0.0)), "{:?}", ways[0]);
                    assert!(same(ways[1], DVec2::new(0.0, long)), "{:?}", ways[1]);
                }
            }
        }
    }
}

#[test]
fn a_measured_bar_scales_the_whole_sheet() {
    let (layout, report) = demo("dunlin");
    let measured = Some(CheckBar::measured(99.6).unwrap());
    let pitch = |bar: Option<CheckBar>| {
        let paper = Paper::A4;
        let sheets = marking_sheets(&layout, &report, &MarkingOptions { paper, bar });
        let centres: Vec<DVec2> = sheets
            .iter()
            .flat_map(|sheet| &sheet.items)
            .filter_map(|item| match item {
                Item::Circle {
                    layer: Layer::Bores,
                    center,
                    ..
                } => Some(*center),
                _ => None,
            })
            .collect();
        centres[0].distance(centres[1])
    };
    assert!((pitch(None) - 30.0).abs() < 1e-9);
    assert!((pitch(measured) * 0.996 - 30.0).abs() < 1e-9);
}

#[test]
fn a_head_longer_than_the_paper_is_cut_with_joins_that_agree() {
    let mut design = six_string();
    let more = 300.0;
    design.head.length += more;
    design.head.side_end += more;
    let (layout, report) = laid_out(&design);
    let sheets = marking_sheets(&layout, &report, &MarkingOptions::default());
    assert!(sheets.len() > 2);
    let joins: Vec<(usize, usize)> = sheets
        .iter()
        .enumerate()
        .flat_map(|(index, sheet)| {
            texts(sheet).filter_map(move |text| {
                let page = text.text.strip_prefix("join page ")?;
                Some((index + 1, page.parse().ok()?))
            })
        })
        .collect();
    assert!(!joins.is_empty());
    for (from, to) in &joins {
        let back = joins.iter().filter(|join| **join == (*to, *from)).count();
        let there = joins.iter().filter(|join| **join == (*from, *to)).count();
        assert_eq!(there, back, "{joins:?}");
    }
    // Every bore keeps its mark and its numbers on some page.
    assert_eq!(printed(&sheets, "s ").len(), 3);
}

#[test]
fn what_must_be_said_is_said() {
    let (layout, report) = demo("sandpiper");
    let bar = Some(CheckBar::measured(99.6).unwrap());
    let paper = Paper::A4;
    let sheets = marking_sheets(&layout, &report, &MarkingOptions { paper, bar });
    let said: Vec<&str> = sheets
        .iter()
        .flat_map(texts)
        .map(|t| t.text.as_str())
        .collect();
    let all = said.join(" ");
    for words in [
        "Measure before use.",
        "--bar",
        "99.60 mm",
        "The sheet sets the first mark, the block sets the pitch.",
        "A tapered head is never marked straight across.",
        "Datum: the face.",
        "FACE = DATUM",
        "BACK",
        "a knife may cut",
        "with a pencil only",
        "all clear",
    ] {
        assert!(all.contains(words), "{words}");
    }
    assert_eq!(said.iter().filter(|text| **text == "T1").count(), 2);
}

#[test]
fn numbers_never_lie_over_one_another() {
    for name in &demos() {
        let (layout, report) = demo(name);
        let whole = marking_whole(&layout, &report);
        assert_eq!(overlaps(&whole, 0.01), [""; 0], "{name}");
    }
}

/// Near a join a bore's numbers are all there or none is, and no target lies over them.
#[test]
fn joins_tear_no_numbers() {
    let mut joins = 0;
    for (name, paper) in demos()
        .iter()
        .flat_map(|name| [Paper::A4, Paper::Letter].map(|paper| (name, paper)))
    {
        let (layout, report) = demo(name);
        for sheet in marking_sheets(&layout, &report, &MarkingOptions { paper, bar: None }) {
            let bore = |text: &&crate::paper::Text| {
                let number = text.text.strip_prefix(['T', 'B']);
                number.is_some_and(|number| number.parse::<u8>().is_ok())
            };
            let names = texts(&sheet).filter(bore);
            let (on_strips, on_face): (Vec<_>, Vec<_>) =
                names.partition(|name| name.anchor == Anchor::Middle);
            // y runs along the centre line, where no strip lies.
            for (letter, names) in [
                ("s ", on_strips.len() + on_face.len()),
                ("y ", on_face.len()),
            ] {
                let numbers = texts(&sheet).filter(|text| {
                    let number = text.text.strip_prefix(letter);
                    number.is_some_and(|number| number.parse::<f64>().is_ok())
                });
                assert_eq!(numbers.count(), names, "{name} on {}", paper.name());
            }
            for item in &sheet.items {
                let Item::Circle {
                    layer: Layer::Frame,
                    center,
                    radius,
                    ..
                } = item
                else {
                    continue;
                };
                joins += 1;
                for text in texts(&sheet) {
                    let corners = text_box(text);
                    let low = corners.into_iter().fold(DVec2::INFINITY, DVec2::min);
                    let high = corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max);
                    let off = (*center - center.clamp(low, high)).length();
                    assert!(off >= *radius, "{name}: target over `{}`", text.text);
                }
            }
        }
    }
    assert!(joins > 8, "{joins}");
}
