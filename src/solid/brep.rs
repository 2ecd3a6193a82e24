//! Exact boundary representation: vertices, edges on lines and conic arcs, faces on planes,
//! cylinders and cones, kept in plain arrays so that its order, and with it every byte written
//! from it, is fixed.
//!
//! Conventions. A face's loops run anticlockwise seen from outside the solid, holes clockwise.
//! A surface has its own natural normal; `Face::same_sense` says whether the outward normal of
//! the solid is that normal (`true`) or its reverse. Every edge is used exactly twice, once each
//! way. No edge is closed: a full circle is two half arcs.

use glam::DVec3;

/// Index of a vertex in [`Brep::vertices`].
pub type VertexId = usize;
/// Index of an edge in [`Brep::edges`].
pub type EdgeId = usize;

/// Curve of an edge, traversed from the edge's start to its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Straight between the two vertices.
    Line,
    /// Arc of a circle or an ellipse: `center + axis_a·cos t + axis_b·sin t` for t from `from` to
    /// `to` (radians; `to` may be below `from`). The axes are perpendicular; a circle where their
    /// lengths are equal. The sweep is above 0 and at most π.
    Arc {
        /// Centre.
        center: DVec3,
        /// First semi-axis, length included, mm.
        axis_a: DVec3,
        /// Second semi-axis, length included, mm.
        axis_b: DVec3,
        /// Parameter at the edge's start.
        from: f64,
        /// Parameter at the edge's end.
        to: f64,
    },
}

/// An edge and its two vertices.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Start vertex.
    pub start: VertexId,
    /// End vertex, never the start.
    pub end: VertexId,
    /// Curve.
    pub curve: Curve,
}

/// Surface of a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Surface {
    /// Plane through `origin` with unit `normal`; `x_axis` is a unit vector in it.
    Plane {
        /// A point of the plane.
        origin: DVec3,
        /// Unit normal.
        normal: DVec3,
        /// Unit reference direction in the plane.
        x_axis: DVec3,
    },
    /// Cylinder about the line through `origin` along unit `axis`; natural normal away from it.
    Cylinder {
        /// A point of the axis.
        origin: DVec3,
        /// Unit direction of the axis.
        axis: DVec3,
        /// Unit reference direction, square to the axis.
        x_axis: DVec3,
        /// Radius, mm.
        radius: f64,
    },
    /// Cone: `radius` in the plane through `origin` square to `axis`, growing along +`axis` with
    /// tan(`half_angle`); natural normal away from the axis.
    Cone {
        /// Point of the axis where the radius is `radius`.
        origin: DVec3,
        /// Unit direction in which the cone widens.
        axis: DVec3,
        /// Unit reference direction, square to the axis.
        x_axis: DVec3,
        /// Radius at `origin`, mm, zero or more.
        radius: f64,
        /// Half the included angle, radians, above 0 and below π/2.
        half_angle: f64,
    },
}

/// An edge as used by a loop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EdgeUse {
    /// The edge.
    pub edge: EdgeId,
    /// True where it runs start to end.
    pub forward: bool,
}

/// A face: one outer loop first, then its holes.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// What the face is, for people reading the file: `"bore treble 1"`, `"side bass"`.
    pub name: String,
    /// Surface.
    pub surface: Surface,
    /// True where the solid's outward normal is the surface's natural normal.
    pub same_sense: bool,
    /// Loops, outer first.
    pub loops: Vec<Vec<EdgeUse>>,
}

/// One closed shell.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Brep {
    /// Vertices.
    pub vertices: Vec<DVec3>,
    /// Edges.
    pub edges: Vec<Edge>,
    /// Faces.
    pub faces: Vec<Face>,
}

impl Brep {
    /// First and last vertex of an edge as used.
    #[must_use]
    pub fn ends(&self, used: EdgeUse) -> (VertexId, VertexId) {
        let edge = &self.edges[used.edge];
        if used.forward {
            (edge.start, edge.end)
        } else {
            (edge.end, edge.start)
        }
    }
}

/// Volume, area, centroid and extent of a solid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    /// Volume, mm³.
    pub volume: f64,
    /// Area of the whole boundary, mm².
    pub area: f64,
    /// Centre of volume, mm.
    pub centroid: DVec3,
    /// Least corner of the box parallel to the frame, mm.
    pub min: DVec3,
    /// Greatest corner of that box, mm.
    pub max: DVec3,
}
