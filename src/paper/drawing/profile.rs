//! What a bore takes away, seen along the plane of its axis: half its height against depth.

use crate::layout::{Bore, EndCut};

/// Half height of what the bore takes away against depth along its axis, up to `far`.
pub(super) fn profile(bore: &Bore, far: f64) -> Vec<(f64, f64)> {
    let r = bore.radius();
    let mut steps = Vec::new();
    if let Some(mouth) = bore.counterbore {
        steps.push((0.0, mouth.diameter / 2.0));
        steps.push((mouth.depth, mouth.diameter / 2.0));
        steps.push((mouth.depth, r));
    } else {
        steps.push((0.0, r));
    }
    match bore.end_plane {
        Some((_, EndCut::FullDiameter)) => {
            let end = bore.length_in_model.min(far);
            steps.push((end, r));
            if end < far {
                steps.push((end, 0.0));
            }
        }
        Some((w, EndCut::Point)) => {
            let end = bore.depth_at_plane(w).min(far);
            let left = (bore.depth + bore.point_height - end) / bore.point_height;
            steps.push((bore.depth, r));
            steps.push((end, r * left));
            if end < far {
                steps.push((end, 0.0));
            }
        }
        None => {
            steps.push((bore.depth, r));
            steps.push((bore.depth + bore.point_height, 0.0));
        }
    }
    if let Some(&(end, _)) = steps.last().filter(|last| last.0 < far) {
        debug_assert!(end <= far);
        steps.push((far, 0.0));
    }
    steps
}

/// The part of a profile between two depths.
pub(super) fn clipped(profile: &[(f64, f64)], from: f64, to: f64) -> Vec<(f64, f64)> {
    let mut out: Vec<(f64, f64)> = Vec::new();
    for pair in profile.windows(2) {
        let ((a, high), (b, low)) = (pair[0], pair[1]);
        let (start, end) = (a.max(from), b.min(to));
        if start > end || (b < from || a > to) {
            continue;
        }
        let at = |depth: f64| {
            if b > a {
                high + (low - high) * (depth - a) / (b - a)
            } else {
                low
            }
        };
        if b > a {
            for depth in [start, end] {
                if out.last() != Some(&(depth, at(depth))) {
                    out.push((depth, at(depth)));
                }
            }
        } else {
            out.push((b, low));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::{Copy, Layout};

    /// Ø10.5 and 32.5 deep with a point of 118 degrees, cut by the centre plane in its point where
    /// that is farther than D.
    #[test]
    fn a_bore_that_opens_at_its_point() {
        let layout = Layout::new(&six_string(), Copy::Finished);
        let bore = &layout.sides.treble.bores[2];
        let centre = bore.depth_at_plane(0.0);
        let steps = profile(bore, centre);
        let fall = 59f64.to_radians().tan();
        assert_eq!(steps[0], (0.0, 5.25));
        assert_eq!(steps[1], (32.5, 5.25));
        assert!((steps[2].0 - centre).abs() < 1e-12);
        assert!((steps[2].1 - (5.25 - (centre - 32.5) * fall)).abs() < 1e-9);
        let part = clipped(&steps, 10.0, 20.0);
        assert_eq!(part, vec![(10.0, 5.25), (20.0, 5.25)]);
    }
}
