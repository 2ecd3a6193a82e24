//! Checks that do not apply, and designs that only the guards refuse.

use super::super::explain::{codes, explain};
use super::super::judge::judge;
use super::super::sample::*;
use super::*;
use crate::input::*;

fn present(design: &Design) -> Vec<&'static str> {
    all_found(design)
        .iter()
        .map(|finding| finding.code)
        .collect()
}

#[test]
fn checks_that_do_not_apply_are_absent() {
    let mut d = sandpiper();
    for code in [
        "counterbore",
        "screw-slot",
        "screw-bore",
        "edge-radius",
        "press-daylight",
        "far-wood",
    ] {
        assert!(!present(&d).contains(&code), "{code}");
    }
    d.slots = None;
    d.press = None;
    for code in [
        "cheek",
        "rib",
        "slot-end",
        "bearing",
        "rim",
        "hole-in-slot",
        "string-face",
        "string-edge",
        "ramp-depth",
        "press-travel",
        "press-flutes",
    ] {
        assert!(!present(&d).contains(&code), "{code}");
    }
    assert!(present(&d).contains(&"end-wood") && report(&d).rib_window.is_none());
    let mut d = sandpiper();
    d.machines.pitches = both(vec![]);
    d.nut.strings = spread(20.0, 2);
    assert!(!present(&d).contains(&"web"));
    d.slots.as_mut().unwrap().ramp = None;
    assert!(!present(&d).contains(&"ramp-depth"));
    d.slots.as_mut().unwrap().lie = Lie::Cheek(11.0);
    assert!(report(&d).rib_window.is_none());
    // A barrel that stands out of the face: the string never meets it.
    let mut d = sandpiper();
    d.placement.depth = Across::AxisBelowFace(4.0);
    assert!(!present(&d).contains(&"string-face"));
}

#[test]
fn findings_keep_the_order_of_the_table() {
    let order: Vec<&str> = codes().collect();
    let mut last = 0;
    for code in present(&sandpiper()) {
        let at = order.iter().position(|known| *known == code).unwrap();
        assert!(at >= last);
        last = at;
    }
}

#[test]
fn every_check_is_explained() {
    // The contract's 36 and four of our own.
    assert_eq!(RULES.len(), 40);
    for code in codes() {
        let text = explain(code).unwrap();
        for part in [text.measured, text.why, text.change, &text.limits] {
            assert!(
                part.len() > 30 && part.ends_with(['.', ']']),
                "{code}: {part}"
            );
        }
        assert!(text.limits.contains("[limits]"));
    }
    assert!(explain("wood").is_none());
    assert!(
        explain("clearance")
            .unwrap()
            .limits
            .contains("at 0 mm or below")
    );
    assert!(
        explain("clearance")
            .unwrap()
            .limits
            .contains("outside 0.2 to 0.6 mm (common practice)")
    );
}

/// `code` stops the design, at a place whose words contain `at`.
fn stops(design: &Design, code: &str, at: &str) {
    let finding = found(design, code);
    assert_eq!(finding.verdict, Verdict::Stop, "{finding:?}");
    assert!(finding.at.contains(at), "{}", finding.at);
}

#[test]
fn slots_out_of_the_head_are_refused() {
    // Past the crest: beyond the arch, or across it.
    for margin in [34.0, 60.0] {
        let mut d = sandpiper();
        d.slots.as_mut().unwrap().end_margin[1] = margin + 40.0;
        stops(&d, "end-wood", "slot to the crest");
        assert!(found(&d, "end-wood").value <= 0.0);
    }
    // Laid by a cheek so deep that they come out at the far side.
    let mut d = sandpiper();
    d.slots.as_mut().unwrap().lie = Lie::Cheek(60.0);
    stops(&d, "cheek", "treble slot to the bass side");
    // A bore that misses its slot.
    let mut d = sandpiper();
    d.slots.as_mut().unwrap().end_margin = [0.0, 0.0];
    stops(&d, "slot-end", "bore");
    assert!(found(&d, "slot-end").value < 0.0);
}

#[test]
fn shoulders_are_kept_clear() {
    let mut d = sandpiper();
    d.placement.along = Along::FirstBarrel(both(57.0));
    d.head.side_start = 50.0;
    d.head.shoulder_width = Some(20.0);
    stops(&d, "edges", "shoulder");
    // The same without the shoulders: the sides run on to the nut line.
    d.head.shoulder_width = None;
    assert_ne!(found(&d, "edges").verdict, Verdict::Stop);
    // A shoulder that runs nearly along the side leaves the slots alone.
    d.head.shoulder_width = Some(60.0);
    assert_ne!(found(&d, "edges").verdict, Verdict::Stop);
    // One of no length is no edge.
    d.head.side_start = 1e-9;
    d.head.shoulder_width = Some(63.0);
    stops(&d, "edges", "length of the treble shoulder");
}

#[test]
fn sides_that_cross_before_the_nut_line_are_refused() {
    let mut d = sandpiper();
    d.head.side_start = 100.0;
    d.head.half_width_at_start = both(10.0);
    stops(&d, "edges", "at the nut line");
}

#[test]
fn an_end_plane_short_of_the_slot_wall_is_refused() {
    // The treble slot, laid by its cheek, reaches past the centre line.
    let mut d = sandpiper();
    d.slots.as_mut().unwrap().lie = Lie::Cheek(20.0);
    d.slots.as_mut().unwrap().width = 13.5;
    d.bores.depth = BoreDepth::BeyondBarrel(12.0);
    stops(&d, "rim", "ends near the centre line");
}

#[test]
fn a_pair_that_only_touches_is_refused() {
    let point = 5.25 / 59.0_f64.to_radians().tan();
    for (past, stopped) in [(5e-6, true), (5e-5, false), (0.5, false)] {
        let mut d = sandpiper();
        d.head.half_width_at_start = both(32.0);
        d.head.half_width_at_end = both(32.0);
        d.print.head_allowance = 0.0;
        d.bores.depth = BoreDepth::BeyondCentre(past - point);
        let finding = report(&d)
            .finding("far-wood")
            .map(|finding| finding.verdict);
        assert_eq!(finding, stopped.then_some(Verdict::Stop), "{past}");
    }
}

#[test]
fn counterbores_end_before_their_bore_does() {
    // Head without slots: the bores open at 32, the counterbore would go to 33.
    let mut d = sandpiper();
    d.head.half_width_at_start = both(32.0);
    d.head.half_width_at_end = both(32.0);
    d.slots = None;
    d.bores.depth = BoreDepth::BeyondBarrel(4.0);
    d.bores.counterbore = Some(Counterbore {
        diameter: 13.0,
        depth: 33.0,
    });
    stops(&d, "counterbore", "floor to the bore's end");
}

#[test]
fn a_pilot_that_an_allowance_closes_is_refused() {
    let mut d = sandpiper();
    d.machines.screws = Some(Screws {
        points: vec![[-11.0, 0.0]],
        pilot: 0.3,
        depth: 7.0,
    });
    d.print.head_allowance = -0.3;
    stops(&d, "screw-bore", "its own diameter");
}

#[test]
fn two_pilots_in_one_place_are_refused() {
    let mut d = sandpiper();
    d.machines.screws = Some(Screws {
        points: vec![[-11.0, 0.0], [-11.0, 0.5]],
        pilot: 1.6,
        depth: 7.0,
    });
    stops(&d, "screw-bore", "pilot 1 to treble screw pilot 2");
}

#[test]
fn a_groove_cut_into_a_hole_is_refused() {
    let mut d = sandpiper();
    d.guide.scribe = Some(Scribe {
        width: 4.0,
        depth: 8.0,
    });
    stops(&d, "block-wood", "scribe groove");
    assert!(
        (found(&d, "block-wood").value + 5.25).abs() < 1e-9 || found(&d, "block-wood").value < 0.0
    );
}

#[test]
fn judging_mismatched_copies_works_the_design_out_anew() {
    let (d, other) = (sandpiper(), dunlin());
    let (report, checked) = judge(
        Layout::new(&d, Copy::Printed),
        Layout::new(&other, Copy::Finished),
    );
    assert_eq!(report, run(&d).0);
    let checked = checked.unwrap();
    assert_eq!(checked.printed(), &Layout::new(&d, Copy::Printed));
}

#[test]
fn a_finding_points_at_the_line_that_set_its_number() {
    let place = |line| Place {
        file: "a.toml".into(),
        line,
    };
    let mut d = sandpiper();
    assert_eq!(found(&d, "bearing").place, None);
    std::sync::Arc::make_mut(&mut d.places).insert("machines.barrel_length".to_owned(), place(7));
    assert_eq!(found(&d, "bearing").place, Some(place(7)));
    std::sync::Arc::make_mut(&mut d.places).insert("slots.rib".to_owned(), place(12));
    assert_eq!(found(&d, "bearing").place, Some(place(12)));
    std::sync::Arc::make_mut(&mut d.places).insert("slots.ramp.mouth".to_owned(), place(13));
    assert_eq!(found(&d, "ramp-depth").place, Some(place(13)));
}

#[test]
fn advice_goes_with_every_finding_that_is_not_clear() {
    let mut d = sandpiper();
    d.machines.barrel_length = 45.0;
    d.head.thickness = 12.0;
    d.head.thickness_at_crest = 11.0;
    d.machines.pitches = both(vec![11.0, 10.0]);
    let (report, checked) = run(&d);
    assert!(checked.is_none());
    let count = |verdict| {
        report
            .findings
            .iter()
            .filter(|f| f.verdict == verdict)
            .count()
    };
    assert!(count(Verdict::Stop) >= 4);
    for finding in &report.findings {
        assert_eq!(finding.advice.is_none(), finding.verdict == Verdict::Clear);
    }
}

#[test]
fn a_pair_asked_for_different_depths_shares_its_opening() {
    use crate::layout::{BoreEnd, EndCut};
    // Four barrels on the bass side, flaring: its widest station asks for a deeper stop.
    let mut cut = Vec::new();
    for beyond in [-4.6, -1.5, 2.0] {
        let mut d = curlew();
        d.bores.depth = BoreDepth::BeyondCentre(beyond);
        let [layout, _] = copies(&d);
        for pair in &layout.pairs {
            let treble = &layout.sides.treble.bores[pair.treble];
            let bass = &layout.sides.bass.bores[pair.bass];
            assert!((treble.depth_asked - bass.depth_asked).abs() > 0.1);
            assert_eq!((treble.end, treble.end_plane), (bass.end, bass.end_plane));
            if treble.end == BoreEnd::Opens {
                cut.extend(treble.end_plane.map(|(_, cut)| cut));
                let plane = |bore: &crate::layout::Bore| {
                    let mut y: Vec<f64> = bore
                        .section()
                        .iter()
                        .filter(|p| p.x.abs() < 1e-9)
                        .map(|p| p.y)
                        .collect();
                    y.sort_by(f64::total_cmp);
                    y
                };
                for (a, b) in plane(treble).iter().zip(plane(bass)) {
                    assert!((a - b).abs() < 1e-9);
                }
                assert_eq!(plane(treble).len(), 2);
            }
        }
    }
    assert!(cut.contains(&EndCut::Point) && cut.contains(&EndCut::FullDiameter));
}

/// The least distance is nothing for every overlap: how far barrels of 40 mm run past each other stands
/// in words, worked out from the width of the head where they enter.
#[test]
fn an_overlap_of_barrels_is_told_in_words() {
    let mut d = sandpiper();
    assert!(found(&d, "barrels-apart").advice.is_none());
    d.machines.barrel_length = 40.0;
    let [layout, _] = copies(&d);
    let [treble, bass] = [&layout.sides.treble.bores[0], &layout.sides.bass.bores[0]];
    let (cos, apart) = (-treble.direction.x, treble.entry.x - bass.entry.x);
    let over = (80.0 * cos - apart) * cos;
    assert!((13.0..16.0).contains(&over), "{over}");
    let finding = found(&d, "barrels-apart");
    assert!(finding.value.abs() < 1e-12);
    assert_eq!(finding.at, "barrels of treble bore 1 and bass bore 1");
    let words = format!("They run past each other by {over:.2} mm. ");
    let advice = advised(&d, "barrels-apart").unwrap();
    assert!(advice.starts_with(&words), "{advice}");
}
