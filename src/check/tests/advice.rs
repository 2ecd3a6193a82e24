//! The numbers that advice offers do clear their checks.

use super::super::advice::{Further, Now, remedies};
use super::super::sample::*;
use super::cases::CASES;
use super::*;
use crate::input::*;
use crate::units::Lengths;

#[test]
fn typing_an_offered_number_clears_the_check() {
    let mut offered = 0;
    for case in CASES {
        for part in [0.0, 0.2, 0.8, 1.0] {
            let mut design = (case.design)();
            let number = case.range[0] + (case.range[1] - case.range[0]) * part;
            (case.set)(&mut design, number);
            let finding = found(&design, case.code);
            if finding.verdict == Verdict::Clear {
                continue;
            }
            let advice = advised(&design, case.code).unwrap();
            assert!(advice.ends_with('.'), "{advice}");
            for remedy in remedies(
                rule(case.code).unwrap(),
                &Now::new(&design, &all_found(&design)),
            ) {
                let mut changed = design.clone();
                (remedy.lever.set)(&mut changed, remedy.value);
                let after = found(&changed, case.code).verdict;
                assert_eq!(
                    after,
                    Verdict::Clear,
                    "{} {number} {}",
                    case.code,
                    remedy.lever.key
                );
                if let Further::To(end) = remedy.further {
                    let mut changed = design.clone();
                    (remedy.lever.set)(&mut changed, end);
                    let after = found(&changed, case.code).verdict;
                    assert_eq!(after, Verdict::Clear, "{} {end}", remedy.lever.key);
                }
                offered += 1;
            }
        }
    }
    assert!(offered > 60, "only {offered} offers tried");
}

#[test]
fn the_number_is_the_least_change_to_the_hundredth() {
    // Bearing 3 mm at the worst bore: the rib window's least rib, rounded up.
    let mut d = sandpiper();
    d.slots.as_mut().unwrap().lie = Lie::Rib(12.0);
    let least = report(&d).rib_window.unwrap().least;
    let wanted = (least * 100.0).ceil() / 100.0;
    let advice = advised(&d, "bearing").unwrap();
    assert!(
        advice.contains(&format!("slots.rib to {wanted:.2} mm or more")),
        "{advice}"
    );
}

#[test]
fn inch_files_are_answered_in_inches() {
    let mut d = turnstone();
    d.head.thickness = 12.0;
    d.head.thickness_at_crest = 12.0;
    let advice = advised(&d, "wood-over").unwrap();
    // 6.7469 + 2·3 = 12.7469 mm = 0.50185 in, up to the next half thousandth.
    assert!(
        advice.contains("head.thickness to 0.502 in or more"),
        "{advice}"
    );
}

#[test]
fn no_number_no_promise() {
    // Nothing of the parameter file makes these two clear at once but other machines.
    let mut d = sandpiper();
    d.machines.screws = Some(Screws {
        points: vec![[0.0, 0.0]],
        pilot: 1.6,
        depth: 7.0,
    });
    let advice = advised(&d, "screw-bore").unwrap();
    assert_eq!(advice, super::super::explain::what_to_change("screw-bore"));
}

/// The six-string with its barrels given by the length over the outer ones.
fn by_length_over() -> Design {
    let mut d = sandpiper();
    let place = Place {
        file: "a.toml".into(),
        line: 1,
    };
    std::sync::Arc::make_mut(&mut d.places).insert("machines.over_outer_barrels".to_owned(), place);
    d
}

#[test]
fn advice_names_the_key_that_the_file_holds() {
    let mut d = by_length_over();
    d.machines.pitches = both(vec![12.0, 12.0]);
    let advice = advised(&d, "web").unwrap();
    // Two gaps of bore 10.5 and web 5, and one barrel of 10: 41 mm.
    assert!(
        advice.contains("machines.over_outer_barrels of 41 mm or more"),
        "{advice}"
    );
    assert!(!advice.contains("machines.pitches"), "{advice}");
}

#[test]
fn a_bit_and_a_pair_are_aimed_at_not_approached() {
    let mut d = sandpiper();
    d.bores.diameter = 10.53;
    let advice = advised(&d, "bit-size").unwrap();
    assert!(
        advice.ends_with("Set bores.diameter to 10.5 mm."),
        "{advice}"
    );
    let mut d = sandpiper();
    d.placement.along = Along::FirstBarrel(PerSide {
        treble: 57.123,
        bass: 57.5,
    });
    let advice = advised(&d, "pair-offset").unwrap();
    assert_eq!(advice, "Set placement.bass.first_barrel to 57.123 mm.");
}

/// Plates centred along the side whose ends differ: their bores meet where both first barrels are given one
/// place, wherever that is near the present one.
#[test]
fn plates_that_differ_are_told_to_begin_alike() {
    for (longer, code) in [(0.8, "pair-offset"), (5.0, "far-wood")] {
        let mut d = sandpiper();
        d.placement.along = Along::Centred;
        d.machines.overhang.bass[1] += longer;
        let advice = advised(&d, code).unwrap();
        let now = Layout::new(&d, Copy::Finished).sides.treble.bores[0]
            .entry
            .y;
        let at = (now * 100.0).ceil() / 100.0;
        let wanted = format!("placement.first_barrel (in place of along) to {at:.2}");
        assert!(
            advice.contains(wanted.trim_end_matches('0')),
            "{code}: {advice}"
        );
    }
    // Pitches that differ cannot be cured by a number.
    let mut d = sandpiper();
    d.machines.pitches.bass[0] += 0.4;
    let advice = advised(&d, "pair-offset").unwrap();
    assert!(advice.contains("a limit of your own"), "{advice}");
}

#[test]
fn wood_in_the_block_has_a_number_for_every_way_of_lacking_it() {
    type Case = (fn(&mut Design), &'static str);
    let cases: [Case; 5] = [
        (
            |d| d.guide.height = 16.0,
            "guide.height to 18.35 mm or more",
        ),
        (
            |d| d.guide.end_margin = 6.0,
            "guide.end_margin to 7.75 mm or more",
        ),
        (
            |d| d.guide.bush_diameter = Some(17.0),
            "guide.bush_diameter to",
        ),
        (
            |d| {
                d.guide.scribe = Some(Scribe {
                    width: 2.0,
                    depth: 3.0,
                })
            },
            "guide.scribe.depth to",
        ),
        (
            |d| d.placement.depth = Across::AxisBelowFace(7.5),
            "placement.axis_below_face to 7.75 mm or more",
        ),
    ];
    for (set, wanted) in cases {
        let mut d = sandpiper();
        set(&mut d);
        let advice = advised(&d, "block-wood").unwrap();
        assert!(advice.contains(wanted), "{wanted}: {advice}");
    }
}

#[test]
fn an_own_limit_beyond_the_stop_is_told_that_it_does_not_hold() {
    let mut d = sandpiper();
    d.limits.insert("bearing".to_owned(), OwnLimit::Single(0.2));
    d.slots.as_mut().unwrap().lie = Lie::Rib(7.2);
    let finding = found(&d, "bearing");
    assert_eq!(finding.verdict, Verdict::Stop);
    let advice = advised(&d, "bearing").unwrap();
    let sentence =
        "Your own limit for bearing lies beyond the stop at 0.50 mm and cannot loosen it.";
    assert!(advice.starts_with(sentence), "{advice}");
    // Where the design passes, the limit is not shown as if it were what holds.
    d.slots.as_mut().unwrap().lie = Lie::Rib(9.0);
    let finding = found(&d, "bearing");
    assert_eq!(finding.verdict, Verdict::Clear);
    let words = crate::check::words::basis_words(&finding, Lengths { inches: false });
    assert_eq!(
        words,
        "your own limit; the stop at 0.50 mm holds all the same"
    );
    let all = crate::check::words::loose_limits(&d, Lengths { inches: false });
    assert_eq!(all.len(), 1);
    // A limit within the stop is nobody's concern.
    d.limits.insert("bearing".to_owned(), OwnLimit::Single(0.5));
    assert!(crate::check::words::loose_limits(&d, Lengths { inches: false }).is_empty());
}
