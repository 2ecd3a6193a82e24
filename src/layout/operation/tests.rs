use super::*;
use crate::input::sample::six_string;
use crate::input::{Counterbore, Lie, Slots};
use crate::layout::Copy;

/// A head with everything, crooked, its slots parallel to its sides.
fn crooked() -> Layout {
    let mut design = six_string();
    design.head.half_width_at_end.bass += 2.5;
    design.machines.pitches.bass = vec![35.0, 36.0, 20.0];
    design.bores.counterbore = Some(Counterbore {
        diameter: 13.0,
        depth: 4.0,
    });
    design.machines.screws = Some(crate::input::Screws {
        points: vec![[-11.0, 1.5], [81.0, -2.0]],
        pilot: 1.6,
        depth: 7.0,
    });
    if let Some(Slots { lie, .. }) = &mut design.slots {
        *lie = Lie::Cheek(10.0);
    }
    Layout::new(&design, Copy::Finished)
}

/// The axes that the turns make of the head frame's: what a reader of the card would do.
fn turned(operation: &Operation) -> [DVec3; 3] {
    let mut axes = [DVec3::X, DVec3::Y, DVec3::Z];
    for turn in &operation.turns {
        let (sin, cos) = turn.angle.sin_cos();
        for v in &mut axes {
            *v = match turn.axis {
                TurnAxis::Y => DVec3::new(v.x * cos + v.z * sin, v.y, v.z * cos - v.x * sin),
                TurnAxis::Z => DVec3::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos, v.z),
            };
        }
    }
    axes
}

#[test]
fn turns_carry_the_head_frame_to_the_operation() {
    for operation in crooked().operations() {
        let [x, y, z] = turned(&operation);
        let f = operation.frame;
        assert!(x.distance(f.x) < 1e-12, "{:?}", operation.clamping);
        assert!(y.distance(f.y) < 1e-12 && z.distance(f.z) < 1e-12);
    }
}

/// Every feature, carried back by the card's own origin and turns, lies where the layout has
/// it.
#[test]
fn features_come_back_onto_the_layout() {
    let layout = crooked();
    let operations = layout.operations();
    assert_eq!(operations.len(), 3);
    let mut seen = 0;
    for operation in &operations {
        let [x, y, z] = turned(operation);
        let back = |p: DVec3| operation.frame.origin + x * p.x + y * p.y + z * p.z;
        let mut lands = |p: DVec3, wanted: DVec3, what: &str| {
            seen += 1;
            let off = back(p).distance(wanted);
            assert!(off < 1e-9, "{:?} {what}: off by {off}", operation.clamping);
        };
        for hole in &operation.holes {
            let side = layout.sides.get(hole.side);
            let index = hole.number - 1;
            let (entry, direction, diameter, depth) = match hole.kind {
                HoleKind::Pilot => {
                    let pilot = &side.pilots[index];
                    (pilot.entry, pilot.direction, pilot.diameter, pilot.depth)
                }
                HoleKind::Bore => {
                    let bore = &side.bores[index];
                    (bore.entry, bore.direction, bore.diameter, bore.depth)
                }
                HoleKind::Counterbore => {
                    let bore = &side.bores[index];
                    let mouth = bore.counterbore.unwrap();
                    (bore.entry, bore.direction, mouth.diameter, mouth.depth)
                }
            };
            assert_eq!((hole.diameter, hole.depth), (diameter, depth));
            assert!(hole.at.z.abs() < 1e-9, "mouths lie in z = 0");
            lands(hole.at, entry, hole.kind.name());
            let bottom = hole.at - DVec3::Z * hole.depth;
            lands(bottom, entry + direction * depth, "its bottom");
        }
        for cut in &operation.slots {
            let slot = layout.sides.get(cut.side).slot.as_ref().unwrap();
            lands(cut.nut_end, slot.at(0.0, 0.0).extend(0.0), "slot");
            lands(cut.crest_end, slot.at(slot.length, 0.0).extend(0.0), "slot");
        }
        for cut in &operation.ramps {
            let slot = layout.sides.get(cut.side).slot.as_ref().unwrap();
            let depth = slot.ramp_depth().unwrap();
            for end in cut.mouth {
                let on_head = back(end);
                lands(end, on_head.truncate().extend(0.0), "ramp mouth");
                assert!(depth.at(on_head.truncate()).abs() < 1e-9);
            }
            let floor = back(cut.floor);
            assert!((floor.z + depth.at(floor.truncate())).abs() < 1e-9);
            let mouth = (cut.mouth[0] + cut.mouth[1]) / 2.0;
            let fall =
                (mouth.z - cut.floor.z).atan2(mouth.truncate().distance(cut.floor.truncate()));
            assert!((fall - cut.angle).abs() < 1e-9);
            assert!((cut.mouth[0].distance(cut.mouth[1]) - cut.width).abs() < 1e-9);
        }
        for (cut, (part, piece)) in operation.edges.iter().zip(&layout.outline.pieces) {
            assert_eq!(cut.part, *part);
            lands(cut.from, piece.start().extend(0.0), "outline");
            lands(cut.to, piece.end().extend(0.0), "outline");
        }
    }
    // Bores, mouths and pilots twice each; slots; ramp mouths; outline.
    assert_eq!(seen, 2 * (7 + 7 + 4) + 4 + 4 + 2 * 4);
}

#[test]
fn a_side_up_counts_from_its_nut_end_in_the_face() {
    let layout = crooked();
    for operation in &layout.operations()[1..] {
        for hole in operation.holes.iter().filter(|h| h.kind == HoleKind::Bore) {
            let side = layout.sides.get(hole.side);
            // Below the face, along the side.
            let x = hole.side.sign() * layout.axis_below_face;
            assert!((hole.at.x - x).abs() < 1e-9);
            assert!((hole.at.y - side.bores[hole.number - 1].s).abs() < 1e-9);
        }
    }
}
