//! The numbers that advice offers do clear their checks.

use super::super::advice::remedies;
use super::super::sample::*;
use super::cases::CASES;
use super::*;
use crate::input::*;

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
            for remedy in remedies(rule(case.code).unwrap(), &design) {
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
