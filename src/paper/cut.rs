//! What of a piece lies within a region: for pages that show part of a drawing, and for lines of
//! which only some stretches may be cut.

use glam::DVec2;

use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;

/// The stretches of `piece` inside `region`, in order along it, as fractions of its length. What
/// only touches the boundary, or runs along it, may count either way.
#[must_use]
pub fn inside(piece: &Piece, region: &Region) -> Vec<[f64; 2]> {
    let mut cuts = vec![0.0, 1.0];
    for wall in &region.boundary {
        cuts.extend(crossings(piece, wall));
    }
    cuts.sort_by(f64::total_cmp);
    let mut stretches: Vec<[f64; 2]> = Vec::new();
    for pair in cuts.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        if to - from <= NOISE || !region.contains(piece.at((from + to) / 2.0)) {
            continue;
        }
        match stretches.last_mut() {
            Some(last) if from - last[1] <= NOISE => last[1] = to,
            _ => stretches.push([from, to]),
        }
    }
    stretches
}

/// The parts of `piece` inside `region`.
#[must_use]
pub fn within(piece: &Piece, region: &Region) -> Vec<Piece> {
    inside(piece, region)
        .into_iter()
        .map(|[from, to]| stretch(piece, from, to))
        .collect()
}

/// The stretch of a piece between two fractions of its length.
#[must_use]
pub fn stretch(piece: &Piece, start: f64, end: f64) -> Piece {
    match *piece {
        Piece::Line { .. } => Piece::Line {
            a: piece.at(start),
            b: piece.at(end),
        },
        Piece::Arc {
            center,
            radius,
            from,
            sweep,
        } => Piece::Arc {
            center,
            radius,
            from: from + sweep * start,
            sweep: sweep * (end - start),
        },
    }
}

/// Fractions of `piece` at which it crosses `wall`. Two arcs are not asked for and give none.
fn crossings(piece: &Piece, wall: &Piece) -> Vec<f64> {
    match (piece, wall) {
        (Piece::Line { a, b }, &Piece::Line { a: c, b: d }) => {
            let (along, across) = (*b - *a, d - c);
            let turn = along.perp_dot(across);
            if turn.abs() < NOISE {
                return Vec::new();
            }
            let t = (c - *a).perp_dot(across) / turn;
            let u = (c - *a).perp_dot(along) / turn;
            keep([t], |_| (-NOISE..=1.0 + NOISE).contains(&u))
        }
        (Piece::Line { a, b }, Piece::Arc { center, radius, .. }) => {
            let on_circle = line_meets_circle(*a, *b, *center, *radius);
            keep(on_circle, |t| fraction_on_arc(wall, piece.at(t)).is_some())
        }
        (Piece::Arc { center, radius, .. }, &Piece::Line { a, b }) => {
            line_meets_circle(a, b, *center, *radius)
                .into_iter()
                .filter(|u| (-NOISE..=1.0 + NOISE).contains(u))
                .filter_map(|u| fraction_on_arc(piece, a + (b - a) * u))
                .collect()
        }
        (Piece::Arc { .. }, Piece::Arc { .. }) => Vec::new(),
    }
}

fn keep(list: impl IntoIterator<Item = f64>, also: impl Fn(f64) -> bool) -> Vec<f64> {
    list.into_iter()
        .filter(|t| *t > 0.0 && *t < 1.0 && also(*t))
        .collect()
}

/// Fractions of a→b, prolonged, at which it meets a circle.
fn line_meets_circle(a: DVec2, b: DVec2, center: DVec2, radius: f64) -> Vec<f64> {
    let (along, to) = (b - a, a - center);
    let (p, q) = (along.length_squared(), to.dot(along));
    let root = q * q - p * (to.length_squared() - radius * radius);
    if p <= 0.0 || root <= 0.0 {
        return Vec::new();
    }
    vec![(-q - root.sqrt()) / p, (-q + root.sqrt()) / p]
}

/// Fraction of an arc at which it passes the direction of `point`; `None` where it does not.
fn fraction_on_arc(arc: &Piece, point: DVec2) -> Option<f64> {
    let &Piece::Arc {
        center,
        from,
        sweep,
        ..
    } = arc
    else {
        return None;
    };
    let turn = ((point - center).to_angle() - from) * sweep.signum();
    let fraction = turn.rem_euclid(std::f64::consts::TAU) / sweep.abs();
    (fraction <= 1.0).then_some(fraction)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn square() -> Region {
        Region::polygon(&[
            DVec2::ZERO,
            DVec2::new(10.0, 0.0),
            DVec2::new(10.0, 10.0),
            DVec2::new(0.0, 10.0),
        ])
    }

    fn line(a: [f64; 2], b: [f64; 2]) -> Piece {
        Piece::Line {
            a: a.into(),
            b: b.into(),
        }
    }

    #[test]
    fn lines_are_cut_at_the_walls() {
        let cut = within(&line([-5.0, 4.0], [15.0, 4.0]), &square());
        assert_eq!(cut, vec![line([0.0, 4.0], [10.0, 4.0])]);
        assert!(within(&line([-5.0, 14.0], [15.0, 14.0]), &square()).is_empty());
        let whole = line([1.0, 1.0], [2.0, 3.0]);
        assert_eq!(within(&whole, &square()), vec![whole]);
    }

    #[test]
    fn an_arc_leaves_and_comes_back() {
        // Half a circle round the middle of the lower wall, radius 6: within for the angles from
        // acos(5/6) to its supplement.
        let arc = Piece::Arc {
            center: DVec2::new(5.0, 0.0),
            radius: 6.0,
            from: 0.0,
            sweep: PI,
        };
        let cut = within(&arc, &square());
        let expected = 6.0 * (PI - 2.0 * (5.0_f64 / 6.0).acos());
        assert_eq!(cut.len(), 1);
        assert!((cut[0].length() - expected).abs() < 1e-9);
        let back = Piece::Arc {
            center: DVec2::new(5.0, 0.0),
            radius: 6.0,
            from: PI,
            sweep: -PI,
        };
        assert!((within(&back, &square())[0].length() - expected).abs() < 1e-9);
    }

    #[test]
    fn a_line_through_a_round_end() {
        let half_disc = Region {
            boundary: vec![
                line([-2.0, 0.0], [2.0, 0.0]),
                Piece::Arc {
                    center: DVec2::ZERO,
                    radius: 2.0,
                    from: 0.0,
                    sweep: PI,
                },
            ],
        };
        let cut = within(&line([-9.0, 1.0], [9.0, 1.0]), &half_disc);
        assert!((cut[0].length() - 2.0 * 3.0_f64.sqrt()).abs() < 1e-9);
    }
}
