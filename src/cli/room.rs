//! `barrelhead room`.

use std::path::Path;

use rayon::prelude::*;
use serde_json::{Value, json};

use crate::input::{KeyedNumber, NumberKind, Numbers, Unit};
use crate::study::room::{By, Change, End, Interval, Room, Window, room_of};
use crate::study::trial::Grade;
use crate::study::vary::find;
use crate::tolerance::WHOLE_STEP;
use crate::units::{MM_PER_INCH, bare_inches, on_step};

use super::arguments::RoomArguments;
use super::progress::bar;
use super::read_numbers::{read, refused};
use super::style::{QUIET, STRONG, clean, fill, paint};
use super::table::{Lean, Table};
use super::{Said, Status, json};

/// Says how far every number of a file may go, or those named.
pub fn run(arguments: &RoomArguments) -> Said {
    let path = &arguments.file;
    let numbers = match read(path) {
        Ok(numbers) => numbers,
        Err(failure) => return refused(path, &failure, arguments.json),
    };
    let mut wanted = Vec::new();
    for key in &arguments.keys {
        match find(key, &numbers) {
            // Typed twice, it is still one number.
            Ok(number) if wanted.contains(&number) => {}
            Ok(number) => wanted.push(number),
            Err(message) => return Said::wrong(&message),
        }
    }
    if wanted.is_empty() {
        wanted = numbers.list().iter().collect();
    }
    let bar = bar(wanted.len(), "numbers moved", arguments.json);
    let rooms: Vec<Room> = wanted
        .par_iter()
        .map(|number| {
            let room = room_of(&numbers, number);
            bar.inc(1);
            room
        })
        .collect();
    bar.finish_and_clear();
    let stopped = rooms.iter().any(|room| room.passes.is_none());
    let mut said = Said::done("");
    if stopped {
        said.status = Status::Stopped;
    }
    said.out = if arguments.json {
        let list: Vec<Value> = rooms.iter().map(value_of).collect();
        json::text(&json!({
            "file": path.display().to_string(),
            "title": numbers.design().title,
            "stopped": stopped,
            "numbers": list,
            "exit_status": said.status as u8,
        }))
    } else {
        let inches = arguments.inches || numbers.design().unit == Unit::Inch;
        screen(&numbers, &rooms, path, inches)
    };
    said
}

fn screen(numbers: &Numbers, rooms: &[Room], path: &Path, inches: bool) -> String {
    let mut out = format!(
        "{} ({}): how far each number may go while all others stay\n",
        paint(STRONG, &clean(&numbers.design().title)),
        clean(&path.display().to_string()),
    );
    let unit = if inches { "inches" } else { "millimetres" };
    out.push_str(&format!(
        "Lengths in {unit}, angles in degrees, ends rounded inwards.\n\n"
    ));
    if rooms.iter().any(|room| room.passes.is_none()) {
        out.push_str(&fill(
            "A check stops this design as it is. Below, what a single number can do about it: the nearest \
             values to either side at which nothing stops; beyond both ends something does. \"or less\", \
             \"or more\": as far as was looked, 20 mm or 20 degrees.",
            0,
        ));
        out.push('\n');
        out.push_str(&cures(rooms, inches));
        return out;
    }
    out.push_str(&format!(
        "{}\n",
        paint(
            STRONG,
            "Before any check says more than it says now (a caution, or a stop)"
        )
    ));
    out.push_str(&table(rooms, inches, |room| room.no_worse.as_ref()));
    out.push_str(&format!(
        "\n{}\n",
        paint(STRONG, "Before any check says stop")
    ));
    out.push_str(&table(rooms, inches, |room| room.passes.as_ref()));
    out.push('\n');
    out.push_str(&paint(
        QUIET,
        &fill(
            "An end without a name is as far as was looked: 20 mm, 20 degrees. \"refused\": beyond it the \
             file itself is refused; --json has the words, and every change on the way. barrelhead \
             explain CODE says what a check means.",
            0,
        ),
    ));
    out
}

fn table(rooms: &[Room], inches: bool, of: impl Fn(&Room) -> Option<&Interval>) -> String {
    let mut table = Table::new(&[
        ("number", Lean::Left),
        ("now", Lean::Right),
        ("least", Lean::Right),
        ("ended by", Lean::Left),
        ("most", Lean::Right),
        ("ended by", Lean::Left),
    ]);
    for room in rooms {
        let Some(interval) = of(room) else { continue };
        let number = &room.number;
        table.row(vec![
            clean(&number.key),
            shown(number, number.value, inches, 0.0),
            shown(number, interval.low.at, inches, 1.0),
            ended(&interval.low),
            shown(number, interval.high.at, inches, -1.0),
            ended(&interval.high),
        ]);
    }
    table.draw()
}

fn cures(rooms: &[Room], inches: bool) -> String {
    let mut table = Table::new(&[
        ("number", Lean::Left),
        ("now", Lean::Right),
        ("below", Lean::Left),
        ("above", Lean::Left),
    ]);
    let mut none = 0;
    for room in rooms {
        let [below, above] = room.cures;
        if below.is_none() && above.is_none() {
            none += 1;
            continue;
        }
        let number = &room.number;
        let cell = |window: Option<Window>, less| {
            window.map_or(String::new(), |window| span(number, window, less, inches))
        };
        table.row(vec![
            clean(&number.key),
            shown(number, number.value, inches, 0.0),
            cell(below, true),
            cell(above, false),
        ]);
    }
    let mut out = table.draw();
    let alone = if none == 1 {
        "1 number"
    } else {
        &format!("{none} numbers")
    };
    out.push_str(&format!(
        "\nMoving it alone does not help: {alone} of {}.\n",
        rooms.len()
    ));
    out
}

/// Both ends of a window, or the near one where it goes on as far as was looked.
fn span(number: &KeyedNumber, window: Window, less: bool, inches: bool) -> String {
    if window.open {
        return if less {
            format!("{} or less", shown(number, window.nearest, inches, -1.0))
        } else {
            format!("{} or more", shown(number, window.nearest, inches, 1.0))
        };
    }
    let [low, high] = window.rising();
    let unrounded = |at: f64| {
        if inches && number.kind == NumberKind::Length {
            format!("{:.5}", at / MM_PER_INCH)
        } else {
            format!("{at:.4}")
        }
    };
    let ends = [
        shown(number, low, inches, 1.0),
        shown(number, high, inches, -1.0),
    ];
    // Ends of a narrow window may lie between two hundredths, or pass one another in thousandths of an inch.
    let read = ends.each_ref().map(|end| end.parse::<f64>());
    let whole = |at: f64| ((at * 100.0).round() / 100.0 - at).abs() < 1e-6;
    let printed = inches || whole(low) && whole(high);
    let [low, high] = match read {
        [Ok(a), Ok(b)] if a <= b && printed => ends,
        _ => [unrounded(low), unrounded(high)],
    };
    if low == high {
        low
    } else {
        format!("{low} to {high}")
    }
}

/// A value in the unit of the screen; inches rounded to a thousandth the way given.
fn shown(number: &KeyedNumber, value: f64, inches: bool, way: f64) -> String {
    match number.kind {
        NumberKind::Count => format!("{value}"),
        NumberKind::Length if inches => {
            let step = MM_PER_INCH / 1000.0;
            let shown = if way == 0.0 {
                value
            } else {
                on_step(value, step, way > 0.0, WHOLE_STEP)
            };
            bare_inches(shown)
        }
        _ => super::style::number(value),
    }
}

fn ended(end: &End) -> String {
    match &end.by {
        By::Nothing => String::new(),
        By::Rule(_) => "refused".to_owned(),
        By::Check(finding) => finding.code.to_owned(),
    }
}

fn value_of(room: &Room) -> Value {
    let number = &room.number;
    json!({
        "key": number.key,
        "unit": match number.kind {
            NumberKind::Length => "mm",
            NumberKind::Degrees => "deg",
            NumberKind::Count | NumberKind::Bare => "",
        },
        "value": number.value,
        "file": number.place.file.display().to_string(),
        "line": number.place.line,
        "searched": [room.searched.0, room.searched.1],
        "no_stop": room.passes.as_ref().map(interval),
        "no_worse": room.no_worse.as_ref().map(interval),
        "nearest_without_stop": room.cures.map(|window| window.map(|window| window.nearest)),
        "without_stop": room.cures.map(|window| window.map(|window| {
            let [low, high] = window.rising();
            json!({ "low": low, "high": high, "goes_on": window.open })
        })),
        "changes": room.changes.iter().map(change).collect::<Vec<_>>(),
    })
}

fn interval(interval: &Interval) -> Value {
    json!({ "low": end(&interval.low), "high": end(&interval.high) })
}

fn end(end: &End) -> Value {
    let by = match &end.by {
        By::Nothing => Value::Null,
        By::Rule(refusal) => json!({ "key": refusal.key, "message": refusal.message }),
        By::Check(finding) => Value::Object(crate::write::entries::check_entry(finding)),
    };
    json!({ "at": end.at, "by": by })
}

fn change(change: &Change) -> Value {
    let name = |grade: Grade| grade.name();
    json!({
        "at": (change.at * 1000.0).round() / 1000.0,
        "code": change.code,
        "below": name(change.below),
        "above": name(change.above),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_are_rounded_inwards_too() {
        let dir = Path::new(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/params/sandpiper.toml"
        ));
        let numbers = Numbers::read(dir).unwrap();
        let rib = numbers.get("slots.rib").unwrap();
        // 12.71 mm are 0.50039 in.
        assert_eq!(shown(rib, 12.71, true, 1.0), "0.501");
        assert_eq!(shown(rib, 12.71, true, -1.0), "0.500");
        assert_eq!(shown(rib, 12.7, true, 1.0), "0.500");
        assert_eq!(shown(rib, 12.7, false, 1.0), "12.70");
    }
}
