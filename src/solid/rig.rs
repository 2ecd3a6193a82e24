//! The rig's boards, packing and wedge as solids, proved like all others; the wedge's mesh for the
//! printer.

use glam::{DVec2, DVec3};

use super::assembly::{PlacedPart, Role};
use super::builder::{Builder, HoleFrame};
use super::mesh_data::Mesh;
use super::prism::{Prism, Round};
use super::stand_in::Built;
use super::{ProofFault, Solids, proof};
use crate::input::Side;
use crate::layout::{Frame, Layout, RigLayout, Wedge};

/// The wedge, in its own frame: +x from its thin to its thick end, +z up from the face it lies on.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintedWedge {
    /// The exact solid with its place under the head, the treble side up.
    pub part: PlacedPart,
    /// Its mesh, lying flat as it is printed.
    pub mesh: Mesh,
}

/// Every solid of a rig.
#[derive(Debug, Clone, PartialEq)]
pub struct RigSolids {
    /// Its positions.
    pub layout: RigLayout,
    /// Base, upright, two braces and, where there is room for it, packing; in the rig's frame.
    pub boards: Vec<PlacedPart>,
    /// The wedge, for a head with tapered sides.
    pub wedge: Option<PrintedWedge>,
}

/// Builds and proves the rig. `None` where the layout has none.
///
/// # Errors
/// [`ProofFault`] where our own work fails its proof; the design is not to blame.
pub fn rig_solids(layout: &Layout) -> Result<Option<RigSolids>, ProofFault> {
    let Some(rig) = RigLayout::new(layout) else {
        return Ok(None);
    };
    let mut boards = Vec::new();
    let mut built = vec![base(&rig), upright(&rig)];
    built.extend(braces(&rig));
    built.push(packing(layout, &rig));
    for board in built {
        boards.push(PlacedPart::proved(board, Role::Rig, Frame::HEAD)?);
    }
    let wedge = match rig.wedge.zip(rig.wedge_pose(Side::Treble)) {
        Some((wedge, pose)) => {
            let part = PlacedPart::proved(wedge_solid(&wedge), Role::Wedge, pose)?;
            let chord = layout.design.print.chord;
            let mesh = proof::prove_mesh(&part.name, &part.brep, &part.measures, chord)?;
            Some(PrintedWedge { part, mesh })
        }
        None => None,
    };
    Ok(Some(RigSolids {
        layout: rig,
        boards,
        wedge,
    }))
}

/// The rig with block and head in it, the treble side up; the parts' frame is the rig's. A head that
/// is drilled before its veneers go on is left out.
#[must_use]
pub fn rig_parts(layout: &Layout, solids: &Solids, rig: &RigSolids) -> Vec<PlacedPart> {
    let mut parts = rig.boards.clone();
    parts.extend(rig.wedge.iter().map(|wedge| wedge.part.clone()));
    let stance = rig.layout.stances.treble;
    let title = &layout.design.title;
    let reference = |part: &super::Part, role, pose| PlacedPart {
        name: format!("{title} {} (reference)", part.name),
        role,
        brep: part.brep.clone(),
        measures: part.measures,
        pose,
    };
    // The first block is the treble's, or serves both.
    if let Some(block) = solids.blocks.first() {
        parts.push(reference(block, Role::Block, stance.block));
    }
    // The core alone lies on the upright while the veneers are still to come; the finished head
    // would stand in it.
    if layout.design.head.veneers_on {
        parts.push(reference(&solids.head, Role::Head, stance.head));
    }
    parts
}

/// Drawn in (z, x), growing along y.
fn standing(origin: DVec3) -> Frame {
    Frame {
        origin,
        x: DVec3::Z,
        y: DVec3::X,
        z: DVec3::Y,
    }
}

fn base(rig: &RigLayout) -> Built {
    let [back, front] = rig.base_z;
    let thickness = rig.thickness[0];
    let pose = standing(DVec3::new(rig.ends[0], -thickness, back));
    let size = DVec3::new(front - back, rig.length(), thickness);
    let names = ["end", "front", "end", "back", "underside", "top"];
    let prism = Prism::cuboid(pose, size, names);
    let mut builder = Builder::default();
    let faces = prism.add(&mut builder);
    let mut form = prism.form();
    for hole in &rig.base_screws {
        let from = DVec3::new(hole.x, -thickness, hole.across);
        let round = Round {
            frame: HoleFrame::new(from, DVec3::Y, DVec3::Z),
            radius: hole.diameter / 2.0,
            length: thickness,
        };
        round.cut(&mut builder, "screw hole", [faces.near, faces.far]);
        form.take(round.cut_form());
    }
    Built {
        name: "rig base".to_owned(),
        brep: builder.brep,
        form,
    }
}

fn upright(rig: &RigLayout) -> Built {
    let thickness = rig.thickness[1];
    let ([x0, x1], [b0, b1]) = (rig.ends, rig.bearing);
    let at = |z: f64, x: f64, name| (DVec2::new(z, x), name);
    let prism = Prism {
        pose: standing(DVec3::ZERO),
        profile: vec![
            at(-thickness, x0, "end"),
            at(-rig.relief, x0, "relief"),
            at(-rig.relief, b0, "step"),
            at(0.0, b0, "datum face"),
            at(0.0, b1, "step"),
            at(-rig.relief, b1, "relief"),
            at(-rig.relief, x1, "end"),
            at(-thickness, x1, "back"),
        ],
        height: rig.upright_height,
        ends: ["foot", "top"],
    };
    let mut builder = Builder::default();
    let faces = prism.add(&mut builder);
    let mut form = prism.form();
    for hole in &rig.block_screws {
        let from = DVec3::new(hole.x, hole.across, 0.0);
        let round = Round {
            frame: HoleFrame::new(from, -DVec3::Z, DVec3::Y),
            radius: hole.diameter / 2.0,
            length: thickness,
        };
        let through = [faces.sides[3], faces.sides[7]];
        round.cut(&mut builder, "screw hole", through);
        form.take(round.cut_form());
    }
    Built {
        name: "rig upright".to_owned(),
        brep: builder.brep,
        form,
    }
}

/// Right-angled, one leg on the base, the other up the upright's back.
fn braces(rig: &RigLayout) -> impl Iterator<Item = Built> {
    let [height, depth, thickness] = rig.brace;
    let back = -rig.thickness[1];
    let names = ["rig brace at -x", "rig brace at +x"];
    rig.brace_x.into_iter().zip(names).map(move |(x, name)| {
        let at = |y: f64, z: f64, name| (DVec2::new(y, z), name);
        let prism = Prism {
            // Drawn in (y, z), growing along x.
            pose: Frame {
                origin: DVec3::X * (x - thickness / 2.0),
                x: DVec3::Y,
                y: DVec3::Z,
                z: DVec3::X,
            },
            profile: vec![
                at(0.0, back - depth, "slope"),
                at(height, back, "to the upright"),
                at(0.0, back, "to the base"),
            ],
            height: thickness,
            ends: ["side", "side"],
        };
        let mut builder = Builder::default();
        prism.add(&mut builder);
        Built {
            name: name.to_owned(),
            form: prism.form(),
            brep: builder.brep,
        }
    })
}

/// A board under the wedge, or under the head where there is none, the treble side up.
fn packing(layout: &Layout, rig: &RigLayout) -> Built {
    let stance = &rig.stances.treble;
    let [from, to] = stance.support;
    let width = rig.support_width(layout);
    let pose = standing(DVec3::X * from);
    let size = DVec3::new(width, to - from, stance.packing);
    let names = ["end", "front", "end", "to the upright", "underside", "top"];
    let prism = Prism::cuboid(pose, size, names);
    let mut builder = Builder::default();
    prism.add(&mut builder);
    Built {
        name: "packing".to_owned(),
        form: prism.form(),
        brep: builder.brep,
    }
}

fn wedge_solid(wedge: &Wedge) -> Built {
    let at = |z: f64, x: f64, name| (DVec2::new(z, x), name);
    let prism = Prism {
        // Drawn in (z, x), growing along y.
        pose: Frame {
            origin: DVec3::ZERO,
            x: DVec3::Z,
            y: DVec3::X,
            z: DVec3::Y,
        },
        profile: vec![
            at(0.0, 0.0, "thin end"),
            at(wedge.thin, 0.0, "slope"),
            at(wedge.thick, wedge.length, "thick end"),
            at(0.0, wedge.length, "flat"),
        ],
        height: wedge.width,
        ends: ["side", "side"],
    };
    let mut builder = Builder::default();
    prism.add(&mut builder);
    Built {
        name: "rig wedge".to_owned(),
        form: prism.form(),
        brep: builder.brep,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    fn rig_of(change: impl FnOnce(&mut crate::input::Design)) -> RigSolids {
        let mut design = six_string();
        change(&mut design);
        let layout = Layout::new(&design, Copy::Finished);
        rig_solids(&layout).unwrap().unwrap()
    }

    #[test]
    fn every_board_and_the_wedge_prove_themselves() {
        let rig = rig_of(|_| {});
        let names: Vec<&str> = rig.boards.iter().map(|part| part.name.as_str()).collect();
        assert_eq!(
            names,
            [
                "rig base",
                "rig upright",
                "rig brace at -x",
                "rig brace at +x",
                "packing"
            ]
        );
        let wedge = rig.wedge.unwrap();
        let shape = rig.layout.wedge.unwrap();
        let by_hand = (shape.thin + shape.thick) / 2.0 * shape.length * 20.4;
        assert!((wedge.part.measures.volume - by_hand).abs() < 1e-9 * by_hand);
        assert_eq!(wedge.mesh.triangles.len(), 12);
        // Printed flat: it lies in z = 0.
        assert!(wedge.part.measures.min.abs_diff_eq(DVec3::ZERO, 1e-12));
    }

    /// Odd sizes must never become a fault of ours.
    #[test]
    fn extreme_keys_still_prove_themselves() {
        for size in [1e-4, 0.3, 5.0, 40.0, 2000.0] {
            for thread in crate::standards::iso273::THREADS {
                rig_of(|design| {
                    let rig = &mut design.rig;
                    for key in [
                        &mut rig.base,
                        &mut rig.upright,
                        &mut rig.front,
                        &mut rig.behind,
                        &mut rig.beyond,
                        &mut rig.packing,
                        &mut rig.wedge_thin_end,
                    ] {
                        *key = size;
                    }
                    rig.relief = size / 2.0;
                    rig.fixing = (*thread).to_owned();
                });
            }
        }
        for key in 0..7 {
            rig_of(|design| {
                let rig = &mut design.rig;
                rig.relief = 1e-4;
                let keys = [
                    &mut rig.base,
                    &mut rig.upright,
                    &mut rig.front,
                    &mut rig.behind,
                    &mut rig.beyond,
                    &mut rig.packing,
                    &mut rig.wedge_thin_end,
                ];
                *keys.into_iter().nth(key).unwrap() = 2e-4;
            });
        }
    }
}
