//! The six demo designs: clear but for the cautions they are meant to draw.

use super::super::sample::*;
use super::super::{Checked, run};
use super::*;

fn near(design: &Design, code: &str, value: f64, within: f64) {
    let finding = found(design, code);
    assert!(
        (finding.value - value).abs() <= within,
        "{} {code}: {} against {value}",
        design.title,
        finding.value
    );
}

#[test]
fn cautions_are_the_deliberate_ones() {
    for (design, codes) in [
        (sandpiper(), vec![]),
        (curlew(), vec!["side-pull"]),
        (godwit(), vec!["side-pull"]),
        (dunlin(), vec![]),
        (turnstone(), vec!["block-wood"]),
        (whimbrel(), vec!["side-pull"]),
    ] {
        let expected: Vec<_> = codes.iter().map(|code| (*code, Verdict::Caution)).collect();
        assert_eq!(not_clear(&design), expected, "{}", design.title);
        let checked: Option<Checked> = run(&design).1;
        let checked = checked.unwrap();
        assert_eq!(checked.finished().copy, crate::layout::Copy::Finished);
        assert_eq!(checked.printed().copy, crate::layout::Copy::Printed);
    }
}

#[test]
fn figures_worked_out_beside_the_designs() {
    near(&curlew(), "side-pull", 11.1, 0.05);
    near(&godwit(), "side-pull", 11.8, 0.05);
    near(&whimbrel(), "side-pull", 8.5, 0.05);
    near(&turnstone(), "block-wood", 2.0, 0.005);
    near(&sandpiper(), "press-travel", 59.65, 0.005);
    near(&dunlin(), "press-travel", 44.0, 1e-9);
    near(&dunlin(), "cheek", 8.40, 0.005);
    near(&dunlin(), "bearing", 3.09, 0.005);
    near(&dunlin(), "wood-over", 3.8, 1e-9);
    for design in [
        sandpiper(),
        curlew(),
        godwit(),
        dunlin(),
        turnstone(),
        whimbrel(),
    ] {
        assert!(
            found(&design, "barrels-apart").value >= 1.8,
            "{}",
            design.title
        );
    }
}
