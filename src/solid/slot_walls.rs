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
use super::builder::{Builder, reversed, turn_round, with_room_for};

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

/// Most edges that the opening of a slot has: two long ones, and three round either end.
const MOST_EDGES: usize = 8;

/// The walls across one end of a slot.
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
    /// Bores that will cross the long walls.
    bores: usize,
    /// Depth of the ramp's floor below the face, where there is a ramp.
    floor: Option<Linear>,
}

const LEVEL: Linear = Linear {
    at_origin: 0.0,
    slope: DVec2::ZERO,
};

/// Adds the walls of `slot` (and its ramp) to the head whose back lies `back` below the face; so many
/// `bores` will cross it.
pub(super) fn add_slot(
    builder: &mut Builder,
    slot: &Slot,
    back: &Linear,
    bores: usize,
) -> SlotFaces {
    let floor = slot.ramp_depth();
    Work {
        builder,
        slot,
        back,
        bores,
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
        let [a, b, c] = wall(outer_crest, outer_nut);
        let d = outer_crest.top;
        let at = self.slot.at(r, half);
        let outer_wall = match outer_mouth {
            Some(mouth) => self.plane("outer wall", at, -outward, along, [a, b, c, mouth, d]),
            None => self.plane("outer wall", at, -outward, along, [a, b, c, d]),
        };
        let [a, b, c] = [inner_nut.back, inner_crest.back, inner_crest.top];
        let d = inner_nut.top;
        let at = self.slot.at(r, -half);
        let inner_wall = match inner_mouth {
            Some(mouth) => self.plane("inner wall", at, outward, along, [a, b, c, mouth, d]),
            None => self.plane("inner wall", at, outward, along, [a, b, c, d]),
        };

        // The opening in the face and in the back, anticlockwise.
        let mut in_face = Vec::with_capacity(MOST_EDGES);
        in_face.push(
            self.builder
                .line(outer_mouth.unwrap_or(outer_nut.top), outer_crest.top),
        );
        in_face.extend(&crest.tops);
        in_face.push(
            self.builder
                .line(inner_crest.top, inner_mouth.unwrap_or(inner_nut.top)),
        );
        match mouth {
            Some((inner, outer)) => {
                let (inner, outer) = ((inner, inner_nut.top), (outer, outer_nut.top));
                self.ramp_floor(inner, outer, &nut, &mut in_face);
            }
            None => in_face.extend(&nut.tops),
        }
        let mut in_back = Vec::with_capacity(MOST_EDGES);
        in_back.push(self.builder.line(outer_nut.back, outer_crest.back));
        in_back.extend(&crest.backs);
        in_back.push(self.builder.line(inner_crest.back, inner_nut.back));
        in_back.extend(&nut.backs);
        SlotFaces {
            // A hole in the face runs against what is laid out, unless its side turns it round.
            in_face: match self.slot.side {
                Side::Treble => turn_round(in_face),
                Side::Bass => in_face,
            },
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
            turn_round(edges)
        }
    }

    fn named(&self, what: &str) -> String {
        // In one piece: a format would grow it by and by.
        ["slot ", self.slot.side.name(), " ", what].concat()
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

    fn plane<const N: usize>(
        &mut self,
        what: &str,
        at: DVec2,
        normal: DVec3,
        x_axis: DVec3,
        corners: [VertexId; N],
    ) -> usize {
        let edges = self.builder.polygon(&corners);
        let edges = self.turned(edges);
        let holes = if what.ends_with("wall") {
            self.bores
        } else {
            0
        };
        let loops = with_room_for(holes, edges);
        let (name, at) = (self.named(what), at.extend(0.0));
        self.builder.plane_face(name, at, normal, x_axis, loops)
    }

    /// The walls across the end at τ = `end`, from post `a` round to post `b`, anticlockwise.
    fn end_walls(&mut self, a: Post, b: Post, end: f64, floor: Option<Linear>) -> EndWalls {
        let (half, r) = (self.slot.width / 2.0, self.slot.corner_radius);
        let mut walls = EndWalls {
            tops: Vec::with_capacity(3),
            backs: Vec::with_capacity(3),
            middle: None,
        };
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
            [b.back, a.back, a.top, b.top],
        );
        walls.tops.push(self.builder.line(a.top, b.top));
        walls.backs.push(self.builder.line(a.back, b.back));
    }

    /// The ramp's floor. Adds the face's edges along the mouth to its opening, from the inner to the
    /// outer side. `inner` and `outer` hold the vertices at the mouth and at the floor's foot.
    fn ramp_floor(
        &mut self,
        inner: (VertexId, VertexId),
        outer: (VertexId, VertexId),
        nut: &EndWalls,
        in_face: &mut Vec<EdgeUse>,
    ) {
        let Some(depth) = self.floor else {
            return;
        };
        let origin = self.builder.brep.vertices[outer.0];
        let normal = depth.slope.extend(1.0).normalize();
        let x_axis = self.slot.outward.extend(0.0);
        let add = |work: &mut Self, edges: Vec<EdgeUse>| {
            let (name, edges) = (work.named("ramp"), vec![work.turned(edges)]);
            work.builder.plane_face(name, origin, normal, x_axis, edges);
        };
        let at_slot_end = self.slot.ramp.is_some_and(|ramp| ramp.mouth <= 0.0);
        match (nut.middle, &nut.tops[..]) {
            // The floor begins at the slot's own end: two corners, and the end between them.
            (Some((a, b)), [inner_arc, end @ .., outer_arc]) if at_slot_end => {
                let (inner_edge, outer_edge) =
                    (self.builder.line(inner.0, a), self.builder.line(b, outer.0));
                let inner_loop = vec![
                    inner_edge,
                    reversed(*inner_arc),
                    self.builder.line(inner.1, inner.0),
                ];
                let outer_loop = vec![
                    outer_edge,
                    self.builder.line(outer.0, outer.1),
                    reversed(*outer_arc),
                ];
                add(self, inner_loop);
                add(self, outer_loop);
                in_face.push(inner_edge);
                in_face.extend(end);
                in_face.push(outer_edge);
            }
            _ => {
                let mouth = self.builder.line(inner.0, outer.0);
                let mut edges = Vec::with_capacity(3 + nut.tops.len());
                edges.extend([mouth, self.builder.line(outer.0, outer.1)]);
                edges.extend(nut.tops.iter().rev().map(|used| reversed(*used)));
                edges.push(self.builder.line(inner.1, inner.0));
                add(self, edges);
                in_face.push(mouth);
            }
        }
    }
}
