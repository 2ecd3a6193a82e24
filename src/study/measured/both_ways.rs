//! What moving lengths up and down does to a value that may be the worst of two places.

use crate::tolerance::NOISE;

/// How far a length may move a value: half from end to end where the value follows it; the farther way where
/// it does not, as the worst of two places and an absolute value do, which fall either way.
pub(super) fn size([up, down]: [f64; 2]) -> f64 {
    if follows([up, down]) {
        (up - down).abs() / 2.0
    } else {
        up.abs().max(down.abs())
    }
}

/// Whether a value rises one way and falls the other.
fn follows([up, down]: [f64; 2]) -> bool {
    up * down < 0.0
}

/// Directions in which several lengths together move a value farthest, as shares with their signs: with and against
/// those it follows; of each of the others both ways are tried, since which of two places is worst then
/// hangs on all of them.
pub(super) fn directions(changes: &[[f64; 2]]) -> Vec<Vec<f64>> {
    let kinked: Vec<usize> = (0..changes.len())
        .filter(|&index| !follows(changes[index]) && size(changes[index]) > NOISE)
        .take(MOST_KINKED)
        .collect();
    let mut all = Vec::new();
    for sign in [1.0, -1.0] {
        for bits in 0..1_u32 << kinked.len() {
            let each = changes.iter().enumerate().map(|(index, &[up, down])| {
                match kinked.iter().position(|&kinked| kinked == index) {
                    Some(place) if bits >> place & 1 == 0 => up.abs(),
                    Some(_) => -down.abs(),
                    None => sign * (up - down) / 2.0,
                }
            });
            all.push(each.collect());
        }
    }
    all
}

/// With more such lengths only so many are tried both ways: a search costs a reading of the file a direction.
const MOST_KINKED: usize = 6;
