//! Marks on the face and on the strips.

use glam::DVec2;

use super::super::{face, notes, strip};
use super::{demo, laid_out, lines, same, texts, uneven};
use crate::input::{Design, Side, Unit, sample::six_string};
use crate::paper::place::text_box;
use crate::paper::{Item, Layer, LineKind, Text};
use crate::support::demos::demos;
use crate::units::show_inches;

/// Whether stretches of the given lines, laid end to end, reach from `a` to `b`.
fn covered(stretches: &[[DVec2; 2]], a: DVec2, b: DVec2) -> bool {
    let mut at = a;
    // No line is cut into more stretches than this.
    for _ in 0..20 {
        if same(at, b) {
            return true;
        }
        let onward = |ends: &&[DVec2; 2]| {
            let step = ends[1] - ends[0];
            same(ends[0], at) && step.dot(b - a) > 0.0 && step.perp_dot(b - a).abs() < 1e-9
        };
        match stretches.iter().find(onward) {
            Some(ends) => at = ends[1],
            None => return false,
        }
    }
    false
}

#[test]
fn every_mark_on_the_face_runs_square_from_the_centre_line_to_its_bore() {
    let mut designs = vec![laid_out(&uneven())];
    designs.extend(demos().iter().map(|name| demo(name)));
    for (layout, _) in designs {
        let sheet = face::face(&layout);
        let mut marks = lines(&sheet, Layer::Marks, LineKind::Narrow);
        marks.extend(lines(&sheet, Layer::Marks, LineKind::Wide));
        let axes = lines(&sheet, Layer::Axes, LineKind::Dotted);
        for bore in layout.bores() {
            let centre = DVec2::new(0.0, bore.squares_across_at());
            assert!(covered(&marks, centre, bore.entry.truncate()));
            let through = |ends: &[DVec2; 2]| {
                let along = ends[1] - ends[0];
                let to = bore.entry.truncate() - ends[0];
                along.perp_dot(bore.direction.truncate()).abs() < 1e-9
                    && along.perp_dot(to).abs() < 1e-9
                    && to.dot(along) > 0.0
            };
            assert!(axes.iter().any(through), "axis of {}", bore.number);
        }
        let strings = lines(&sheet, Layer::Strings, LineKind::Narrow);
        assert_eq!(strings.len(), layout.strings.len());
    }
}

#[test]
fn on_a_tapered_side_mark_and_axis_part_company() {
    let (layout, _) = demo("sandpiper");
    let bore = &layout.sides.treble.bores[0];
    // 4 mm in 184 over a half width of 32.7 at the bore.
    let apart = bore.centre_line_y() - bore.squares_across_at();
    assert!((apart - bore.entry.x * 4.0 / 184.0).abs() < 1e-9 && apart > 0.6);
}

#[test]
fn a_knife_cuts_only_where_the_wood_goes() {
    let knife_length = |design: &Design| -> f64 {
        let (layout, _) = laid_out(design);
        let sheet = face::face(&layout);
        let cuts = lines(&sheet, Layer::Marks, LineKind::Wide);
        for [a, b] in &cuts {
            let inside = |point: DVec2| {
                layout.each_side().any(|side| {
                    side.slot
                        .as_ref()
                        .is_some_and(|slot| slot.opening().contains(point))
                        || side.line.depth_of(point) < design.head.edge_radius
                })
            };
            assert!(inside((*a + *b) / 2.0), "{a} {b}");
        }
        cuts.iter().map(|ends| ends[0].distance(ends[1])).sum()
    };
    let mut design = six_string();
    // Six bores, each over a slot 15 wide that lies along the centre line.
    assert!((knife_length(&design) - 6.0 * 15.0).abs() < 1e-9);
    design.head.edge_radius = 2.0;
    // The rounding is square to the side, the mark to the centre line.
    let slant = (184.0_f64).hypot(4.0) / 184.0;
    assert!((knife_length(&design) - 6.0 * (15.0 + 2.0 * slant)).abs() < 1e-9);
    design.head.edge_radius = 0.0;
    design.slots = None;
    assert!(knife_length(&design).abs() < 1e-12);
}

#[test]
fn strips_carry_each_mark_from_lip_to_lip() {
    for (layout, _) in [demo("turnstone"), laid_out(&uneven())] {
        for side in layout.each_side() {
            let sheet = strip::strip(&layout, side.side);
            let mut marks = lines(&sheet, Layer::Marks, LineKind::Narrow);
            marks.extend(lines(&sheet, Layer::Marks, LineKind::Wide));
            let sign = side.side.sign();
            let front = layout.front_when_drilled();
            for bore in &side.bores {
                let thick = front - layout.back_when_drilled(bore.entry.y);
                let from = DVec2::new(0.0, bore.s);
                let to = DVec2::new(sign * (2.0 * strip::LIP + thick), bore.s);
                assert!(covered(&marks, from, to));
                let centre = DVec2::new(sign * (strip::LIP + front - bore.entry.z), bore.s);
                let ring = |item: &Item| {
                    matches!(item, Item::Circle { layer: Layer::Bores, center, radius, .. }
                        if same(*center, centre) && (radius - bore.diameter / 2.0).abs() < 1e-9)
                };
                assert!(sheet.items.iter().any(ring));
            }
            let pilots = |item: &&Item| {
                matches!(
                    item,
                    Item::Circle {
                        layer: Layer::Pilots,
                        ..
                    }
                )
            };
            assert_eq!(sheet.items.iter().filter(pilots).count(), side.pilots.len());
            // Folds: the face's edge straight, the back's edge where the wood ends.
            let folds = lines(&sheet, Layer::Outline, LineKind::Hidden);
            let end = side.line.end_s;
            let back = front - layout.back_when_drilled(side.line.at(end).y);
            let face_end = DVec2::new(sign * strip::LIP, end);
            let back_end = DVec2::new(sign * (strip::LIP + back), end);
            assert!(same(folds[0][1], face_end) && same(folds[1][1], back_end));
        }
    }
}

#[test]
fn a_strip_begins_where_the_straight_edge_does() {
    let mut design = six_string();
    design.head.side_start = 14.0;
    design.head.shoulder_width = Some(52.0);
    let (layout, _) = laid_out(&design);
    let sheet = strip::strip(&layout, Side::Treble);
    let folds = lines(&sheet, Layer::Outline, LineKind::Hidden);
    let start = layout.sides.treble.line.start_s;
    assert!(start > 14.0 && (folds[0][0].y - start).abs() < 1e-9);
    design.head.shoulder_width = None;
    let (layout, _) = laid_out(&design);
    let folds = lines(
        &strip::strip(&layout, Side::Treble),
        Layer::Outline,
        LineKind::Hidden,
    );
    assert!(folds[0][0].y.abs() < 1e-9);
}

/// What stands beside a bore of a strip leaves the plate's end line whole, in both units and with pilots there.
#[test]
fn numbers_on_strips_leave_the_plates_end_line_whole() {
    for name in &demos() {
        let (layout, _) = demo(name);
        for inches in [false, true] {
            let design = Design {
                inches: Some(inches),
                unit: if inches { Unit::Inch } else { Unit::Mm },
                ..layout.design.clone()
            };
            let (layout, _) = laid_out(&design);
            for side in Side::BOTH {
                let drawn = strip::strip(&layout, side);
                let end = layout.sides.get(side).plate.end_s;
                let said =
                    texts(&drawn).filter(|text| text.layer == Layer::Notes && text.turn == 0.0);
                let mut numbers = 0;
                for text in said.filter(|text| text.at.y < layout.sides.get(side).line.end_s - 8.0)
                {
                    numbers += usize::from(text.text.starts_with("s "));
                    let corners = text_box(text);
                    let low = corners
                        .map(|corner| corner.y)
                        .into_iter()
                        .fold(f64::MAX, f64::min);
                    let high = corners
                        .map(|corner| corner.y)
                        .into_iter()
                        .fold(f64::MIN, f64::max);
                    // 0.6 mm of paper are kept white round a text.
                    assert!(
                        end < low - 0.6 || end > high + 0.6,
                        "{name}, {side:?}, inches {inches}: `{}` from {low:.2} to {high:.2} over the line at {end:.2}",
                        text.text
                    );
                }
                assert_eq!(numbers, layout.sides.get(side).bores.len(), "{name}");
            }
        }
    }
}

/// A plate that stands over face or back hides nothing there: the knife stops at the fold.
#[test]
fn a_knife_stops_at_the_fold_however_wide_the_plate() {
    let mut design = six_string();
    design.machines.plate_width = 30.0;
    let (layout, _) = laid_out(&design);
    for side in Side::BOTH {
        let drawn = strip::strip(&layout, side);
        let [front, back] = [strip::LIP, strip::LIP + 20.4];
        let mut seen = 0;
        for [a, b] in lines(&drawn, Layer::Marks, LineKind::Wide) {
            for x in [a.x.abs(), b.x.abs()] {
                assert!(x >= front - 1e-9 && x <= back + 1e-9, "{x}");
                seen += 1;
            }
        }
        assert!(seen >= 6);
        for [a, b] in lines(&drawn, Layer::Adjacent, LineKind::Adjacent) {
            assert!(
                a.x.abs().min(b.x.abs()) >= front - 1e-9 && a.x.abs().max(b.x.abs()) <= back + 1e-9
            );
        }
    }
}

/// A file in inches: the strips' ends and the key's holes have their inches too.
#[test]
fn no_length_of_the_sheet_lacks_its_inches() {
    for change in [
        |_: &mut Design| {},
        |design: &mut Design| {
            design.head.edge_radius = 2.0;
            design.machines.screws = six_string().machines.screws;
            design.bores.counterbore = None;
        },
    ] {
        let mut design = demo("turnstone").0.design;
        change(&mut design);
        let (layout, report) = laid_out(&design);
        let key = notes::notes(&layout, &report, None, false, 900.0, 1, 2.0);
        let key: Vec<&str> = texts(&key).map(|text| text.text.as_str()).collect();
        let key = key.join(" ");
        let lengths = key.matches(" mm").count() - key.matches("100.0 mm").count();
        assert!(
            lengths >= 2 && key.matches(" in)").count() == lengths,
            "{key}"
        );
        for side in Side::BOTH {
            let drawn = strip::strip(&layout, side);
            let words: Vec<&Text> = texts(&drawn).collect();
            let end = words
                .iter()
                .find(|text| text.text.starts_with("end s "))
                .unwrap();
            let wanted = show_inches(layout.sides.get(side).line.end_s);
            let under = words.iter().find(|text| text.text == wanted).unwrap();
            let down = end.at.y - under.at.y;
            assert!(down > 2.0 && down < 5.0, "{down}");
        }
    }
}
