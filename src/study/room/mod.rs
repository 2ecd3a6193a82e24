//! Room to move: how far each number of the file may go, alone, before a check says more than now.

pub mod sample;
pub mod search;
mod slopes;

use rayon::prelude::*;

use super::trial::{Grade, Refusal, judged, tried, tried_with};
use crate::check::{Finding, Verdict};
use crate::input::defaults::SHORTEST;
use crate::input::{KeyedNumber, NumberKind, Numbers};
use sample::{Checks, Sample};
use search::{Bracket, Changes, Reach, outward};

/// How far a length is moved either way, mm: farther and it is another head (our assumption).
const FAR: f64 = 20.0;
/// How far an angle is moved either way, degrees (our assumption).
const FAR_DEGREES: f64 = 20.0;
/// Step of lengths and angles, mm and degrees; no whole part of the sizes that bits come in, so that
/// no run of steps falls on them alike.
const STEP: f64 = 0.23;
/// How far a count is moved.
const FAR_COUNT: f64 = 8.0;
/// Steps to either side of a bare number, which is moved by as much as itself.
const BARE_STEPS: f64 = 87.0;
/// Ends are given to this, rounded inwards.
const PRINTED: f64 = 0.01;

/// What ends an interval.
#[derive(Debug, Clone, PartialEq)]
pub enum By {
    /// Nothing: the search ends here.
    Nothing,
    /// A rule of the parameter file.
    Rule(Refusal),
    /// A check, as it finds the design just beyond.
    Check(Box<Finding>),
}

/// One end of an interval.
#[derive(Debug, Clone, PartialEq)]
pub struct End {
    /// The last good value, rounded inwards to 0.01.
    pub at: f64,
    /// What ends it.
    pub by: By,
}

/// An interval around the present value.
#[derive(Debug, Clone, PartialEq)]
pub struct Interval {
    /// Its lower end.
    pub low: End,
    /// Its upper end.
    pub high: End,
}

/// One change of a check's verdict, or of a rule of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The value at which it changes, to 0.01, in rising order.
    pub at: f64,
    /// The check; `None`: the file is refused on one side.
    pub code: Option<&'static str>,
    /// Below the value.
    pub below: Grade,
    /// Above it.
    pub above: Grade,
}

/// Values in one piece at which nothing stops a design that is stopped now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// The end nearer to the present value, rounded inwards to 0.01.
    pub nearest: f64,
    /// The other end; beyond it something stops again, unless it is as far as was looked.
    pub farthest: f64,
    /// Whether that end is as far as was looked.
    pub open: bool,
}

impl Window {
    /// From the lower end to the upper one.
    #[must_use]
    pub const fn rising(self) -> [f64; 2] {
        [
            self.nearest.min(self.farthest),
            self.nearest.max(self.farthest),
        ]
    }
}

/// How far one number may go.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// The number.
    pub number: KeyedNumber,
    /// The span looked at: to where something stops it, or as far as is looked.
    pub searched: (f64, f64),
    /// No check says stop in it; `None` where one says stop now.
    pub passes: Option<Interval>,
    /// No check says more than it says now; without a caution now, that is: none says caution.
    pub no_worse: Option<Interval>,
    /// Where a check says stop now: the nearest values below and above at which none does, if moving
    /// this number alone can do it.
    pub cures: [Option<Window>; 2],
    /// Every change within the span searched.
    pub changes: Vec<Change>,
}

/// The room of every number of a file, in the file's order, on every core.
#[must_use]
pub fn room(numbers: &Numbers) -> Vec<Room> {
    numbers
        .list()
        .par_iter()
        .map(|number| room_of(numbers, number))
        .collect()
}

/// The room of one number.
#[must_use]
pub fn room_of(numbers: &Numbers, number: &KeyedNumber) -> Room {
    let try_at = |at: f64, checks: Checks| {
        let design = numbers.with(&[(number, typeable(number, at))]);
        Sample {
            at,
            tried: tried_with(design, |order| checks.holds(order)),
        }
    };
    let now = try_at(number.value, Checks::ALL);
    let reach = reach(number);
    let stopped = now.grade() >= Grade::Stop;
    let until = (!stopped).then_some(Grade::Stop);
    let [below, above] = [-1.0, 1.0].map(|way| outward(&now, way, reach, until, &try_at));
    let seeker = Seeker {
        numbers,
        number,
        now: &now,
        whole: reach.whole,
    };
    let interval = |worse: &dyn Fn(&Sample) -> bool| {
        let [low, high] = [&below, &above].map(|changes| seeker.end(changes, worse));
        Interval { low, high }
    };
    let before = now.verdicts();
    let more = |sample: &Sample| {
        sample.tried.is_err()
            || sample.verdicts().into_iter().any(|(code, verdict)| {
                verdict > before.get(code).copied().unwrap_or(Verdict::Clear)
            })
    };
    let cures = [&below, &above].map(|changes| stopped.then(|| seeker.window(changes)).flatten());
    let mut changes: Vec<Change> = [&below, &above]
        .into_iter()
        .flat_map(|changes| &changes.list)
        .flat_map(changes_at)
        .collect();
    changes.sort_by(|a, b| a.at.total_cmp(&b.at));
    Room {
        number: number.clone(),
        searched: (below.end, above.end),
        passes: (!stopped).then(|| interval(&|sample| sample.grade() >= Grade::Stop)),
        no_worse: (!stopped).then(|| interval(&more)),
        cures,
        changes,
    }
}

/// A length too small to be made is refused although none at all may be taken: nobody types it, so it
/// is tried as none.
fn typeable(number: &KeyedNumber, at: f64) -> f64 {
    if number.kind == NumberKind::Length && at.abs() < SHORTEST {
        0.0
    } else {
        at
    }
}

/// How far and how finely a number is moved.
fn reach(number: &KeyedNumber) -> Reach {
    let (far, step, whole) = match number.kind {
        NumberKind::Length => (FAR, STEP, false),
        NumberKind::Degrees => (FAR_DEGREES, STEP, false),
        NumberKind::Count => (FAR_COUNT, 1.0, true),
        NumberKind::Bare => {
            let far = number.value.abs().max(1.0);
            (far, far / BARE_STEPS, false)
        }
    };
    Reach { far, step, whole }
}

/// The next hundredth in one direction, as near as can be to what two decimals say.
fn hundredth(at: f64, way: f64) -> f64 {
    let steps = at / PRINTED;
    let whole = if way > 0.0 {
        steps.ceil()
    } else {
        steps.floor()
    };
    (whole * PRINTED * 1e6).round() / 1e6
}

struct Seeker<'a> {
    numbers: &'a Numbers,
    number: &'a KeyedNumber,
    now: &'a Sample,
    whole: bool,
}

impl Seeker<'_> {
    /// Where moving to one side first becomes worse in the sense given.
    fn end(&self, changes: &Changes, worse: &dyn Fn(&Sample) -> bool) -> End {
        let Some(first) = changes.list.iter().find(|change| worse(&change.beyond)) else {
            return End {
                at: changes.end,
                by: By::Nothing,
            };
        };
        End {
            at: self.last_good(first, worse),
            by: self.by(&first.near, &first.beyond),
        }
    }

    /// The first window to one side in which nothing stops, of a design that is stopped now.
    fn window(&self, changes: &Changes) -> Option<Window> {
        let passing = |bracket: &Bracket| bracket.beyond.grade() < Grade::Stop;
        let first = changes.list.iter().position(passing)?;
        let mut later = changes.list.iter().skip(first);
        let nearest = later.next()?.beyond.at;
        let way = (nearest - self.now.at).signum();
        let stops_again = later.find(|bracket| !passing(bracket));
        let exact = Window {
            nearest,
            farthest: stops_again.map_or(changes.end, |bracket| bracket.near.at),
            open: stops_again.is_none(),
        };
        let rounded = Window {
            nearest: self.rounded(exact.nearest, way)?,
            farthest: if exact.open {
                exact.farthest
            } else {
                self.rounded(exact.farthest, -way)?
            },
            ..exact
        };
        // A window narrower than a hundredth may lie between two of them.
        let crossed = (rounded.farthest - rounded.nearest) * way < 0.0;
        Some(if crossed { exact } else { rounded })
    }

    /// The last good value before a change: a hundredth that lies within the bracket, where that
    /// holds too (a limit of 34.8 is reached, not missed by the search's own resolution), else the
    /// next one inwards.
    fn last_good(&self, change: &Bracket, worse: &dyn Fn(&Sample) -> bool) -> f64 {
        let (near, beyond) = (change.near.at, change.beyond.at);
        let outwards = (beyond - near).signum();
        let reached = hundredth(near, outwards);
        let within = (reached - near).abs() <= (beyond - near).abs();
        if !self.whole && within && !worse(&self.sample(reached)) {
            return reached;
        }
        self.rounded(near, -outwards).unwrap_or(near)
    }

    fn sample(&self, at: f64) -> Sample {
        let typed = typeable(self.number, at);
        Sample {
            at,
            tried: tried(self.numbers.with(&[(self.number, typed)])),
        }
    }

    /// A value rounded to a hundredth in one direction, if what holds at it still holds there.
    fn rounded(&self, at: f64, way: f64) -> Option<f64> {
        if self.whole || (at - self.now.at).abs() < PRINTED {
            return Some(at);
        }
        let rounded = hundredth(at, way);
        let alike = self.sample(rounded).grade() == self.sample(at).grade();
        alike.then_some(rounded).or(Some(at))
    }

    /// What ends an interval between two values.
    fn by(&self, near: &Sample, beyond: &Sample) -> By {
        let typed = typeable(self.number, beyond.at);
        match judged(self.numbers.with(&[(self.number, typed)])) {
            Err(refusal) => By::Rule(refusal),
            Ok(found) => {
                let before = near.verdicts();
                let risen = found.into_iter().find(|finding| {
                    finding.verdict > before.get(finding.code).copied().unwrap_or(Verdict::Clear)
                });
                risen.map_or(By::Nothing, |finding| By::Check(Box::new(finding)))
            }
        }
    }
}

/// What changes at one bracket, check by check.
fn changes_at(bracket: &Bracket) -> Vec<Change> {
    let rising = bracket.beyond.at > bracket.near.at;
    let (low, high) = if rising {
        (&bracket.near, &bracket.beyond)
    } else {
        (&bracket.beyond, &bracket.near)
    };
    let at = f64::midpoint(low.at, high.at);
    if low.tried.is_err() || high.tried.is_err() {
        return vec![Change {
            at,
            code: None,
            below: low.grade(),
            above: high.grade(),
        }];
    }
    let (below, above) = (low.verdicts(), high.verdicts());
    let of = |verdicts: &std::collections::BTreeMap<&'static str, Verdict>, code: &str| {
        verdicts.get(code).copied().unwrap_or(Verdict::Clear)
    };
    let mut codes: Vec<&'static str> = below.keys().chain(above.keys()).copied().collect();
    codes.sort_unstable();
    codes.dedup();
    codes
        .into_iter()
        .filter(|code| of(&below, code) != of(&above, code))
        .map(|code| Change {
            at,
            code: Some(code),
            below: of(&below, code).into(),
            above: of(&above, code).into(),
        })
        .collect()
}

#[cfg(test)]
mod tests;
