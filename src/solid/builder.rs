//! Assembling a boundary representation: vertices, straight edges shared by their two faces,
//! rings round bores, and the tubes between rings.

use std::f64::consts::{PI, TAU};

use glam::{DVec2, DVec3};

use super::brep::{Brep, Curve, Edge, EdgeId, EdgeUse, Face, Surface, VertexId};
use crate::plane::moments::Linear;

/// The same edge, the other way.
#[must_use]
pub(super) fn reversed(used: EdgeUse) -> EdgeUse {
    EdgeUse {
        forward: !used.forward,
        ..used
    }
}

/// The same loop, the other way round.
#[must_use]
pub(super) fn reversed_loop(edges: &[EdgeUse]) -> Vec<EdgeUse> {
    edges.iter().rev().map(|used| reversed(*used)).collect()
}

/// The same loop, the other way round, in its own place.
#[must_use]
pub(super) fn turn_round(mut edges: Vec<EdgeUse>) -> Vec<EdgeUse> {
    edges.reverse();
    for used in &mut edges {
        *used = reversed(*used);
    }
    edges
}

/// A face's loops, with room for holes that will be cut.
#[must_use]
pub(super) fn with_room_for(holes: usize, outer: Vec<EdgeUse>) -> Vec<Vec<EdgeUse>> {
    let mut loops = Vec::with_capacity(1 + holes);
    loops.push(outer);
    loops
}

/// The closed curve in which a round hole meets a face: two arcs over two vertices, right-handed
/// about the hole's direction.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ring {
    pub vertices: [VertexId; 2],
    pub arcs: [EdgeUse; 2],
}

impl Ring {
    /// As a hole in a face whose outward normal is against the hole's direction.
    pub fn forward(&self) -> Vec<EdgeUse> {
        self.arcs.to_vec()
    }

    /// As a hole in a face whose outward normal is along the hole's direction, or as the outer
    /// loop of the hole's flat bottom.
    pub fn backward(&self) -> Vec<EdgeUse> {
        reversed_loop(&self.arcs)
    }

    /// The same ring for a hole that comes from the other side, mirrored in the ring's plane.
    pub fn seen_from_behind(&self) -> Ring {
        let [first, second] = self.vertices;
        Ring {
            vertices: [second, first],
            arcs: self.arcs.map(reversed),
        }
    }
}

/// Frame of a round hole: `along` into the material, `first` × `second` = `along`.
#[derive(Debug, Clone, Copy)]
pub(super) struct HoleFrame {
    pub origin: DVec3,
    pub along: DVec3,
    pub first: DVec3,
    pub second: DVec3,
}

impl HoleFrame {
    /// The frame with `second` nearest to the given direction, which is square to `along`.
    pub fn new(origin: DVec3, along: DVec3, second: DVec3) -> HoleFrame {
        HoleFrame {
            origin,
            along,
            first: second.cross(along),
            second,
        }
    }
}

/// The straight edges by the vertex at which they start, newest first: three or four start at one, and to walk
/// along those is quicker than any table.
#[derive(Debug, Default)]
struct Lines {
    /// Of each vertex that a line starts at, the newest line.
    newest: Vec<Option<EdgeId>>,
    /// Of each edge that is a line, the one before it from the same vertex.
    older: Vec<Option<EdgeId>>,
}

impl Lines {
    fn find(&self, edges: &[Edge], start: VertexId, end: VertexId) -> Option<EdgeId> {
        let mut at = self.newest.get(start).copied().flatten();
        while let Some(edge) = at {
            if edges[edge].end == end {
                break;
            }
            at = self.older[edge];
        }
        at
    }

    fn add(&mut self, edge: EdgeId, start: VertexId) {
        if self.newest.len() <= start {
            self.newest.resize(start + 1, None);
        }
        self.older.resize(edge + 1, None);
        self.older[edge] = self.newest[start].replace(edge);
    }
}

/// A B-rep under construction.
#[derive(Debug, Default)]
pub(super) struct Builder {
    pub brep: Brep,
    lines: Lines,
}

impl Builder {
    /// One with room for about so many vertices, edges and faces: what is there need not move as it grows.
    pub fn with_room([vertices, edges, faces]: [usize; 3]) -> Builder {
        Builder {
            brep: Brep {
                vertices: Vec::with_capacity(vertices),
                edges: Vec::with_capacity(edges),
                faces: Vec::with_capacity(faces),
            },
            lines: Lines {
                newest: Vec::with_capacity(vertices),
                older: Vec::with_capacity(edges),
            },
        }
    }

    pub fn vertex(&mut self, point: DVec3) -> VertexId {
        self.brep.vertices.push(point);
        self.brep.vertices.len() - 1
    }

    /// The straight edge from one vertex to another; the second call for the same two vertices
    /// gives the same edge the other way.
    pub fn line(&mut self, start: VertexId, end: VertexId) -> EdgeUse {
        if let Some(edge) = self.lines.find(&self.brep.edges, end, start) {
            return EdgeUse {
                edge,
                forward: false,
            };
        }
        if let Some(edge) = self.lines.find(&self.brep.edges, start, end) {
            return EdgeUse {
                edge,
                forward: true,
            };
        }
        let edge = self.edge(start, end, Curve::Line);
        self.lines.add(edge.edge, start);
        edge
    }

    /// A new edge on a curve.
    pub fn edge(&mut self, start: VertexId, end: VertexId, curve: Curve) -> EdgeUse {
        self.brep.edges.push(Edge { start, end, curve });
        EdgeUse {
            edge: self.brep.edges.len() - 1,
            forward: true,
        }
    }

    /// Straight edges through these vertices and back to the first.
    pub fn polygon(&mut self, corners: &[VertexId]) -> Vec<EdgeUse> {
        (0..corners.len())
            .map(|i| self.line(corners[i], corners[(i + 1) % corners.len()]))
            .collect()
    }

    /// Adds a face and returns its index.
    pub fn face(
        &mut self,
        name: impl Into<String>,
        surface: Surface,
        same_sense: bool,
        loops: Vec<Vec<EdgeUse>>,
    ) -> usize {
        self.brep.faces.push(Face {
            name: name.into(),
            surface,
            same_sense,
            loops,
        });
        self.brep.faces.len() - 1
    }

    /// Adds a plane face with this outward normal.
    pub fn plane_face(
        &mut self,
        name: impl Into<String>,
        origin: DVec3,
        normal: DVec3,
        x_axis: DVec3,
        loops: Vec<Vec<EdgeUse>>,
    ) -> usize {
        self.face(
            name,
            Surface::Plane {
                origin,
                normal,
                x_axis,
            },
            true,
            loops,
        )
    }

    /// Cuts a hole into a plane face.
    pub fn add_hole(&mut self, face: usize, edges: Vec<EdgeUse>) {
        self.brep.faces[face].loops.push(edges);
    }

    /// The ring in which a hole of `radius` meets the plane that its axis crosses at `depth` and
    /// that lies deeper by `slope` for each mm along the frame's first direction.
    pub fn ring(&mut self, frame: &HoleFrame, radius: f64, depth: f64, slope: f64) -> Ring {
        let center = frame.origin + frame.along * depth;
        let axis_a = (frame.first + frame.along * slope) * radius;
        self.ring_on(center, axis_a, frame.second * radius)
    }

    /// The ring on an ellipse with these semi-axes.
    pub fn ring_on(&mut self, center: DVec3, axis_a: DVec3, axis_b: DVec3) -> Ring {
        let first = self.vertex(center + axis_a);
        let second = self.vertex(center - axis_a);
        let arc = |from: f64, to: f64| Curve::Arc {
            center,
            axis_a,
            axis_b,
            from,
            to,
        };
        let there = self.edge(first, second, arc(0.0, PI));
        let back = self.edge(second, first, arc(PI, TAU));
        Ring {
            vertices: [first, second],
            arcs: [there, back],
        }
    }

    /// The wall of a hole between two rings, the mouth's and a deeper one: two half faces.
    pub fn tube(&mut self, name: &str, surface: Surface, mouth: &Ring, deep: &Ring) {
        for half in 0..2 {
            let (a, b) = (half, 1 - half);
            let loop_edges = vec![
                self.line(mouth.vertices[a], deep.vertices[a]),
                deep.arcs[half],
                self.line(deep.vertices[b], mouth.vertices[b]),
                reversed(mouth.arcs[half]),
            ];
            self.face(name, surface, false, vec![loop_edges]);
        }
    }

    /// The wall of a rod between two rings, the one it stands on and its far end's: two half faces.
    pub fn rod_wall(&mut self, name: &str, surface: Surface, foot: &Ring, end: &Ring) {
        for half in 0..2 {
            let (a, b) = (half, 1 - half);
            let loop_edges = vec![
                foot.arcs[half],
                self.line(foot.vertices[b], end.vertices[b]),
                reversed(end.arcs[half]),
                self.line(end.vertices[a], foot.vertices[a]),
            ];
            self.face(name, surface, true, vec![loop_edges]);
        }
    }

    /// The conical bottom of a hole below a ring: two half faces over one apex.
    pub fn cone_bottom(&mut self, name: &str, surface: Surface, rim: &Ring, apex: DVec3) {
        let apex = self.vertex(apex);
        for half in 0..2 {
            let (a, b) = (half, 1 - half);
            let loop_edges = vec![
                self.line(rim.vertices[a], apex),
                self.line(apex, rim.vertices[b]),
                reversed(rim.arcs[half]),
            ];
            self.face(name, surface, false, vec![loop_edges]);
        }
    }

    /// An edge over a plan arc, `depth` below the plane z = 0: a circle's arc, or an ellipse's
    /// where the depth slopes.
    pub fn plan_arc(
        &mut self,
        ends: (VertexId, VertexId),
        center: DVec2,
        radius: f64,
        angles: (f64, f64),
        depth: &Linear,
    ) -> EdgeUse {
        let rise = depth.slope.length();
        // The steepest direction carries the long axis.
        let steep = if rise > 0.0 {
            depth.slope / rise
        } else {
            DVec2::Y
        };
        let level = -steep.perp();
        let turn = level.to_angle();
        let (from, to) = angles;
        let curve = Curve::Arc {
            center: center.extend(-depth.at(center)),
            axis_a: level.extend(0.0) * radius,
            axis_b: steep.extend(-rise) * radius,
            from: from - turn,
            to: to - turn,
        };
        self.edge(ends.0, ends.1, curve)
    }
}
