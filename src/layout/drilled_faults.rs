//! Records of bores that cannot be: off the side, past the back, as wide as the head is thick, or one
//! through another. A slip of reading or typing, which no advice is given on.

use super::{Copy, Layout, LayoutFault, OldBore};
use crate::input::{Drilled, DrilledAlong, DrilledKey, Side};
use crate::tolerance::NOISE;

/// Faults of the records, side by side. The printed copy has wider bores; the wood has not.
pub(super) fn of_records(layout: &Layout) -> Vec<LayoutFault> {
    if layout.copy != Copy::Finished {
        return Vec::new();
    }
    Side::BOTH
        .into_iter()
        .flat_map(|side| of_side(layout, side))
        .collect()
}

fn of_side(layout: &Layout, side: Side) -> Vec<LayoutFault> {
    let bores = layout.as_drilled(side);
    let mut found: Vec<LayoutFault> = bores
        .iter()
        .filter_map(|bore| alone(layout, side, bore, record(layout, side, bore)?))
        .collect();
    // A bore that is nowhere proves nothing about its neighbours.
    if found.is_empty() {
        let pairs = bores.windows(2);
        found.extend(pairs.filter_map(|pair| {
            let [a, b] = pair else { return None };
            run_together(layout, side, a, b)
        }));
    }
    found
}

fn record<'l>(layout: &'l Layout, side: Side, bore: &OldBore) -> Option<&'l Drilled> {
    let mut records = layout.design.drilled.iter();
    records.find(|record| (record.side, record.number) == (side, bore.number))
}

/// A fault at one key of a record, or at its number where the key is not there.
fn fault(record: &Drilled, key: Option<DrilledKey>, message: String, hint: String) -> LayoutFault {
    let place = record.place.clone().map(|mut place| {
        place.line = key.map_or(place.line, |key| key.line);
        place
    });
    LayoutFault {
        key: key.map_or("drilled.number", |key| key.name),
        message,
        hint,
        place,
    }
}

fn alone(layout: &Layout, side: Side, bore: &OldBore, record: &Drilled) -> Option<LayoutFault> {
    let show = |mm| layout.design.lengths().show(mm);
    let line = &layout.sides.get(side).line;
    let (name, number) = (side.name(), bore.number);
    if bore.centre.x > line.end_s + NOISE {
        let hint = format!(
            "its place along the side from the nut line, below {}; the design has it at {}",
            show(line.end_s),
            show(bore.designed.x)
        );
        let message = format!(
            "{name} bore {number} would be {} from the nut line, beyond the end of the straight side at {}",
            show(bore.centre.x),
            show(line.end_s)
        );
        return Some(fault(record, record.keys.along, message, hint));
    }
    let thickness = layout.outline.thickness_at(line.at(bore.centre.x).y);
    if bore.diameter > thickness - NOISE {
        let message = format!(
            "{name} bore {number} would be {} wide, in a head that is {} thick there",
            show(bore.diameter),
            show(thickness)
        );
        let hint = format!(
            "its own diameter, below {}; its barrel has {}",
            show(thickness),
            show(layout.design.machines.barrel_diameter)
        );
        let key = record.keys.diameter.or(record.keys.below_face);
        return Some(fault(record, key.or(record.keys.along), message, hint));
    }
    let below = layout.axis_below_face - bore.centre.y;
    if below > thickness - NOISE {
        let message = format!(
            "{name} bore {number} would be {} below the face, in a head that is {} thick there",
            show(below),
            show(thickness)
        );
        let hint = format!(
            "its centre below the face, less than {}; the design has it at {}",
            show(thickness),
            show(layout.axis_below_face)
        );
        return Some(fault(record, record.keys.below_face, message, hint));
    }
    None
}

/// Two neighbours of which one is recorded, and whose mouths overlap or have changed places.
fn run_together(layout: &Layout, side: Side, a: &OldBore, b: &OldBore) -> Option<LayoutFault> {
    let show = |mm| layout.design.lengths().show(mm);
    let (first, second) = (record(layout, side, a), record(layout, side, b));
    let wood = a.centre.distance(b.centre) - (a.diameter + b.diameter) / 2.0;
    let swapped = b.centre.x < a.centre.x;
    if wood >= -NOISE && !swapped {
        return None;
    }
    // The record that moved its bore farther is the one to look at.
    let moved = |bore: &OldBore| bore.centre.distance(bore.designed);
    let (record, bore) = match (first, second) {
        (Some(first), Some(_)) if moved(a) > moved(b) + NOISE => (first, a),
        (_, Some(second)) => (second, b),
        (Some(first), None) => (first, a),
        (None, None) => return None,
    };
    let name = side.name();
    let message = if swapped {
        format!(
            "{name} bore {} would be at {} along the side, bore {} at {}, nearer the nut",
            a.number,
            show(a.centre.x),
            b.number,
            show(b.centre.x)
        )
    } else {
        format!(
            "{name} bores {} and {} would overlap by {}",
            a.number,
            b.number,
            show(-wood)
        )
    };
    let own = format!(
        "here it puts bore {} at {}, the design at {}",
        bore.number,
        show(bore.centre.x),
        show(bore.designed.x)
    );
    let (key, hint) = match record.along {
        DrilledAlong::FromPrevious(_) => (
            record.keys.along,
            format!(
                "both readings from the edge of bore {} that faces it, not from the nut line; {own}",
                bore.number.saturating_sub(1)
            ),
        ),
        DrilledAlong::FromNutLine(_) => (
            record.keys.along,
            format!("its place from the nut line, along the side; {own}"),
        ),
        DrilledAlong::AsDesigned => (
            record.keys.diameter.or(record.keys.below_face),
            format!(
                "the diameter as measured; here it is {}",
                show(bore.diameter)
            ),
        ),
    };
    Some(fault(record, key, message, hint))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::{Design, read_str};
    use crate::layout::faults;

    fn design(records: &str) -> Design {
        let text = format!(
            r#"title = "Wrong"
[head]
length = 197.0
side_end = 184.0
width_at_nut_end = 63.0
width_at_crest_end = 71.0
thickness = 20.57
angle = 14.0
crest = "arch"
[nut]
string_span = 43.0
string_height = 4.2
[machines]
barrel_diameter = 10.01
barrel_length = 30.5
string_hole = 19.0
plate_width = 17.4
plate_thickness = 1.2
pitches = [35.0, 35.0]
overhang = [17.0, 18.5]
[placement]
first_barrel = 57.0
[bores]
diameter = 10.4
beyond_barrel = 2.0
[guide]
depth = 24.0
end_margin = 31.0
{records}"#
        );
        read_str(&text, "wrong.toml".as_ref(), ".".as_ref()).unwrap()
    }

    /// The one fault: its line counted from the records, its key, what it says.
    fn only(records: &str) -> (usize, &'static str, String) {
        let lines_before = 28;
        let found = faults(&Layout::new(&design(records), Copy::Finished));
        let [fault] = found.as_slice() else {
            panic!("{found:?}");
        };
        let line = fault.place.as_ref().unwrap().line - lines_before;
        (
            line,
            fault.key,
            format!("{} | {}", fault.message, fault.hint),
        )
    }

    fn says(records: &str, (line, key): (usize, &str), parts: &[&str]) {
        let (at, named, text) = only(records);
        assert_eq!((at, named), (line, key), "{text}");
        for part in parts {
            assert!(text.contains(part), "{part}: {text}");
        }
    }

    #[test]
    fn a_bore_as_wide_as_the_head_is_thick_is_refused() {
        let head = "[[drilled]]\nside = \"treble\"\nnumber = 3\n";
        for wide in ["20.57", "21.3", "30"] {
            says(
                &format!("{head}diameter = {wide}\n"),
                (4, "drilled.diameter"),
                &[
                    "treble bore 3",
                    "20.57 mm thick",
                    "below 20.57 mm",
                    "10.01 mm",
                ],
            );
        }
        let read = format!("{head}edges_along = [116.0, 138.0]\n");
        says(&read, (4, "drilled.edges_along"), &["22.00 mm wide"]);
        let sound = design(&format!("{head}diameter = 20.5\n"));
        assert!(faults(&Layout::new(&sound, Copy::Finished)).is_empty());
    }

    #[test]
    fn a_bore_off_the_side_or_past_the_back_is_refused() {
        let head = "[[drilled]]\nside = \"bass\"\nnumber = 2\n";
        says(
            &format!("{head}along = 300\n"),
            (4, "drilled.along"),
            &["bass bore 2 would be 300.00 mm", "184.04 mm", "92.01 mm"],
        );
        says(
            &format!("{head}below_face = 25\n"),
            (4, "drilled.below_face"),
            &["25.00 mm below the face", "less than 20.57 mm", "10.2"],
        );
    }

    #[test]
    fn bores_that_run_into_one_another_are_refused() {
        let head = "[[drilled]]\nside = \"treble\"\nnumber = 2\n";
        // 57.01 + 5.2 + 55.2 = 117.41, 9.60 before bore 3; bores of 10.4 want as much between them.
        says(
            &format!("{head}edges_from_previous = [50.0, 60.4]\n"),
            (4, "drilled.edges_from_previous"),
            &[
                "treble bores 2 and 3 would overlap by 0.80 mm",
                "the edge of bore 1 that faces it",
            ],
        );
        says(
            &format!("{head}along = 20\n"),
            (4, "drilled.along"),
            &["nearer the nut", "the design at 92.01 mm"],
        );
        // A bore that is only 0.4 mm off is what the records are for.
        let sound = design(&format!("{head}edges_from_previous = [24.9, 35.3]\n"));
        assert!(faults(&Layout::new(&sound, Copy::Finished)).is_empty());
        assert!(faults(&Layout::new(&sound, Copy::Printed)).is_empty());
    }
}
