//! Hatching of cut wood: narrow lines at 45 degrees that run on from one area to the next.

use glam::DVec2;

use crate::paper::{Layer, LineKind, Sheet};

/// Distance between lines, mm on the paper.
const STEP: f64 = 2.5;

/// Hatches a polygon given by its corners on the paper.
pub(super) fn hatch(sheet: &mut Sheet, corners: &[DVec2]) {
    let across = DVec2::new(-1.0, 1.0) / std::f64::consts::SQRT_2;
    let along = DVec2::new(1.0, 1.0) / std::f64::consts::SQRT_2;
    let heights = || corners.iter().map(|corner| corner.dot(across));
    let low = heights().fold(f64::INFINITY, f64::min);
    let high = heights().fold(f64::NEG_INFINITY, f64::max);
    if !(high - low).is_finite() {
        return;
    }
    let mut row = (low / STEP).ceil();
    while row * STEP < high {
        let level = row * STEP;
        let mut crossings: Vec<f64> = edges(corners)
            .filter_map(|(a, b)| {
                let (from, to) = (a.dot(across) - level, b.dot(across) - level);
                // Half open, so that a corner counts once.
                ((from < 0.0) != (to < 0.0)).then(|| a.lerp(b, from / (from - to)).dot(along))
            })
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let at = |along_line: f64| across * level + along * along_line;
            sheet.line(Layer::Notes, LineKind::Narrow, at(pair[0]), at(pair[1]));
        }
        row += 1.0;
    }
}

fn edges(corners: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> {
    let next = corners.iter().cycle().skip(1);
    corners.iter().copied().zip(next.copied())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::Item;

    /// Lines 2.5 apart over an area A are about A/2.5 long in all.
    #[test]
    fn hatching_fills_the_area_and_stays_in_it() {
        let corners = [
            (0.0, 0.0),
            (40.0, 0.0),
            (40.0, 10.0),
            (20.0, 10.0),
            (20.0, 30.0),
            (0.0, 30.0),
        ]
        .map(|(x, y)| DVec2::new(x, y));
        let mut sheet = Sheet::default();
        hatch(&mut sheet, &corners);
        let mut length = 0.0;
        for item in &sheet.items {
            let Item::Path(path) = item else {
                panic!("only lines");
            };
            let (a, b) = (path.pieces[0].start(), path.pieces[0].end());
            length += a.distance(b);
            let middle = (a + b) / 2.0;
            assert!(middle.y < 10.0 || middle.x < 20.0);
        }
        assert!((length * STEP - 800.0).abs() < 40.0, "{length}");
    }
}
