//! What is refused, told by other means: every pair of edges looked at in whole numbers.

use std::collections::BTreeMap;

use glam::{DVec2, I64Vec2};

use super::regions::{Loops, divide};
use crate::solid::mesh::sweep::Sweep;

type Polygon = Vec<I64Vec2>;

/// Which side of a line through a and b the point c lies on: exact.
fn side(a: I64Vec2, b: I64Vec2, c: I64Vec2) -> i64 {
    (b - a).perp_dot(c - a).signum()
}

fn on(point: I64Vec2, [a, b]: [I64Vec2; 2]) -> bool {
    side(a, b, point) == 0 && (point - a).dot(point - b) <= 0
}

fn meet([a, b]: [I64Vec2; 2], [c, d]: [I64Vec2; 2]) -> bool {
    let touch = on(a, [c, d]) || on(b, [c, d]) || on(c, [a, b]) || on(d, [a, b]);
    touch || side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0
}

fn edges(polygon: &Polygon) -> Vec<[I64Vec2; 2]> {
    let count = polygon.len();
    (0..count)
        .map(|i| [polygon[i], polygon[(i + 1) % count]])
        .collect()
}

fn twice_area(polygon: &Polygon) -> i64 {
    edges(polygon).iter().map(|[a, b]| a.perp_dot(*b)).sum()
}

/// Whether a point that lies on no edge is inside: by a ray to the right that counts crossings.
fn inside(point: I64Vec2, polygon: &Polygon) -> bool {
    let crossed = |[a, b]: &[I64Vec2; 2]| {
        (a.y > point.y) != (b.y > point.y) && (side(*a, *b, point) > 0) == (b.y > a.y)
    };
    edges(polygon).iter().filter(|edge| crossed(edge)).count() % 2 == 1
}

/// Edges meet in common corners alone; a loop within an odd number of others runs clockwise.
fn sound(polygons: &[Polygon]) -> bool {
    let all: Vec<[I64Vec2; 2]> = polygons.iter().flat_map(edges).collect();
    for (i, &one) in all.iter().enumerate() {
        for &other in &all[..i] {
            let common = if one[1] == other[0] {
                Some((one[0], other[1], one[1]))
            } else if one[0] == other[1] {
                Some((one[1], other[0], one[0]))
            } else {
                None
            };
            let wrong = match common {
                // Neighbours: neither runs back over the other.
                Some((start, end, corner)) => {
                    on(start, other) || on(end, one) || start == corner || end == corner
                }
                None => meet(one, other),
            };
            if wrong {
                return false;
            }
        }
    }
    let mut corners: Vec<[i64; 2]> = polygons.iter().flatten().map(|at| at.to_array()).collect();
    corners.sort_unstable();
    corners.windows(2).all(|pair| pair[0] != pair[1])
        && polygons.iter().enumerate().all(|(i, polygon)| {
            let around = polygons
                .iter()
                .enumerate()
                .filter(|(k, other)| *k != i && inside(polygon[0], other));
            (twice_area(polygon) > 0) == (around.count() % 2 == 0)
        })
}

/// Whether no triangle's circle holds the corner across one of its sides: exact.
fn stout(corners: &Polygon, triangles: &[[u32; 3]]) -> bool {
    let turns = |[a, b, c]: [u32; 3]| [[a, b, c], [b, c, a], [c, a, b]];
    let across: BTreeMap<[u32; 2], u32> = triangles
        .iter()
        .flat_map(|triangle| turns(*triangle).map(|[a, b, c]| ([a, b], c)))
        .collect();
    across.iter().all(|([a, b], c)| {
        let Some(d) = across.get(&[*b, *a]) else {
            return true;
        };
        let [a, b, c] = [a, b, c].map(|id| corners[*id as usize] - corners[*d as usize]);
        let lifted = |p: I64Vec2, q: I64Vec2, r: I64Vec2| p.length_squared() * q.perp_dot(r);
        lifted(a, b, c) + lifted(b, c, a) + lifted(c, a, b) <= 0
    })
}

/// Corners on a grid of a few steps, so that points in line, one above the other and in one place are
/// as frequent as can be. The numbers are drawn by a congruence, the same in every run.
#[test]
fn what_is_sound_is_divided_and_nothing_else() {
    let mut state: u64 = 20;
    let mut draw = |below: i64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) % below.unsigned_abs()) as i64
    };
    let mut sweep = Sweep::default();
    let (mut divided, mut with_holes) = (0, 0);
    for round in 0..60_000 {
        let (mut polygons, grid): (Vec<Polygon>, i64) = (Vec::new(), 3 + round % 5);
        for _ in 0..1 + round % 3 {
            let count = 3 + draw(5);
            let mut polygon: Polygon = (0..count)
                .map(|_| I64Vec2::new(draw(grid), draw(grid)))
                .collect();
            // Mostly the way that may be right: the first anticlockwise, the others clockwise.
            let wrong = (twice_area(&polygon) > 0) != polygons.is_empty();
            if wrong && draw(8) > 0 {
                polygon.reverse();
            }
            polygons.push(polygon);
        }
        if round % 4 == 1 {
            // A frame round all, so that more of them are holes that may be sound.
            let [low, high] = [-1, grid];
            let frame = [(low, low), (high, low), (high, high), (low, high)];
            polygons.insert(0, frame.map(|(x, y)| I64Vec2::new(x, y)).to_vec());
            for polygon in &mut polygons[1..] {
                if twice_area(polygon) > 0 {
                    polygon.reverse();
                }
            }
        }
        // The grid lies round the origin, and every other zero is a minus zero.
        let flat = |at: &I64Vec2| {
            let [x, y] = [at.x - 1, at.y - 1].map(|along| along as f64);
            if at.x == 1 && at.y % 2 == 0 {
                DVec2::new(-0.0, y)
            } else {
                DVec2::new(x, y)
            }
        };
        let loops: Loops = polygons
            .iter()
            .map(|polygon| polygon.iter().map(flat).collect())
            .collect();
        let found = divide(&mut sweep, &loops);
        assert_eq!(found.is_ok(), sound(&polygons), "{polygons:?}");
        let Ok(triangles) = found else {
            continue;
        };
        divided += 1;
        with_holes += usize::from(polygons.len() > 1);
        let corners: Polygon = polygons.iter().flatten().copied().collect();
        let areas = triangles.iter().map(|triangle| {
            let own = twice_area(&triangle.map(|i| corners[i as usize]).to_vec());
            assert!(own > 0, "{triangle:?} of {polygons:?}");
            own
        });
        let whole: i64 = polygons.iter().map(twice_area).sum();
        assert_eq!(areas.sum::<i64>(), whole, "{polygons:?}");
        assert!(stout(&corners, &triangles), "{polygons:?}");
    }
    assert!(
        divided > 2_000 && with_holes > 500,
        "{divided}, {with_holes}"
    );
}
