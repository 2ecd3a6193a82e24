//! A check as a bar: the limit is one line down the whole list, what is to spare runs to the right of
//! it, what is missing to the left.

use crate::check::words::tightness;
use crate::check::{Finding, Verdict};

/// Drawing units: the limit's place, and the whole width.
const LIMIT: f64 = 60.0;
const WIDTH: f64 = 172.0;
const HEIGHT: f64 = 18.0;
/// A bar as long as this is as much again as the limit.
const FULL: f64 = 100.0;
/// Least length of a bar that is not nothing.
const LEAST: f64 = 1.5;

/// What is to spare as a share of the limit, in words: `2 % of the limit to spare`.
pub fn share_words(finding: &Finding) -> String {
    let share = tightness(finding) * 100.0;
    let size = if share.abs() < 10.0 {
        format!("{:.1} %", share.abs())
    } else {
        format!("{:.0} %", share.abs())
    };
    match finding.verdict {
        Verdict::Clear if share > 999.0 => "more than ten times the limit to spare".to_owned(),
        Verdict::Clear => format!("{size} of the limit to spare"),
        _ if share.abs() > 999.0 => "missed by more than ten times the limit".to_owned(),
        _ => format!("missed by {size} of the limit"),
    }
}

/// The bar.
pub fn gauge(finding: &Finding) -> String {
    let share = tightness(finding);
    let right = finding.verdict == Verdict::Clear;
    let room = if right { FULL } else { LIMIT - 8.0 };
    let wanted = share.abs() * FULL;
    let length = if wanted.is_finite() {
        wanted.clamp(LEAST, room)
    } else {
        room
    };
    let goes_on = wanted > room;
    let (from, to) = if right {
        (LIMIT, LIMIT + length)
    } else {
        (LIMIT - length, LIMIT)
    };
    let verdict = finding.verdict.name();
    let mut out = format!(
        "<svg class=\"gauge {verdict}\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" \
         xmlns=\"http://www.w3.org/2000/svg\"><title>{}</title>\
         <line class=\"track\" x1=\"0\" y1=\"9\" x2=\"{WIDTH}\" y2=\"9\"/>\
         <rect class=\"bar\" x=\"{from:.1}\" y=\"5\" width=\"{:.1}\" height=\"8\"/>",
        share_words(finding),
        to - from,
    );
    if !right {
        // Slanting strokes: a missed limit is told apart without colour.
        let mut x = from + 1.0;
        while x < to - 2.0 {
            out.push_str(&format!("<path class=\"hatch\" d=\"M{x:.1} 13l4 -8\"/>"));
            x += 4.0;
        }
    }
    if goes_on {
        let tip = if right { LIMIT + FULL + 10.0 } else { 1.5 };
        out.push_str(&arrow(tip, right));
    } else {
        let end = if right { to } else { from };
        out.push_str(&format!("<path class=\"mark\" d=\"M{end:.1} 2v14\"/>"));
    }
    out.push_str(&format!(
        "<path class=\"edge\" d=\"M{LIMIT} 0V{HEIGHT}\"/></svg>\n"
    ));
    out
}

/// The tip of an arrow, where a bar goes on past the end of its scale.
pub fn arrow(tip: f64, right: bool) -> String {
    let back = if right { -5.0 } else { 5.0 };
    format!(
        "<path class=\"on\" d=\"M{:.1} 5l{:.1} 4l{back:.1} 4\"/>",
        tip + back,
        -back
    )
}

/// How to read the bars.
pub const LEGEND: &str = "The upright line is the limit. A plain bar to its right is what is to \
spare, a hatched bar to its left what is missing, as a share of the limit (of half its width, where the \
limit has two sides; of 1 mm, where it is 0); an arrow says that the bar goes on. What is missed by most \
comes first, then what has least to spare.";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::Limit;
    use crate::cli::example::finding;

    #[test]
    fn bars_run_from_the_limit_by_the_share_to_spare() {
        // By hand: 3.3 for 3.0 is a tenth to spare: 10 of 100 units.
        let spare = gauge(&finding("bearing", 3.3, Limit::Single(3.0), 0.3));
        assert!(
            spare.contains("x=\"60.0\" y=\"5\" width=\"10.0\""),
            "{spare}"
        );
        assert!(spare.contains("10 % of the limit to spare") && !spare.contains("hatch"));
        // 1.5 for 3.0 misses by half: 50 units to the left.
        let missed = gauge(&finding("bearing", 1.5, Limit::Single(3.0), -1.5));
        assert!(
            missed.contains("x=\"10.0\" y=\"5\" width=\"50.0\""),
            "{missed}"
        );
        assert!(missed.contains("missed by 50 % of the limit") && missed.contains("hatch"));
        // Four times the limit runs off the gauge.
        let ample = gauge(&finding("web", 15.0, Limit::Single(3.0), 12.0));
        assert!(
            ample.contains("class=\"on\"") && ample.contains("400 %"),
            "{ample}"
        );
        // A band counts by half its width: 0.05 of 0.2.
        let band = Limit::Band {
            low: 0.2,
            high: 0.6,
        };
        let band = gauge(&finding("clearance", 0.25, band, 0.05));
        assert!(band.contains("width=\"25.0\""), "{band}");
    }
}
