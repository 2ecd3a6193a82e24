use super::*;

fn texts(sheet: &Sheet) -> Vec<&Text> {
    let each = sheet.items.iter();
    each.filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    })
    .collect()
}

#[test]
fn text_reads_from_below_or_from_the_right() {
    for (angle, turn) in [
        (0.0, 0.0),
        (90.0, 90.0),
        (-90.0, 90.0),
        (180.0, 0.0),
        (45.0, 45.0),
        (225.0, 45.0),
        (92.0, 92.0),
        (-89.0, 91.0),
        (100.0, -80.0),
    ] {
        let got = readable(f64::to_radians(angle)).to_degrees();
        assert!((got - turn).abs() < 1e-9, "{angle}: {got}");
    }
}

#[test]
fn a_dimension_stands_over_its_line_in_the_middle() {
    let mut sheet = Sheet::new("", 100.0, 100.0);
    let (a, b) = (DVec2::new(10.0, 10.0), DVec2::new(60.0, 10.0));
    Linear::aligned(a, b, 8.0, "50.00").draw(&mut sheet, Style::default());
    let text = texts(&sheet)[0];
    assert!((text.at - DVec2::new(35.0, 18.0 + TEXT_GAP)).length() < 1e-9);
    assert_eq!(text.anchor, Anchor::Middle);
    // Two extension lines, the dimension line, two arrowheads.
    assert_eq!(sheet.items.len(), 6);
}

#[test]
fn a_short_dimension_has_its_text_past_the_second_line() {
    let mut sheet = Sheet::new("", 100.0, 100.0);
    let (a, b) = (DVec2::new(10.0, 10.0), DVec2::new(12.0, 10.0));
    Linear::level(a, b, 20.0, "2.00").draw(&mut sheet, Style::default());
    let text = texts(&sheet)[0];
    let half = text_width("2.00", 2.5, Weight::Plain) / 2.0;
    assert!(text.at.x - half > b.x, "{}", text.at);
}

/// A letter that reaches below the base line is not struck by the dimension line; the measuring card has a J.
#[test]
fn a_dimension_line_strikes_no_letter() {
    for (text, height) in [
        ("J", 5.0),
        ("J", 3.5),
        ("Q", 3.5),
        ("H", 5.0),
        ("[0.344]", 2.5),
    ] {
        let mut sheet = Sheet::new("", 100.0, 100.0);
        let (a, b) = (DVec2::new(10.0, 10.0), DVec2::new(60.0, 10.0));
        let style = Style {
            text: height,
            weight: Weight::Strong,
            ..Style::default()
        };
        Linear::level(a, b, 20.0, text).draw(&mut sheet, style);
        let lowest = texts(&sheet)[0].at.y - text_depth(text, height, Weight::Strong);
        assert!(
            lowest >= 20.0 + LEAST_GAP - 1e-9,
            "{text} at {height}: {lowest}"
        );
    }
    assert!(text_depth("J", 5.0, Weight::Strong) > TEXT_GAP);
    assert!(text_depth("H 14", 5.0, Weight::Strong).abs() < 1e-9);
}

/// Inches in brackets go under the line before the whole goes outside; each text keeps to its span.
#[test]
fn inches_stand_under_a_line_too_short_for_both() {
    let text = "8.73 [0.344]";
    let width = |text: &str| text_width(text, 2.5, Weight::Plain);
    let (over, under) = ("8.73", "[0.344]");
    let drawn = |span: f64| {
        let mut sheet = Sheet::new("", 100.0, 100.0);
        let (a, b) = (DVec2::new(10.0, 10.0), DVec2::new(10.0 + span, 10.0));
        Linear::level(a, b, 20.0, text).draw(&mut sheet, Style::default());
        let shown = texts(&sheet).into_iter();
        shown
            .map(|text| (text.text.clone(), text.at))
            .collect::<Vec<_>>()
    };
    let whole = drawn(width(text) + 1.01);
    assert_eq!(whole.len(), 1);
    let parted = drawn(width(text) + 0.99);
    let said: Vec<&str> = parted.iter().map(|(text, _)| text.as_str()).collect();
    assert_eq!(said, [over, under]);
    // 2.5 mm of text under the line, and the gap between.
    assert!((parted[0].1.y - 20.0 - TEXT_GAP).abs() < 1e-9);
    assert!((parted[1].1.y - 20.0 + TEXT_GAP + 2.5).abs() < 1e-9);
    assert_eq!(drawn(width(under) + 1.01).len(), 2);
    let outside = drawn(width(under) + 0.99);
    let said: Vec<&str> = outside.iter().map(|(text, _)| text.as_str()).collect();
    assert_eq!(said, [over, under]);
    for (text, at) in &outside {
        assert!(at.x - width(text) / 2.0 > 10.0 + width(under) + 0.99);
    }
}

#[test]
fn arrowheads_have_fifteen_degrees() {
    let mut sheet = Sheet::new("", 10.0, 10.0);
    arrow(&mut sheet, Layer::Dimensions, DVec2::ZERO, DVec2::X, 3.0);
    let Item::Path(path) = &sheet.items[0] else {
        panic!("no path");
    };
    let corners: Vec<DVec2> = path.pieces.iter().map(crate::plane::Piece::start).collect();
    let sides: Vec<DVec2> = corners
        .iter()
        .copied()
        .filter(|c| c.length() > 1e-9)
        .collect();
    let angle = sides[0].angle_to(sides[1]).abs().to_degrees();
    assert!((angle - 15.0).abs() < 1e-9, "{angle}");
}

#[test]
fn spread_places_keep_their_distance_and_their_mean() {
    let apart = spread(&[0.0, 1.0, 2.0, 20.0], 3.0);
    for pair in apart.windows(2) {
        assert!(pair[1] - pair[0] >= 3.0 - 1e-9);
    }
    assert!((apart[..3].iter().sum::<f64>() / 3.0 - 1.0).abs() < 1e-9);
    assert!((apart[3] - 20.0).abs() < 1e-12);
    assert_eq!(spread(&[], 3.0), Vec::<f64>::new());
}
