//! What fits the printer's bed, and where to part what does not.

use glam::DVec3;

/// Angle about z, radians, at which a body of this size lies on the bed: as it is, turned square,
/// or else askew; `None` where it does not fit. Without a bed everything fits as it is.
pub(super) fn turn_to_fit(size: DVec3, bed: Option<[f64; 3]>) -> Option<f64> {
    let Some([x, y, height]) = bed else {
        return Some(0.0);
    };
    if size.z > height {
        return None;
    }
    let degrees = [0, 90].into_iter().chain((1..18).map(|step| 5 * step));
    degrees
        .map(|degrees| f64::from(degrees).to_radians())
        .find(|angle| {
            let taken = turned_size(size, *angle);
            taken.x <= x + crate::tolerance::NOISE && taken.y <= y + crate::tolerance::NOISE
        })
}

/// The box that a body of this size takes up when turned about z.
pub(super) fn turned_size(size: DVec3, angle: f64) -> DVec3 {
    let (sin, cos) = angle.sin_cos();
    let (sin, cos) = (sin.abs(), cos.abs());
    DVec3::new(
        size.x * cos + size.y * sin,
        size.x * sin + size.y * cos,
        size.z,
    )
}

/// Cuts that part a length into the fewest pieces for which `fits` holds, the longest of them as
/// short as can be. `taken` are stretches that no cut may touch; each gap between two of them offers
/// its middle. `None` where no cuts do. `fits` must hold for every shorter piece as well.
pub(super) fn cuts(
    length: f64,
    taken: &[(f64, f64)],
    fits: impl Fn(f64) -> bool,
) -> Option<Vec<f64>> {
    let mut offered = middles(taken);
    offered.retain(|at| *at > 0.0 && *at < length);
    let mut lengths: Vec<f64> = Vec::new();
    let stops: Vec<f64> = [0.0]
        .into_iter()
        .chain(offered.iter().copied())
        .chain([length])
        .collect();
    for (index, from) in stops.iter().enumerate() {
        lengths.extend(stops[index + 1..].iter().map(|to| to - from));
    }
    lengths.retain(|piece| fits(*piece));
    lengths.sort_by(f64::total_cmp);
    let longest = *lengths.last()?;
    let count = greedy(&stops, longest)?.len();
    lengths
        .into_iter()
        .find_map(|limit| greedy(&stops, limit).filter(|cuts| cuts.len() == count))
}

/// Cuts at the farthest stop each time.
fn greedy(stops: &[f64], longest: f64) -> Option<Vec<f64>> {
    let mut cuts = Vec::new();
    let (mut from, mut at) = (*stops.first()?, 0);
    loop {
        let next = (at + 1..stops.len())
            .rev()
            .find(|&next| stops[next] - from <= longest)?;
        if next + 1 == stops.len() {
            return Some(cuts);
        }
        (from, at) = (stops[next], next);
        cuts.push(from);
    }
}

/// Middle of every gap between stretches.
fn middles(taken: &[(f64, f64)]) -> Vec<f64> {
    let mut sorted = taken.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut middles = Vec::new();
    let mut reached = f64::NEG_INFINITY;
    for (from, to) in sorted {
        if reached.is_finite() && from > reached {
            middles.push((from + reached) / 2.0);
        }
        reached = reached.max(to);
    }
    middles
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOLES: [(f64, f64); 4] = [(10.0, 20.0), (40.0, 50.0), (70.0, 80.0), (100.0, 110.0)];

    #[test]
    fn a_long_body_lies_square_turned_or_askew() {
        let bar = DVec3::new(132.0, 20.0, 24.0);
        let turn = |bed| turn_to_fit(bar, Some(bed)).map(|a| a.to_degrees().round());
        assert_eq!(turn([140.0, 30.0, 24.0]), Some(0.0));
        assert_eq!(turn([30.0, 140.0, 24.0]), Some(90.0));
        assert_eq!(turn([120.0, 120.0, 24.0]), Some(35.0));
        assert_eq!(turn([100.0, 100.0, 100.0]), None);
        assert_eq!(turn([140.0, 30.0, 23.9]), None);
        assert_eq!(turn_to_fit(bar, None), Some(0.0));
    }

    #[test]
    fn cuts_lie_between_holes_and_even_out() {
        let cut = |limit: f64| cuts(120.0, &HOLES, |piece| piece <= limit);
        assert_eq!(cut(60.0), Some(vec![60.0]));
        // Two pieces of at most 100: 60 and 60 rather than 90 and 30.
        assert_eq!(cut(100.0), Some(vec![60.0]));
        assert_eq!(cut(59.0), Some(vec![30.0, 60.0, 90.0]));
        assert_eq!(cut(29.0), None);
        assert_eq!(cuts(120.0, &[(10.0, 20.0)], |piece| piece < 100.0), None);
    }
}
