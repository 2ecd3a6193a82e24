//! Checks with `[strings]`: what changes with the table, what is absent without it, courses, and the
//! ramp that is proposed.

use super::super::sample::*;
use super::cases::{plain, strung};
use super::*;
use crate::input::*;

const ADDED: [&str; 4] = [
    "string-wood",
    "string-barrel",
    "string-neighbour",
    "winding-wall",
];

#[test]
fn without_the_table_the_added_checks_are_absent_and_with_it_they_never_stop() {
    let codes = |design: &Design| -> Vec<&str> {
        all_found(design)
            .iter()
            .map(|finding| finding.code)
            .collect()
    };
    let (without, with) = (codes(&plain()), codes(&strung()));
    for code in ADDED {
        assert!(!without.contains(&code) && with.contains(&code), "{code}");
        assert!(rule(code).unwrap().stop.is_none());
    }
    assert_eq!(without.len() + ADDED.len(), with.len());
}

#[test]
fn the_contracts_checks_follow_the_strings_and_the_others_do_not_move() {
    let (without, with) = (all_found(&plain()), all_found(&strung()));
    let moved: Vec<&str> = without
        .iter()
        .filter(|before| {
            let after = with.iter().find(|after| after.code == before.code).unwrap();
            (after.value - before.value).abs() > 0.0
        })
        .map(|finding| finding.code)
        .collect();
    assert_eq!(
        moved,
        ["string-face", "string-edge", "side-pull", "nut-break"]
    );
    // And they are the layout's own.
    let [finished, _] = copies(&strung());
    let steepest = finished
        .strings
        .iter()
        .map(|string| string.nut_break.to_degrees())
        .fold(0.0, f64::max);
    assert!((found(&strung(), "nut-break").value - steepest).abs() < 1e-12);
}

#[test]
fn strings_of_a_course_may_run_half_a_millimetre_apart() {
    let mut d = strung();
    d.strings.as_mut().unwrap().diameters = vec![0.5; 6];
    // Three courses, 1.8 wide.
    d.nut.strings = vec![-20.0, -18.2, -0.9, 0.9, 18.2, 20.0];
    d.strings.as_mut().unwrap().turns = vec![0.0; 6];
    let [layout, _] = copies(&d);
    assert!(layout.one_course(&layout.strings[0], &layout.strings[1]));
    assert!(!layout.one_course(&layout.strings[1], &layout.strings[2]));
    let pair = layout.string_to_strings(&layout.strings[0])[0].distance;
    assert!(pair > 0.5 && pair < 1.5, "{pair}");
    assert_eq!(found(&d, "string-neighbour").verdict, Verdict::Clear);
    // The maker's own limit counts for courses as well.
    d.limits
        .insert("string-neighbour".to_owned(), OwnLimit::Single(pair + 0.01));
    assert_eq!(found(&d, "string-neighbour").verdict, Verdict::Caution);
}

#[test]
fn the_proposed_ramp_clears_when_it_is_typed() {
    // No ramp, one too short, one too flat.
    for ramp in [None, Some((6.0, 24.0)), Some((22.0, 4.0))] {
        let mut d = strung();
        d.slots.as_mut().unwrap().ramp = ramp.map(|(mouth, angle): (f64, f64)| Ramp {
            mouth,
            angle: angle.to_radians(),
        });
        assert_eq!(found(&d, "string-wood").verdict, Verdict::Caution);
        let advice = advised(&d, "string-wood").unwrap();
        let typed = advice
            .strip_prefix("Set slots.ramp to { mouth = ")
            .and_then(|rest| rest.split_once(" }"))
            .unwrap_or_else(|| panic!("{advice}"))
            .0;
        let (mouth, angle) = typed.split_once(", angle = ").unwrap();
        let (mouth, angle): (f64, f64) = (mouth.parse().unwrap(), angle.parse().unwrap());
        d.slots.as_mut().unwrap().ramp = Some(Ramp {
            mouth,
            angle: angle.to_radians(),
        });
        for code in [
            "string-wood",
            "string-face",
            "ramp-depth",
            "end-wood",
            "edges",
        ] {
            assert_eq!(found(&d, code).verdict, Verdict::Clear, "{code}: {advice}");
        }
        // And half a millimetre less of mouth does not.
        d.slots.as_mut().unwrap().ramp.as_mut().unwrap().mouth -= 0.5;
        assert_eq!(
            found(&d, "string-wood").verdict,
            Verdict::Caution,
            "{advice}"
        );
    }
}

#[test]
fn no_ramp_is_proposed_where_a_wall_is_in_the_way() {
    let mut d = strung();
    // The middle strings on the rib's edge.
    d.slots.as_mut().unwrap().lie = Lie::Rib(19.0);
    let advice = advised(&d, "string-wood").unwrap();
    assert!(!advice.contains("slots.ramp"), "{advice}");
    let clear = sandpiper();
    assert_eq!(super::super::run(&clear).0.verdict(), Verdict::Clear);
}
