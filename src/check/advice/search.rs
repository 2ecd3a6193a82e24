//! The search for the number that would clear a check: typed into the design, worked out anew and
//! judged, until the nearest is found that does.

use crate::check::levers::{self, Kind, Lever};
use crate::check::limits::{RULES, Rule};
use crate::check::{Verdict, judge};
use crate::input::defaults::{LONGEST, SHORTEST};
use crate::input::{Along, Design, Unit, holds_together};
use crate::layout::{Copy, Layout, faults};
use crate::standards::nearest_stock;
use crate::tolerance::WHOLE_STEP;
use crate::units::{MM_PER_INCH, on_step};

use super::Now;

/// Halvings of the last stride: far below the step to which numbers are rounded.
const HALVINGS: usize = 24;

/// As far as is looked for where a check stays clear, mm.
const LOOKED: f64 = 40.0;

/// Keys that may be zero; every other length must be above it.
const ZERO_ALLOWED: [Lever; 8] = [
    levers::BEYOND_BARREL,
    levers::BEYOND_CENTRE,
    levers::RAMP_MOUTH,
    levers::CORNER_RADIUS,
    levers::EDGE_RADIUS,
    levers::STRING_HEIGHT,
    levers::NUT_MARGIN,
    levers::CREST_MARGIN,
];

/// How far beyond the number a check stays clear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::check) enum Further {
    /// Not even by a step.
    No,
    /// To this number.
    To(f64),
    /// As far as was looked, or as a number of that key can be.
    On,
}

/// One way to clear a check.
pub(in crate::check) struct Remedy {
    pub lever: Lever,
    /// The number to type, in millimetres or radians (for a change, what is added).
    pub value: f64,
    /// How far going on the same way stays clear.
    pub further: Further,
    /// Not the least change but the one number to aim at, to be typed with every digit.
    pub exact: bool,
    /// The present value.
    pub from: f64,
    /// Checks that would be worse off than now.
    pub worse: Vec<(&'static str, Verdict)>,
}

/// The value nearest to the present one at which the check is clear.
pub(super) fn remedy(rule: &Rule, lever: &Lever, now: &Now) -> Option<Remedy> {
    let design = &now.design;
    let from = (lever.get)(design)?;
    let step = match (lever.kind, design.unit) {
        (Kind::Angle, _) => 0.1_f64.to_radians(),
        (_, Unit::Mm) => 0.01,
        (_, Unit::Inch) => 0.0005 * MM_PER_INCH,
    };
    if let Some(value) = target(rule, lever, design)
        && clears(rule, lever, design, value)
    {
        let changed = with(lever, design, value)?;
        return Some(Remedy {
            lever: *lever,
            value,
            further: Further::No,
            exact: true,
            from,
            worse: worse_off(now, &changed),
        });
    }
    let value = [1.0, -1.0]
        .into_iter()
        .filter_map(|way| nearest(rule, lever, design, from, way * step))
        .min_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()))?;
    let further = further(rule, lever, design, value, step.copysign(value - from));
    let changed = with(lever, design, value)?;
    Some(Remedy {
        lever: *lever,
        value,
        further,
        exact: false,
        from,
        worse: worse_off(now, &changed),
    })
}

/// Halves the way from a value that misses to one that is clear: the clear end next to the bound.
fn bound([mut missed, mut clear]: [f64; 2], clears: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(missed, clear);
        if clears(middle) {
            clear = middle;
        } else {
            missed = middle;
        }
    }
    clear
}

/// Steps away from `from` in growing strides, then halves back to the nearest clear value, rounded
/// away from `from` to a whole number of steps.
fn nearest(rule: &Rule, lever: &Lever, design: &Design, from: f64, step: f64) -> Option<f64> {
    let mut missed = from;
    let mut stride = step;
    let mut found = None;
    while stride.abs() < LONGEST {
        let value = from + stride;
        if clears(rule, lever, design, value) {
            found = Some(value);
            break;
        }
        missed = value;
        stride *= 1.4;
    }
    let clear = bound([missed, found?], |value| clears(rule, lever, design, value));
    let first = on_step(clear, step.abs(), step > 0.0, WHOLE_STEP);
    // Halving ends a little beyond a bound that is itself a whole number of steps.
    [first - step, first, first + step, first + 2.0 * step]
        .into_iter()
        .find(|value| clears(rule, lever, design, *value))
}

/// How far beyond a clear value the check stays clear: as [`nearest`] looks, the other way about.
fn further(rule: &Rule, lever: &Lever, design: &Design, value: f64, step: f64) -> Further {
    let far = match lever.kind {
        Kind::Angle => std::f64::consts::FRAC_PI_2,
        Kind::Length | Kind::Change => LOOKED,
    };
    let (mut clear, mut stride, mut missed) = (value, step, None);
    while stride.abs() < far {
        let next = value + stride;
        if !in_range(lever, next) {
            return Further::On;
        }
        if !clears(rule, lever, design, next) {
            missed = Some(next);
            break;
        }
        clear = next;
        stride *= 1.4;
    }
    let Some(missed) = missed else {
        return Further::On;
    };
    let clear = bound([missed, clear], |value| clears(rule, lever, design, value));
    let last = on_step(clear, step.abs(), step < 0.0, WHOLE_STEP);
    let beyond = |end: &f64| (end - value) * step.signum() > step.abs() / 2.0;
    [last + step, last, last - step]
        .into_iter()
        .find(|end| clears(rule, lever, design, *end))
        .filter(beyond)
        .map_or(Further::No, Further::To)
}

/// The design with the lever's number typed; `None` where the file would be refused.
fn with(lever: &Lever, design: &Design, value: f64) -> Option<Design> {
    if !in_range(lever, value) {
        return None;
    }
    let mut changed = design.clone();
    (lever.set)(&mut changed, value);
    holds_together(&changed).then_some(changed)
}

/// Whether the key takes such a number at all.
fn in_range(lever: &Lever, value: f64) -> bool {
    let zero_allowed = ZERO_ALLOWED.iter().any(|other| other.key == lever.key);
    let signed = matches!(lever.kind, Kind::Change);
    (signed || value >= SHORTEST || (zero_allowed && value == 0.0)) && value <= LONGEST
}

fn clears(rule: &Rule, lever: &Lever, design: &Design, value: f64) -> bool {
    let Some(changed) = with(lever, design, value) else {
        return false;
    };
    let finished = Layout::new(&changed, Copy::Finished);
    let bit = changed.press.as_ref().and_then(|press| press.bit_length);
    // Bores that meet have no wood beyond their ends, and the check is left out.
    let meeting = rule.code == "far-wood" && lever.key.contains("first_barrel");
    judge::is_clear(rule, &finished, meeting)
        && faults(&finished).is_empty()
        // Never a bit that does not reach the bottom of the bore.
        && bit.is_none_or(|bit| bit >= finished.longest_stop())
}

/// Checks whose verdict is worse in the changed design.
pub(in crate::check) fn worse_off(now: &Now, changed: &Design) -> Vec<(&'static str, Verdict)> {
    let finished = Layout::new(changed, Copy::Finished);
    let printed = Layout::new(changed, Copy::Printed);
    RULES
        .iter()
        .zip(&now.verdicts)
        .filter_map(|(rule, before)| {
            let after = judge::find(rule, &finished, &printed)?.verdict;
            (after > *before).then_some((rule.code, after))
        })
        .collect()
}

/// The one number to aim at where the least change is not what a maker wants: the bit that is sold,
/// the place of the other side's bore.
fn target(rule: &Rule, lever: &Lever, design: &Design) -> Option<f64> {
    match (rule.code, lever.key) {
        ("bit-size", "bores.diameter") => Some(nearest_stock(design.bores.diameter).diameter),
        ("bit-size", "bores.clearance") => {
            let bit = nearest_stock(design.bores.diameter).diameter;
            Some(bit - design.machines.barrel_diameter)
        }
        ("pair-offset", "placement.bass.first_barrel") => match design.placement.along {
            Along::FirstBarrel(y) => Some(y.treble),
            Along::Centred => None,
        },
        _ => None,
    }
}
