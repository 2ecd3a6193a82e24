//! Parting a mesh along a plane y = constant, for a mock head that is longer than the bed.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::solid::mesh::plane_face;
use crate::solid::mesh_data::Mesh;

/// The part of a closed mesh below and the part above the plane y = `at`, which no point of the mesh
/// may lie in. Both are closed: the section is filled with the same points on either side.
pub(super) fn cut(mesh: &Mesh, at: f64) -> Result<[Mesh; 2], String> {
    if mesh.points.iter().any(|point| (point.y - at).abs() <= 0.0) {
        return Err("a corner of the mesh lies in the plane of the cut".to_owned());
    }
    let mut points = mesh.points.clone();
    let mut crossings: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    let mut parts: [Vec<[usize; 3]>; 2] = [Vec::new(), Vec::new()];
    // From crossing to crossing, as the lower part's triangles run along the plane.
    let mut rim: BTreeMap<usize, usize> = BTreeMap::new();
    for triangle in &mesh.triangles {
        let above = triangle.map(|corner| usize::from(mesh.points[corner].y > at));
        if above[0] == above[1] && above[1] == above[2] {
            parts[above[0]].push(*triangle);
            continue;
        }
        // Turn it so that the corner that is alone comes first.
        let alone = (0..3)
            .find(|&i| above[i] != above[(i + 1) % 3] && above[i] != above[(i + 2) % 3])
            .unwrap_or_default();
        let [tip, b, c] = [0, 1, 2].map(|i| triangle[(alone + i) % 3]);
        let mut crossing = |from: usize, to: usize| {
            *crossings
                .entry((from.min(to), from.max(to)))
                .or_insert_with(|| {
                    let (p, q) = (mesh.points[from.min(to)], mesh.points[from.max(to)]);
                    let t = (at - p.y) / (q.y - p.y);
                    let mut point = p + (q - p) * t;
                    point.y = at;
                    points.push(point);
                    points.len() - 1
                })
        };
        let (on_b, on_c) = (crossing(tip, b), crossing(tip, c));
        let side = above[alone];
        parts[side].push([tip, on_b, on_c]);
        parts[1 - side].push([on_b, b, c]);
        parts[1 - side].push([on_b, c, on_c]);
        // The tip's triangle runs on_b → on_c along the plane, the other part on_c → on_b.
        let (from, to) = if side == 0 {
            (on_b, on_c)
        } else {
            (on_c, on_b)
        };
        if rim.insert(from, to).is_some() {
            return Err("the section touches itself".to_owned());
        }
    }
    let loops = loops(rim)?;
    let mut section = Vec::new();
    // Seen from above the plane the lower part's rim runs clockwise round its section, so the
    // section's own triangles, found anticlockwise about +y, close it as they are.
    plane_face(&points, &loops, DVec3::Y, DVec3::Z, &mut section)?;
    let [mut below, mut over] = parts;
    below.extend(&section);
    over.extend(section.iter().map(|&[a, b, c]| [a, c, b]));
    Ok([below, over].map(|triangles| Mesh::compact(&points, &triangles)))
}

/// Chains links into closed loops.
fn loops(mut links: BTreeMap<usize, usize>) -> Result<Vec<Vec<usize>>, String> {
    let mut loops = Vec::new();
    while let Some((&start, _)) = links.first_key_value() {
        let mut round = vec![start];
        let mut at = start;
        while let Some(next) = links.remove(&at) {
            if next == start {
                break;
            }
            round.push(next);
            at = next;
        }
        if round.len() < 3 {
            return Err("the section is not closed".to_owned());
        }
        loops.push(round);
    }
    Ok(loops)
}
