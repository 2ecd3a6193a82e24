//! The ramp that would let every string pass: mouth and angle together, where one number alone does
//! not do. Only with `[strings]`, whose paths it follows.

use crate::input::{Design, Ramp, Unit};
use crate::layout::{Copy, Layout, faults};
use crate::units::{MM_PER_INCH, plain};

use super::advice::{Now, worse_off};
use super::limits::{Rule, rule};
use super::{Verdict, judge};

/// What must be clear with the ramp.
const CLEARED: [&str; 2] = ["string-wood", "string-face"];
/// Least and greatest angle that is proposed, whole degrees: what files and chisels cut (our
/// assumption).
const ANGLES: (u32, u32) = (10, 60);
/// Angle where the head has no ramp yet, whole degrees: 20 to 45 are met with (common practice).
const USUAL: u32 = 24;

/// A ramp that clears the strings.
pub(super) struct Proposal {
    /// The change, in words for an advice.
    pub words: String,
    /// Checks that would be worse off than now.
    pub worse: Vec<(&'static str, Verdict)>,
}

/// The ramp for the advice on `cleared`; `None` where no ramp clears the strings, or the one there does.
pub(super) fn proposal(cleared: &Rule, now: &Now) -> Option<Proposal> {
    let design = now.design();
    if design.strings.is_none() || !CLEARED.contains(&cleared.code) {
        return None;
    }
    let (ramp, worse) = ramp_that_clears(now)?;
    let mouth = plain(tidy(ramp.mouth / design.unit.millimetres()));
    let angle = plain(tidy(ramp.angle.to_degrees()));
    Some(Proposal {
        words: format!("set slots.ramp to {{ mouth = {mouth}, angle = {angle} }}"),
        worse,
    })
}

fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

/// The shortest mouth, and with it a usual angle or else the flattest, that clear every string and make no check worse;
/// where there is none such, the first that clears the strings, with what it makes worse.
fn ramp_that_clears(now: &Now) -> Option<(Ramp, Vec<(&'static str, Verdict)>)> {
    let design = now.design();
    let slots = design.slots.as_ref()?;
    let step = match design.unit {
        Unit::Mm => 0.5,
        Unit::Inch => MM_PER_INCH / 32.0,
    };
    let try_out = |steps: u32, degrees: u32| {
        let mut changed = design.clone();
        if let Some(slots) = &mut changed.slots {
            slots.ramp = Some(Ramp {
                mouth: f64::from(steps) * step,
                angle: f64::from(degrees).to_radians(),
            });
        }
        changed
    };
    let clears = |changed: &Design| {
        verdicts(changed, &CLEARED)
            .is_some_and(|list| list.iter().all(|verdict| *verdict == Verdict::Clear))
    };
    // No ramp begins before the nut line.
    let present = Layout::new(design, Copy::Finished);
    let room = present
        .each_side()
        .filter_map(|side| Some(side.slot.as_ref()?.origin.y))
        .fold(f64::INFINITY, f64::min);
    let most = (room / step).clamp(0.0, 10_000.0) as u32;
    let (flat, steep) = ANGLES;
    // A longer mouth and a steeper floor only take wood away: halving finds the least of either.
    let shortest = least(0, most, |steps| clears(&try_out(steps, steep)))?;
    let usual = slots
        .ramp
        .map_or(USUAL, |ramp| ramp.angle.to_degrees().round() as u32);
    let mut first = None;
    for steps in shortest..=most.min(shortest + 40) {
        let Some(flattest) = least(flat, steep, |degrees| clears(&try_out(steps, degrees))) else {
            continue;
        };
        // The angle the maker has, or a usual one, where it does; else the flattest.
        let usual = Some(usual).filter(|angle| *angle > flattest && *angle <= steep);
        for degrees in usual.into_iter().chain([flattest]) {
            let changed = try_out(steps, degrees);
            let ramp = changed.slots.as_ref().and_then(|slots| slots.ramp)?;
            let worse = worse_off(now, &changed);
            if worse.is_empty() {
                return Some((ramp, worse));
            }
            first.get_or_insert((ramp, worse));
        }
    }
    first
}

/// The least number of a range that passes, where every greater one does too.
fn least(from: u32, to: u32, passes: impl Fn(u32) -> bool) -> Option<u32> {
    if !passes(to) {
        return None;
    }
    let (mut low, mut high) = (from, to);
    while low < high {
        let middle = low.midpoint(high);
        if passes(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Some(high)
}

/// Verdicts of some checks, clear where one does not apply; `None` where the design has a fault of its
/// layout.
fn verdicts(design: &Design, codes: &[&str]) -> Option<Vec<Verdict>> {
    let finished = Layout::new(design, Copy::Finished);
    let printed = Layout::new(design, Copy::Printed);
    if !faults(&finished).is_empty() {
        return None;
    }
    let of = |code: &&str| {
        rule(code)
            .and_then(|rule| judge::find(rule, &finished, &printed))
            .map_or(Verdict::Clear, |finding| finding.verdict)
    };
    Some(codes.iter().map(of).collect())
}
