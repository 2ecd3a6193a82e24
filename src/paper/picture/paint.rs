//! Faces with their hidden parts removed: the nearest surface at every fine pixel, shaded by its
//! own normal.

use std::ops::Range;

use glam::DVec3;

use crate::solid::brep::{Brep, Face, Surface};
use crate::solid::mesh_data::Mesh;

use super::band::Band;
use super::view::{Frame, View};

/// Tone of a surface that faces the light, and of one that turns away from it.
const BRIGHT: f64 = 232.0;
const DIM: f64 = 92.0;
/// Walls inside the solid are this much darker, so that openings read as openings.
const INSIDE: f64 = 0.80;

/// A triangle of a face that may be seen, in fine pixels, with its tone.
pub(super) struct Facet {
    corners: [DVec3; 3],
    tone: u8,
}

/// Every triangle that does not turn its back, in the order of the mesh.
pub(super) fn facets(
    brep: &Brep,
    mesh: &Mesh,
    ranges: &[Range<usize>],
    frame: &Frame,
) -> Vec<Facet> {
    let mut facets = Vec::with_capacity(mesh.triangles.len());
    for (face, range) in brep.faces.iter().zip(ranges) {
        for corners in &mesh.triangles[range.clone()] {
            let points = corners.map(|corner| mesh.points[corner]);
            let middle = (points[0] + points[1] + points[2]) / 3.0;
            let normal = outward(face, middle);
            if normal.dot(frame.view.eye) <= 0.0 && matches!(face.surface, Surface::Plane { .. }) {
                continue;
            }
            facets.push(Facet {
                corners: points.map(|point| frame.place(point)),
                tone: tone(face, normal, &frame.view),
            });
        }
    }
    facets
}

/// Paints every facet.
pub(super) fn faces(facets: &[Facet], band: &mut Band) {
    for facet in facets {
        triangle(band, facet.corners, facet.tone);
    }
}

/// Outward normal of a face at (or near) a point of it.
pub(super) fn outward(face: &Face, point: DVec3) -> DVec3 {
    let natural = match face.surface {
        Surface::Plane { normal, .. } => normal,
        Surface::Cylinder { origin, axis, .. } => {
            let out = point - origin;
            (out - axis * out.dot(axis)).normalize_or_zero()
        }
        Surface::Cone {
            origin,
            axis,
            half_angle,
            ..
        } => {
            let out = point - origin;
            let aside = (out - axis * out.dot(axis)).normalize_or_zero();
            aside * half_angle.cos() - axis * half_angle.sin()
        }
    };
    if face.same_sense { natural } else { -natural }
}

fn tone(face: &Face, normal: DVec3, view: &View) -> u8 {
    // Light over the left shoulder.
    let light = (view.right * -0.45 + view.up * 0.55 + view.eye * 0.9).normalize_or(view.eye);
    let lit = normal.dot(light).max(0.0);
    let hollow = !face.same_sense && !matches!(face.surface, Surface::Plane { .. });
    let inside = hollow || face.name.contains("slot") || face.name.contains("bore");
    let tone = (DIM + (BRIGHT - DIM) * lit) * if inside { INSIDE } else { 1.0 };
    tone.clamp(0.0, 254.0) as u8
}

/// One triangle, row by row.
fn triangle(fine: &mut Band, [a, b, c]: [DVec3; 3], tone: u8) {
    let top = a.y.min(b.y).min(c.y);
    let bottom = a.y.max(b.y).max(c.y);
    let first = ((top - 0.5).ceil().max(0.0) as usize).max(fine.rows.start);
    let last = (((bottom - 0.5).floor().max(-1.0) + 1.0) as usize).min(fine.rows.end);
    if first >= last {
        return;
    }
    let area = (b - a).truncate().perp_dot((c - a).truncate());
    if area.abs() < 1e-12 {
        return;
    }
    // Nearness is linear over the triangle: z = a.z + (x − a.x)·by_x + (y − a.y)·by_y.
    let (u, v) = (b - a, c - a);
    let by_x = (u.z * v.y - v.z * u.y) / area;
    let by_y = (v.z * u.x - u.z * v.x) / area;
    for row in first..last {
        let y = row as f64 + 0.5;
        let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
        for (from, to) in [(a, b), (b, c), (c, a)] {
            if (from.y <= y) == (to.y <= y) {
                continue;
            }
            let x = from.x + (to.x - from.x) * ((y - from.y) / (to.y - from.y));
            left = left.min(x);
            right = right.max(x);
        }
        let from = (left - 0.5).ceil().max(0.0);
        let to = (right - 0.5).floor().min(fine.width as f64 - 1.0);
        if from > to {
            continue;
        }
        let (from, to) = (from as usize, to as usize);
        let start = (row - fine.rows.start) * fine.width;
        let mut near = a.z + (from as f64 + 0.5 - a.x) * by_x + (y - a.y) * by_y;
        let columns = fine.near[start + from..=start + to]
            .iter_mut()
            .zip(&mut fine.tones[start + from..=start + to]);
        for (depth, pixel) in columns {
            if near > *depth {
                *depth = near;
                *pixel = tone;
            }
            near += by_x;
        }
    }
}
