//! The head: a prism on its outline with a flat face and a (possibly sloping) back, its slots,
//! ramps, bores, counterbores and pilots.

use glam::{DVec2, DVec3};

use crate::input::{PerSide, Side};
use crate::layout::{BoreEnd, Layout, OutlinePart};
use crate::plane::Piece;
use crate::plane::moments::Linear;

use super::bores::{Pierced, add_bore, add_pilot};
use super::brep::{Brep, EdgeUse, Surface, VertexId};
use super::builder::{Builder, Ring, reversed, turn_round, with_room_for};
use super::slot_walls::add_slot;

/// Builds the head. The layout must have passed its checks: the walls and holes are laid where the
/// layout says, and nothing here asks whether they meet.
pub(super) fn head(layout: &Layout) -> Brep {
    let holes = layout
        .each_side()
        .map(|side| side.bores.len() + side.pilots.len());
    let holes: usize = holes.sum();
    // As with two slots, their ramps, and bores that cross them.
    let mut builder = Builder::with_room([30 + 8 * holes, 46 + 13 * holes, 18 + 5 * holes]);
    let back = layout.outline.thickness;
    let outline = Walls::new(&mut builder, layout, &back);
    let (mut in_face, mut in_back) = (Vec::with_capacity(3), Vec::with_capacity(3));
    in_face.push(outline.tops);
    in_back.push(turn_round(outline.backs));
    let pierced = PerSide::from_fn(|side| {
        let walls = layout.sides.get(side).slot.as_ref().map(|slot| {
            let faces = add_slot(
                &mut builder,
                slot,
                &back,
                layout.sides.get(side).bores.len(),
            );
            in_face.push(faces.in_face);
            in_back.push(faces.in_back);
            (faces.outer_wall, faces.inner_wall)
        });
        Pierced {
            side: *outline.sides.get(side),
            walls,
        }
    });
    builder.plane_face("face", DVec3::ZERO, DVec3::Z, DVec3::X, in_face);
    let below = DVec3::new(0.0, 0.0, -back.at_origin);
    let downward = -back.slope.extend(1.0).normalize();
    builder.plane_face("back", below, downward, DVec3::X, in_back);
    add_bores(&mut builder, layout, &pierced);
    for side in layout.each_side() {
        for pilot in &side.pilots {
            add_pilot(&mut builder, pilot, pierced.get(side.side).side);
        }
    }
    builder.brep
}

fn add_bores(builder: &mut Builder, layout: &Layout, pierced: &PerSide<Pierced>) {
    let treble: Vec<Option<Ring>> = layout
        .sides
        .treble
        .bores
        .iter()
        .map(|bore| add_bore(builder, bore, pierced.treble, None))
        .collect();
    for (index, bore) in layout.sides.bass.bores.iter().enumerate() {
        let shared = layout
            .pairs
            .iter()
            .find(|pair| pair.bass == index && bore.end == BoreEnd::Opens)
            .and_then(|pair| treble[pair.treble])
            .map(|ring| ring.seen_from_behind());
        add_bore(builder, bore, pierced.bass, shared);
    }
}

/// The walls round the outline.
struct Walls {
    /// Edges on the face, anticlockwise seen from the front.
    tops: Vec<EdgeUse>,
    /// Edges on the back, in the same order and direction.
    backs: Vec<EdgeUse>,
    /// The two side faces.
    sides: PerSide<usize>,
}

impl Walls {
    fn new(builder: &mut Builder, layout: &Layout, back: &Linear) -> Walls {
        let pieces = &layout.outline.pieces;
        let posts: Vec<(VertexId, VertexId)> = pieces
            .iter()
            .map(|(_, piece)| {
                let plan = piece.start();
                (
                    builder.vertex(plan.extend(0.0)),
                    builder.vertex(plan.extend(-back.at(plan))),
                )
            })
            .collect();
        let mut walls = Walls {
            tops: Vec::with_capacity(pieces.len()),
            backs: Vec::with_capacity(pieces.len()),
            sides: PerSide::default(),
        };
        for (index, (part, piece)) in pieces.iter().enumerate() {
            let (a_top, a_back) = posts[index];
            let (b_top, b_back) = posts[(index + 1) % posts.len()];
            let (surface, top, below) = match *piece {
                Piece::Line { a, b } => {
                    let along = (b - a).normalize();
                    let surface = Surface::Plane {
                        origin: a.extend(0.0),
                        normal: (-along.perp()).extend(0.0),
                        x_axis: along.extend(0.0),
                    };
                    (
                        surface,
                        builder.line(a_top, b_top),
                        builder.line(a_back, b_back),
                    )
                }
                Piece::Arc {
                    center,
                    radius,
                    from,
                    sweep,
                } => {
                    let angles = (from, from + sweep);
                    let level = Linear {
                        at_origin: 0.0,
                        slope: DVec2::ZERO,
                    };
                    let surface = Surface::Cylinder {
                        origin: center.extend(0.0),
                        axis: DVec3::Z,
                        x_axis: DVec3::X,
                        radius,
                    };
                    (
                        surface,
                        builder.plan_arc((a_top, b_top), center, radius, angles, &level),
                        builder.plan_arc((a_back, b_back), center, radius, angles, back),
                    )
                }
            };
            let edges = vec![
                below,
                builder.line(b_back, b_top),
                reversed(top),
                builder.line(a_top, a_back),
            ];
            let holes = match part {
                OutlinePart::Side(side) => {
                    let side = layout.sides.get(*side);
                    side.bores.len() + side.pilots.len()
                }
                _ => 0,
            };
            let loops = with_room_for(holes, edges);
            let face = builder.face(part_name(*part), surface, true, loops);
            match part {
                OutlinePart::Side(Side::Treble) => walls.sides.treble = face,
                OutlinePart::Side(Side::Bass) => walls.sides.bass = face,
                _ => {}
            }
            walls.tops.push(top);
            walls.backs.push(below);
        }
        walls
    }
}

fn part_name(part: OutlinePart) -> String {
    match part {
        OutlinePart::Nut => "nut end".to_owned(),
        OutlinePart::Shoulder(side) => ["shoulder ", side.name()].concat(),
        OutlinePart::Side(side) => ["side ", side.name()].concat(),
        OutlinePart::Crest => "crest".to_owned(),
    }
}
