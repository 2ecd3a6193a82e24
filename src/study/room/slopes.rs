//! How steeply the margins of checks run from one sample to the next.

use crate::check::Slack;
use crate::check::limits::RULES;

use super::sample::Sample;

/// Margins that differ by less than this are taken as level: far above rounding noise, far below any
/// real slope over a step.
const LEVEL: f64 = 1e-9;

/// The steepest slope of each check's margins over these samples, by its place in the table; `None`
/// where they do not change at all.
pub(super) type Slopes = [Option<f64>; RULES.len()];

/// The slopes seen over these samples.
pub(super) fn slopes(samples: &[Sample]) -> Slopes {
    let mut steepest = [None; RULES.len()];
    for pair in samples.windows(2) {
        let [a, b] = pair else { continue };
        for (x, y) in common(a, b) {
            for (m, n) in margins(x, y) {
                if (m - n).abs() > LEVEL
                    && let Some(most) = steepest.get_mut(x.order)
                {
                    let slope = ((m - n) / (a.at - b.at)).abs();
                    *most = Some(most.unwrap_or(0.0_f64).max(slope));
                }
            }
        }
    }
    steepest
}

/// The finite margins that a check has at two values.
pub(super) fn margins(x: &Slack, y: &Slack) -> impl Iterator<Item = (f64, f64)> {
    [(x.to_stop, y.to_stop), (x.to_caution, y.to_caution)]
        .into_iter()
        .filter(|(m, n)| m.is_finite() && n.is_finite())
}

/// The slacks of the checks that apply at both values.
pub(super) fn common<'s>(
    a: &'s Sample,
    b: &'s Sample,
) -> impl Iterator<Item = (&'s Slack, &'s Slack)> {
    let (a, b) = (a.tried.iter().flatten(), b.tried.as_ref().ok());
    let mut rest = b.map_or(&[] as &[Slack], Vec::as_slice).iter().peekable();
    a.filter_map(move |x| {
        while rest.next_if(|y| y.order < x.order).is_some() {}
        Some((x, rest.next_if(|y| y.order == x.order)?))
    })
}
