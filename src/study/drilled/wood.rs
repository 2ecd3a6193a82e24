//! Wood left around widened bores and plugs, by the limits of the checks.
//!
//! The holes are put into the layout in the place of its own bores, and the checks measure that; the
//! wood between neighbours, which a check takes from the pitches, is measured here.

use glam::{DVec2, DVec3};

use crate::check::limits::rule;
use crate::check::{self, Basis, Report, Verdict};
use crate::input::{OwnLimit, Point};
use crate::layout::{Copy, Layout};
use crate::tolerance::NOISE;

use super::Rescue;

/// Wood left somewhere, with the verdict of the check that measures it.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodLeft {
    /// Code of the check.
    pub code: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What is left, mm.
    pub value: f64,
    /// Least before it is a caution, or a stop where it is one, mm.
    pub limit: f64,
    /// Basis of that limit.
    pub basis: Basis,
    /// Verdict.
    pub verdict: Verdict,
}

/// Checks that measure wood around a bore.
const AROUND: [&str; 6] = [
    "wood-over",
    "wood-under",
    "slot-end",
    "end-wood",
    "edges",
    "screw-bore",
];

/// A hole that takes the place of a bore: the bore's number, its centre on the side, its diameter, mm.
pub(super) type Hole = (usize, DVec2, f64);

/// What is left where these holes take the place of bores: only what is less than the design leaves, and
/// the wood to the neighbours, which other holes `beside` them may be.
pub(super) fn left(
    layout: &Layout,
    rescue: &Rescue,
    holes: &[Hole],
    beside: &[Hole],
) -> Vec<WoodLeft> {
    let before = judged(layout.clone());
    let mut with = layout.clone();
    let side = match rescue.side {
        crate::input::Side::Treble => &mut with.sides.treble,
        crate::input::Side::Bass => &mut with.sides.bass,
    };
    for (number, centre, diameter) in holes {
        if let Some(bore) = side.bores.iter_mut().find(|bore| bore.number == *number) {
            bore.s = centre.x;
            let z = centre.y - layout.axis_below_face;
            bore.entry = DVec3::from((side.line.at(centre.x), z));
            bore.diameter = *diameter;
            bore.point = Point::Flat;
            bore.point_height = 0.0;
            bore.counterbore = None;
        }
    }
    let after = judged(with);
    let mut found = Vec::new();
    for code in AROUND {
        let (Some(was), Some(is)) = (before.finding(code), after.finding(code)) else {
            continue;
        };
        if is.value < was.value - NOISE {
            let limit = match is.limit {
                check::Limit::Single(limit) => limit,
                check::Limit::Band { low, .. } => low,
            };
            found.push(WoodLeft {
                code: is.code,
                title: is.title,
                value: is.value,
                limit,
                basis: is.basis.clone(),
                verdict: is.verdict,
            });
        }
    }
    found.extend(web(layout, rescue, holes, beside));
    found
}

fn judged(layout: Layout) -> Report {
    let printed = Layout::new(&layout.design, Copy::Printed);
    check::verdicts(layout, printed).0
}

/// Least wood between a hole and its neighbours, holes or bores as they are.
fn web(layout: &Layout, rescue: &Rescue, holes: &[Hole], beside: &[Hole]) -> Option<WoodLeft> {
    let circle = |number: usize| {
        let hole = holes.iter().chain(beside).find(|hole| hole.0 == number);
        let old = rescue.bores.iter().find(|bore| bore.number == number);
        hole.map(|(_, centre, diameter)| (*centre, diameter / 2.0))
            .or(old.map(|bore| (bore.centre, bore.diameter / 2.0)))
    };
    let value = holes
        .iter()
        .flat_map(|hole| [(hole.0, hole.0 + 1), (hole.0, hole.0.wrapping_sub(1))])
        .filter_map(|(a, b)| Some((circle(a)?, circle(b)?)))
        .map(|(a, b)| a.0.distance(b.0) - a.1 - b.1)
        .reduce(f64::min)?;
    let rule = rule("web")?;
    if let Some(stop) = rule.stop.filter(|stop| !stop.holds(value)) {
        return Some(WoodLeft {
            code: rule.code,
            title: rule.title,
            value,
            limit: value - stop.margin(value),
            basis: Basis::Assumed,
            verdict: Verdict::Stop,
        });
    }
    let (limit, basis) = match layout.design.limits.get(rule.code) {
        Some(OwnLimit::Single(own)) => (*own, Basis::Own),
        _ => (value - rule.caution?.margin(value), rule.basis.clone()),
    };
    let verdict = if value >= limit - NOISE {
        Verdict::Clear
    } else {
        Verdict::Caution
    };
    Some(WoodLeft {
        code: rule.code,
        title: rule.title,
        value,
        limit,
        basis,
        verdict,
    })
}
