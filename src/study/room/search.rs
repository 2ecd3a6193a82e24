//! Every change of verdict along one number, found on the real checks.
//!
//! The number is moved outward from its present value in steps of [`Reach::step`], and between two
//! steps the place of every change is halved down to [`RESOLUTION`]. A check may also say something
//! else for a moment *between* two steps that look alike. Its margins tell: a margin `m` on both
//! sides of a gap cannot have been used up within the gap unless it falls and rises again faster
//! than `2 m` over the gap. So every gap is halved whose margins are small enough for that at the
//! steepest slope believed: three times what is seen across the gap and its neighbours, and never
//! less than [`LEAST_SLOPE`].
//!
//! Within a gap only the checks are asked that speak otherwise at its two ends, could hide something
//! in it, or do not apply at one end. For the others no half of the gap can hide anything either: by
//! the slope believed, a margin that could be used up in a half could be so in the whole. They count
//! with what they say at the nearer end.

use super::super::trial::Grade;
use super::sample::{Checks, Sample};
use super::slopes::{Slopes, common, margins, slopes};

/// A change of verdict is found to this, mm (degrees; the same of a bare number): a fifth of the
/// hundredth that is promised. Gaps are halved no further, so an island narrower than this may be
/// passed over.
pub const RESOLUTION: f64 = 0.002;
/// No margin is believed to change less steeply than this, in its unit a millimetre: most margins
/// follow a length one to one, or at half its pace.
const LEAST_SLOPE: f64 = 1.5;
/// How much steeper than seen a margin is believed to run unseen.
const UNSEEN: f64 = 3.0;
/// How far and how finely a number is moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// How far to either side.
    pub far: f64,
    /// The step.
    pub step: f64,
    /// Whole steps only.
    pub whole: bool,
}

/// Two values close together on either side of a change, the nearer to the present value first.
#[derive(Debug, Clone)]
pub struct Bracket {
    /// Before the change.
    pub near: Sample,
    /// After it.
    pub beyond: Sample,
}

/// The changes to one side of the present value, outward.
#[derive(Debug, Clone, Default)]
pub struct Changes {
    /// Brackets, outward.
    pub list: Vec<Bracket>,
    /// The farthest value looked at.
    pub end: f64,
}

/// Finds the changes to one side, `way` +1 or -1. With `until`, the search ends at the first change
/// to that grade or a worse one. `try_at` tries a value with some of the checks, or more of them.
pub fn outward(
    now: &Sample,
    way: f64,
    reach: Reach,
    until: Option<Grade>,
    try_at: &impl Fn(f64, Checks) -> Sample,
) -> Changes {
    let mut steps = vec![now.clone()];
    for offset in offsets(reach) {
        let sample = try_at(now.at + way * offset, Checks::ALL);
        let over = until.is_some_and(|until| sample.grade() >= until);
        steps.push(sample);
        if over {
            break;
        }
    }
    let mut changes = Changes {
        list: Vec::new(),
        end: steps.last().map_or(now.at, |last| last.at),
    };
    for (index, pair) in steps.windows(2).enumerate() {
        let [a, b] = pair else { continue };
        if reach.whole {
            if !a.like(b) {
                changes.list.push(Bracket {
                    near: a.clone(),
                    beyond: b.clone(),
                });
            }
            continue;
        }
        let around = steps.get(index.saturating_sub(1)..(index + 3).min(steps.len()));
        let slopes = slopes(around.unwrap_or_default());
        Gap {
            slopes: &slopes,
            try_at,
        }
        .halve(a, b, Checks::ALL, &mut changes.list);
        let first = until.and_then(|until| {
            let hit = |bracket: &Bracket| bracket.beyond.grade() >= until;
            changes.list.iter().position(hit)
        });
        if let Some(first) = first {
            changes.list.truncate(first + 1);
            changes.end = changes.list.last().map_or(now.at, |last| last.beyond.at);
            break;
        }
    }
    changes
}

/// Distances from the present value: fine at first, for small numbers and small changes.
fn offsets(reach: Reach) -> Vec<f64> {
    let mut list = Vec::new();
    if !reach.whole {
        let mut first = reach.step / 32.0;
        while first < reach.step * 0.9 {
            list.push(first);
            first *= 2.0;
        }
    }
    let mut count = 1.0;
    while count * reach.step < reach.far + 1e-9 {
        list.push(count * reach.step);
        count += 1.0;
    }
    if list.last().is_none_or(|last| reach.far - last > 1e-9) && !reach.whole {
        list.push(reach.far);
    }
    list
}

struct Gap<'a, F> {
    slopes: &'a Slopes,
    try_at: &'a F,
}

impl<F: Fn(f64, Checks) -> Sample> Gap<'_, F> {
    /// `asked` are the checks that were asked at every value between two others.
    fn halve(&self, a: &Sample, b: &Sample, asked: Checks, found: &mut Vec<Bracket>) {
        let gap = (b.at - a.at).abs();
        let alike = a.like(b);
        if !alike && gap <= RESOLUTION {
            found.push(Bracket {
                near: a.clone(),
                beyond: b.clone(),
            });
            return;
        }
        if alike && gap <= RESOLUTION {
            return;
        }
        let hiding = self.may_hide(a, b, gap, asked);
        if alike && hiding == Checks::NONE {
            return;
        }
        let to_ask = self.to_ask(a, b, hiding, asked);
        let middle = (self.try_at)(f64::midpoint(a.at, b.at), to_ask).filled(to_ask, a);
        self.halve(a, &middle, to_ask, found);
        self.halve(&middle, b, to_ask, found);
    }

    /// The checks whose margin could be used up, or a missing one made up, between two values.
    fn may_hide(&self, a: &Sample, b: &Sample, gap: f64, asked: Checks) -> Checks {
        common(a, b)
            .filter(|(x, _)| asked.holds(x.order))
            .filter(|(x, y)| {
                let seen = self.slopes.get(x.order).copied().flatten();
                seen.is_some_and(|seen| {
                    let steepest = LEAST_SLOPE.max(UNSEEN * seen);
                    margins(x, y).any(|(m, n)| m.abs() + n.abs() <= steepest * gap)
                })
            })
            .fold(Checks::NONE, |checks, (x, _)| checks.with(x.order))
    }

    /// The checks to be asked between two values: all but those that apply at both, say the same and
    /// cannot hide anything; of those asked so far. Where one value is refused nothing is known of any.
    fn to_ask(&self, a: &Sample, b: &Sample, hiding: Checks, asked: Checks) -> Checks {
        let settled = common(a, b)
            .filter(|(x, y)| x.verdict == y.verdict && !hiding.holds(x.order))
            .fold(Checks::NONE, |checks, (x, _)| checks.with(x.order));
        asked.without(settled)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{Slack, Verdict};

    /// One check whose margin is a function of the number.
    fn made(margin: impl Fn(f64) -> f64) -> impl Fn(f64, Checks) -> Sample {
        move |at, _| {
            let to_stop = margin(at);
            let verdict = if to_stop < 0.0 {
                Verdict::Stop
            } else {
                Verdict::Clear
            };
            let slack = Slack {
                order: 2,
                code: "web",
                verdict,
                to_stop,
                to_caution: f64::INFINITY,
            };
            Sample {
                at,
                tried: Ok(vec![slack]),
            }
        }
    }

    const REACH: Reach = Reach {
        far: 20.0,
        step: 0.23,
        whole: false,
    };

    fn places(margin: impl Fn(f64) -> f64) -> Vec<f64> {
        let try_at = made(margin);
        let found = outward(&try_at(0.0, Checks::ALL), 1.0, REACH, None, &try_at);
        for bracket in &found.list {
            assert!(bracket.beyond.at - bracket.near.at <= RESOLUTION);
        }
        found.list.iter().map(|bracket| bracket.near.at).collect()
    }

    #[test]
    fn a_plain_crossing_is_found_to_the_resolution() {
        let found = places(|x| 7.1234 - x);
        assert_eq!(found.len(), 1);
        assert!((found[0] - 7.1234).abs() <= RESOLUTION, "{found:?}");
    }

    /// A notch 0.02 wide between two steps: its margin falls and rises one to one.
    #[test]
    fn a_narrow_island_between_two_steps_is_not_missed() {
        for centre in [3.3, 7.77, 11.111, 19.9] {
            let found = places(|x: f64| (x - centre).abs() - 0.01);
            assert_eq!(found.len(), 2, "{centre}: {found:?}");
            assert!((found[0] - (centre - 0.01)).abs() <= RESOLUTION);
            assert!((found[1] - (centre + 0.01)).abs() <= RESOLUTION);
        }
    }

    /// Sizes of bits a tenth apart, to be had within 0.02: a change every few hundredths.
    #[test]
    fn a_saw_of_narrow_islands_is_found_tooth_by_tooth() {
        let found = places(|x: f64| {
            let to_next = (x * 10.0 - (x * 10.0).round()).abs() / 10.0;
            0.02 - to_next
        });
        // 200 tenths, two changes between each and the next.
        assert_eq!(found.len(), 400, "{found:?}");
    }

    #[test]
    fn the_search_ends_at_the_first_stop() {
        let try_at = made(|x: f64| (x - 5.0).abs() - 0.1);
        let found = outward(
            &try_at(0.0, Checks::ALL),
            1.0,
            REACH,
            Some(Grade::Stop),
            &try_at,
        );
        assert_eq!(found.list.len(), 1);
        assert!(found.end < 4.91);
    }

    #[test]
    fn counts_move_by_whole_steps() {
        let reach = Reach {
            far: 8.0,
            step: 1.0,
            whole: true,
        };
        let try_at = made(|x| 4.5 - x);
        let found = outward(&try_at(2.0, Checks::ALL), 1.0, reach, None, &try_at);
        let pair = &found.list[0];
        assert_eq!((pair.near.at, pair.beyond.at), (4.0, 5.0));
    }
}
