//! `far-wood`: a bore's end to what lies across the head: the opposite bores, the opposite slot and
//! ramp, the far side.
//!
//! Distances are between bores as built. Half a millimetre must remain, but a hundredth is enough
//! between the blind ends of a pair, and between opposite points that are not yet half a
//! millimetre past each other across the head: there, only the points come close. The worst place is
//! the one with the least margin to its own stop.
//!
//! A bore that opens into its partner, or keeps its web to it, has no end of its own in the wood;
//! its distances count only where they would miss the stop, so that no such bore runs into another
//! one, into a slot or out of the head.

use crate::input::PerSide;
use crate::input::defaults::SHORTEST;
use crate::layout::{Bore, BoreEnd, Layout, Pair, SideLayout};
use crate::plane::{Bounds, Region};
use crate::tolerance::NOISE;

use super::at::{Words, words};
use super::measure::{Measure, guard};
use super::shapes::{bore_plan, counterbore_plan, to_ramp};

/// Wood that must remain.
const STOP: f64 = 0.5;
/// The same between points.
const STOP_POINTS: f64 = 0.01;
/// Points that are past each other by less than this count as points only.
const PAST: f64 = 0.5;
/// A pair that opens must do so by as much as files of single precision (STL) can tell apart.
const LEAST_OPENING: f64 = SHORTEST;
const KEYS: &[&str] = &[
    "bores.beyond_barrel",
    "bores.beyond_centre",
    "machines.barrel_length",
    "head.width_at_nut_end",
];

/// A bore with what is measured of it again and again.
struct Body<'a> {
    bore: &'a Bore,
    plan: Region,
    bounds: Bounds,
}

impl Body<'_> {
    fn all(side: &SideLayout) -> Vec<Body<'_>> {
        let body = |bore| {
            let plan = bore_plan(bore);
            Body {
                bore,
                bounds: plan.bounds(),
                plan,
            }
        };
        side.bores.iter().map(body).collect()
    }
}

pub(super) fn far_wood(layout: &Layout) -> Vec<Measure> {
    let mut list = Vec::new();
    let bodies = PerSide::from_fn(|side| Body::all(layout.sides.get(side)));
    // Stops of single places differ by less than `STOP`: what is farther off than the nearest by more
    // than that is never the worst, nor a stop.
    let mut nearest = f64::INFINITY;
    for treble in &bodies.treble {
        for bass in &bodies.bass {
            let pair = layout.pairs.iter().find(|pair| {
                pair.treble + 1 == treble.bore.number && pair.bass + 1 == bass.bore.number
            });
            if pair.is_some() || treble.bounds.gap(&bass.bounds) <= nearest + STOP {
                let distance = between(treble, bass, pair, &mut list);
                nearest = nearest.min(distance.unwrap_or(f64::INFINITY));
            }
        }
    }
    for side in layout.each_side() {
        let other = layout.sides.get(side.side.other());
        for Body { bore, plan, .. } in bodies.get(side.side) {
            let mut add = |value: f64, to: Words| {
                let measure = Measure::new(value, words!(*bore, " to ").and_all(to), KEYS);
                push(
                    &mut list,
                    measure.stop_below(STOP),
                    bore.end == BoreEnd::Blind,
                );
            };
            if let Some(slot) = &other.slot {
                add(plan.distance(&slot.region()), "the opposite slot".into());
                if let Some(value) = to_ramp(plan, slot, |floor| floor.over_bore(bore)) {
                    add(value, "the opposite ramp".into());
                }
            }
            let line = &other.line;
            add(
                -plan.reach(-line.inward) - line.origin.dot(line.inward),
                "the far side".into(),
            );
            for opposite in &other.bores {
                if let Some(mouth) = counterbore_plan(opposite) {
                    add(
                        plan.distance(&mouth),
                        words!("the counterbore of ", opposite),
                    );
                }
            }
        }
    }
    list
}

/// Two opposite bores; how far apart they are, where that was measured.
fn between(
    one: &Body<'_>,
    other: &Body<'_>,
    pair: Option<&Pair>,
    list: &mut Vec<Measure>,
) -> Option<f64> {
    let at = words!(one.bore, " and ", other.bore);
    let blind = |bore: &Bore| bore.end == BoreEnd::Blind;
    let (treble, bass) = (one.bore, other.bore);
    if pair.is_some() && !(blind(treble) && blind(bass)) {
        if treble.end == BoreEnd::Opens {
            let past = -treble.reach(treble.depth).min(bass.reach(bass.depth));
            // A flat end that lies in the plane opens with its whole width.
            let wide = treble
                .rim_reach(treble.depth)
                .min(bass.rim_reach(bass.depth))
                <= NOISE;
            let past = if wide { LEAST_OPENING } else { past };
            guard(
                list,
                Measure::new(past, at.and(", past the centre line"), KEYS)
                    .stop_below(LEAST_OPENING),
            );
        }
        return None;
    }
    let stop = if pair.is_some() || past_each_other(&one.plan, &other.plan) < PAST - NOISE {
        STOP_POINTS
    } else {
        STOP
    };
    let distance = one.plan.distance(&other.plan);
    let measure = Measure::new(distance, at, KEYS).stop_below(stop);
    // A guard alone is no measure that the others could be farther than.
    let counts = blind(treble) || blind(bass);
    push(list, measure, counts);
    counts.then_some(distance)
}

/// How far two opposite bores reach past each other across the head; below zero where they do not.
fn past_each_other(treble: &Region, bass: &Region) -> f64 {
    use glam::DVec2;
    bass.reach(DVec2::X) + treble.reach(-DVec2::X)
}

fn push(list: &mut Vec<Measure>, measure: Measure, has_end: bool) {
    if has_end {
        list.push(measure);
    } else {
        guard(list, measure);
    }
}
