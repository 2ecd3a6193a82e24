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
const WORD: usize = u64::BITS as usize;
/// Rows beyond a band from which ink may reach into it, and the one beyond those that is looked at.
pub(super) const REACH: usize = HALF_LINE as usize + 1;

/// Ink along the border of what is painted.
pub(super) fn outline(band: &mut Band) {
    let width = band.width.max(1);
    // Where something is, a bit a pixel: sixty-four are looked at together.
    let words = width.div_ceil(WORD);
    let mut solid: Vec<u64> = Vec::with_capacity(words * band.rows.len());
    for row in band.near.chunks_exact(width) {
        solid.extend(row.chunks(WORD).map(|stretch| {
            let bits = stretch.iter().enumerate();
            bits.fold(0, |word, (place, near)| {
                word | u64::from(*near > f64::NEG_INFINITY) << place
            })
        }));
    }
    // The outermost rows and columns held say nothing of their neighbours; their ink does not reach
    // what is looked at.
    for row in 1..band.rows.len().saturating_sub(1) {
        for word in 0..words {
            let at = row * words + word;
            let (first, last) = (word == 0, word + 1 == words);
            let before = if first { 0 } else { solid[at - 1] };
            let after = if last { 0 } else { solid[at + 1] };
            let here = solid[at];
            let left = here << 1 | before >> (WORD - 1);
            let right = here >> 1 | after << (WORD - 1);
            let mut border = here & !(left & right & solid[at - words] & solid[at + words]);
            border &= !u64::from(first);
            border &= !(u64::from(last) << ((width - 1) % WORD));
            while border != 0 {
                let column = word * WORD + border.trailing_zeros() as usize;
                border &= border - 1;
                dot(band, column as i64, (band.rows.start + row) as i64);
            }
        }
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
        let down = y - row;
        let half = ((reach * reach - down * down) as f64).sqrt() as i64;
        for x in (column - half).max(0)..=(column + half).min(width - 1) {
            each(((y - start) * width + x) as usize);
        }
    }
}
