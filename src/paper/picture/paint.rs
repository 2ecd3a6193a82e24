//! Faces with their hidden parts removed: the nearest surface at every fine pixel, shaded by its
//! own normal.

use std::ops::Range;

use glam::DVec3;

use crate::solid::brep::{Brep, Face, Surface};
use crate::solid::mesh_data::Mesh;

use super::view::{Frame, View};
use super::{PAPER, Picture};

/// Tone of a surface that faces the light, and of one that turns away from it.
const BRIGHT: f64 = 232.0;
const DIM: f64 = 92.0;
/// Walls inside the solid are this much darker, so that openings read as openings.
const INSIDE: f64 = 0.80;

/// A picture in fine pixels, with how near each of them is.
pub(super) struct Fine {
    pub width: usize,
    pub height: usize,
    pub tones: Vec<u8>,
    /// Towards the eye, mm; minus infinity where nothing is.
    pub near: Vec<f64>,
}

impl Fine {
    /// Blocks of `fine` by `fine` pixels averaged to one.
    pub fn reduced(&self, fine: usize) -> Picture {
        let (width, height) = (self.width / fine, self.height / fine);
        let mut tones = Vec::with_capacity(width * height);
        let count = (fine * fine) as u32;
        for row in 0..height {
            for column in 0..width {
                let mut sum = 0u32;
                for line in 0..fine {
                    let start = (row * fine + line) * self.width + column * fine;
                    let block = &self.tones[start..start + fine];
                    sum += block.iter().map(|tone| u32::from(*tone)).sum::<u32>();
                }
                tones.push(((sum + count / 2) / count).min(255) as u8);
            }
        }
        Picture {
            width,
            height,
            tones,
        }
    }
}

/// Paints every face.
pub(super) fn faces(brep: &Brep, mesh: &Mesh, ranges: &[Range<usize>], frame: &Frame) -> Fine {
    let mut fine = Fine {
        width: frame.width,
        height: frame.height,
        tones: vec![PAPER; frame.width * frame.height],
        near: vec![f64::NEG_INFINITY; frame.width * frame.height],
    };
    for (face, range) in brep.faces.iter().zip(ranges) {
        for corners in &mesh.triangles[range.clone()] {
            let points = corners.map(|corner| mesh.points[corner]);
            let middle = (points[0] + points[1] + points[2]) / 3.0;
            let normal = outward(face, middle);
            if normal.dot(frame.view.eye) <= 0.0 && matches!(face.surface, Surface::Plane { .. }) {
                continue;
            }
            let tone = tone(face, normal, &frame.view);
            triangle(&mut fine, points.map(|point| frame.place(point)), tone);
        }
    }
    fine
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
fn triangle(fine: &mut Fine, [a, b, c]: [DVec3; 3], tone: u8) {
    let area = (b - a).truncate().perp_dot((c - a).truncate());
    if area.abs() < 1e-12 {
        return;
    }
    // Nearness is linear over the triangle: z = a.z + (x − a.x)·by_x + (y − a.y)·by_y.
    let (u, v) = (b - a, c - a);
    let by_x = (u.z * v.y - v.z * u.y) / area;
    let by_y = (v.z * u.x - u.z * v.x) / area;
    let top = a.y.min(b.y).min(c.y);
    let bottom = a.y.max(b.y).max(c.y);
    let first = (top - 0.5).ceil().max(0.0) as usize;
    let last = ((bottom - 0.5).floor().max(-1.0) + 1.0) as usize;
    for row in first..last.min(fine.height) {
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
        let start = row * fine.width;
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
