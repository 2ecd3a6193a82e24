//! Ink: the visible edges of the solid and its outline against the paper.

use glam::DVec3;

use crate::solid::brep::{Brep, Curve};

use super::INK;
use super::band::Band;
use super::paint::outward;
use super::view::Frame;

/// Half the width of a line, fine pixels.
const HALF_LINE: i64 = 2;
/// An edge counts as hidden where something is nearer to the eye by more than this, mm: what a
/// steep face gains over a few fine pixels is less, the thinnest wood the checks allow is more.
const BEHIND: f64 = 0.35;
/// Faces that meet at less than this turn into one another smoothly: their edge is not drawn.
const SMOOTH: f64 = 15.0;

/// Pixels of a row looked at together.
const STRETCH: usize = 16;
/// Rows beyond a band from which ink may reach into it, and the one beyond those that is looked at.
pub(super) const REACH: usize = HALF_LINE as usize + 1;

/// Ink along the border of what is painted.
pub(super) fn outline(band: &mut Band) {
    let (width, near) = (band.width, &band.near);
    let solid = |near: &f64| *near > f64::NEG_INFINITY;
    let mut border = Vec::new();
    // The outermost rows held say nothing of their neighbours; their ink does not reach the band.
    for row in band.rows.start + 1..band.rows.end.saturating_sub(1) {
        let start = (row - band.rows.start) * width;
        let mut from = start + 1;
        let last = start + width.saturating_sub(1);
        while from < last {
            let to = (from + STRETCH).min(last);
            // Most stretches are all paper or all solid, which is seen at a glance.
            let beside = &near[from - 1..=to];
            let (above, below) = (
                &near[from - width..to - width],
                &near[from + width..to + width],
            );
            let any = near[from..to].iter().fold(false, |any, n| any | solid(n));
            let all = |near: &[f64]| near.iter().fold(true, |all, n| all & solid(n));
            if any && !(all(beside) && all(above) && all(below)) {
                border.extend((from..to).filter(|&at| {
                    let round = [at - 1, at + 1, at - width, at + width];
                    solid(&near[at]) && !round.iter().all(|&at| solid(&near[at]))
                }));
            }
            from = to;
        }
    }
    for at in border {
        let (row, column) = (at / width + band.rows.start, at % width);
        dot(band, column as i64, row as i64);
    }
}

/// A straight piece of an edge at which two faces meet at an angle, in fine pixels.
pub(super) struct Stroke {
    from: DVec3,
    to: DVec3,
}

/// The pieces of every such edge.
pub(super) fn strokes(brep: &Brep, frame: &Frame) -> Vec<Stroke> {
    let mut faces_of: Vec<Vec<usize>> = vec![Vec::with_capacity(2); brep.edges.len()];
    for (index, face) in brep.faces.iter().enumerate() {
        for used in face.loops.iter().flatten() {
            faces_of[used.edge].push(index);
        }
    }
    let mut strokes = Vec::new();
    for (edge, faces) in brep.edges.iter().zip(&faces_of) {
        let middle = brep.edge_at(edge, 0.5);
        let [one, other] = *faces.as_slice() else {
            continue;
        };
        let turn = outward(&brep.faces[one], middle)
            .dot(outward(&brep.faces[other], middle))
            .clamp(-1.0, 1.0)
            .acos();
        if turn.to_degrees() < SMOOTH {
            continue;
        }
        let pieces = match edge.curve {
            Curve::Line => 1,
            Curve::Arc { .. } => 48,
        };
        let at = |k: usize| frame.place(brep.edge_at(edge, k as f64 / pieces as f64));
        let places: Vec<DVec3> = (0..=pieces).map(at).collect();
        strokes.extend(places.windows(2).map(|pair| Stroke {
            from: pair[0],
            to: pair[1],
        }));
    }
    strokes
}

/// Ink along the visible parts of all strokes.
pub(super) fn edges(strokes: &[Stroke], band: &mut Band) {
    // Rows whose neighbours are held, or lie outside the picture.
    let first = band.rows.start + usize::from(band.rows.start > 0);
    let last = band.rows.end - usize::from(band.rows.end < band.height);
    let (above, below) = (first as f64, last as f64);
    for Stroke { from, to } in strokes {
        if from.y.max(to.y) < above || from.y.min(to.y) >= below {
            continue;
        }
        let along = *to - *from;
        let steps = along.truncate().length().ceil().max(1.0) as usize;
        for step in 0..=steps {
            let point = *from + along * (step as f64 / steps as f64);
            if point.x < 0.0 || point.y < above || point.y >= below {
                continue;
            }
            let (column, row) = (point.x as i64, point.y as i64);
            if visible(band, column, row, point.z) {
                dot(band, column, row);
            }
        }
    }
}

/// Whether nothing is nearer there; the surface on either side of an edge counts as the edge.
fn visible(band: &Band, column: i64, row: i64, near: f64) -> bool {
    let mut seen = false;
    around(band, column, row, 1, |index| {
        seen |= band.near[index] <= near + BEHIND;
    });
    seen
}

fn dot(band: &mut Band, column: i64, row: i64) {
    let mut tones = std::mem::take(&mut band.tones);
    around(band, column, row, HALF_LINE, |index| tones[index] = INK);
    band.tones = tones;
}

/// Indices of the fine pixels held within `reach` of one, as a disc.
fn around(band: &Band, column: i64, row: i64, reach: i64, mut each: impl FnMut(usize)) {
    let (width, start) = (band.width as i64, band.rows.start as i64);
    for y in (row - reach).max(start)..=(row + reach).min(band.rows.end as i64 - 1) {
        for x in (column - reach).max(0)..=(column + reach).min(width - 1) {
            let (right, down) = (x - column, y - row);
            if right * right + down * down <= reach * reach {
                each(((y - start) * width + x) as usize);
            }
        }
    }
}
