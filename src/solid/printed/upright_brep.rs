//! The boundary of an upright body: exact planes, cylinders and cones.

use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_4};

use glam::{DVec2, DVec3};

use crate::solid::bores::{cylinder, flat_bottom};
use crate::solid::brep::{Brep, Surface, VertexId};
use crate::solid::builder::{Builder, HoleFrame, reversed_loop};

use super::upright::{Dowel, Run, Upright, UprightHole, Vee, Wall};

/// Vertices at the two heights of a corner, or of a groove's mouth.
#[derive(Clone, Copy)]
struct Post {
    low: VertexId,
    top: VertexId,
}

/// The loops that grow as the walls are built, anticlockwise seen from above.
#[derive(Default)]
struct Rims {
    foot: Vec<VertexId>,
    top: Vec<VertexId>,
}

/// Builds an upright body. Grooves must lie on their walls clear of one another and of the
/// corners' chamfers, their depth apart from the chamfer's; holes clear of everything.
pub(super) fn brep(body: &Upright) -> Brep {
    let mut builder = Builder::default();
    let c = body.chamfer;
    let corners = Wall::ALL.map(|wall| {
        let at = |z: f64| body.corner(wall).extend(z);
        Post {
            low: builder.vertex(at(c)),
            top: builder.vertex(at(body.size.z)),
        }
    });
    let feet = Wall::ALL.map(|wall| builder.vertex(body.on_wall(wall, c, c).extend(0.0)));
    let mut rims = Rims::default();
    let mut ends = [0; 2];
    for (index, wall) in Wall::ALL.into_iter().enumerate() {
        let next = (index + 1) % 4;
        let face = add_wall(
            &mut builder,
            body,
            wall,
            (corners[index], corners[next]),
            (feet[index], feet[next]),
            &mut rims,
        );
        match wall {
            Wall::Near => ends[0] = face,
            Wall::Far => ends[1] = face,
            _ => {}
        }
    }
    let foot_loop = reversed_loop(&builder.polygon(&rims.foot));
    let top_loop = builder.polygon(&rims.top);
    let foot = builder.plane_face("foot", DVec3::ZERO, -DVec3::Z, DVec3::X, vec![foot_loop]);
    let above = DVec3::Z * body.size.z;
    let top = builder.plane_face("top", above, DVec3::Z, DVec3::X, vec![top_loop]);
    for (index, hole) in body.holes.iter().enumerate() {
        let name = format!("hole {}", index + 1);
        add_hole(&mut builder, body, hole, &name, (foot, top));
    }
    for dowel in &body.dowels {
        add_dowel(
            &mut builder,
            body,
            dowel,
            ends[usize::from(dowel.wall == Wall::Far)],
        );
    }
    builder.brep
}

/// One wall with its grooves and the chamfer below it; returns the wall's first face.
fn add_wall(
    builder: &mut Builder,
    body: &Upright,
    wall: Wall,
    (start, end): (Post, Post),
    (foot_start, foot_end): (VertexId, VertexId),
    rims: &mut Rims,
) -> usize {
    let along = wall.along().extend(0.0);
    let outward = wall.outward().extend(0.0);
    let origin = body.corner(wall).extend(0.0);
    let slanting = (outward - DVec3::Z) * FRAC_1_SQRT_2;
    let on_chamfer = body.on_wall(wall, 0.0, 0.0).extend(body.chamfer);
    let mut first = None;
    let mut upright = |builder: &mut Builder, from: Post, to: Post| {
        let edges = builder.polygon(&[from.low, to.low, to.top, from.top]);
        let face = builder.plane_face("wall", origin, outward, along, vec![edges]);
        first.get_or_insert(face);
    };
    let chamfer = |builder: &mut Builder, below: &[VertexId], above: &[VertexId]| {
        let around: Vec<VertexId> = below.iter().chain(above.iter().rev()).copied().collect();
        let edges = builder.polygon(&around);
        builder.plane_face("foot chamfer", on_chamfer, slanting, along, vec![edges]);
    };
    rims.foot.push(foot_start);
    rims.top.push(start.top);
    let (mut below, mut above) = (vec![foot_start], vec![start.low]);
    let mut from = start;
    for groove in body.grooves_of(wall) {
        let cut = Groove::new(builder, body, &groove);
        upright(builder, from, cut.left);
        from = cut.right;
        rims.top.extend([cut.left.top, cut.tip.top, cut.right.top]);
        if let Some((left, right)) = cut.on_foot {
            // The groove runs out in the foot: the chamfer is in two parts.
            below.push(left);
            above.push(cut.left.low);
            chamfer(builder, &below, &above);
            (below, above) = (vec![right], vec![cut.right.low]);
            rims.foot.extend([left, cut.tip.low, right]);
        } else {
            above.extend([cut.left.low, cut.tip.low, cut.right.low]);
        }
        cut.add_flanks(builder, body, &groove);
    }
    upright(builder, from, end);
    below.push(foot_end);
    above.push(end.low);
    chamfer(builder, &below, &above);
    first.unwrap_or_default()
}

/// The vertices of a groove.
struct Groove {
    left: Post,
    tip: Post,
    right: Post,
    /// Where its flanks cross the foot's edge, for a groove deeper than the chamfer.
    on_foot: Option<(VertexId, VertexId)>,
}

impl Groove {
    fn new(builder: &mut Builder, body: &Upright, groove: &Vee) -> Groove {
        let (c, top) = (body.chamfer, body.size.z);
        let half = groove.width / 2.0;
        let plan = |at: f64, inset: f64| body.on_wall(groove.wall, groove.at + at, inset);
        let mut post = |p: DVec2, low: f64| Post {
            low: builder.vertex(p.extend(low)),
            top: builder.vertex(p.extend(top)),
        };
        let left = post(plan(-half, 0.0), c);
        let tip = post(plan(0.0, groove.depth), (c - groove.depth).max(0.0));
        let right = post(plan(half, 0.0), c);
        let on_foot = (groove.depth > c).then(|| {
            let at = groove.half_width_at(c);
            (
                builder.vertex(plan(-at, c).extend(0.0)),
                builder.vertex(plan(at, c).extend(0.0)),
            )
        });
        Groove {
            left,
            tip,
            right,
            on_foot,
        }
    }

    fn add_flanks(&self, builder: &mut Builder, body: &Upright, groove: &Vee) {
        let half = groove.width / 2.0;
        let plan = |at: f64, inset: f64| body.on_wall(groove.wall, groove.at + at, inset);
        let (left, tip, right) = (self.left, self.tip, self.right);
        let down = [vec![left.low], vec![tip.low]];
        let up = [vec![tip.low], vec![right.low]];
        let bottom = |ends: [Vec<VertexId>; 2], foot: Option<VertexId>| {
            let [first, last] = ends;
            first
                .into_iter()
                .chain(foot)
                .chain(last)
                .collect::<Vec<_>>()
        };
        let mut flank =
            |from: DVec2, to: DVec2, mut corners: Vec<VertexId>, tops: [VertexId; 2]| {
                corners.extend(tops);
                let along = (to - from).normalize();
                let outward = (-along.perp()).extend(0.0);
                let edges = builder.polygon(&corners);
                builder.plane_face(
                    "groove",
                    from.extend(0.0),
                    outward,
                    along.extend(0.0),
                    vec![edges],
                );
            };
        let bottom_point = plan(0.0, groove.depth);
        flank(
            plan(-half, 0.0),
            bottom_point,
            bottom(down, self.on_foot.map(|feet| feet.0)),
            [tip.top, left.top],
        );
        flank(
            bottom_point,
            plan(half, 0.0),
            bottom(up, self.on_foot.map(|feet| feet.1)),
            [right.top, tip.top],
        );
    }
}

fn add_hole(
    builder: &mut Builder,
    body: &Upright,
    hole: &UprightHole,
    name: &str,
    (foot, top): (usize, usize),
) {
    let (r, height) = (hole.radius, body.size.z);
    match hole.run {
        Run::Through { rim } => {
            let frame = HoleFrame::new(hole.center.extend(0.0), DVec3::Z, DVec3::Y);
            let entry = builder.ring(&frame, r + rim, 0.0, 0.0);
            let waist = builder.ring(&frame, r, rim, 0.0);
            let exit = builder.ring(&frame, r, height, 0.0);
            let widening = Surface::Cone {
                origin: hole.center.extend(rim),
                axis: -DVec3::Z,
                x_axis: frame.first,
                radius: r,
                half_angle: FRAC_PI_4,
            };
            builder.tube(&format!("rim of {name}"), widening, &entry, &waist);
            builder.tube(name, cylinder(&frame, r), &waist, &exit);
            builder.add_hole(foot, entry.forward());
            builder.add_hole(top, exit.backward());
        }
        Run::Blind {
            depth,
            point_height,
        } => {
            let frame = HoleFrame::new(hole.center.extend(height), -DVec3::Z, DVec3::Y);
            let mut from = builder.ring(&frame, hole.mouth.map_or(r, |(wide, _)| wide), 0.0, 0.0);
            builder.add_hole(top, from.forward());
            if let Some((wide, deep)) = hole.mouth {
                let floor_rim = builder.ring(&frame, wide, deep, 0.0);
                builder.tube(name, cylinder(&frame, wide), &from, &floor_rim);
                let floor = flat_bottom(builder, name, &frame, deep, &floor_rim);
                from = builder.ring(&frame, r, deep, 0.0);
                builder.add_hole(floor, from.forward());
            }
            let rim = builder.ring(&frame, r, depth, 0.0);
            builder.tube(name, cylinder(&frame, r), &from, &rim);
            if point_height > 0.0 {
                let point = Surface::Cone {
                    origin: hole.center.extend(height - depth),
                    axis: DVec3::Z,
                    x_axis: frame.first,
                    radius: r,
                    half_angle: (r / point_height).atan(),
                };
                let apex = hole.center.extend(height - depth - point_height);
                builder.cone_bottom(name, point, &rim, apex);
            } else {
                flat_bottom(builder, name, &frame, depth, &rim);
            }
        }
    }
}

fn add_dowel(builder: &mut Builder, body: &Upright, dowel: &Dowel, wall_face: usize) {
    let (x, into) = match dowel.wall {
        Wall::Far => (body.size.x, -DVec3::X),
        _ => (0.0, DVec3::X),
    };
    let frame = HoleFrame::new(DVec3::new(x, dowel.y, dowel.z), into, DVec3::Z);
    let opening = builder.ring(&frame, dowel.radius, 0.0, 0.0);
    builder.add_hole(wall_face, opening.forward());
    let rim = builder.ring(&frame, dowel.radius, dowel.depth, 0.0);
    builder.tube("dowel hole", cylinder(&frame, dowel.radius), &opening, &rim);
    flat_bottom(builder, "dowel hole", &frame, dowel.depth, &rim);
}
