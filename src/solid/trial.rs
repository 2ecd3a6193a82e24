//! Trial designs for the solids' own tests.

mod tests {
    use crate::input::sample::six_string as design;
    use crate::input::*;
    use crate::layout::{Copy, EndCut, Layout};
    use crate::solid::{closed_form, guide_block, head, mesh_data::Mesh, proof};

    /// Proves head and blocks of a design, both copies, and returns the finished head's mesh.
    fn prove(design: &Design) -> (Layout, Mesh) {
        let mut result = None;
        for copy in [Copy::Printed, Copy::Finished] {
            let layout = Layout::new(design, copy);
            let brep = head::head(&layout);
            let measures = proof::prove_solid("head", &brep, &closed_form::head(&layout)).unwrap();
            let mesh = proof::prove_mesh("head", &brep, &measures, 0.02).unwrap();
            for block in &layout.blocks {
                let brep = guide_block::guide_block(block);
                let measures =
                    proof::prove_solid("block", &brep, &closed_form::guide_block(block)).unwrap();
                proof::prove_mesh("block", &brep, &measures, 0.02).unwrap();
            }
            result = Some((layout, mesh));
        }
        result.unwrap()
    }

    /// Calls `change` on a fresh trial design and proves the outcome.
    fn with(change: impl FnOnce(&mut Design)) -> Layout {
        let mut design = design();
        change(&mut design);
        prove(&design).0
    }

    fn slots(design: &mut Design) -> &mut Slots {
        design.slots.as_mut().unwrap()
    }

    #[test]
    fn the_plain_design_holds() {
        let (_, mesh) = prove(&design());
        println!("{} triangles", mesh.triangles.len());
    }

    #[test]
    fn every_corner_radius_with_and_without_ramp_and_mouth() {
        for radius in [0.0, 0.5, 3.0, 7.4, 7.5] {
            for ramp in [None, Some(0.0), Some(0.01), Some(19.0)] {
                for slope in [20.4, 17.0] {
                    with(|design| {
                        design.head.thickness_at_crest = slope;
                        slots(design).corner_radius = radius;
                        slots(design).ramp = ramp.map(|mouth| Ramp { mouth, angle: 0.3 });
                    });
                }
            }
        }
    }

    #[test]
    fn cheek_slots_counterbores_pilots_shoulders_and_uneven_sides() {
        with(|design| {
            design.head.half_width_at_start = PerSide {
                treble: 31.5,
                bass: 32.5,
            };
            design.head.half_width_at_end = PerSide {
                treble: 35.5,
                bass: 34.0,
            };
            design.head.side_start = 8.0;
            design.head.shoulder_width = Some(52.0);
            slots(design).lie = Lie::Cheek(11.0);
            design.bores.counterbore = Some(Counterbore {
                diameter: 13.0,
                depth: 4.0,
            });
            design.machines.screws = Some(Screws {
                points: vec![[-11.0, 0.0], [81.0, 2.0]],
                pilot: 1.6,
                depth: 7.0,
            });
        });
        with(|design| {
            design.slots = None;
            design.head.crest = Crest::Flat;
            design.head.side_end = 196.0;
            design.bores.point = Point::Flat;
            design.machines.pitches.bass = vec![20.0, 30.0, 21.0];
        });
    }

    #[test]
    fn pairs_that_open_and_pairs_that_keep_a_web() {
        let layout = with(|design| design.bores.depth = BoreDepth::BeyondCentre(3.0));
        assert!(
            layout
                .bores()
                .all(|b| matches!(b.end_plane, Some((0.0, EndCut::FullDiameter))))
        );
        let layout = with(|design| {
            design.bores.depth = BoreDepth::BeyondCentre(3.0);
            design.bores.point = Point::Flat;
            design.head.half_width_at_end.bass = 35.3;
        });
        assert!(
            layout
                .bores()
                .all(|b| matches!(b.end_plane, Some((_, EndCut::FullDiameter))))
        );
        // Only the point reaches the centre plane: at the nut bore the axis meets it near 32.7.
        let layout = with(|design| {
            design.head.half_width_at_end = design.head.half_width_at_start;
            design.bores.depth = BoreDepth::BeyondBarrel(0.0);
            design.machines.barrel_length = 30.0;
        });
        assert!(
            layout
                .bores()
                .all(|b| matches!(b.end_plane, Some((_, EndCut::Point))))
        );
        let layout = with(|design| {
            design.machines.barrel_length = 31.0;
            design.bores.depth = BoreDepth::BeyondBarrel(0.0);
        });
        let cuts: Vec<_> = layout
            .sides
            .treble
            .bores
            .iter()
            .map(|b| b.end_plane)
            .collect();
        assert!(matches!(cuts[0], Some((_, EndCut::Point))), "{cuts:?}");
        let layout = with(|design| {
            design.machines.barrel_length = 31.0;
            design.bores.depth = BoreDepth::BeyondBarrel(0.0);
            design.head.half_width_at_end.bass = 35.3;
        });
        let cuts: Vec<_> = layout
            .sides
            .treble
            .bores
            .iter()
            .map(|b| b.end_plane)
            .collect();
        assert!(matches!(cuts[0], Some((0.25, EndCut::Point))), "{cuts:?}");
    }
}
