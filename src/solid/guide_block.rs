//! The guide block: a box with holes right through along y and grooves in the face z = height.

use glam::{DVec2, DVec3};

use crate::layout::Block;

use super::brep::{Brep, Surface, VertexId};
use super::builder::{Builder, HoleFrame, turn_round, with_room_for};

/// Builds a guide block from a layout that passed its checks.
pub(super) fn guide_block(block: &Block) -> Brep {
    let holes = block.holes.len();
    let mut builder = Builder::with_room([8 + 10 * holes, 12 + 15 * holes, 6 + 5 * holes]);
    // The end faces' outline in (x, z), anticlockwise seen from y = 0.
    let mut profile = Vec::with_capacity(4 + 3 * block.grooves.len());
    profile.extend([
        (DVec2::ZERO, "upright face"),
        (DVec2::new(block.length, 0.0), "end"),
        (DVec2::new(block.length, block.height), "outer face"),
    ]);
    for groove in block.grooves.iter().rev() {
        let top = |x: f64| DVec2::new(x, block.height);
        profile.push((top(groove.x + groove.width / 2.0), "scribe groove"));
        profile.push((
            DVec2::new(groove.x, block.height - groove.depth),
            "scribe groove",
        ));
        profile.push((top(groove.x - groove.width / 2.0), "outer face"));
    }
    profile.push((DVec2::new(0.0, block.height), "end"));
    let at = |p: DVec2, y: f64| DVec3::new(p.x, y, p.y);
    let near: Vec<VertexId> = profile
        .iter()
        .map(|(p, _)| builder.vertex(at(*p, 0.0)))
        .collect();
    let far: Vec<VertexId> = profile
        .iter()
        .map(|(p, _)| builder.vertex(at(*p, block.depth)))
        .collect();
    let near_loop = builder.polygon(&near);
    let far_loop = builder.polygon(&far);
    for index in 0..profile.len() {
        let next = (index + 1) % profile.len();
        let (from, name) = profile[index];
        let along = (profile[next].0 - from).normalize();
        let outward = -along.perp();
        let edges = builder.polygon(&[near[next], near[index], far[index], far[next]]);
        let (normal, x_axis) = (at(outward, 0.0), at(along, 0.0));
        builder.plane_face(name, at(from, 0.0), normal, x_axis, vec![edges]);
    }
    let near_loops = with_room_for(holes, near_loop);
    let on_head = builder.plane_face("foot", DVec3::ZERO, -DVec3::Y, DVec3::X, near_loops);
    let away = builder.plane_face(
        "top",
        DVec3::Y * block.depth,
        DVec3::Y,
        DVec3::X,
        with_room_for(holes, turn_round(far_loop)),
    );
    for hole in &block.holes {
        let frame = HoleFrame::new(DVec3::new(hole.x, 0.0, hole.z), DVec3::Y, DVec3::Z);
        let radius = hole.diameter / 2.0;
        let entry = builder.ring(&frame, radius, 0.0, 0.0);
        let exit = builder.ring(&frame, radius, block.depth, 0.0);
        let surface = Surface::Cylinder {
            origin: frame.origin,
            axis: frame.along,
            x_axis: frame.first,
            radius,
        };
        builder.tube(
            &format!("guide hole {}", hole.number),
            surface,
            &entry,
            &exit,
        );
        builder.add_hole(on_head, entry.forward());
        builder.add_hole(away, exit.backward());
    }
    builder.brep
}
