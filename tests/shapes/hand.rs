//! Helpers to write a solid down by hand.

use barrelhead::solid::brep::{Brep, Curve, Edge, EdgeUse, Face, Measures, Surface};
use glam::DVec3;

/// Edge run as it is, and against itself.
pub fn on(edge: usize) -> EdgeUse {
    EdgeUse {
        edge,
        forward: true,
    }
}

pub fn back(edge: usize) -> EdgeUse {
    EdgeUse {
        edge,
        forward: false,
    }
}

pub fn vertex(brep: &mut Brep, at: DVec3) -> usize {
    brep.vertices.push(at);
    brep.vertices.len() - 1
}

pub fn line(brep: &mut Brep, start: usize, end: usize) -> usize {
    brep.edges.push(Edge {
        start,
        end,
        curve: Curve::Line,
    });
    brep.edges.len() - 1
}

/// An arc between two vertices: centre, semi-axes, and its two parameters.
pub fn arc(
    brep: &mut Brep,
    [start, end]: [usize; 2],
    [center, axis_a, axis_b]: [DVec3; 3],
    [from, to]: [f64; 2],
) -> usize {
    brep.edges.push(Edge {
        start,
        end,
        curve: Curve::Arc {
            center,
            axis_a,
            axis_b,
            from,
            to,
        },
    });
    brep.edges.len() - 1
}

pub fn face(brep: &mut Brep, name: &str, surface: Surface, sense: bool, loops: Vec<Vec<EdgeUse>>) {
    brep.faces.push(Face {
        name: name.to_owned(),
        surface,
        same_sense: sense,
        loops,
    });
}

/// A plane with its normal and a direction in it.
pub fn plane(origin: DVec3, normal: DVec3, x_axis: DVec3) -> Surface {
    Surface::Plane {
        origin,
        normal,
        x_axis,
    }
}

/// The edges of a box between the origin and `size`, with its four walls. Bottom edges 0 to 3
/// and top edges 4 to 7 run anticlockwise seen from above, uprights 8 to 11 upwards.
pub fn walls(size: DVec3) -> Brep {
    let mut brep = Brep::default();
    let corners = [[0.0, 0.0], [size.x, 0.0], [size.x, size.y], [0.0, size.y]];
    for z in [0.0, size.z] {
        for [x, y] in corners {
            vertex(&mut brep, DVec3::new(x, y, z));
        }
    }
    for base in [0, 4] {
        for i in 0..4 {
            line(&mut brep, base + i, base + (i + 1) % 4);
        }
    }
    for i in 0..4 {
        line(&mut brep, i, i + 4);
    }
    let out = [DVec3::NEG_Y, DVec3::X, DVec3::Y, DVec3::NEG_X];
    for (i, out) in out.into_iter().enumerate() {
        let next = (i + 1) % 4;
        let origin = brep.vertices[i];
        let around = vec![on(i), on(8 + next), back(4 + i), back(8 + i)];
        // Two walls on planes that face inwards, so both senses occur.
        let inward = i >= 2;
        let normal = if inward { -out } else { out };
        let wall = plane(origin, normal, DVec3::Z);
        face(&mut brep, "wall", wall, !inward, vec![around]);
    }
    brep
}

/// Loops of the box's bottom and top, seen from outside.
pub fn bottom() -> Vec<EdgeUse> {
    vec![back(3), back(2), back(1), back(0)]
}

pub fn top() -> Vec<EdgeUse> {
    vec![on(4), on(5), on(6), on(7)]
}

pub fn measures(volume: f64, area: f64, centroid: DVec3, [min, max]: [DVec3; 2]) -> Measures {
    Measures {
        volume,
        area,
        centroid,
        min,
        max,
    }
}
