//! Which repair is advised, and what it may not come to.

use super::super::words::said;
use super::*;
use crate::input::{Counterbore, PerSide};
use crate::units::Lengths;

const MM: Lengths = Lengths { inches: false };

fn word(rescue: &Rescue, word: &str) -> String {
    let found = said(rescue, MM).into_iter().find(|(name, _)| *name == word);
    found.map_or_else(String::new, |(_, text)| text)
}

fn plugged(rescue: &Rescue) -> Vec<usize> {
    rescue.plugs.iter().map(|plug| plug.old.number).collect()
}

/// Of two bores the plate could be free on either; the one that is where it was designed stays, and
/// the plate comes back in line with the other side.
#[test]
fn of_two_bores_the_one_that_is_off_is_plugged() {
    let two = || {
        let mut design = design(10.3);
        design.machines.pitches = PerSide {
            treble: vec![35.0],
            bass: vec![35.0],
        };
        design
    };
    for off in [0.75, -0.9, 1.4] {
        let first = with(two(), &[(off, 0.0, 0.0), (0.0, 0.0, 0.0)]);
        let second = with(two(), &[(0.0, 0.0, 0.0), (off, 0.0, 0.0)]);
        assert_eq!((plugged(&first), plugged(&second)), (vec![1], vec![2]));
        // In the middle of the clearance of the one that stays, which the solver finds to 1e-5.
        for rescue in [first, second] {
            assert!(rescue.plugged.unwrap().shift.length() < 1e-4);
        }
    }
}

/// A wider mouth cannot mend a barrel that is held at its end: the lean counts from the side, however
/// deep the counterbore.
#[test]
fn a_counterbore_takes_nothing_off_a_lean() {
    let lean = 1.0_f64.to_radians();
    let with_mouth = |depth: f64| {
        let mut design = design(10.5);
        design.bores.counterbore = (depth > 0.0).then_some(Counterbore {
            diameter: 13.0,
            depth,
        });
        with(
            design,
            &[(0.0, 0.0, 0.0), (0.0, 0.0, lean), (0.0, 0.0, 0.0)],
        )
    };
    // tan 1° over 30.5 is 0.5324 at the end, and of 0.25 each way half of it is wanted: -0.0162.
    let plain = with_mouth(0.0);
    assert_eq!(plain.sits, Sits::NotAtAll);
    near(plain.settled.gap, 0.25 - lean.tan() * 30.5 / 2.0);
    for depth in [2.0, 8.0] {
        let rescue = with_mouth(depth);
        assert_eq!(rescue.sits, Sits::NotAtAll, "{depth}");
        near(rescue.settled.gap, plain.settled.gap);
    }
    // All leaning alike, the plate follows them: by the lean at the middle of the grip.
    let mut design = design(10.5);
    design.bores.counterbore = Some(Counterbore {
        diameter: 13.0,
        depth: 8.0,
    });
    let alike = with(design, &[(0.0, 0.0, lean); 3]);
    near(alike.settled.shift.x, lean.tan() * (8.0 + 30.5) / 2.0);
}

/// A plate that reaming would let sit over the face is no repair, and that is said.
#[test]
fn reaming_that_leaves_the_plate_over_the_face_is_not_advised() {
    let rescue = with(
        design(10.3),
        &[(0.0, 2.2, 0.0), (0.39, 2.2, 0.0), (0.0, 2.2, 0.0)],
    );
    let reaming = rescue.reaming.as_ref().unwrap();
    assert!(reaming.room.face < -0.5, "{:?}", reaming.room);
    assert_ne!(rescue.remedy, Remedy::Ream);
    let text = word(&rescue, "Reaming");
    assert!(
        text.contains("beyond the face, so this will not do"),
        "{text}"
    );
}

/// Two neighbours are open at once, both as wide as their plugs.
#[test]
fn the_wood_between_two_plugs_is_what_both_leave() {
    let mut close = design(10.3);
    close.machines.pitches = PerSide {
        treble: vec![14.5, 35.0],
        bass: vec![14.5, 35.0],
    };
    let wide = |number| Drilled {
        diameter: Some(12.0),
        ..record(Side::Treble, number)
    };
    close.drilled = vec![wide(1), wide(2)];
    let rescue = rescue(&Layout::new(&close, Copy::Finished), Side::Treble);
    assert_eq!(plugged(&rescue), [1, 2]);
    for plug in &rescue.plugs {
        let web = plug.wood.iter().find(|wood| wood.code == "web").unwrap();
        near(web.value, 14.5 - plug.size.diameter);
        assert_eq!(web.verdict, Verdict::Stop);
    }
    assert_eq!(rescue.remedy, Remedy::Neither);
}

/// A plug about the new centre holds the new bore all round; one about the old bore need not, and then that is
/// said. Either takes all of the old bore down to its depth.
#[test]
fn what_stays_of_a_plug_is_said_and_it_takes_the_whole_old_bore() {
    for off in [0.4, 1.0, 2.5, 4.0, 6.0] {
        let rescue = with(
            design(10.3),
            &[(0.0, 0.0, 0.0), (off, 0.0, 0.0), (0.0, 0.0, 0.0)],
        );
        let text = word(&rescue, "Plugging");
        for plug in &rescue.plugs {
            let whole = plug.ring >= PLUG_WALL - 1e-9;
            assert!(whole || plug.centred == Centred::Old, "{off}");
            let thin = "may break up under the bit";
            let past = "past the plug into the wood: the glue must have set";
            assert_eq!(text.contains(thin), !whole && plug.ring > 0.0, "{text}");
            assert_eq!(text.contains(past), plug.ring <= 0.0, "{text}");
        }
    }
    let lean = 3.3_f64.to_radians();
    let mut deep = design(10.3);
    deep.bores.depth = crate::input::BoreDepth::BeyondBarrel(5.0);
    let rescue = with(deep, &[(0.0, 0.0, 0.0), (0.0, 0.0, lean), (0.0, 0.0, 0.0)]);
    let [plug] = rescue.plugs.as_slice() else {
        panic!("{:?}", rescue.plugs);
    };
    assert!(plug.size.diameter >= 10.3 + 2.0 * lean.tan() * 35.5);
}

/// The limit that is said is the one that was judged by: the design's own for a bore that stays, that of
/// the check for one that is reamed.
#[test]
fn single_machines_are_told_the_limit_they_were_judged_by() {
    let mut loose = design(10.8);
    loose.drilled = vec![Drilled {
        diameter: Some(10.9),
        ..record(Side::Treble, 2)
    }];
    let rescue = rescue(&Layout::new(&loose, Copy::Finished), Side::Treble);
    near(rescue.most_left, 0.8);
    let text = word(&rescue, "Single machines");
    assert!(
        text.contains("bore 2 a barrel would be more than 0.80 mm loose"),
        "{text}"
    );
}

/// A bore as narrow as designed is not called loose for its lean: it would be, once reamed for a barrel to go in.
#[test]
fn a_leaning_bore_is_called_loose_only_once_it_is_reamed() {
    let lean = 1.5_f64.to_radians();
    let rescue = with(
        design(10.3),
        &[(0.8, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, lean)],
    );
    let single = rescue.single.as_ref().unwrap();
    assert_eq!(single.too_loose.len(), 1);
    let text = word(&rescue, "Single machines");
    assert!(
        text.contains(
            "bore 3, reamed until a barrel goes in, would leave it more than 0.60 mm loose"
        ),
        "{text}"
    );
}
