//! Points that plain doubles cannot tell apart from points in line.

use glam::DVec2;

use super::regions::{Loops, circle, divide, holds};
use crate::solid::mesh::sweep::{Sweep, turn};

/// A corner that lies a bit of the last place beside a long edge, or in it: 2⁻⁵³ is the step of
/// doubles below 1. Of 256 places a difference of products tells a good part to the wrong side.
#[test]
fn corners_beside_a_line_by_the_last_place_are_told_to_the_right_side() {
    let mut sweep = Sweep::default();
    let step = f64::EPSILON / 2.0;
    for i in 0..16 {
        for k in 0..16 {
            let near = DVec2::new(0.5 + f64::from(i) * step, 0.5 + f64::from(k) * step);
            let [middle, far] = [12.0, 24.0].map(DVec2::splat);
            for aside in [DVec2::new(24.0, 0.0), DVec2::new(0.0, 24.0)] {
                let mut corners = vec![near, aside, far, middle];
                if aside.x == 0.0 {
                    corners.reverse();
                }
                let loops: Loops = vec![corners];
                holds(&loops, &divide(&mut sweep, &loops).unwrap());
            }
        }
    }
}

/// The sign itself, by whole numbers: a point so many steps to the right and up lies above the line x = y
/// where it is more of them up. A difference of products of doubles is wrong at some of these places.
#[test]
fn the_sign_of_a_turn_is_exact_to_the_last_place() {
    let step = f64::EPSILON / 2.0;
    let [middle, far] = [12.0, 24.0].map(DVec2::splat);
    let (mut rounded_wrong, mut tried) = (0, 0);
    for right in 0..16_i32 {
        for up in 0..16_i32 {
            let near = DVec2::new(0.5 + f64::from(right) * step, 0.5 + f64::from(up) * step);
            let exact = (up - right).signum();
            let sign = |twice: f64| i32::from(twice > 0.0) - i32::from(twice < 0.0);
            assert_eq!(sign(turn(near, middle, far)), exact, "{right} {up}");
            rounded_wrong += i32::from(sign((middle - near).perp_dot(far - near)) != exact);
            tried += 1;
        }
    }
    assert!(
        rounded_wrong > tried / 10,
        "{rounded_wrong} of {tried} tell nothing"
    );
}

/// Of a square whose diagonals differ by a billionth the shorter is drawn: the share of its own terms
/// below which the test of four points on one circle says nothing is a hundredth of that.
#[test]
fn the_shorter_diagonal_is_drawn_where_a_billionth_tells_them_apart() {
    let mut sweep = Sweep::default();
    let longer = 1.0 + 1e-9;
    for (wide, tall, shorter) in [(longer, 1.0, [1, 3]), (1.0, longer, [0, 2])] {
        for turn in 0..8 {
            let turned = DVec2::from_angle(f64::from(turn) * 0.1);
            let corners = [(wide, 0.0), (0.0, tall), (-wide, 0.0), (0.0, -tall)]
                .map(|(x, y)| turned.rotate(DVec2::new(x, y)));
            for triangle in divide(&mut sweep, &vec![corners.to_vec()]).unwrap() {
                assert!(shorter.iter().all(|end| triangle.contains(end)), "{turn}");
            }
        }
    }
}

/// Rims of bores, a metre from the origin and at it: the exchange of diagonals comes to an end though
/// rounding alone says which of their points lies inside another's circle.
#[test]
fn rims_far_from_the_origin_are_divided_to_an_end() {
    let mut sweep = Sweep::default();
    for count in 3..90_u32 {
        for away in [0.0, 1.0, 30.0, 1000.0] {
            let center = DVec2::new(0.7, -1.1) * away;
            let rim = circle(center, 3.0 + f64::from(count) / 17.0, count as usize, away);
            let loops = vec![rim];
            let triangles = divide(&mut sweep, &loops).unwrap();
            assert_eq!(triangles.len(), loops[0].len() - 2);
        }
    }
}
