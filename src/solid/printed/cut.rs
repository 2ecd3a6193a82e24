//! Parting a mesh along a plane y = constant, for a mock head that is longer than the bed.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::solid::mesh::PlaneFaces;
use crate::solid::mesh_data::Mesh;
use crate::tolerance::NOISE;

/// The part of a closed mesh below and the part above the plane y = `at`, which no point of the mesh
/// may lie in. Both are closed: the section is filled with the same points on either side.
pub(super) fn cut(mesh: &Mesh, at: f64) -> Result<[Mesh; 2], String> {
    if mesh.points.iter().any(|point| (point.y - at).abs() < NOISE) {
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
    // Seen from above the plane the lower part's rim runs clockwise round its section; the loops are
    // turned round, and the section's triangles, anticlockwise about +y, close the part as they are.
    let corners = loops.iter().map(|corners| corners.iter().copied());
    PlaneFaces::default()
        .divide(&points, corners, [DVec3::Z, DVec3::X], &mut section)
        .map_err(|_| "the section touches or crosses itself".to_owned())?;
    let [mut below, mut over] = parts;
    below.extend(&section);
    over.extend(section.iter().map(|&[a, b, c]| [a, c, b]));
    Ok([below, over].map(|triangles| Mesh::compact(&points, &triangles)))
}

/// Chains links into closed loops, each against the direction of its links.
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
        round.reverse();
        loops.push(round);
    }
    Ok(loops)
}

/// The separate bodies of a mesh, in the order in which their first triangles stand.
pub(super) fn bodies(mesh: &Mesh) -> Vec<Mesh> {
    // Every point leads to another of its body, until one leads to itself.
    let mut leads: Vec<usize> = (0..mesh.points.len()).collect();
    fn last(leads: &mut [usize], mut at: usize) -> usize {
        while leads[at] != at {
            leads[at] = leads[leads[at]];
            at = leads[at];
        }
        at
    }
    for &[a, b, c] in &mesh.triangles {
        for (one, other) in [(a, b), (b, c)] {
            let (one, other) = (last(&mut leads, one), last(&mut leads, other));
            leads[one] = other;
        }
    }
    let mut order: Vec<usize> = Vec::new();
    let mut parts: BTreeMap<usize, Vec<[usize; 3]>> = BTreeMap::new();
    for corners in &mesh.triangles {
        let body = last(&mut leads, corners[0]);
        let part = parts.entry(body).or_insert_with(|| {
            order.push(body);
            Vec::new()
        });
        part.push(*corners);
    }
    order
        .into_iter()
        .filter_map(|body| parts.remove(&body))
        .map(|triangles| Mesh::compact(&mesh.points, &triangles))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::kernel::judge_mesh;

    /// A fork: a bar along x with two prongs along y, all 1 mm high.
    fn fork() -> Mesh {
        let outline = [
            (0.0, 0.0),
            (5.0, 0.0),
            (5.0, 4.0),
            (4.0, 4.0),
            (4.0, 1.0),
            (1.0, 1.0),
            (1.0, 4.0),
            (0.0, 4.0),
        ];
        let count = outline.len();
        let points: Vec<DVec3> = [0.0, 1.0]
            .into_iter()
            .flat_map(|z| outline.map(|(x, y)| DVec3::new(x, y, z)))
            .collect();
        let mut triangles = Vec::new();
        let top: Vec<usize> = (count..2 * count).collect();
        let corners = [top.into_iter()].into_iter();
        let mut faces = PlaneFaces::default();
        let axes = [DVec3::X, DVec3::Y];
        faces
            .divide(&points, corners, axes, &mut triangles)
            .unwrap();
        let lower: Vec<[usize; 3]> = triangles
            .iter()
            .map(|&[a, b, c]| [a - count, c - count, b - count])
            .collect();
        triangles.extend(lower);
        for i in 0..count {
            let j = (i + 1) % count;
            triangles.push([i, j, j + count]);
            triangles.push([i, j + count, i + count]);
        }
        Mesh { points, triangles }
    }

    #[test]
    fn a_cut_through_two_prongs_leaves_closed_parts_and_loose_ends_apart() {
        let fork = fork();
        assert!((judge_mesh(&fork).unwrap() - 11.0).abs() < 1e-12);
        let [below, above] = cut(&fork, 2.5).unwrap();
        // 5 of the bar and twice 1.5 of the prongs; twice 1.5 beyond.
        assert!((judge_mesh(&below).unwrap() - 8.0).abs() < 1e-12);
        let loose = bodies(&above);
        assert_eq!((bodies(&below).len(), loose.len()), (1, 2));
        for prong in loose {
            assert!((judge_mesh(&prong).unwrap() - 1.5).abs() < 1e-12);
        }
        assert!(cut(&fork, 1.0).is_err(), "through corners");
    }
}
