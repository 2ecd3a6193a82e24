//! Dividing the edges: every edge once, and both its faces use the same points.

use glam::{DVec2, DVec3};

use super::rods::rods;
use crate::solid::brep::{Brep, Curve, Edge, EdgeUse, Face, Surface};
use crate::tolerance::MESH_ANGLE;

/// The points of an edge: its ends, and those between them with numbers in a row from `first`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Divided {
    start: usize,
    end: usize,
    first: usize,
    /// How many straight pieces.
    pub pieces: usize,
}

impl Divided {
    /// Point number `k` from the start, 0 to `pieces`.
    fn point(&self, k: usize) -> usize {
        match k {
            0 => self.start,
            k if k == self.pieces => self.end,
            k => self.first + k - 1,
        }
    }

    /// Point number `k` along the edge as it is used.
    pub fn used(&self, used: EdgeUse, k: usize) -> usize {
        self.point(if used.forward { k } else { self.pieces - k })
    }
}

/// How an arc is divided: into how many pieces, and at which fractions of its turn.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    pub pieces: usize,
    /// Where an odd number of points goes round a rod.
    pub odd: Option<Odd>,
}

/// An arc's share of the odd number of pieces into which the whole turn of a rod is divided. The
/// points are counted from one end of the arc; the other end has moved half a piece on, from the
/// half of the rod that has a piece less into the one that has a piece more.
#[derive(Debug, Clone, Copy)]
pub(super) struct Odd {
    pub round: usize,
    pub from_start: bool,
    pub has_more: bool,
}

impl Share {
    /// Fraction of the arc's turn at which point `k` from its start lies. Of the end that moved it
    /// is the fraction on the arc that has less.
    fn fraction(&self, k: usize) -> f64 {
        match self.odd {
            None => k as f64 / self.pieces as f64,
            Some(odd) if odd.from_start => 2.0 * k as f64 / odd.round as f64,
            Some(odd) => 1.0 - 2.0 * (self.pieces - k) as f64 / odd.round as f64,
        }
    }
}

/// The greatest radius of a curved face, mm: of a cone that of its widest arc, since its own may be
/// that of the other end. 0 of a plane.
pub(super) fn widest(brep: &Brep, face: &Face) -> f64 {
    match face.surface {
        Surface::Plane { .. } => 0.0,
        Surface::Cylinder { radius, .. } => radius,
        Surface::Cone {
            origin,
            axis,
            radius,
            ..
        } => {
            let arcs = face.loops.iter().flatten().filter_map(|used| {
                let edge = &brep.edges[used.edge];
                (edge.curve != Curve::Line).then_some(edge)
            });
            // An ellipse is farthest from the axis at its seams or half way between them.
            arcs.flat_map(|edge| [0.0, 0.5, 1.0].map(|f| brep.edge_at(edge, f) - origin))
                .map(|out| (out - axis * out.dot(axis)).length())
                .fold(radius, f64::max)
        }
    }
}

/// The largest turn of one piece on a circle of this radius, radians.
pub(super) fn step(radius: f64, chord: f64) -> f64 {
    (2.0 * (1.0 - chord / radius).max(-1.0).acos()).min(MESH_ANGLE)
}

/// Pieces of a turn with steps of at most `step`, rounding forgiven.
pub(super) fn pieces(turn: f64, step: f64) -> usize {
    (turn / step - 1e-9).ceil().max(1.0) as usize
}

/// Divides every edge; the points are added to the vertices in `points`.
pub(super) fn divide_edges(brep: &Brep, chord: f64, points: &mut Vec<DVec3>) -> Vec<Divided> {
    // The curved surfaces at each edge say how finely and where it is divided.
    let whole = Share {
        pieces: 1,
        odd: None,
    };
    let mut shares = vec![whole; brep.edges.len()];
    let mut cones: Vec<Option<Surface>> = vec![None; brep.edges.len()];
    let steps = steps(brep, chord);
    for face in &brep.faces {
        if let Surface::Plane { .. } = face.surface {
            continue;
        }
        for used in face.loops.iter().flatten() {
            if let Curve::Arc { from, to, .. } = brep.edges[used.edge].curve {
                shares[used.edge].pieces = pieces((to - from).abs(), steps[used.edge]);
                if matches!(face.surface, Surface::Cone { .. }) {
                    cones[used.edge] = Some(face.surface);
                }
            }
        }
    }
    rods(brep, chord, &mut shares);
    let edges = brep.edges.iter().zip(shares).zip(cones);
    edges
        .map(|((edge, share), cone)| {
            let at = |k| {
                let f = share.fraction(k);
                match cone {
                    Some(surface) => on_generator(brep, edge, &surface, f),
                    None => brep.edge_at(edge, f),
                }
            };
            let first = points.len();
            points.extend((1..share.pieces).map(at));
            if let Some(odd) = share.odd
                && !odd.has_more
            {
                let (moved, k) = if odd.from_start {
                    (edge.end, share.pieces)
                } else {
                    (edge.start, 0)
                };
                points[moved] = at(k);
            }
            Divided {
                start: edge.start,
                end: edge.end,
                first,
                pieces: share.pieces,
            }
        })
        .collect()
}

/// The largest turn of one piece of every arc: by the finest surface at it, and never coarser than at
/// the arc across a strip, and so on from strip to strip.
fn steps(brep: &Brep, chord: f64) -> Vec<f64> {
    let mut steps = vec![f64::INFINITY; brep.edges.len()];
    let mut uneven = true;
    while uneven {
        uneven = false;
        for face in &brep.faces {
            if let Surface::Plane { .. } = face.surface {
                continue;
            }
            let edges = face.loops.iter().flatten().map(|used| used.edge);
            let arcs = edges.filter(|edge| brep.edges[*edge].curve != Curve::Line);
            let own = step(widest(brep, face), chord);
            let finest = arcs.clone().map(|edge| steps[edge]).fold(own, f64::min);
            for edge in arcs {
                uneven |= steps[edge] > finest;
                steps[edge] = finest;
            }
        }
    }
    steps
}

/// The point of an arc on a cone at fraction `f` of its turn about the cone's axis: both edges of
/// a strip are then divided on the same generators.
fn on_generator(brep: &Brep, edge: &Edge, cone: &Surface, f: f64) -> DVec3 {
    let (
        Surface::Cone {
            origin,
            axis,
            x_axis,
            radius,
            half_angle,
        },
        Curve::Arc {
            center,
            axis_a,
            axis_b,
            ..
        },
    ) = (*cone, edge.curve)
    else {
        return brep.edge_at(edge, f);
    };
    let y_axis = axis.cross(x_axis);
    let angle = |p: DVec3| (p - origin).dot(y_axis).atan2((p - origin).dot(x_axis));
    let (from, middle) = (
        angle(brep.edge_at(edge, 0.0)),
        angle(brep.edge_at(edge, 0.5)),
    );
    let turn = std::f64::consts::TAU;
    let half = (middle - from).rem_euclid(turn);
    // Arcs go at most half way round: the way that passes the middle.
    let sweep = if half < std::f64::consts::PI {
        1.0
    } else {
        -1.0
    };
    let to = angle(brep.edge_at(edge, 1.0));
    let total = ((to - from) * sweep).rem_euclid(turn) * sweep;
    let aside = DVec2::from_angle(from + total * f);
    let apex = origin - axis * (radius / half_angle.tan());
    let generator =
        axis * half_angle.cos() + (x_axis * aside.x + y_axis * aside.y) * half_angle.sin();
    let normal = axis_a.cross(axis_b);
    apex + generator * ((center - apex).dot(normal) / generator.dot(normal))
}
