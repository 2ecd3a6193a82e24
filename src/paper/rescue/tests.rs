//! The sheet stands on one page and its circles are the study's, to scale.

use super::*;
use crate::input::{
    Drilled, DrilledAlong, Side,
    sample::{record, six_string},
};
use crate::layout::Copy;
use crate::paper::Item;
use crate::paper::place::extent;

fn laid_out(off: f64) -> Layout {
    let mut design = six_string();
    let own = Layout::new(&design, Copy::Finished);
    for side in Side::BOTH {
        let bore = &own.sides.get(side).bores[1];
        design.drilled.push(Drilled {
            along: DrilledAlong::FromNutLine(bore.s + off),
            ..record(side, 2)
        });
    }
    Layout::new(&design, Copy::Finished)
}

#[test]
fn no_records_no_sheet() {
    let layout = Layout::new(&six_string(), Copy::Finished);
    assert!(rescue_sheets(&layout, SheetOptions::default()).is_empty());
}

#[test]
fn each_side_stands_on_one_page() {
    for off in [0.1, 0.6, 3.0] {
        let layout = laid_out(off);
        let sheets = rescue_sheets(&layout, SheetOptions::default());
        assert_eq!(sheets.len(), 2);
        for sheet in sheets {
            let window = extent(&sheet).unwrap();
            let most = DVec2::new(sheet.width, sheet.height) - MARGIN + 0.5;
            assert!(
                window.min.cmpge(DVec2::splat(MARGIN - 2.0)).all(),
                "{off}: {window:?}"
            );
            assert!(window.max.cmple(most).all(), "{off}: {window:?}");
        }
    }
}

#[test]
fn circles_are_to_scale() {
    let layout = laid_out(3.0);
    let sheet = &rescue_sheets(&layout, SheetOptions::default())[0];
    let rescue = &rescues(&layout)[0];
    let plug = &rescue.plugs[0];
    let circles: Vec<(DVec2, f64)> = sheet
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Circle { center, radius, .. } => Some((*center, *radius)),
            _ => None,
        })
        .collect();
    // Somewhere a plug and a new bore stand in the same scale at the right distance from the old.
    let right = circles.iter().any(|(a, wide)| {
        let scale = wide * 2.0 / plug.size.diameter;
        circles.iter().any(|(b, old)| {
            let apart = plug.centre().distance(plug.old.centre) * scale;
            (old * 2.0 - plug.old.diameter * scale).abs() < 1e-9
                && (a.distance(*b) - apart).abs() < 1e-6
        })
    });
    assert!(right, "{circles:?}");
}

#[test]
fn a_bore_that_breaks_out_runs_into_no_words_and_does_not_stay() {
    let mut design = six_string();
    // 10.5 wide and 4 below the face: 1.25 mm of it stand over.
    design.drilled.push(Drilled {
        below_face: Some(4.0),
        ..record(Side::Treble, 2)
    });
    let layout = Layout::new(&design, Copy::Finished);
    let sheet = &rescue_sheets(&layout, SheetOptions::default())[0];
    let text = |words: &str| {
        let mut texts = sheet.items.iter().filter_map(|item| match item {
            Item::Text(text) if text.text.starts_with(words) => Some(text),
            _ => None,
        });
        texts.next().unwrap()
    };
    let (face, legend) = (text("face of the head up"), text("bore as it is"));
    for item in &sheet.items {
        // The legend's own circle is small.
        if let Item::Circle { center, radius, .. } = item
            && *radius > 2.0
        {
            assert!(center.y + radius <= face.at.y, "{center} {radius}");
            assert!(
                center.y - radius >= legend.at.y + legend.height,
                "{center} {radius}"
            );
        }
    }
    assert!(text("may not stay").text == "may not stay");
}

/// Texts of the first sheet of a head with a bore so far off that it is plugged.
fn plugged(inches: bool) -> (Layout, Vec<crate::paper::Text>) {
    let layout = laid_out(3.0);
    assert_eq!(rescues(&layout)[0].remedy, Remedy::Plug);
    let options = SheetOptions {
        lengths: Lengths { inches },
        ..SheetOptions::default()
    };
    let sheet = rescue_sheets(&layout, options).swap_remove(0);
    let texts = sheet.items.into_iter().filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    });
    (layout, texts.collect())
}

/// The table carries the new centre: inches must not shrink it below the text around it.
#[test]
fn inches_leave_the_table_as_large_as_the_text() {
    let (layout, texts) = plugged(true);
    let rescue = &rescues(&layout)[0];
    let plug = &rescue.plugs[0];
    let cell = |text: String| {
        let mut found = texts.iter().filter(|one| one.text == text);
        found.next().unwrap_or_else(|| panic!("{text}"))
    };
    let step = texts
        .iter()
        .find(|text| text.text.starts_with("Glue in plugs"));
    let height = step.unwrap().height;
    for text in [
        format!("Ø {}", show_mm(plug.old.diameter)),
        format!("Ø {}", show_inches(plug.old.diameter)),
        show_inches(plug.old.centre.x),
        place_words(plug, show_inches),
    ] {
        let own = cell(text.clone()).height;
        assert!(own >= 0.9 * height, "{text}: {own} beside {height}");
    }
}

#[test]
fn both_crosses_of_the_detail_are_in_the_legend() {
    let (_, texts) = plugged(false);
    for words in [
        "in the detail: centre of the bore as it is",
        "centre of the new bore",
    ] {
        assert!(texts.iter().any(|text| text.text == words), "{words}");
    }
}

/// How long the plug and how deep the new bore is must be on the page.
#[test]
fn plugs_have_a_length_and_the_new_bore_its_stop() {
    for inches in [false, true] {
        let (layout, texts) = plugged(inches);
        let all: Vec<&str> = texts.iter().map(|text| text.text.as_str()).collect();
        let all = all.join(" ");
        let lengths = Lengths { inches };
        let bore = &layout.sides.treble.bores[1];
        let length = format!("as deep as the bore is, {} (the", lengths.show(bore.depth));
        assert!(all.contains(&length), "{length}: {all}");
        let stop = lengths.show(layout.stop(Side::Treble).figure);
        let stop = format!("set the depth stop of the setup sheet ({stop} from the block's top");
        assert!(all.contains(&stop), "{stop}: {all}");
        // A share of a bore is of its area: of its width it is another.
        assert!(all.contains(" % of the new bore's area)") || all.contains("stands between"));
    }
}
