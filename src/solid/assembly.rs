//! Head, guide blocks and sets of machines, each a solid in its own frame with its place in the
//! head's.
//!
//! The treble block stands in drilling position, the treble set drawn straight out of its bores
//! until it is clear of the block. The bass set is in place; where the bass side has a block of its
//! own, that stands on the axes of its bores, drawn straight off until it is clear of the set.

use super::brep::{Brep, Measures};
use super::stand_in::{Built, machines, neck_stub};
use super::{ProofFault, Solids, proof};
use crate::input::Side;
use crate::layout::{Frame, Layout, Serves};

/// What a part is to the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The head.
    Head,
    /// A guide block.
    Block,
    /// A stand-in for a set of machines.
    Machines,
    /// Holding stock beyond the nut line.
    NeckStub,
    /// Base, upright and braces of the rig, and packing.
    Rig,
    /// The wedge under the head.
    Wedge,
}

/// A solid with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPart {
    /// Name for people; different for every part of an assembly.
    pub name: String,
    /// What it is.
    pub role: Role,
    /// The proved solid, in its own frame.
    pub brep: Brep,
    /// Its volume, area, centroid and extent, in its own frame.
    pub measures: Measures,
    /// Where it stands.
    pub pose: Frame,
}

impl PlacedPart {
    /// Proves a solid of ours and gives it its place.
    pub(super) fn proved(built: Built, role: Role, pose: Frame) -> Result<PlacedPart, ProofFault> {
        let measures = proof::prove_solid(&built.name, &built.brep, &built.form)?;
        Ok(PlacedPart {
            name: built.name,
            role,
            brep: built.brep,
            measures,
            pose,
        })
    }
}

/// The assembly of head, blocks and sets, in the head frame. `stub` adds holding stock beyond the nut
/// line as a part of its own; it is the length of the stock's shorter edge, mm, above zero.
///
/// # Errors
/// [`ProofFault`] where a stand-in fails its proof: a fault of ours, not of the design.
pub fn assembly(
    layout: &Layout,
    solids: &Solids,
    stub: Option<f64>,
) -> Result<Vec<PlacedPart>, ProofFault> {
    let title = &layout.design.title;
    let mut parts = vec![PlacedPart {
        name: format!("{title} {}", solids.head.name),
        role: Role::Head,
        brep: solids.head.brep.clone(),
        measures: solids.head.measures,
        pose: Frame::HEAD,
    }];
    if let Some(built) = stub.and_then(|length| neck_stub(layout, length)) {
        parts.push(PlacedPart::proved(built, Role::NeckStub, Frame::HEAD)?);
    }
    for (block, part) in layout.blocks.iter().zip(&solids.blocks) {
        let side = match block.serves {
            Serves::Both => Side::Treble,
            Serves::Only(side) => side,
        };
        let Some(pose) = layout.standing(side).map(|standing| standing.frame) else {
            continue;
        };
        let drawn = match side {
            Side::Treble => 0.0,
            Side::Bass => layout.block_draw(),
        };
        parts.push(PlacedPart {
            name: format!("{title} {}", part.name),
            role: Role::Block,
            brep: part.brep.clone(),
            measures: part.measures,
            pose: pose.drawn(pose.y * drawn),
        });
    }
    for side in [Side::Treble, Side::Bass] {
        let Some(pose) = layout.set_frame(side) else {
            continue;
        };
        let drawn = match side {
            Side::Treble => layout.set_draw(),
            Side::Bass => 0.0,
        };
        for built in machines(layout, side) {
            let place = pose.drawn(pose.y * drawn);
            parts.push(PlacedPart::proved(built, Role::Machines, place)?);
        }
    }
    Ok(parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::run;
    use crate::input::{Design, sample::six_string};
    use crate::solid::build;
    use std::f64::consts::PI;

    fn made(design: &Design, stub: Option<f64>) -> (Layout, Vec<PlacedPart>) {
        let (_, checked) = run(design);
        let checked = checked.unwrap();
        let solids = build(&checked).unwrap();
        let parts = assembly(checked.finished(), &solids, stub).unwrap();
        (checked.finished().clone(), parts)
    }

    #[test]
    fn a_set_is_one_solid_of_plate_and_barrels() {
        let (layout, parts) = made(&six_string(), None);
        let names: Vec<&str> = parts.iter().map(|part| part.name.as_str()).collect();
        assert_eq!(
            names,
            [
                "Sandpiper head",
                "Sandpiper guide block",
                "treble machines (reference, do not make)",
                "bass machines (reference, do not make)",
            ]
        );
        let by_hand = 105.5 * 17.4 * 1.2 + 3.0 * PI * 25.0 * 30.5;
        for set in &parts[2..] {
            assert!((set.measures.volume - by_hand).abs() < 1e-9);
        }
        // The bass plate lies on the side, from edge to edge where the layout says.
        let plate = &layout.sides.bass.plate;
        let line = &layout.sides.bass.line;
        let bass = &parts[3];
        let at = |y: f64| bass.pose.point(glam::DVec3::new(-17.0, y, 0.0));
        assert!(line.depth_of(at(0.0).truncate()).abs() < 1e-9);
        assert!((line.s_of(at(0.0).truncate()) - plate.start_s).abs() < 1e-9);
        assert!((line.depth_of(at(1.2).truncate()) + 1.2).abs() < 1e-9);
    }

    #[test]
    fn an_offset_axis_moves_the_plate_away_from_the_face_on_both_sides() {
        let mut design = six_string();
        design.machines.axis_offset = 1.0;
        design.placement.depth = crate::input::Across::AxisBelowFace(9.2);
        let (layout, parts) = made(&design, None);
        for set in &parts[2..] {
            let middle = (set.measures.min.z + set.measures.max.z) / 2.0;
            let in_head = set.pose.point(glam::DVec3::new(0.0, 0.0, middle));
            let wanted = -layout.sides.treble.plate.middle_below_face;
            assert!((in_head.z - wanted).abs() < 1e-9, "{}", set.name);
            assert!((wanted + 10.2).abs() < 1e-9);
        }
    }

    #[test]
    fn a_plate_narrower_than_its_barrels_is_a_part_by_itself() {
        let mut design = six_string();
        design.machines.plate_width = 9.0;
        let (_, parts) = made(&design, None);
        assert_eq!(parts.len(), 2 + 2 * 4);
        assert!(parts[2].name.starts_with("treble machines, plate"));
        assert!((parts[3].measures.volume - PI * 25.0 * 30.5).abs() < 1e-9);
    }

    #[test]
    fn the_neck_stub_meets_the_nut_end_at_the_head_s_angle() {
        let (layout, parts) = made(&six_string(), Some(80.0));
        let stub = &parts[1];
        assert_eq!(stub.role, Role::NeckStub);
        // A trapezium of edges 80 and 80 + t·sin 14°, t·cos 14° apart, 63 wide.
        let (sin, cos) = 14f64.to_radians().sin_cos();
        let by_hand = (80.0 + 20.4 * sin / 2.0) * 20.4 * cos * 63.0;
        assert!((stub.measures.volume - by_hand).abs() < 1e-8);
        assert!(stub.measures.max.y.abs() < 1e-12 && stub.measures.max.z.abs() < 1e-12);
        assert!(stub.measures.min.z < -80.0 * sin);
        assert!((layout.outline.thickness_at(0.0) - 20.4).abs() < 1e-12);
    }

    #[test]
    fn two_blocks_stand_each_over_its_own_side() {
        let mut design = six_string();
        design.machines.pitches.bass = vec![35.0];
        let first = crate::input::PerSide {
            treble: 57.0,
            bass: 57.0,
        };
        design.placement.along = crate::input::Along::FirstBarrel(first);
        let (layout, parts) = made(&design, None);
        let [treble, bass] = [&parts[1], &parts[2]];
        assert!(treble.name.ends_with("treble") && bass.name.ends_with("bass"));
        let depth = |part: &PlacedPart, side| {
            let line = &layout.sides.get(side).line;
            line.depth_of(part.pose.origin.truncate())
        };
        assert!(depth(treble, Side::Treble).abs() < 1e-9);
        assert!((depth(bass, Side::Bass) + 11.2).abs() < 1e-9);
    }
}
