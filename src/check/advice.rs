//! What to change where a check is not clear: the number that would clear it, found by working
//! the design out anew and judging it, so that typing the number does clear the check.

use crate::input::defaults::LONGEST;
use crate::input::{Along, Crest, Design, Measurements, Unit};
use crate::layout::{Copy, Layout, faults};
use crate::standards::nearest_stock;
use crate::tolerance::WHOLE_STEP;
use crate::units::{Lengths, MM_PER_INCH, on_step, plain};

use super::levers::{self, Kind, Lever};
use super::limits::{RULES, Rule, rule};
use super::{Finding, Report, Verdict, explain, judge, ramp, words};

/// Halvings of the last stride: far below the step to which numbers are rounded.
const HALVINGS: usize = 24;
/// Numbers offered at most.
const OFFERS: usize = 2;

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

/// One way to clear a check.
pub(super) struct Remedy {
    pub lever: Lever,
    /// The number to type, in millimetres or radians (for a change, what is added).
    pub value: f64,
    /// Whether going further the same way stays clear.
    pub open: bool,
    /// Not the least change but the one number to aim at, to be typed with every digit.
    exact: bool,
    /// The present value.
    from: f64,
    /// Checks that would be worse off than now.
    worse: Vec<(&'static str, Verdict)>,
}

/// A design as it stands, to be changed and judged many times.
pub(super) struct Now {
    design: Design,
    /// By the order of [`RULES`].
    verdicts: Vec<Verdict>,
}

impl Now {
    /// `findings` are those of the design.
    pub fn new(design: &Design, findings: &[Finding]) -> Now {
        let verdict = |rule: &Rule| {
            let finding = findings.iter().find(|finding| finding.code == rule.code);
            finding.map_or(Verdict::Clear, |finding| finding.verdict)
        };
        Now {
            // Files and readings change no verdict and cost to copy.
            design: Design {
                files: Vec::new(),
                measurements: Measurements::default(),
                ..design.clone()
            },
            verdicts: RULES.iter().map(verdict).collect(),
        }
    }
}

/// Gives every finding of a design its advice.
pub(super) fn add(report: &mut Report, design: &Design) {
    let now = Now::new(design, &report.findings);
    for finding in &mut report.findings {
        if let Some(rule) = rule(finding.code) {
            finding.advice = advise(rule, finding, &now);
        }
    }
}

/// Advice for a finding, `None` where it is clear.
pub(super) fn advise(rule: &Rule, finding: &Finding, now: &Now) -> Option<String> {
    if finding.verdict == Verdict::Clear {
        return None;
    }
    let design = &now.design;
    let ramp = ramp::proposal(rule, design);
    let remedies = remedies(rule, now);
    // A whole ramp takes the place of its single numbers, and of those that make something worse.
    let beside_ramp = |remedy: &&Remedy| {
        ramp.is_none() || (remedy.worse.is_empty() && !remedy.lever.key.starts_with("slots.ramp"))
    };
    let single = remedies
        .iter()
        .filter(beside_ramp)
        .map(|remedy| offer(remedy, design.unit));
    let offers: Vec<String> = ramp.iter().cloned().chain(single).take(OFFERS).collect();
    let change = if offers.is_empty() {
        explain::what_to_change(rule.code).to_owned()
    } else {
        sentence(&offers.join(", or "))
    };
    let note = finding.advice.as_deref().map(sentence);
    let lengths = Lengths {
        inches: design.unit == Unit::Inch,
    };
    // One who set a limit of his own wonders why it did not help.
    let own = (finding.verdict == Verdict::Stop)
        .then(|| words::loose_limit(rule, design, lengths))
        .flatten();
    Some(
        note.into_iter()
            .chain(own.as_deref().map(sentence))
            .chain([change])
            .collect::<Vec<_>>()
            .join(" "),
    )
}

/// With a capital letter and a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters
        .next()
        .map(|letter| letter.to_uppercase().collect::<String>());
    format!("{}{}.", first.unwrap_or_default(), letters.as_str())
}

/// Every way to clear the check with one number, those that make nothing else worse first.
pub(super) fn remedies(rule: &Rule, now: &Now) -> Vec<Remedy> {
    let mut list: Vec<Remedy> = rule
        .levers
        .iter()
        .filter_map(|lever| remedy(rule, lever, now))
        .collect();
    // Stable: within a group the rule's own order of levers stays. What the maker chooses comes
    // before what he measured.
    list.sort_by_key(|remedy| {
        let worst = remedy.worse.iter().map(|(_, verdict)| *verdict).max();
        (worst, measured(remedy.lever.key).is_some())
    });
    if list.first().is_some_and(|best| best.worse.is_empty()) {
        list.retain(|remedy| remedy.worse.is_empty());
    }
    list
}

/// What a key's number was measured on, where it is a reading and not a choice.
fn measured(key: &str) -> Option<&'static str> {
    if key.starts_with("machines.screws.") {
        Some("other screws,")
    } else if key.starts_with("machines.") {
        Some("another set of machines,")
    } else if matches!(key, "press.bit_length" | "press.flute_length") {
        Some("another bit,")
    } else if key.starts_with("press.") {
        Some("another press,")
    } else {
        None
    }
}

fn offer(remedy: &Remedy, unit: Unit) -> String {
    let up = remedy.value > remedy.from;
    let number = match remedy.lever.kind {
        Kind::Angle => format!("{} degrees", trimmed(remedy.value.to_degrees(), 1)),
        Kind::Length if remedy.exact => match unit {
            Unit::Mm => format!("{} mm", digits(remedy.value)),
            Unit::Inch => format!("{} in", digits(remedy.value / MM_PER_INCH)),
        },
        Kind::Length | Kind::Change => {
            let value = match remedy.lever.kind {
                Kind::Change => remedy.value.abs(),
                _ => remedy.value,
            };
            match unit {
                Unit::Mm => format!("{} mm", trimmed(value, 2)),
                Unit::Inch => format!("{} in", trimmed(value / MM_PER_INCH, 4)),
            }
        }
    };
    let mut text = if remedy.lever.kind == Kind::Change {
        let way = if up { "greater" } else { "less" };
        format!("make {} {number} {way}", remedy.lever.key)
    } else {
        let further = match (remedy.open, up) {
            (false, _) => "",
            (true, true) => " or more",
            (true, false) => " or less",
        };
        let key = remedy.lever.key;
        match measured(key) {
            // A reading is not a choice: typing another number changes nothing at the bench.
            Some(of) => format!("it takes {of} with {key} of {number}{further}"),
            None => format!("set {key} to {number}{further}"),
        }
    };
    if let Some((code, verdict)) = remedy.worse.iter().max_by_key(|(_, verdict)| *verdict) {
        let then = if *verdict == Verdict::Stop {
            "stop the design"
        } else {
            "draw a caution"
        };
        text.push_str(&format!(" (but then {code} would {then})"));
    }
    text
}

/// Every digit that was meant, without those that came of converting.
fn digits(value: f64) -> String {
    plain((value * 1e9).round() / 1e9)
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

/// A number with at most so many decimals.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// The value nearest to the present one at which the check is clear.
fn remedy(rule: &Rule, lever: &Lever, now: &Now) -> Option<Remedy> {
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
            open: false,
            exact: true,
            from,
            worse: worse_off(now, &changed),
        });
    }
    let value = [1.0, -1.0]
        .into_iter()
        .filter_map(|way| nearest(rule, lever, design, from, way * step))
        .min_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()))?;
    let further = value + (value - from).abs().max(100.0 * step) * (value - from).signum();
    let open = clears(rule, lever, design, further);
    let changed = with(lever, design, value)?;
    Some(Remedy {
        lever: *lever,
        value,
        open,
        exact: false,
        from,
        worse: worse_off(now, &changed),
    })
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
    let mut clear = found?;
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(missed, clear);
        if clears(rule, lever, design, middle) {
            clear = middle;
        } else {
            missed = middle;
        }
    }
    let first = on_step(clear, step.abs(), step > 0.0, WHOLE_STEP);
    // Halving ends a little beyond a bound that is itself a whole number of steps.
    [first - step, first, first + step, first + 2.0 * step]
        .into_iter()
        .find(|value| clears(rule, lever, design, *value))
}

/// The design with the lever's number typed; `None` where the file would be refused.
fn with(lever: &Lever, design: &Design, value: f64) -> Option<Design> {
    let zero_allowed = matches!(lever.kind, Kind::Change)
        || ZERO_ALLOWED.iter().any(|other| other.key == lever.key);
    let signed = matches!(lever.kind, Kind::Change);
    let allowed = signed || value > 0.0 || (zero_allowed && value >= 0.0);
    if !allowed || value > LONGEST {
        return None;
    }
    let mut changed = design.clone();
    (lever.set)(&mut changed, value);
    acceptable(&changed).then_some(changed)
}

fn clears(rule: &Rule, lever: &Lever, design: &Design, value: f64) -> bool {
    let Some(changed) = with(lever, design, value) else {
        return false;
    };
    let finished = Layout::new(&changed, Copy::Finished);
    let bit = changed.press.as_ref().and_then(|press| press.bit_length);
    judge::is_clear(rule, &finished)
        && faults(&finished).is_empty()
        // Never a bit that does not reach the bottom of the bore.
        && bit.is_none_or(|bit| bit >= finished.longest_stop())
}

/// The contract's own conditions on numbers that levers turn.
fn acceptable(design: &Design) -> bool {
    let head = &design.head;
    let widths = [head.half_width_at_start, head.half_width_at_end];
    let wide = widths
        .iter()
        .all(|half| half.treble > 0.0 && half.bass > 0.0);
    let rise = head.length - head.side_end;
    let half_width = (head.half_width_at_end.treble + head.half_width_at_end.bass) / 2.0;
    let crest = head.crest == Crest::Flat || (0.1..=half_width).contains(&rise);
    let sides = head.side_end > head.side_start;
    let slots = design.slots.as_ref().is_none_or(|slots| {
        slots.corner_radius <= slots.width / 2.0
            && slots.ramp.is_none_or(|ramp| ramp.angle.to_degrees() < 80.0)
    });
    let veneers = head.face_veneer + head.back_veneer < head.thickness.min(head.thickness_at_crest);
    let angle = head.angle.to_degrees() < 90.0;
    let pitches = &design.machines.pitches;
    let apart = pitches.treble.iter().chain(&pitches.bass).all(|p| *p > 0.0);
    wide && crest && sides && apart && slots && veneers && angle
}

/// Checks whose verdict is worse in the changed design.
fn worse_off(now: &Now, changed: &Design) -> Vec<(&'static str, Verdict)> {
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
