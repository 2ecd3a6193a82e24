//! Ink: the visible edges of the solid and its outline against the paper.

use crate::solid::brep::{Brep, Curve, Edge};

use super::INK;
use super::paint::{Fine, outward};
use super::view::Frame;

/// Half the width of a line, fine pixels.
const HALF_LINE: i64 = 2;
/// An edge counts as hidden where something is nearer to the eye by more than this, mm: what a
/// steep face gains over a few fine pixels is less, the thinnest wood the checks allow is more.
const BEHIND: f64 = 0.35;
/// Faces that meet at less than this turn into one another smoothly: their edge is not drawn.
const SMOOTH: f64 = 15.0;

/// Ink along the border of what is painted.
pub(super) fn outline(fine: &mut Fine) {
    let solid = |fine: &Fine, column: usize, row: usize| {
        fine.near[row * fine.width + column] > f64::NEG_INFINITY
    };
    let mut border = Vec::new();
    for row in 1..fine.height.saturating_sub(1) {
        for column in 1..fine.width.saturating_sub(1) {
            let open = !solid(fine, column - 1, row)
                || !solid(fine, column + 1, row)
                || !solid(fine, column, row - 1)
                || !solid(fine, column, row + 1);
            if open && solid(fine, column, row) {
                border.push((column as i64, row as i64));
            }
        }
    }
    for (column, row) in border {
        dot(fine, column, row);
    }
}

/// Ink along every visible edge at which two faces meet at an angle.
pub(super) fn edges(brep: &Brep, frame: &Frame, fine: &mut Fine) {
    let mut faces_of: Vec<Vec<usize>> = vec![Vec::with_capacity(2); brep.edges.len()];
    for (index, face) in brep.faces.iter().enumerate() {
        for used in face.loops.iter().flatten() {
            faces_of[used.edge].push(index);
        }
    }
    for (edge, faces) in brep.edges.iter().zip(&faces_of) {
        let middle = brep.edge_at(edge, 0.5);
        let [one, other] = *faces.as_slice() else {
            continue;
        };
        let turn = outward(&brep.faces[one], middle)
            .dot(outward(&brep.faces[other], middle))
            .clamp(-1.0, 1.0)
            .acos();
        if turn.to_degrees() >= SMOOTH {
            draw(brep, edge, frame, fine);
        }
    }
}

fn draw(brep: &Brep, edge: &Edge, frame: &Frame, fine: &mut Fine) {
    let pieces = match edge.curve {
        Curve::Line => 1,
        Curve::Arc { .. } => 48,
    };
    for piece in 0..pieces {
        let at = |k: usize| frame.place(brep.edge_at(edge, k as f64 / pieces as f64));
        let (from, to) = (at(piece), at(piece + 1));
        let steps = (to - from).truncate().length().ceil().max(1.0) as usize;
        for step in 0..=steps {
            let point = from + (to - from) * (step as f64 / steps as f64);
            if point.x < 0.0 || point.y < 0.0 {
                continue;
            }
            let (column, row) = (point.x as i64, point.y as i64);
            if visible(fine, column, row, point.z) {
                dot(fine, column, row);
            }
        }
    }
}

/// Whether nothing is nearer there; the surface on either side of an edge counts as the edge.
fn visible(fine: &Fine, column: i64, row: i64, near: f64) -> bool {
    around(fine, column, row, 1).any(|index| fine.near[index] <= near + BEHIND)
}

fn dot(fine: &mut Fine, column: i64, row: i64) {
    let places: Vec<usize> = around(fine, column, row, HALF_LINE).collect();
    for index in places {
        fine.tones[index] = INK;
    }
}

/// Indices of the fine pixels within `reach` of one, as a disc.
fn around(fine: &Fine, column: i64, row: i64, reach: i64) -> impl Iterator<Item = usize> + use<> {
    let (width, height) = (fine.width as i64, fine.height as i64);
    (-reach..=reach).flat_map(move |down| {
        (-reach..=reach).filter_map(move |right| {
            let (x, y) = (column + right, row + down);
            let inside = x >= 0 && y >= 0 && x < width && y < height;
            let round = right * right + down * down <= reach * reach;
            (inside && round).then_some((y * width + x) as usize)
        })
    })
}
