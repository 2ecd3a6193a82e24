//! Walls of a string slot and its ramp.
//!
//! Everything is laid out for the treble side, going round the slot anticlockwise seen from the
//! face; on the bass side, its mirror image, every loop is turned round.

use std::f64::consts::{FRAC_PI_2, PI};

use glam::{DVec2, DVec3};

use crate::input::Side;
use crate::layout::Slot;
use crate::plane::moments::Linear;

use super::brep::{EdgeUse, Surface, VertexId};
use super::builder::{Builder, reversed, reversed_loop};

/// What the rest of the head needs of a slot.
pub(super) struct SlotFaces {
    /// Hole in the front face.
    pub in_face: Vec<EdgeUse>,
    /// Hole in the back face.
    pub in_back: Vec<EdgeUse>,
    /// Face of the outer wall.
    pub outer_wall: usize,
    /// Face of the inner wall.
    pub inner_wall: usize,
}

/// A corner of the slot's plan, or the start of one of its straight walls.
#[derive(Clone, Copy)]
struct Post {
    tau: f64,
    q: f64,
    /// Vertex on the upper edge of the walls: on the face, or on the ramp's floor.
    top: VertexId,
    /// Vertex on the back.
    back: VertexId,
}

/// The walls across one end of a slot.
#[derive(Default)]
struct EndWalls {
    /// Upper edges, in order.
    tops: Vec<EdgeUse>,
    /// Edges on the back, in order.
    backs: Vec<EdgeUse>,
    /// Upper vertices at the two ends of the flat part, the same one where the end is half-round
    /// and had to be halved.
    middle: Option<(VertexId, VertexId)>,
}

struct Work<'a> {
    builder: &'a mut Builder,
    slot: &'a Slot,
    back: &'a Linear,
    /// Depth of the ramp's floor below the face, where there is a ramp.
    floor: Option<Linear>,
}

const LEVEL: Linear = Linear {
    at_origin: 0.0,
    slope: DVec2::ZERO,
};

/// Adds the walls of `slot` (and its ramp) to the head whose back lies `back` below the face.
pub(super) fn add_slot(builder: &mut Builder, slot: &Slot, back: &Linear) -> SlotFaces {
    let floor = slot.ramp_depth();
    Work {
        builder,
        slot,
        back,
        floor,
    }
    .build()
}

impl Work<'_> {
    fn build(&mut self) -> SlotFaces {
        let (half, length, r) = (
            self.slot.width / 2.0,
            self.slot.length,
            self.slot.corner_radius,
        );
        let floor = self.floor;
        // Posts anticlockwise: outer wall from the nut, inner wall from the crest.
        let outer_nut = self.post(r, half, floor);
        let outer_crest = self.post(length - r, half, None);
        let inner_crest = self.post(length - r, -half, None);
        let inner_nut = self.post(r, -half, floor);
        let crest = self.end_walls(outer_crest, inner_crest, length, None);
        let nut = self.end_walls(inner_nut, outer_nut, 0.0, floor);

        // The long walls, with the ramp's own walls above its floor.
        let mouth = self.slot.ramp.map(|ramp| {
            let at = |q: f64| self.slot.at(-ramp.mouth, q).extend(0.0);
            let (inner, outer) = (at(-half), at(half));
            (self.builder.vertex(inner), self.builder.vertex(outer))
        });
        let (inner_mouth, outer_mouth) = (mouth.map(|m| m.0), mouth.map(|m| m.1));
        let outward = self.slot.outward.extend(0.0);
        let along = self.slot.along.extend(0.0);
        let wall = |far: Post, near: Post| [far.back, near.back, near.top];
        let mut corners: Vec<VertexId> = wall(outer_crest, outer_nut).to_vec();
        corners.extend(outer_mouth);
        corners.push(outer_crest.top);
        let outer_wall = self.plane(
            "outer wall",
            self.slot.at(r, half),
            -outward,
            along,
            &corners,
        );
        corners = vec![inner_nut.back, inner_crest.back, inner_crest.top];
        corners.extend(inner_mouth);
        corners.push(inner_nut.top);
        let inner_wall = self.plane(
            "inner wall",
            self.slot.at(r, -half),
            outward,
            along,
            &corners,
        );

        // The opening in the face and in the back, anticlockwise.
        let mut in_face = vec![
            self.builder
                .line(outer_mouth.unwrap_or(outer_nut.top), outer_crest.top),
        ];
        in_face.extend(&crest.tops);
        in_face.push(
            self.builder
                .line(inner_crest.top, inner_mouth.unwrap_or(inner_nut.top)),
        );
        match mouth {
            Some((inner, outer)) => {
                let edge = self.ramp_floor((inner, inner_nut.top), (outer, outer_nut.top), &nut);
                in_face.extend(edge);
            }
            None => in_face.extend(&nut.tops),
        }
        let mut in_back = vec![self.builder.line(outer_nut.back, outer_crest.back)];
        in_back.extend(&crest.backs);
        in_back.push(self.builder.line(inner_crest.back, inner_nut.back));
        in_back.extend(&nut.backs);
        SlotFaces {
            in_face: self.turned(reversed_loop(&in_face)),
            in_back: self.turned(in_back),
            outer_wall,
            inner_wall,
        }
    }

    /// Loops are laid out for the treble side; the bass side's run the other way.
    fn turned(&self, edges: Vec<EdgeUse>) -> Vec<EdgeUse> {
        if self.slot.side == Side::Treble {
            edges
        } else {
            reversed_loop(&edges)
        }
    }

    fn named(&self, what: &str) -> String {
        format!("slot {} {what}", self.slot.side.name())
    }

    fn post(&mut self, tau: f64, q: f64, floor: Option<Linear>) -> Post {
        let plan = self.slot.at(tau, q);
        let top = floor.map_or(0.0, |floor| -floor.at(plan));
        Post {
            tau,
            q,
            top: self.builder.vertex(plan.extend(top)),
            back: self.builder.vertex(plan.extend(-self.back.at(plan))),
        }
    }

    fn plane(
        &mut self,
        what: &str,
        at: DVec2,
        normal: DVec3,
        x_axis: DVec3,
        corners: &[VertexId],
    ) -> usize {
        let edges = self.builder.polygon(corners);
        let edges = self.turned(edges);
        self.builder.plane_face(
            self.named(what),
            at.extend(0.0),
            normal,
            x_axis,
            vec![edges],
        )
    }

    /// The walls across the end at τ = `end`, from post `a` round to post `b`, anticlockwise.
    fn end_walls(&mut self, a: Post, b: Post, end: f64, floor: Option<Linear>) -> EndWalls {
        let (half, r) = (self.slot.width / 2.0, self.slot.corner_radius);
        let mut walls = EndWalls::default();
        // Direction of post `a` from its corner's centre, in the (q, τ) plane.
        let from = if a.q > 0.0 { 0.0 } else { PI };
        // A mouth at the slot's very end splits what would be one half cylinder.
        let split = floor.is_some() && self.slot.ramp.is_some_and(|ramp| ramp.mouth <= 0.0);
        if r <= 0.0 {
            self.flat_end(&mut walls, a, b, end);
        } else if half > r {
            let at_a = self.post(end, (half - r) * a.q.signum(), floor);
            let at_b = self.post(end, (half - r) * b.q.signum(), floor);
            self.corner(&mut walls, a, at_a, (from, from + FRAC_PI_2), floor);
            self.flat_end(&mut walls, at_a, at_b, end);
            self.corner(&mut walls, at_b, b, (from + FRAC_PI_2, from + PI), floor);
            walls.middle = Some((at_a.top, at_b.top));
        } else if split {
            let middle = self.post(end, 0.0, floor);
            self.corner(&mut walls, a, middle, (from, from + FRAC_PI_2), floor);
            self.corner(&mut walls, middle, b, (from + FRAC_PI_2, from + PI), floor);
            walls.middle = Some((middle.top, middle.top));
        } else {
            self.corner(&mut walls, a, b, (from, from + PI), floor);
        }
        walls
    }

    /// A rounded corner from post `a` to post `b`, through these angles of the (q, τ) plane.
    fn corner(
        &mut self,
        walls: &mut EndWalls,
        a: Post,
        b: Post,
        (from, to): (f64, f64),
        floor: Option<Linear>,
    ) {
        let r = self.slot.corner_radius;
        let center = self.slot.at(a.tau - r * from.sin(), a.q - r * from.cos());
        // The same angles in the head's (x, y) plane, where the bass side turns the other way.
        let (zero, sign) = (self.slot.outward.to_angle(), self.slot.side.sign());
        let angles = (zero + sign * from, zero + sign * to);
        let depth = floor.unwrap_or(LEVEL);
        let top = self
            .builder
            .plan_arc((a.top, b.top), center, r, angles, &depth);
        let back = self
            .builder
            .plan_arc((a.back, b.back), center, r, angles, self.back);
        let edges = vec![
            reversed(back),
            self.builder.line(a.back, a.top),
            top,
            self.builder.line(b.top, b.back),
        ];
        let surface = Surface::Cylinder {
            origin: center.extend(0.0),
            axis: DVec3::Z,
            x_axis: self.slot.outward.extend(0.0),
            radius: r,
        };
        let edges = self.turned(edges);
        self.builder
            .face(self.named("corner"), surface, false, vec![edges]);
        walls.tops.push(top);
        walls.backs.push(back);
    }

    /// A flat end wall from post `a` to post `b`.
    fn flat_end(&mut self, walls: &mut EndWalls, a: Post, b: Post, end: f64) {
        let into_void = if end > 0.0 { -1.0 } else { 1.0 };
        let normal = self.slot.along.extend(0.0) * into_void;
        let x_axis = self.slot.outward.extend(0.0);
        self.plane(
            "end",
            self.slot.at(end, 0.0),
            normal,
            x_axis,
            &[b.back, a.back, a.top, b.top],
        );
        walls.tops.push(self.builder.line(a.top, b.top));
        walls.backs.push(self.builder.line(a.back, b.back));
    }

    /// The ramp's floor. Returns the face's edge along the mouth, from the inner to the outer
    /// side. `inner` and `outer` hold the vertices at the mouth and at the floor's foot.
    fn ramp_floor(
        &mut self,
        inner: (VertexId, VertexId),
        outer: (VertexId, VertexId),
        nut: &EndWalls,
    ) -> Vec<EdgeUse> {
        let Some(depth) = self.floor else {
            return Vec::new();
        };
        let at_slot_end = self.slot.ramp.is_some_and(|ramp| ramp.mouth <= 0.0);
        let (loops, mouth) = match (nut.middle, nut.tops.first(), nut.tops.last()) {
            // The floor begins at the slot's own end: two corners, and the end between them.
            (Some((a, b)), Some(&inner_arc), Some(&outer_arc)) if at_slot_end => {
                let (inner_edge, outer_edge) =
                    (self.builder.line(inner.0, a), self.builder.line(b, outer.0));
                let inner_loop = vec![
                    inner_edge,
                    reversed(inner_arc),
                    self.builder.line(inner.1, inner.0),
                ];
                let outer_loop = vec![
                    outer_edge,
                    self.builder.line(outer.0, outer.1),
                    reversed(outer_arc),
                ];
                let mut mouth = vec![inner_edge];
                mouth.extend(nut.tops.get(1..nut.tops.len() - 1).into_iter().flatten());
                mouth.push(outer_edge);
                (vec![inner_loop, outer_loop], mouth)
            }
            _ => {
                let mouth = self.builder.line(inner.0, outer.0);
                let mut edges = vec![mouth, self.builder.line(outer.0, outer.1)];
                edges.extend(reversed_loop(&nut.tops));
                edges.push(self.builder.line(inner.1, inner.0));
                (vec![edges], vec![mouth])
            }
        };
        let origin = self.builder.brep.vertices[outer.0];
        let normal = depth.slope.extend(1.0).normalize();
        let x_axis = self.slot.outward.extend(0.0);
        for edges in loops {
            let edges = self.turned(edges);
            self.builder
                .plane_face(self.named("ramp"), origin, normal, x_axis, vec![edges]);
        }
        mouth
    }
}
