//! Between which values of one number a few checks hold, found on the real checks.

use crate::check::{self, Verdict};
use crate::input::Design;
use crate::layout::{Copy, Layout};

/// One end of a range, and the check that sets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// mm; the check holds here, to [`EXACT`].
    pub value: f64,
    /// Its code.
    pub check: &'static str,
}

/// What the ranges of several checks have in common.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Range {
    /// Least value; `None` where no check sets one within what was searched.
    pub least: Option<End>,
    /// Greatest value.
    pub greatest: Option<End>,
    /// A check that holds nowhere within what was searched.
    pub never: Option<&'static str>,
}

impl Range {
    /// Whether any value lies in it.
    #[must_use]
    pub fn is_open(&self) -> bool {
        let crossed =
            matches!((self.least, self.greatest), (Some(a), Some(b)) if a.value > b.value);
        self.never.is_none() && !crossed
    }

    /// Whether a value lies in it.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        self.is_open()
            && self.least.is_none_or(|end| value >= end.value - EXACT)
            && self.greatest.is_none_or(|end| value <= end.value + EXACT)
    }
}

/// Ends are found this closely, mm.
pub const EXACT: f64 = 1e-7;
/// Places at which every check is asked first. Each check's range is in one piece, so the grid need
/// not be fine; one that lies between two places is found by climbing to it.
const PLACES: usize = 40;
/// Steps of climbing, each of which leaves 0.618 of the way.
const CLIMB: usize = 40;

/// How well a check holds: the worse verdict is worse, then the smaller margin.
type Rating = (Verdict, f64);

fn better(one: Rating, other: Rating) -> bool {
    one.0 < other.0 || (one.0 == other.0 && one.1 > other.1)
}

/// The ranges without a stop, and without a caution either.
pub(super) fn ranges(
    checks: &[&'static str],
    span: [f64; 2],
    here: Option<f64>,
    change: &dyn Fn(f64) -> Design,
) -> [Range; 2] {
    let copies = |value: f64| {
        let design = change(value);
        [Copy::Finished, Copy::Printed].map(|copy| Layout::new(&design, copy))
    };
    let places: Vec<f64> = grid(span, here);
    let layouts: Vec<[Layout; 2]> = places.iter().map(|&value| copies(value)).collect();
    let mut out = [Range::default(); 2];
    for &code in checks {
        let rate = |[finished, printed]: &[Layout; 2]| {
            check::one(code, finished, printed).map_or((Verdict::Clear, f64::INFINITY), |finding| {
                (finding.verdict, finding.margin)
            })
        };
        let ratings: Vec<Rating> = layouts.iter().map(&rate).collect();
        for (range, most) in out.iter_mut().zip([Verdict::Caution, Verdict::Clear]) {
            let at = |value: f64| rate(&copies(value));
            match held(&places, &ratings, most, here, &at) {
                None => range.never = range.never.or(Some(code)),
                Some([least, greatest]) => {
                    let end = |value| End { value, check: code };
                    if let Some(value) = least
                        && range.least.is_none_or(|end| value > end.value)
                    {
                        range.least = Some(end(value));
                    }
                    if let Some(value) = greatest
                        && range.greatest.is_none_or(|end| value < end.value)
                    {
                        range.greatest = Some(end(value));
                    }
                }
            }
        }
    }
    out
}

/// Even places over the span, and the present value among them.
#[allow(clippy::cast_precision_loss)]
fn grid([from, to]: [f64; 2], here: Option<f64>) -> Vec<f64> {
    let mut places: Vec<f64> = (0..=PLACES)
        .map(|i| from + (to - from) * i as f64 / PLACES as f64)
        .chain(here.filter(|here| *here > from && *here < to))
        .collect();
    places.sort_by(f64::total_cmp);
    places.dedup();
    places
}

/// The range in which one check is no worse than `most`; an end is `None` where the check still holds
/// at the end of the span, the whole is `None` where it holds nowhere.
fn held(
    places: &[f64],
    ratings: &[Rating],
    most: Verdict,
    here: Option<f64>,
    at: &dyn Fn(f64) -> Rating,
) -> Option<[Option<f64>; 2]> {
    let holds = |rating: &Rating| rating.0 <= most;
    let found = run(places, ratings, most, here);
    let (inside, before, after) = match found {
        Some((first, last)) => (
            (*places.get(first)?, *places.get(last)?),
            first.checked_sub(1).and_then(|i| places.get(i)).copied(),
            places.get(last + 1).copied(),
        ),
        None => {
            let best = (0..ratings.len()).reduce(|best, next| {
                if better(ratings[next], ratings[best]) {
                    next
                } else {
                    best
                }
            })?;
            let low = *places.get(best.saturating_sub(1))?;
            let high = *places.get(best + 1).or(places.last())?;
            let top = climb(low, high, at);
            if !holds(&at(top)) {
                return None;
            }
            // At the span's own end there may be nothing to leave on one side.
            let side = |value: f64| (!holds(&at(value))).then_some(value);
            ((top, top), side(low), side(high))
        }
    };
    let end = |good: f64, bad: Option<f64>| {
        bad.map(|bad| {
            let (mut good, mut bad) = (good, bad);
            while (bad - good).abs() > EXACT / 2.0 {
                let middle = f64::midpoint(good, bad);
                if holds(&at(middle)) {
                    good = middle;
                } else {
                    bad = middle;
                }
            }
            good
        })
    };
    Some([end(inside.0, before), end(inside.1, after)])
}

/// First and last of the places that hold in one piece: the piece with the present value, else the
/// longest.
fn run(
    places: &[f64],
    ratings: &[Rating],
    most: Verdict,
    here: Option<f64>,
) -> Option<(usize, usize)> {
    let mut pieces: Vec<(usize, usize)> = Vec::new();
    for (index, rating) in ratings.iter().enumerate() {
        if rating.0 > most {
            continue;
        }
        match pieces.last_mut() {
            Some(piece) if piece.1 + 1 == index => piece.1 = index,
            _ => pieces.push((index, index)),
        }
    }
    let length = |piece: &(usize, usize)| places[piece.1] - places[piece.0];
    let with_here = |piece: &&(usize, usize)| {
        here.is_some_and(|here| here >= places[piece.0] && here <= places[piece.1])
    };
    pieces.iter().find(with_here).copied().or_else(|| {
        pieces
            .iter()
            .copied()
            .max_by(|a, b| length(a).total_cmp(&length(b)))
    })
}

/// The best place between two, by the golden section: a margin rises to its best and falls again.
fn climb(low: f64, high: f64, at: &dyn Fn(f64) -> Rating) -> f64 {
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut low, mut high) = (low, high);
    for _ in 0..CLIMB {
        let (left, right) = (high - share * (high - low), low + share * (high - low));
        if better(at(left), at(right)) {
            high = right;
        } else {
            low = left;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A made-up check: a stop outside `stop`, a caution outside `clear`.
    fn rating(value: f64, [a, b]: [f64; 2], [c, d]: [f64; 2]) -> Rating {
        let margin = |low: f64, high: f64| (value - low).min(high - value);
        if margin(a, b) < 0.0 {
            (Verdict::Stop, margin(a, b))
        } else if margin(c, d) < 0.0 {
            (Verdict::Caution, margin(c, d))
        } else {
            (Verdict::Clear, margin(c, d))
        }
    }

    fn found(most: Verdict, stop: [f64; 2], clear: [f64; 2]) -> Option<[Option<f64>; 2]> {
        let places = grid([0.0, 100.0], None);
        let at = |value: f64| rating(value, stop, clear);
        let ratings: Vec<Rating> = places.iter().map(|&value| at(value)).collect();
        held(&places, &ratings, most, None, &at)
    }

    #[test]
    fn ends_are_found_to_the_bisection() {
        let [least, greatest] = found(Verdict::Clear, [10.0, 90.0], [20.3, 71.7]).unwrap();
        assert!((least.unwrap() - 20.3).abs() <= EXACT);
        assert!((greatest.unwrap() - 71.7).abs() <= EXACT);
        let [least, greatest] = found(Verdict::Caution, [10.0, 190.0], [20.3, 71.7]).unwrap();
        assert!((least.unwrap() - 10.0).abs() <= EXACT);
        assert_eq!(greatest, None);
    }

    #[test]
    fn a_range_narrower_than_the_grid_is_climbed_to() {
        let [least, greatest] = found(Verdict::Clear, [10.0, 90.0], [41.131, 41.137]).unwrap();
        assert!((least.unwrap() - 41.131).abs() <= EXACT);
        assert!((greatest.unwrap() - 41.137).abs() <= EXACT);
        assert_eq!(found(Verdict::Clear, [10.0, 90.0], [41.0, 40.0]), None);
    }
}
