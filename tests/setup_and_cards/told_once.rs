//! A thing is said once, in words that fit it, and a point has one figure wherever it stands.

use barrelhead::check::Verdict;
use barrelhead::input::{PerSide, Side};
use barrelhead::layout::{Copy, Layout};
use barrelhead::paper::operations::operation_cards;
use barrelhead::paper::setup::setup_sheets;
use barrelhead::paper::{Paper, Sheet};
use barrelhead::units::bare_inches;

use super::{designs, options, texts};

/// All texts of some sheets as one, in the order they were put.
fn words(sheets: &[Sheet]) -> String {
    let each = sheets.iter().flat_map(texts);
    let each: Vec<&str> = each.map(|text| text.text.as_str()).collect();
    each.join(" ")
}

/// "From the block's top to the point's end" and "between treble bore 1 and 2" are no places that a thing
/// is at.
#[test]
fn a_place_stands_beside_its_check_without_a_word_that_does_not_fit_it() {
    for mut made in designs() {
        for finding in &mut made.report.findings {
            finding.verdict = Verdict::Caution;
        }
        let sheets = setup_sheets(&made.layout, &made.report, options(true, Paper::A4));
        let text = words(&sheets);
        for finding in &made.report.findings {
            let (code, place) = (finding.code, &finding.at);
            let said = if place.is_empty() {
                format!("({code}): ")
            } else {
                format!("({code}), {place}: ")
            };
            assert!(text.contains(&said), "{}: no {said:?}", made.name);
        }
    }
}

#[test]
fn a_cards_origin_is_told_once_in_both_units() {
    let all = designs();
    let made = all.iter().find(|made| made.name == "turnstone").unwrap();
    let cards = operation_cards(&made.layout, &made.report, options(true, Paper::A4));
    let origin = |card: usize, end: &str| {
        let text = words(&cards[card..=card]);
        let start = text.find("Origin x").unwrap();
        text[start..start + text[start..].find(end).unwrap()].to_owned()
    };
    assert_eq!(
        origin(0, ":"),
        "Origin x 0.00, y 0.00, z 0.00 mm in the head frame"
    );
    let nothing = "0.00 mm (0.000 in)";
    assert_eq!(
        origin(1, ":"),
        format!("Origin x 28.58 mm (1.125 in), y {nothing}, z {nothing} in the head frame")
    );
    for card in 1..3 {
        let said = origin(card, ": on the");
        assert_eq!(said.matches("1.125 in)").count(), 1, "{said}");
        assert_eq!(said.matches(" x ").count(), 1, "{said}");
    }
}

/// 2-1/8 in across where the straight sides end: each corner lies at the half of a thousandth, and the
/// crest's arc gives it a hair to one side, the side's line to the other.
#[test]
fn a_corner_of_the_outline_has_one_figure_on_both_its_edges() {
    for made in designs() {
        let mut design = made.layout.design.clone();
        design.head.half_width_at_end = PerSide::from_fn(|_| 26.9875);
        for design in [&made.layout.design, &design] {
            let layout = Layout::new(design, Copy::Finished);
            let card = &operation_cards(&layout, &made.report, options(true, Paper::A4));
            let cells = card.iter().flat_map(texts).map(|text| text.text.as_str());
            let cells: Vec<&str> = cells.collect();
            let is_edge = |cell: &str| {
                let ends = ["nut line", "crest"];
                ends.contains(&cell) || cell.ends_with(" shoulder") || cell.ends_with(" side")
            };
            // The picture has such a word too, with no figures after it.
            let figure = |cell: &&str| cell.parse::<f64>().is_ok();
            let edges: Vec<&[&str]> = cells
                .windows(5)
                .filter(|row| is_edge(row[0]) && row[1..].iter().all(figure))
                .collect();
            let count = layout.outline.pieces.len();
            assert_eq!(edges.len(), 2 * count, "{}", made.name);
            for loop_of in edges.chunks(count) {
                for (index, edge) in loop_of.iter().enumerate() {
                    let next = loop_of[(index + 1) % count];
                    assert_eq!(
                        edge[3..],
                        next[1..3],
                        "{}: {} to {}",
                        made.name,
                        edge[0],
                        next[0]
                    );
                }
            }
        }
    }
}

#[test]
fn the_stops_parts_and_its_dimension_stand_in_both_units() {
    for made in designs() {
        let sheets = setup_sheets(&made.layout, &made.report, options(true, Paper::A4));
        let cells: Vec<&str> = texts(&sheets[0])
            .iter()
            .map(|text| text.text.as_str())
            .collect();
        let all = cells.join(" ");
        for side in Side::BOTH {
            let stop = made.layout.stop(side);
            for mm in [stop.block, stop.deepest, stop.point] {
                let inches = bare_inches(mm);
                assert!(
                    mm == 0.0 || all.contains(&inches),
                    "{}: {inches}",
                    made.name
                );
            }
            assert!(all.contains(&format!("= block {} + bore ", bare_inches(stop.block))));
            let bracket = format!("[{}]", bare_inches(stop.figure));
            assert!(all.contains(&bracket), "{}: {bracket}", made.name);
        }
    }
}
