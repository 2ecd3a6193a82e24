//! Common practice: what most heads are like is clear; each departure draws its caution.

use super::super::Basis;
use super::super::sample::*;
use super::*;
use crate::input::*;

/// Barrels of 10 mm at 35 mm, bores half a millimetre over, a plate 17 to 19 mm wide, the head a
/// little thicker.
fn usual(plate: f64) -> Design {
    let mut d = sandpiper();
    d.machines.plate_width = plate;
    d.head.thickness = plate + 2.0;
    d.head.thickness_at_crest = plate + 2.0;
    d.guide.height = plate + 2.0;
    d
}

fn drawn(design: &Design) -> Vec<&'static str> {
    not_clear(design)
        .into_iter()
        .map(|(code, _)| code)
        .collect()
}

#[test]
fn usual_measures_are_clear() {
    for plate in [17.0, 17.5, 18.0, 18.5, 19.0] {
        let design = usual(plate);
        for finding in all_found(&design) {
            if finding.basis == Basis::CommonPractice {
                assert_eq!(finding.verdict, Verdict::Clear, "{plate} {}", finding.code);
            }
        }
    }
}

#[test]
fn each_departure_draws_its_caution() {
    type Depart = fn(&mut Design);
    let departures: [(&str, Depart); 10] = [
        ("clearance", |d| d.bores.diameter = 10.1),
        ("clearance", |d| d.bores.diameter = 10.7),
        ("plate-thickness", |d| d.machines.plate_width = 19.2),
        ("plate-even", |d| d.machines.axis_offset = 0.3),
        ("wood-over", |d| {
            d.placement.depth = Across::AxisBelowFace(8.0)
        }),
        ("cheek", |d| d.slots.as_mut().unwrap().width = 18.0),
        ("rib", |d| d.slots.as_mut().unwrap().lie = Lie::Rib(6.5)),
        ("bearing", |d| d.machines.barrel_length = 30.0),
        ("block-guided", |d| d.guide.depth = 19.0),
        ("bore-depth", |d| {
            d.bores.depth = BoreDepth::BeyondBarrel(0.5)
        }),
    ];
    for (code, depart) in departures {
        let mut design = usual(18.0);
        depart(&mut design);
        if code == "plate-even" {
            // Centred by the plate, an offset moves nothing; by the axis, the plate sits off.
            assert!(!drawn(&design).contains(&code));
            design.placement.depth = Across::AxisBelowFace(10.0);
        }
        assert!(
            drawn(&design).contains(&code),
            "{code}: {:?}",
            drawn(&design)
        );
        assert_eq!(found(&design, code).verdict, Verdict::Caution, "{code}");
    }
}
