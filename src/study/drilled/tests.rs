//! Longhand cases on one head: barrels of 10.0, bores of 10.3, pitch 35, grip 30.5 mm.

mod repairs;

use super::*;
use crate::input::{
    Design, Drilled, DrilledAlong,
    sample::{record, six_string},
};
use crate::layout::Copy;

fn design(diameter: f64) -> Design {
    let mut design = six_string();
    design.bores.diameter = diameter;
    design
}

/// The treble side with bores off by so much: along, across, mm; lean along, radians.
fn with(mut design: Design, off: &[(f64, f64, f64)]) -> Rescue {
    let own = Layout::new(&design, Copy::Finished);
    let bores = &own.sides.treble.bores;
    design.drilled = bores
        .iter()
        .zip(off)
        .map(|(bore, (along, across, lean))| Drilled {
            along: DrilledAlong::FromNutLine(bore.s + along),
            below_face: Some(own.axis_below_face - across),
            lean_along: *lean,
            ..record(Side::Treble, bore.number)
        })
        .collect();
    rescue(&Layout::new(&design, Copy::Finished), Side::Treble)
}

/// The solver proves its answer to `SETTLED`, 1e-9 mm; sums add rounding.
fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-8, "{a} against {b}");
}

#[test]
fn one_bore_off_along_the_side() {
    // Half of the 0.4 on either side of the plate: 0.2 off, of which the clearance of 0.3 takes 0.15.
    let found = with(
        design(10.3),
        &[(0.0, 0.0, 0.0), (0.4, 0.0, 0.0), (0.0, 0.0, 0.0)],
    );
    near(found.settled.gap, -0.05);
    near(found.settled.shift.x, 0.2);
    assert_eq!(found.sits, Sits::NotAtAll);
    // All three: 0.2 and 0.05 free make 0.25 on the radius.
    let reaming = found.reaming.unwrap();
    assert_eq!(
        (reaming.numbers.as_slice(), reaming.bit.name.as_str()),
        (&[1, 2, 3][..], "10.5 mm")
    );
    near(reaming.settled.gap, 0.05);
    // Bore 2 alone: the others let the plate shift 0.10, leaving 0.30 and 0.05: 10.7.
    let loose = found.too_loose.unwrap();
    assert_eq!(
        (loose.numbers.as_slice(), loose.bit.name.as_str()),
        (&[2][..], "10.7 mm")
    );
    near(loose.clearance, 0.7);
    assert_eq!(found.remedy, Remedy::Ream);
    // Or a plug about the new centre: 10.3 and 2 × 1.5 of wall is more than 10.3 + 0.8; 14 is next.
    let [plug] = found.plugs.as_slice() else {
        panic!("{:?}", found.plugs);
    };
    assert_eq!(
        (plug.old.number, plug.size.name.as_str(), plug.centred),
        (2, "14 mm", Centred::New)
    );
    near(plug.overlap.width, 9.9);
    near(plug.ring, 1.85);
    // The plate is 17.4 wide.
    near(plug.covered, 1.7);
    let web = plug.wood.iter().find(|wood| wood.code == "web").unwrap();
    near(web.value, 35.0 - 7.0 - 5.15);
    let over = plug
        .wood
        .iter()
        .find(|wood| wood.code == "wood-over")
        .unwrap();
    near(over.value, 10.2 - 7.0);
}

#[test]
fn all_bores_shifted_together_change_nothing_but_the_shift() {
    for off in [
        [0.4, 0.0, 0.0],
        [0.0, 0.15, -0.1],
        [0.0, 0.0, 0.0],
        [-0.3, 0.2, 0.7],
    ] {
        let at = |dx: f64, dy: f64| {
            with(
                design(10.3),
                &off.map(|along| (along + dx, dy, along / 100.0)),
            )
        };
        let (still, moved) = (at(0.0, 0.0), at(0.9, -0.25));
        near(moved.settled.gap, still.settled.gap);
        // A plate that is not unique in its place comes out in the middle to some 1e-5 only.
        let shift = moved.settled.shift - still.settled.shift;
        assert!((shift - DVec2::new(0.9, -0.25)).length() < 1e-4, "{shift}");
        assert!((moved.settled.turn - still.settled.turn).abs() < 1e-6);
        assert_eq!(moved.settled.deciding, still.settled.deciding);
        assert_eq!((moved.sits, moved.remedy), (still.sits, still.remedy));
        let reamed = |r: &Rescue| r.reaming.clone().map(|r| (r.bit, r.numbers));
        assert_eq!(reamed(&moved), reamed(&still));
        let plugged = |r: &Rescue| {
            let all = r.plugs.iter();
            all.map(|p| (p.old.number, p.size.clone(), p.centred))
                .collect::<Vec<_>>()
        };
        assert_eq!(plugged(&moved), plugged(&still));
        let single = |r: &Rescue| r.single.clone().map(|s| (s.ream, s.too_loose));
        assert_eq!(single(&moved), single(&still));
    }
}

#[test]
fn lean_alone() {
    // One bore of three leans along the side: its bottom is off by 30.5 tan 0.5° = 0.2662, and the
    // plate shares that between this bottom and the bores that do not lean.
    let lean = 0.5_f64.to_radians();
    let found = with(
        design(10.3),
        &[(0.0, 0.0, 0.0), (0.0, 0.0, lean), (0.0, 0.0, 0.0)],
    );
    let drift = 30.5 * lean.tan();
    near(found.settled.gap, 0.15 - drift / 2.0);
    near(found.settled.shift.x, drift / 2.0);
    assert_eq!(found.sits, Sits::Tight);
    assert!(found.settled.deciding.contains(&(1, fit::End::Bottom)));
    // All lean alike: a barrel leans with none of them, and half the drift is still lost.
    let all = with(design(10.3), &[(0.0, 0.0, lean); 3]);
    near(all.settled.gap, 0.15 - drift / 2.0);
}

#[test]
fn a_head_as_designed_needs_nothing() {
    let found = with(design(10.3), &[(0.0, 0.0, 0.0); 3]);
    near(found.settled.gap, 0.15);
    assert_eq!((found.sits, found.remedy), (Sits::Freely, Remedy::Nothing));
    assert!(found.plugs.is_empty() && found.reaming.is_none());
}

#[test]
fn old_bores_of_another_pitch_keep_the_one_that_serves() {
    // Old 37, new 35: about the middle bore the outer ones are 2 mm out.
    let found = with(
        design(10.3),
        &[(-2.0, 0.0, 0.0), (0.0, 0.0, 0.0), (2.0, 0.0, 0.0)],
    );
    assert_eq!((found.sits, found.remedy), (Sits::NotAtAll, Remedy::Plug));
    assert!(found.reaming.is_none());
    let numbers: Vec<usize> = found.plugs.iter().map(|plug| plug.old.number).collect();
    assert_eq!(numbers, [1, 3]);
    for plug in &found.plugs {
        near(plug.overlap.apart, 2.0);
        near(plug.overlap.width, 8.3);
        // 10.3 + 2 × 2.0 takes all of the old bore.
        assert_eq!(plug.size.name, "15 mm");
    }
    let single = found.single.unwrap();
    assert!(single.spares() && single.ream.is_empty());
    near(single.nearest.unwrap(), 37.0);
}

#[test]
fn a_plug_that_a_check_stops_is_not_advised() {
    // 4 mm apart: a plug that takes all of it, 18.3 and more, leaves less than 1 mm of 20.4; one about
    // the old bore passes the end of the slot's straight wall.
    let found = with(
        design(10.3),
        &[(-4.0, 0.0, 0.0), (0.0, 0.0, 0.0), (4.0, 0.0, 0.0)],
    );
    assert_eq!(found.remedy, Remedy::Neither);
    assert!(found.plugs.iter().any(|plug| !plug.is_sound()));
    assert!(found.single.unwrap().spares());
}

#[test]
fn overlap_by_hand() {
    // Equal circles one radius apart: r² (2π/3 − √3/2).
    let two = overlap((DVec2::ZERO, 5.0), (DVec2::new(0.0, 5.0), 5.0));
    near(
        two.area,
        25.0 * (2.0 * std::f64::consts::PI / 3.0 - 3.0_f64.sqrt() / 2.0),
    );
    near(two.width, 5.0);
    let apart = overlap((DVec2::ZERO, 5.0), (DVec2::new(12.0, 0.0), 5.0));
    near(apart.area, 0.0);
    near(apart.width, -2.0);
    let inside = overlap((DVec2::ZERO, 6.0), (DVec2::new(0.5, 0.0), 5.0));
    near(inside.share, 1.0);
    near(inside.width, 10.0);
}

/// Bore 3 so wide, every bore where the design has it.
fn with_bore_3(diameter: f64) -> Rescue {
    let mut design = design(10.3);
    design.drilled = vec![Drilled {
        diameter: Some(diameter),
        ..record(Side::Treble, 3)
    }];
    rescue(&Layout::new(&design, Copy::Finished), Side::Treble)
}

fn all_said(rescue: &Rescue) -> String {
    let lines = words::said(rescue, crate::units::Lengths { inches: false });
    let lines: Vec<String> = lines.into_iter().map(|(_, text)| text).collect();
    lines.join(" ")
}

#[test]
fn a_bore_too_wide_for_its_barrel_is_not_left_as_it_is() {
    for (diameter, by) in [(11.2, "1.20 mm"), (12.0, "2.00 mm"), (14.0, "4.00 mm")] {
        let found = with_bore_3(diameter);
        // The plate goes in, as it would into a barn door.
        assert_eq!(found.sits, Sits::Freely);
        assert_eq!(found.remedy, Remedy::Plug, "{diameter}");
        let numbers: Vec<usize> = found.plugs.iter().map(|plug| plug.old.number).collect();
        assert_eq!(numbers, [3]);
        assert!(found.reaming.is_none());
        let loose = &found.single.as_ref().unwrap().too_loose;
        assert_eq!(loose.iter().map(|one| one.0).collect::<Vec<_>>(), [3]);
        let said = all_said(&found);
        assert!(!said.contains("fit the machines as the head is"), "{said}");
        let named = format!("Bore 3 is {by} wider than its barrel, more than 0.60 mm");
        assert!(said.contains(&named), "{said}");
    }
    // A bore as wide as its plug is not opened any more; one in its place leads the cutter.
    let steps = |diameter| {
        let lengths = crate::units::Lengths { inches: false };
        let layout = Layout::new(&design(10.3), Copy::Finished);
        steps::steps(&layout, &with_bore_3(diameter), lengths).join(" ")
    };
    assert!(steps(14.0).contains("Bore 3: it takes a plug of 14 mm as it is"));
    assert!(steps(11.2).contains("A pin in the old bore leads the cutter"));
    assert!(!steps(14.0).contains("counterbore"));
    // The mouth of a bore drilled anew went with its plug.
    let mouth = crate::input::Counterbore {
        diameter: 12.0,
        depth: 3.0,
    };
    let lengths = crate::units::Lengths { inches: false };
    let mut design = design(10.3);
    design.bores.counterbore = Some(mouth);
    let layout = Layout::new(&design, Copy::Finished);
    let said = steps::steps(&layout, &with_bore_3(14.0), lengths);
    let place = |words: &str| said.iter().position(|step| step.contains(words)).unwrap();
    let wanted = "Cut the counterbore of bore 3 anew, 12.00 mm across and 3.00 mm deep";
    assert_eq!(place(wanted), place("and drill bore 3 anew") + 1);
    // To the limit itself it stays.
    let found = with_bore_3(10.6);
    assert_eq!((found.sits, found.remedy), (Sits::Freely, Remedy::Nothing));
}

#[test]
fn a_bore_that_opens_face_and_back_or_shows_beside_the_plate_is_named() {
    // 20.3 in 20.4: 0.05 left; plug of 22 mm cuts through face and back.
    let found = with_bore_3(20.3);
    assert_eq!(found.remedy, Remedy::Neither);
    let said = all_said(&found);
    // 10.15 against 8.7 of plate.
    assert!(
        said.contains("Bore 3 shows 1.45 mm beside the plate"),
        "{said}"
    );
    let mut design = design(10.3);
    let own = Layout::new(&design, Copy::Finished);
    design.drilled = vec![Drilled {
        below_face: Some(4.0),
        ..record(Side::Treble, 3)
    }];
    assert!(own.axis_below_face > 10.0);
    let found = rescue(&Layout::new(&design, Copy::Finished), Side::Treble);
    let said = all_said(&found);
    assert!(
        said.contains("Bore 3 breaks out of the face by 1.15 mm"),
        "{said}"
    );
}
