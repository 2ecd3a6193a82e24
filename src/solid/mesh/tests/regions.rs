//! Plane regions as they are swept.

use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

use glam::DVec2;
use proptest::prelude::*;
use robust::{Coord, orient2d};

use crate::solid::mesh::net::{NOTHING, Net};
use crate::solid::mesh::sweep::{NotSimple, Sweep};

pub(super) type Loops = Vec<Vec<DVec2>>;

pub(super) fn divide(sweep: &mut Sweep, loops: &Loops) -> Result<Vec<[u32; 3]>, NotSimple> {
    let points = || loops.iter().flatten().copied();
    let counts = || loops.iter().map(Vec::len);
    if let Ok(net) = sweep.divide(points(), counts()) {
        joined_as_swept(net, &points().collect::<Vec<_>>());
    }
    sweep.triangles(points(), counts()).map(<[_]>::to_vec)
}

/// As the line leaves them, before an exchange of diagonals may mend it: every triangle has an area, and
/// every side that two have in common is known to both.
fn joined_as_swept(net: &Net, points: &[DVec2]) {
    let mut halves = BTreeMap::new();
    for (triangle, corners) in net.triangles.iter().enumerate() {
        let [a, b, c] = corners.map(|corner| {
            let DVec2 { x, y } = points[corner as usize];
            Coord { x, y }
        });
        assert!(orient2d(a, b, c) > 0.0, "{corners:?} has no area");
        for i in 0..3 {
            halves.insert((corners[i], corners[(i + 1) % 3]), 3 * triangle + i);
        }
    }
    for (&(a, b), &half) in &halves {
        let twin = halves.get(&(b, a)).map_or(NOTHING, |&twin| twin as u32);
        assert_eq!(net.twin(half), twin, "behind the side from {a} to {b}");
    }
}

fn area([a, b, c]: [DVec2; 3]) -> f64 {
    (b - a).perp_dot(c - a) / 2.0
}

/// A polygon on a circle, anticlockwise.
pub(super) fn circle(center: DVec2, radius: f64, count: usize, from: f64) -> Vec<DVec2> {
    (0..count)
        .map(|i| center + radius * DVec2::from_angle(from + TAU * i as f64 / count as f64))
        .collect()
}

fn reversed(mut corners: Vec<DVec2>) -> Vec<DVec2> {
    corners.reverse();
    corners
}

pub(super) fn square(least: f64, most: f64) -> Vec<DVec2> {
    [(least, least), (most, least), (most, most), (least, most)]
        .map(|(x, y)| DVec2::new(x, y))
        .to_vec()
}

/// Every boundary edge once, every other edge once each way, as many triangles as a region with these
/// points and holes has, each with an area, and no circle of one that holds a neighbour's corner.
pub(super) fn holds(loops: &Loops, triangles: &[[u32; 3]]) {
    let points: Vec<DVec2> = loops.iter().flatten().copied().collect();
    assert_eq!(triangles.len(), points.len() + 2 * loops.len() - 4);
    let at = |corner: u32| points[corner as usize];
    let mut edges: BTreeMap<(u32, u32), u32> = BTreeMap::new();
    let mut whole = 0.0;
    for corners in triangles {
        // The sign exactly: points may be in line but for rounding.
        let [a, b, c] = corners.map(|corner| Coord {
            x: at(corner).x,
            y: at(corner).y,
        });
        let twice = orient2d(a, b, c);
        assert!(twice > 0.0, "{corners:?} has twice the area {twice:e}");
        whole += area(corners.map(at));
        for i in 0..3 {
            let [a, b, c] = [0, 1, 2].map(|k| corners[(i + k) % 3]);
            assert!(edges.insert((a, b), c).is_none(), "{a} to {b} twice");
        }
    }
    let mut first = 0;
    let mut by_hand = 0.0;
    let mut boundary = 0;
    for corners in loops {
        let count = corners.len();
        for i in 0..count {
            let [a, b] = [i, (i + 1) % count].map(|k| (first + k) as u32);
            assert!(edges.contains_key(&(a, b)) && !edges.contains_key(&(b, a)));
            by_hand += at(a).perp_dot(at(b)) / 2.0;
            boundary += 1;
        }
        first += count;
    }
    // Sums of some hundred areas of up to 1e4 mm².
    assert!((whole - by_hand).abs() < 1e-8, "{whole} for {by_hand}");
    let alone = edges.keys().filter(|(a, b)| !edges.contains_key(&(*b, *a)));
    assert_eq!(alone.count(), boundary);
    for ((a, b), c) in &edges {
        if let Some(d) = edges.get(&(*b, *a)) {
            // Opposite angles together at most half a turn, told to 1e-6: the exchange stops at 1e-11
            // of the test's own terms.
            let angle = |corner: u32| (at(*a) - at(corner)).angle_to(at(*b) - at(corner)).abs();
            assert!(angle(*c) + angle(*d) < PI + 1e-6, "{a} {b} {c} {d}");
        }
    }
}

#[test]
fn regions_with_points_in_line_one_above_the_other_and_on_one_circle() {
    let mut sweep = Sweep::default();
    let mut rows: Loops = vec![square(0.0, 60.0)];
    for i in 0..5 {
        for k in 0..5 {
            let center = DVec2::new(10.0 + 10.0 * f64::from(i), 10.0 + 10.0 * f64::from(k));
            let hole = match (i + k) % 3 {
                0 => [-3.0, 3.0]
                    .map(|x| [-3.0, 3.0].map(|y| center + DVec2::new(x, y)))
                    .concat(),
                1 => circle(center, 4.0, 24, 0.0),
                _ => circle(center, 4.9, 51, 0.3),
            };
            // Corners of a square stand in the order of their x: put them round it.
            let hole = if hole.len() == 4 {
                vec![hole[0], hole[2], hole[3], hole[1]]
            } else {
                hole
            };
            rows.push(reversed(hole));
        }
    }
    let comb: Vec<DVec2> = (0..9)
        .map(|i| DVec2::new(f64::from(i), if i % 2 == 0 { 5.0 } else { 1.0 }))
        .rev()
        .chain([DVec2::ZERO, DVec2::new(4.0, -0.0), DVec2::new(8.0, 0.0)])
        .collect();
    for loops in [
        vec![square(0.0, 1.0)],
        vec![circle(DVec2::ZERO, 5.25, 51, 0.1)],
        vec![
            circle(DVec2::ZERO, 6.0, 53, 0.0),
            reversed(circle(DVec2::ZERO, 5.9, 53, 0.0)),
        ],
        vec![comb],
        rows,
    ] {
        let triangles = divide(&mut sweep, &loops).unwrap();
        holds(&loops, &triangles);
        // What was in the room before tells nothing.
        assert_eq!(divide(&mut Sweep::default(), &loops).unwrap(), triangles);
    }
}

#[test]
fn boundaries_that_touch_or_cross_are_refused_and_the_room_stays_good() {
    let outer = || square(0.0, 10.0);
    let hole = |least: f64, most: f64| reversed(square(least, most));
    let polygon = |corners: &[(f64, f64)]| corners.iter().map(|&(x, y)| DVec2::new(x, y)).collect();
    let mut sweep = Sweep::default();
    for (what, loops) in [
        ("clockwise", vec![reversed(outer())]),
        ("hole anticlockwise", vec![outer(), square(2.0, 4.0)]),
        ("hole over the edge", vec![outer(), hole(5.0, 12.0)]),
        ("hole beside", vec![outer(), hole(11.0, 12.0)]),
        ("hole around", vec![outer(), hole(-1.0, 11.0)]),
        (
            "holes over one another",
            vec![outer(), hole(2.0, 5.0), hole(4.0, 8.0)],
        ),
        (
            "hole in a hole",
            vec![outer(), hole(2.0, 8.0), hole(4.0, 6.0)],
        ),
        ("hole at a corner", vec![outer(), hole(0.0, 3.0)]),
        (
            "holes at a corner",
            vec![outer(), hole(2.0, 4.0), hole(4.0, 6.0)],
        ),
        (
            "hole touching an edge",
            vec![outer(), polygon(&[(5.0, 10.0), (6.0, 8.0), (4.0, 8.0)])],
        ),
        (
            "figure eight",
            vec![polygon(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)])],
        ),
        (
            "a notch whose sides cross",
            vec![polygon(&[
                (0.0, 0.0),
                (10.0, 0.0),
                (10.0, 5.0),
                (4.0, 5.0),
                (5.0, 1.0),
                (6.0, 5.1),
                (0.0, 5.0),
            ])],
        ),
        (
            "a point twice",
            vec![polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (0.0, 4.0)])],
        ),
        (
            "there and back",
            vec![polygon(&[(0.0, 0.0), (4.0, 0.0), (8.0, 0.0), (4.0, 0.0)])],
        ),
        (
            "rims that cross in a narrow ring",
            vec![
                circle(DVec2::ZERO, 6.0, 24, 0.0),
                reversed(circle(DVec2::ZERO, 5.99, 24, PI / 24.0)),
            ],
        ),
    ] {
        assert_eq!(divide(&mut sweep, &loops), Err(NotSimple), "{what}");
        let sound = vec![outer(), hole(3.0, 5.0)];
        holds(&sound, &divide(&mut sweep, &sound).unwrap());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_star_with_any_holes(
        radii in prop::collection::vec(20.0..40.0_f64, 5..60),
        turn in 0.0..TAU,
        holes in prop::collection::vec((0.1..1.9_f64, 3..40_usize, 0.0..TAU), 0..12),
    ) {
        let count = radii.len();
        let star = (0..count)
            .map(|i| radii[i] * DVec2::from_angle(turn + TAU * i as f64 / count as f64))
            .collect();
        let mut loops = vec![star];
        for (i, (radius, count, from)) in holes.into_iter().enumerate() {
            // In rows of four, 4 mm apart, all within the circle that every star of five or more holds.
            let center = DVec2::new((i % 4) as f64 * 4.0 - 6.0, (i / 4) as f64 * 4.0 - 4.0);
            loops.push(reversed(circle(center, radius, count, from)));
        }
        holds(&loops, &divide(&mut Sweep::default(), &loops).unwrap());
    }
}
