//! The bore list: every bore, counterbore and pilot in the frame of its operation card, as
//! comma-separated values after RFC 4180 (a heading, CRLF line ends, quotes where a cell needs
//! them), in UTF-8.
//!
//! Written out here: the few lines of quoting weigh less than a dependency, and the guard against
//! cells that a spreadsheet would take for a formula is needed besides.

use std::fmt::Write as _;

use crate::input::Point;
use crate::layout::{Layout, Operation, TurnAxis};
use crate::units::plain;

/// Headings of the list. Positions are in the frame whose origin and turns stand in the same row:
/// the head frame turned about its own y, then about its z, anticlockwise seen from the axis's
/// point; z = 0 on the side, +z out of it.
pub const HEADINGS: [&str; 19] = [
    "operation",
    "feature",
    "side",
    "number",
    "x_mm",
    "y_mm",
    "z_mm",
    "diameter_mm",
    "depth_mm",
    "point_deg",
    "point_length_mm",
    "ends",
    "origin_head_x_mm",
    "origin_head_y_mm",
    "origin_head_z_mm",
    "turn_about_head_y_deg",
    "turn_about_head_z_deg",
    "title",
    "job_number",
];

/// The bore list of a layout.
#[must_use]
pub fn bore_list(layout: &Layout) -> Vec<u8> {
    let mut out = line(HEADINGS.iter().map(|heading| text(heading)));
    for operation in layout.operations() {
        for hole in &operation.holes {
            let (origin, design) = (operation.frame.origin, &layout.design);
            let point = match hole.point {
                Point::Flat => text("flat"),
                Point::Angle(angle) => number(angle.to_degrees()),
            };
            out.push_str(&line([
                text(operation.clamping.name()),
                text(hole.kind.name()),
                text(hole.side.name()),
                hole.number.to_string(),
                number(hole.at.x),
                number(hole.at.y),
                number(hole.at.z),
                number(hole.diameter),
                number(hole.depth),
                point,
                number(hole.point_height),
                text(hole.end.name()),
                number(origin.x),
                number(origin.y),
                number(origin.z),
                number(turn(&operation, TurnAxis::Y)),
                number(turn(&operation, TurnAxis::Z)),
                text(&design.title),
                text(&design.job.number),
            ]));
        }
    }
    out.into_bytes()
}

/// Degrees of the operation's turn about an axis.
fn turn(operation: &Operation, axis: TurnAxis) -> f64 {
    operation
        .turns
        .iter()
        .filter(|turn| turn.axis == axis)
        .map(|turn| turn.angle.to_degrees())
        .sum()
}

/// A number to a millionth, plain, never quoted.
pub(crate) fn number(value: f64) -> String {
    plain((value * 1e6).round() / 1e6)
}

/// What begins a formula in a spreadsheet, the wide forms of East Asian keyboards included.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// A text cell. A formula that begins in it is kept a text by an apostrophe before it: a spreadsheet would
/// run it. One can begin at the start, and after a semicolon: where a comma marks decimals, spreadsheets
/// part the cells of a file at semicolons, and quotes within a line do not keep them from it. Line ends
/// and other control characters become spaces.
pub(crate) fn text(cell: &str) -> String {
    let clean: String = cell
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let parts: Vec<String> = clean.split(';').map(guarded).collect();
    let safe = parts.join(";");
    if safe.contains([',', ';', '"']) || safe.trim() != safe {
        format!("\"{}\"", safe.replace('"', "\"\""))
    } else {
        safe
    }
}

/// Quotes are doubled within a cell, and a reader that begins one there takes two for none.
fn guarded(part: &str) -> String {
    let begins = part.trim_start_matches(|c: char| c.is_whitespace() || c == '"');
    if begins.starts_with(FORMULA) {
        format!("'{part}")
    } else {
        part.to_owned()
    }
}

/// A record, ended.
pub(crate) fn line(cells: impl IntoIterator<Item = String>) -> String {
    let mut out = String::new();
    for (index, cell) in cells.into_iter().enumerate() {
        // Writing to a String cannot fail.
        let _ = write!(out, "{}{cell}", if index == 0 { "" } else { "," });
    }
    out.push_str("\r\n");
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn cells_are_quoted_and_formulas_made_harmless() {
        assert_eq!(text("plain"), "plain");
        assert_eq!(text("a, b"), "\"a, b\"");
        assert_eq!(text("say \"ten\""), "\"say \"\"ten\"\"\"");
        assert_eq!(text("=1+2"), "'=1+2");
        // The apostrophe stands first, so no space at an end is left to lose.
        assert_eq!(text(" @x"), "' @x");
        assert_eq!(text("-3,5"), "\"'-3,5\"");
        assert_eq!(text("\t+x"), "' +x");
        assert_eq!(text("＝1"), "'＝1");
        assert_eq!(text(" x"), "\" x\"");
        assert_eq!(text("two\r\nlines"), "two  lines");
        assert_eq!(text("07-B"), "07-B");
        assert_eq!(text("a;=1"), "\"a;'=1\"");
        assert_eq!(text("a; -1;b;\"+2\""), "\"a;' -1;b;'\"\"+2\"\"\"");
        assert_eq!(text("a;b"), "\"a;b\"");
    }

    #[test]
    fn numbers_stay_numbers() {
        assert_eq!(number(-10.2), "-10.2");
        assert_eq!(number(-0.000_000_1), "0");
        assert_eq!(number(35.925), "35.925");
    }

    #[test]
    fn one_row_a_hole_with_every_column() {
        let mut design = six_string();
        design.title = "=cmd, \"x\"".to_owned();
        let layout = Layout::new(&design, Copy::Finished);
        let list = String::from_utf8(bore_list(&layout)).unwrap();
        let rows: Vec<&str> = list.split_terminator("\r\n").collect();
        assert_eq!(rows.len(), 7);
        assert!(rows[0].starts_with("operation,feature,side,number,x_mm,y_mm,z_mm,diameter_mm"));
        assert!(
            rows[1].starts_with("treble side up,bore,treble,1,10.2,"),
            "{}",
            rows[1]
        );
        assert!(
            rows[4].starts_with("bass side up,bore,bass,1,-10.2,"),
            "{}",
            rows[4]
        );
        assert!(
            rows.iter()
                .skip(1)
                .all(|row| row.ends_with(",\"'=cmd, \"\"x\"\"\","))
        );
        // Nothing but the title holds a comma, so the columns can be counted.
        assert!(rows[1].replace("=cmd, ", "").matches(',').count() == HEADINGS.len() - 1);
    }
}
