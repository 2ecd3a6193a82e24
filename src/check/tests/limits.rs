//! Every limit, a ten-millionth of its unit inside and outside; the maker's own limits; the
//! printed copy.

use super::super::limits::Bound;
use super::super::sample::*;
use super::super::{Basis, Limit};
use super::cases::{CASES, Case, parallel, plain, staggered};
use super::*;
use crate::input::*;

const STEP: f64 = 1e-7;

fn turned(case: &Case, number: f64) -> Design {
    let mut design = (case.design)();
    (case.set)(&mut design, number);
    design
}

/// The case's design with its number set so that the check's value is `target`.
fn at_value(case: &Case, target: f64) -> Option<Design> {
    let value = |number: f64| found(&turned(case, number), case.code).value;
    let [mut low, mut high] = case.range;
    if (value(low) - target) * (value(high) - target) > 0.0 {
        return None;
    }
    let rising = value(high) > value(low);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if (value(middle) < target) == rising {
            low = middle;
        } else {
            high = middle;
        }
    }
    let design = turned(case, low);
    let reached = found(&design, case.code).value;
    assert!(
        (reached - target).abs() < 1e-10,
        "{}: {reached} for {target}",
        case.code
    );
    Some(design)
}

/// Values just inside and just outside each end of a bound.
fn around(bound: Bound) -> Vec<(f64, f64)> {
    match bound {
        Bound::AtLeast(limit) | Bound::MoreThan(limit) => vec![(limit + STEP, limit - STEP)],
        Bound::AtMost(limit) => vec![(limit - STEP, limit + STEP)],
        Bound::Within { low, high } => vec![(low + STEP, low - STEP), (high - STEP, high + STEP)],
    }
}

#[test]
fn every_stop_just_inside_and_just_outside() {
    let mut tried = Vec::new();
    for case in CASES {
        let Some(stop) = rule(case.code).unwrap().stop else {
            continue;
        };
        for (inside, outside) in around(stop) {
            // Barrels that overlap are at distance 0 and no less.
            let outside = if case.code == "barrels-apart" {
                0.0
            } else {
                outside
            };
            let Some(design) = at_value(case, inside) else {
                continue;
            };
            let finding = found(&design, case.code);
            assert_ne!(finding.verdict, Verdict::Stop, "{} at {inside}", case.code);
            let design = match case.code {
                "barrels-apart" => turned(case, case.range[1]),
                _ => at_value(case, outside).unwrap(),
            };
            let finding = found(&design, case.code);
            assert_eq!(finding.verdict, Verdict::Stop, "{} at {outside}", case.code);
            assert_eq!(finding.limit, stop.limit());
            assert!(finding.margin <= 0.0 && finding.basis == Basis::Assumed);
            tried.push(case.code);
        }
    }
    for rule in RULES {
        assert!(
            rule.stop.is_none() || tried.contains(&rule.code),
            "{} untried",
            rule.code
        );
    }
}

#[test]
fn every_caution_just_inside_and_just_outside() {
    let mut tried = Vec::new();
    for case in CASES {
        let rule = rule(case.code).unwrap();
        let bound = match (rule.code, rule.caution) {
            // What the sample's press and a 10.5 mm jobber bit have.
            ("press-travel", _) => Bound::AtMost(80.0),
            ("press-flutes", _) => Bound::AtMost(87.0),
            ("press-daylight", _) => Bound::AtMost(240.0),
            (_, Some(bound)) => bound,
            (_, None) => continue,
        };
        for (inside, outside) in around(bound) {
            let Some(design) = at_value(case, inside) else {
                continue;
            };
            let finding = found(&design, case.code);
            assert_eq!(finding.verdict, Verdict::Clear, "{} at {inside}", case.code);
            assert_eq!(finding.limit, bound.limit());
            assert!(finding.margin > 0.0);
            let finding = found(&at_value(case, outside).unwrap(), case.code);
            assert_eq!(
                finding.verdict,
                Verdict::Caution,
                "{} at {outside}",
                case.code
            );
            assert_eq!(finding.limit, bound.limit());
            assert!(
                (finding.margin + STEP).abs() < 1e-9,
                "{} {}",
                case.code,
                finding.margin
            );
            tried.push((case.code, inside));
        }
    }
    for rule in RULES.iter().filter(|rule| rule.caution.is_some()) {
        let count = tried.iter().filter(|(code, _)| *code == rule.code).count();
        let ends = if rule.takes_band() { 2 } else { 1 };
        assert_eq!(count, ends, "{}", rule.code);
    }
}

#[test]
fn at_a_limit_the_check_holds_but_for_the_strict_ones() {
    let mut d = plain();
    d.placement.depth = Across::AxisBelowFace(5.25 + 3.0);
    assert_eq!(found(&d, "wood-over").verdict, Verdict::Clear);
    d.placement.depth = Across::AxisBelowFace(5.25 + 1.0);
    assert_eq!(found(&d, "wood-over").verdict, Verdict::Caution);
    d.bores.diameter = 10.0;
    assert_eq!(found(&d, "clearance").verdict, Verdict::Stop);
    d.bores.diameter = 10.2;
    assert_eq!(found(&d, "clearance").verdict, Verdict::Clear);
}

#[test]
fn own_limits_replace_the_caution_and_never_loosen_a_stop() {
    for case in CASES {
        let rule = rule(case.code).unwrap();
        if rule.takes_band() {
            continue;
        }
        // Anywhere the check is clear, a limit above (or below) its value draws the caution.
        let mut design = (case.design)();
        (case.set)(&mut design, f64::midpoint(case.range[0], case.range[1]));
        let before = found(&design, case.code);
        if before.verdict == Verdict::Stop {
            continue;
        }
        let toward = match rule.caution {
            Some(Bound::AtMost(_)) => -1.0,
            _ => 1.0,
        };
        for (limit, verdict) in [
            (before.value + toward * 0.001, Verdict::Caution),
            (before.value - toward * 0.001, Verdict::Clear),
        ] {
            design
                .limits
                .insert(case.code.to_owned(), OwnLimit::Single(limit));
            let after = found(&design, case.code);
            assert_eq!(after.verdict, verdict, "{}", case.code);
            assert_eq!(
                (after.limit, after.basis),
                (Limit::Single(limit), Basis::Own),
                "{}",
                case.code
            );
        }
    }
    let mut d = plain();
    d.limits
        .insert("wood-over".to_owned(), OwnLimit::Single(-5.0));
    d.placement.depth = Across::AxisBelowFace(6.0);
    let finding = found(&d, "wood-over");
    assert_eq!(
        (finding.verdict, finding.limit),
        (Verdict::Stop, Limit::Single(1.0))
    );
}

#[test]
fn own_bands_for_two_sided_checks() {
    let mut d = plain();
    let band = OwnLimit::Band {
        low: 0.3,
        high: 0.45,
    };
    d.limits.insert("clearance".to_owned(), band);
    let finding = found(&d, "clearance");
    assert_eq!(
        (finding.verdict, finding.basis),
        (Verdict::Caution, Basis::Own)
    );
    assert!((finding.margin + 0.05).abs() < 1e-12);
    let wide = OwnLimit::Band {
        low: -1.0,
        high: 1.0,
    };
    d.limits.insert("clearance".to_owned(), wide);
    d.bores.diameter = 9.9;
    assert_eq!(found(&d, "clearance").verdict, Verdict::Stop);
    // A limit of the other shape is refused by the input and does nothing here.
    d.limits
        .insert("clearance".to_owned(), OwnLimit::Single(0.1));
    d.bores.diameter = 10.1;
    let finding = found(&d, "clearance");
    assert_eq!(
        (finding.verdict, finding.basis),
        (Verdict::Caution, Basis::CommonPractice)
    );
}

#[test]
fn the_printed_copy_must_pass_the_same_stops_but_draws_no_cautions() {
    let mut d = sandpiper();
    // Finished 10.2 − 5.25 = 4.95 over the bores; printed 10.2 − (10.5 + 8.5)/2 = 0.7.
    d.print.head_allowance = 8.5;
    let finding = found(&d, "wood-over");
    assert_eq!(finding.verdict, Verdict::Stop);
    assert!(
        (finding.value - 0.7).abs() < 1e-9 && finding.at.starts_with("printed "),
        "{finding:?}"
    );
    assert!(run(&d).1.is_none());
    // 1.7 printed: below the caution limit, above the stop.
    d.print.head_allowance = 6.5;
    let finding = found(&d, "wood-over");
    assert_eq!(finding.verdict, Verdict::Clear);
    assert!((finding.value - 4.95).abs() < 1e-9);
    // An allowance that makes the printed guide holes too small for the bit.
    let mut d = sandpiper();
    d.print.block_allowance = -0.1;
    let finding = found(&d, "block-bore");
    assert_eq!(finding.verdict, Verdict::Stop);
    assert!(finding.at.starts_with("printed "));
    // One that leaves no bore at all.
    let mut d = sandpiper();
    d.print.head_allowance = -10.6;
    assert_eq!(found(&d, "clearance").verdict, Verdict::Stop);
}

#[test]
fn points_of_a_pair_need_a_hundredth() {
    // Half width 32, D = 32 + v, point (10.5/2)/tan 59°: tips 2·(−v − point) apart.
    let point = 5.25 / 59.0_f64.to_radians().tan();
    for (apart, verdict) in [
        (0.01 + STEP, Verdict::Caution),
        (0.01 - STEP, Verdict::Stop),
        (1.0 + STEP, Verdict::Clear),
    ] {
        let mut d = parallel();
        d.bores.depth = BoreDepth::BeyondCentre(-point - apart / 2.0);
        let finding = found(&d, "far-wood");
        assert_eq!(finding.verdict, verdict, "{apart}");
        assert!((finding.value - apart).abs() < 1e-9);
    }
}

#[test]
fn points_past_each_other_by_half_a_millimetre_need_half_a_millimetre() {
    // Flat ends 10.5 wide, axes 10.8 apart: 0.3 of wood between the walls once they pass.
    let mut d = staggered();
    d.placement.along = Along::FirstBarrel(PerSide {
        treble: 57.0,
        bass: 67.8,
    });
    d.machines.pitches = both(vec![]);
    d.nut.strings = spread(20.0, 2);
    for (beyond, verdict, limit) in [
        (0.2499, Verdict::Caution, 1.0),
        (0.2501, Verdict::Stop, 0.5),
    ] {
        d.bores.depth = BoreDepth::BeyondCentre(beyond);
        let finding = found(&d, "far-wood");
        assert_eq!(
            (finding.verdict, finding.limit),
            (verdict, Limit::Single(limit))
        );
        assert!((finding.value - 0.3).abs() < 1e-9, "{}", finding.value);
    }
}
