//! Every change of verdict along one number, found on the real checks.
//!
//! The number is moved outward from its present value in steps of [`Reach::step`], and between two
//! steps the place of every change is halved down to [`RESOLUTION`]. A check may also say something
//! else for a moment *between* two steps that look alike. Its margins tell: a margin `m` on both
//! sides of a gap cannot have been used up within the gap unless it falls and rises again faster
//! than `2 m` over the gap. So every gap is halved whose margins are small enough for that at the
//! steepest slope believed: three times what is seen across the gap and its neighbours, and never
//! less than [`LEAST_SLOPE`].

use std::collections::BTreeMap;

use super::super::trial::{Grade, Refusal, grade};
use crate::check::{Slack, Verdict};

/// A change of verdict is found to this, mm (degrees; the same of a bare number): a fifth of the
/// hundredth that is promised. Gaps are halved no further, so an island narrower than this may be
/// passed over.
pub const RESOLUTION: f64 = 0.002;
/// No margin is believed to change less steeply than this, in its unit a millimetre: most margins
/// follow a length one to one, or at half its pace.
const LEAST_SLOPE: f64 = 1.5;
/// How much steeper than seen a margin is believed to run unseen.
const UNSEEN: f64 = 3.0;
/// Margins that differ by less than this are taken as level: far above rounding noise, far below any
/// real slope over a step.
const LEVEL: f64 = 1e-9;

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

/// One value tried.
#[derive(Debug, Clone)]
pub struct Sample {
    /// The number's value.
    pub at: f64,
    /// What came of it.
    pub tried: Result<Vec<Slack>, Refusal>,
}

impl Sample {
    /// Its grade.
    #[must_use]
    pub fn grade(&self) -> Grade {
        grade(&self.tried)
    }

    /// The verdicts of all checks that apply; none where refused.
    pub fn verdicts(&self) -> BTreeMap<&'static str, Verdict> {
        let slacks = self.tried.iter().flatten();
        slacks.map(|slack| (slack.code, slack.verdict)).collect()
    }

    /// Whether both are refused, or both judged with the same verdict in every check. A check that
    /// does not apply says nothing, which is as good as clear.
    fn like(&self, other: &Sample) -> bool {
        let loud = |sample: &Sample| {
            let mut verdicts = sample.verdicts();
            verdicts.retain(|_, verdict| *verdict != Verdict::Clear);
            verdicts
        };
        self.tried.is_ok() == other.tried.is_ok() && loud(self) == loud(other)
    }
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
/// to that grade or a worse one.
pub fn outward(
    now: &Sample,
    way: f64,
    reach: Reach,
    until: Option<Grade>,
    try_at: &impl Fn(f64) -> Sample,
) -> Changes {
    let mut steps = vec![now.clone()];
    for offset in offsets(reach) {
        let sample = try_at(now.at + way * offset);
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
        .halve(a, b, &mut changes.list);
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

/// The steepest slope of each check's margins over these samples, where they change at all.
fn slopes(samples: &[Sample]) -> BTreeMap<&'static str, f64> {
    let mut steepest = BTreeMap::new();
    for pair in samples.windows(2) {
        let [a, b] = pair else { continue };
        for (x, y) in common(a, b) {
            for (m, n) in [(x.to_stop, y.to_stop), (x.to_caution, y.to_caution)] {
                if m.is_finite() && n.is_finite() && (m - n).abs() > LEVEL {
                    let slope = ((m - n) / (a.at - b.at)).abs();
                    let most = steepest.entry(x.code).or_insert(0.0_f64);
                    *most = most.max(slope);
                }
            }
        }
    }
    steepest
}

/// The slacks of the checks that apply at both values.
fn common<'s>(a: &'s Sample, b: &'s Sample) -> impl Iterator<Item = (&'s Slack, &'s Slack)> {
    let (a, b) = (a.tried.iter().flatten(), b.tried.as_ref().ok());
    a.filter_map(move |x| Some((x, b?.iter().find(|y| y.code == x.code)?)))
}

struct Gap<'a, F> {
    slopes: &'a BTreeMap<&'static str, f64>,
    try_at: &'a F,
}

impl<F: Fn(f64) -> Sample> Gap<'_, F> {
    fn halve(&self, a: &Sample, b: &Sample, found: &mut Vec<Bracket>) {
        let gap = (b.at - a.at).abs();
        let alike = a.like(b);
        if !alike && gap <= RESOLUTION {
            found.push(Bracket {
                near: a.clone(),
                beyond: b.clone(),
            });
            return;
        }
        if alike && (gap <= RESOLUTION || !self.may_hide(a, b, gap)) {
            return;
        }
        let middle = (self.try_at)(f64::midpoint(a.at, b.at));
        self.halve(a, &middle, found);
        self.halve(&middle, b, found);
    }

    /// Whether a margin could be used up, or a missing one made up, between two values alike.
    fn may_hide(&self, a: &Sample, b: &Sample, gap: f64) -> bool {
        common(a, b).any(|(x, y)| {
            let Some(seen) = self.slopes.get(x.code) else {
                return false;
            };
            let steepest = LEAST_SLOPE.max(UNSEEN * seen);
            [(x.to_stop, y.to_stop), (x.to_caution, y.to_caution)]
                .into_iter()
                .any(|(m, n)| m.is_finite() && n.is_finite() && m.abs() + n.abs() <= steepest * gap)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One check whose margin is a function of the number.
    fn made(margin: impl Fn(f64) -> f64) -> impl Fn(f64) -> Sample {
        move |at| {
            let to_stop = margin(at);
            let verdict = if to_stop < 0.0 {
                Verdict::Stop
            } else {
                Verdict::Clear
            };
            let slack = Slack {
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
        let found = outward(&try_at(0.0), 1.0, REACH, None, &try_at);
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
        let found = outward(&try_at(0.0), 1.0, REACH, Some(Grade::Stop), &try_at);
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
        let found = outward(&try_at(2.0), 1.0, reach, None, &try_at);
        let pair = &found.list[0];
        assert_eq!((pair.near.at, pair.beyond.at), (4.0, 5.0));
    }
}
