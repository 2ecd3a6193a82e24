//! Room to move as bars: the present value is one line down the whole list, the bar is how far the
//! number may go to either side.

use std::fmt::Write as _;

use crate::input::NumberKind;
use crate::study::room::{By, End, Interval, Room};
use crate::units::{Lengths, number};

use super::escape::text;
use super::gauge::arrow;

/// Drawing units: width, height, the present value's place, and half the scale.
const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 18.0;
const NOW: f64 = 160.0;
const HALF: f64 = 146.0;
/// The scale goes this far either way, mm or degrees: beyond it an arrow stands.
const SCALE: f64 = 10.0;

/// The list.
pub fn section(rooms: &[Room], lengths: Lengths) -> String {
    let mut out = format!(
        "<p class=\"note\">How far each number of the file may go alone while all others stay. The upright line is \
         its present value, the scale {SCALE:.0} mm or degrees to either side. The full bar: no check says more than \
         it says now. The thin bar: no check says stop. An arrow: it goes on beyond the scale. Ends are rounded \
         inwards to 0.01.</p>\n<ul class=\"rooms\">\n"
    );
    for room in rooms {
        // A count has no scale.
        if room.number.kind != NumberKind::Count {
            out.push_str(&item(room, lengths));
        }
    }
    out.push_str("</ul>\n");
    out
}

fn item(room: &Room, lengths: Lengths) -> String {
    let (Some(passes), Some(no_worse)) = (&room.passes, &room.no_worse) else {
        return String::new();
    };
    let unit = match room.number.kind {
        NumberKind::Length => "mm",
        NumberKind::Degrees => "deg",
        _ => "",
    };
    let range = |interval: &Interval| {
        format!(
            "{} ({}) to {} ({})",
            lengths.value(interval.low.at, unit),
            by(&interval.low),
            lengths.value(interval.high.at, unit),
            by(&interval.high)
        )
    };
    let stop = if passes == no_worse {
        String::new()
    } else {
        format!("<br/>No stop: {}", text(&range(passes)))
    };
    format!(
        "<li><h3>{}, {}</h3>\n{}<p>No more than now: {}{stop}</p></li>\n",
        text(&room.number.key),
        text(&lengths.value(room.number.value, unit)),
        bars(room, passes, no_worse),
        text(&range(no_worse)),
    )
}

fn by(end: &End) -> String {
    match &end.by {
        By::Nothing => "as far as looked".to_owned(),
        By::Rule(_) => "the file is refused beyond".to_owned(),
        By::Check(finding) => finding.code.to_owned(),
    }
}

fn bars(room: &Room, passes: &Interval, no_worse: &Interval) -> String {
    let now = room.number.value;
    let title = format!(
        "{} may go from {} to {} with no more said than now",
        room.number.key,
        number(no_worse.low.at),
        number(no_worse.high.at)
    );
    let mut out = format!(
        "<svg class=\"room\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" xmlns=\"http://www.w3.org/2000/svg\">\
         <title>{}</title><line class=\"track\" x1=\"0\" y1=\"9\" x2=\"{WIDTH}\" y2=\"9\"/>",
        text(&title)
    );
    for (class, interval, y, height) in [("thin", passes, 7.5, 3.0), ("full", no_worse, 4.0, 10.0)]
    {
        let at = |value: f64| NOW + ((value - now) / SCALE).clamp(-1.0, 1.0) * HALF;
        let (from, to) = (at(interval.low.at), at(interval.high.at));
        let _ = write!(
            out,
            "<rect class=\"{class}\" x=\"{from:.1}\" y=\"{y}\" width=\"{:.1}\" height=\"{height}\"/>",
            (to - from).max(0.5)
        );
        for (end, way) in [(&interval.low, -1.0), (&interval.high, 1.0)] {
            if (end.at - now).abs() > SCALE {
                out.push_str(&arrow(NOW + way * (HALF + 11.0), way > 0.0));
            }
        }
    }
    let _ = writeln!(out, "<path class=\"edge\" d=\"M{NOW} 0V{HEIGHT}\"/></svg>");
    out
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::input::Numbers;
    use crate::study::room::room_of;

    #[test]
    fn a_bar_runs_as_far_as_the_number_may_go() {
        let path = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params/dunlin.toml"));
        let numbers = Numbers::read(path).unwrap();
        let rib = room_of(&numbers, numbers.get("slots.rib").unwrap());
        let no_worse = rib.no_worse.clone().unwrap();
        let drawn = section(&[rib], Lengths { inches: false });
        // By hand: 14.6 units a millimetre, the present value at 160.
        let (low, high) = (no_worse.low.at - 10.0, no_worse.high.at - 10.0);
        let (x, width) = (160.0 + low * 14.6, (high - low) * 14.6);
        let bar = format!("class=\"full\" x=\"{x:.1}\" y=\"4\" width=\"{width:.1}\"");
        assert!(drawn.contains(&bar), "{bar}: {drawn}");
        assert!(drawn.contains("(bearing)") && drawn.contains("slots.rib, 10.00 mm"));
    }
}
