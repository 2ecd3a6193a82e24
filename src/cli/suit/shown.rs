//! What `suit` prints for a person: ranges, fittings, verdicts, what was assumed.

use crate::check::Verdict;
use crate::input::{Assumed, AssumedValue, Lie};
use crate::study::suit::{Bound, End, Range};
use crate::units::{MM_PER_INCH, bare_inches, number, on_step};

use super::super::style::{self, Lengths, QUIET, STRONG, fill, fill_after, paint};
use super::super::table::{Lean, Table};
use super::super::verdicts;
use super::{Asked, NAME};

/// Columns of the table of ranges.
const COLUMNS: [(&str, Lean); 6] = [
    ("set", Lean::Left),
    ("here", Lean::Right),
    ("clear", Lean::Left),
    ("decided by", Lean::Left),
    ("no stop", Lean::Left),
    ("decided by", Lean::Left),
];

/// What is printed of these sets: millimetres, and the same tables in inches where they are to be shown; a
/// screen is not wide enough for both side by side.
pub(super) fn text(asked: &[Asked], inches: bool) -> String {
    let shown = |inches| Shown { asked, inches };
    let metric = shown(false);
    let mut out = format!(
        "{}{}\n{}\n{}{}{}\n",
        metric.heading(),
        metric.bounds(),
        metric.fittings(),
        metric.as_it_stands(),
        metric.gaps(),
        metric.left_out()
    );
    if inches {
        let imperial = shown(true);
        out.push_str(&format!(
            "{}{}\n{}{}\n",
            imperial.heading(),
            imperial.bounds(),
            imperial.fittings(),
            imperial.gaps()
        ));
    }
    out.push_str(&metric.assumptions(Lengths { inches }));
    out
}

/// The sets in one unit.
struct Shown<'a> {
    /// The sets, in the order asked.
    asked: &'a [Asked],
    /// Inches instead of millimetres.
    inches: bool,
}

impl Shown<'_> {
    fn heading(&self) -> String {
        let unit = if self.inches { "inches" } else { "millimetres" };
        format!(
            "{}, in {unit}\n\n",
            paint(STRONG, "What head each set wants")
        )
    }

    /// A bare length in the table's unit.
    fn bare(&self, mm: f64) -> String {
        if self.inches {
            bare_inches(mm)
        } else {
            number(mm)
        }
    }

    /// An end of a range, rounded into the range.
    fn end(&self, end: End, up: bool) -> String {
        let step = if self.inches {
            MM_PER_INCH / 1000.0
        } else {
            0.01
        };
        // Ends are found far more closely than this share of a step.
        self.bare(on_step(end.value, step, up, 1e-3))
    }

    fn range(&self, range: &Range) -> String {
        if !range.is_open() {
            return "none".to_owned();
        }
        match (range.least, range.greatest) {
            (Some(least), Some(greatest)) => {
                format!("{} to {}", self.end(least, true), self.end(greatest, false))
            }
            (Some(least), None) => format!("from {}", self.end(least, true)),
            (None, Some(greatest)) => format!("to {}", self.end(greatest, false)),
            (None, None) => "any".to_owned(),
        }
    }

    /// The numbers with their ranges: a group of rows each, a row a set.
    fn bounds(&self) -> String {
        let mut table = Table::new(&COLUMNS);
        let mut groups: Vec<(&'static str, usize)> = Vec::new();
        let numbers = self.asked.iter().map(|one| one.suit.bounds.len()).max();
        for index in 0..numbers.unwrap_or(0) {
            let rows: Vec<(&Asked, &Bound)> = self
                .asked
                .iter()
                .filter_map(|one| Some((one, one.suit.bounds.get(index)?)))
                .collect();
            for (one, bound) in rows {
                let title = bound.number.title();
                match groups.last_mut() {
                    Some((own, count)) if *own == title => *count += 1,
                    _ => groups.push((title, 1)),
                }
                table.row(vec![
                    one.name.clone(),
                    self.here(bound),
                    self.range(&bound.clear),
                    deciding(&bound.clear),
                    self.range(&bound.no_stop),
                    deciding(&bound.no_stop),
                ]);
            }
        }
        let drawn = table.draw();
        let mut lines = drawn.lines();
        let mut out = String::new();
        if let Some(heading) = lines.next() {
            out.push_str(heading);
            out.push('\n');
        }
        for (title, count) in groups {
            out.push_str(&format!("{}\n", paint(STRONG, title)));
            for line in lines.by_ref().take(count) {
                out.push_str(line);
                out.push('\n');
            }
        }
        out
    }

    /// The present value, marked where it is assumed, in the colour of what the ranges say of it.
    fn here(&self, bound: &Bound) -> String {
        let Some(here) = bound.here else {
            return String::new();
        };
        let mark = if bound.assumed { "*" } else { " " };
        let text = format!("{}{mark}", self.bare(here));
        if !bound.no_stop.holds(here) {
            paint(style::of(Verdict::Stop), &text)
        } else if !bound.clear.holds(here) {
            paint(style::of(Verdict::Caution), &text)
        } else {
            text
        }
    }

    /// Slots, bit and block that go with each set.
    fn fittings(&self) -> String {
        let mut table = Table::new(&[
            ("set", Lean::Left),
            ("slot's middle", Lean::Left),
            ("rib window", Lean::Left),
            ("bit", Lean::Right),
            ("guide block", Lean::Left),
            ("holes at", Lean::Right),
            ("drills", Lean::Left),
        ]);
        for one in self.asked {
            let suit = &one.suit;
            let from = match suit.design.slots.as_ref().map(|slots| slots.lie) {
                Some(Lie::Cheek(_)) => "from side",
                _ => "off centre",
            };
            let window = suit.rib_window.map_or_else(String::new, |window| {
                if window.is_open() {
                    let end = |value, up| self.end(End { value, check: "" }, up);
                    let least = end(window.least, true);
                    if window.greatest.is_finite() {
                        format!("{least} to {}", end(window.greatest, false))
                    } else {
                        format!("from {least}")
                    }
                } else {
                    "none".to_owned()
                }
            });
            for (index, block) in suit.layout.blocks.iter().enumerate() {
                let first = |text: String| if index == 0 { text } else { String::new() };
                table.row(vec![
                    first(one.name.clone()),
                    first(format!("{} {from}", self.bare(suit.slot_middle))),
                    first(window.clone()),
                    first(self.bare(suit.design.bores.diameter)),
                    format!(
                        "{} x {} x {}",
                        self.bare(block.length),
                        self.bare(block.depth),
                        self.bare(block.height)
                    ),
                    self.bare(block.axis_height),
                    block.serves.name().to_owned(),
                ]);
            }
        }
        format!(
            "{}\n{}",
            paint(STRONG, "Slots over the string holes, bit and block"),
            table.draw()
        )
    }

    /// The verdict of the whole checks on each set, and which of them are not clear.
    fn as_it_stands(&self) -> String {
        let mut out = format!(
            "{}\n",
            paint(STRONG, "All checks, with the numbers here as they are")
        );
        for one in self.asked {
            let mut line = verdicts::summary(&one.report);
            let codes: Vec<&str> = one
                .report
                .worst_first()
                .into_iter()
                .filter(|finding| finding.verdict != Verdict::Clear)
                .map(|finding| finding.code)
                .collect();
            if !codes.is_empty() {
                line.push_str(&format!(" ({})", codes.join(", ")));
            }
            let no_row = &one.suit.no_bound;
            if !no_row.is_empty() {
                line.push_str(&format!("; no range above counts {}", no_row.join(", ")));
            }
            out.push_str(&fill_after(&one.name, &line, NAME + 2));
        }
        out
    }

    /// What stands against what where a range is empty.
    fn gaps(&self) -> String {
        let mut out = String::new();
        for one in self.asked {
            for bound in &one.suit.bounds {
                let ranges = [("a stop", &bound.no_stop), ("a caution", &bound.clear)];
                for (without, range) in ranges {
                    if let Some(words) = self.gap(range) {
                        let title = bound.number.title();
                        let line = format!("{title}: nothing without {without}; {words}");
                        out.push_str(&fill_after(&one.name, &line, NAME + 2));
                        break;
                    }
                }
            }
        }
        if out.is_empty() {
            return out;
        }
        format!("\n{}\n{out}", paint(STRONG, "Where no value will do"))
    }

    fn gap(&self, range: &Range) -> Option<String> {
        if let Some(code) = range.never {
            return Some(format!("{code} never holds"));
        }
        let (least, greatest) = range.least.zip(range.greatest)?;
        (!range.is_open()).then(|| {
            format!(
                "{} wants at least {}, {} at most {}",
                least.check,
                self.end(least, true),
                greatest.check,
                self.end(greatest, false)
            )
        })
    }

    /// What a range does not count and its number moves, over all sets: "clear" is not read as more than it
    /// is.
    fn left_out(&self) -> String {
        let mut list: Vec<(&'static str, Vec<&'static str>)> = Vec::new();
        for bound in self.asked.iter().flat_map(|one| &one.suit.bounds) {
            if bound.left_out.is_empty() {
                continue;
            }
            let title = bound.number.title();
            if !list.iter().any(|(own, _)| *own == title) {
                list.push((title, Vec::new()));
            }
            for (own, codes) in &mut list {
                for code in bound.left_out.iter().filter(|_| *own == title) {
                    if !codes.contains(code) {
                        codes.push(code);
                    }
                }
            }
        }
        if list.is_empty() {
            return String::new();
        }
        let mut out = format!(
            "\n{}\n",
            paint(
                STRONG,
                "Not counted, though within a range they can say more than now"
            )
        );
        for (title, codes) in list {
            out.push_str(&fill(&format!("{title}: {}", codes.join(", ")), 0));
        }
        out
    }

    /// Every assumed value once, with the sets it was assumed for where it is not all of them.
    fn assumptions(&self, lengths: Lengths) -> String {
        let mut keys: Vec<&Assumed> = Vec::new();
        for assumed in self.asked.iter().flat_map(|one| &one.suit.assumed) {
            if !keys.iter().any(|own| own.key == assumed.key) {
                keys.push(assumed);
            }
        }
        if keys.is_empty() {
            return "Nothing is assumed: every number is given.\n".to_owned();
        }
        let mut out = format!("{}\n", paint(STRONG, "Assumed (*), for no file gives it"));
        for assumed in keys {
            out.push_str(&fill_after(
                assumed.key,
                &format!(
                    "{}: {} ({})",
                    self.values(assumed.key, lengths),
                    assumed.why,
                    assumed.basis.name()
                ),
                AT_VALUE,
            ));
        }
        out.push_str(&paint(
            QUIET,
            fill(
                "Ranges hold with everything else as it is, for the checks they count: decide on a number, \
                 then run `check`. A check is explained by: barrelhead explain CODE",
                0,
            )
            .trim_end(),
        ));
        out.push('\n');
        out
    }

    /// A key's assumed values: one where all sets agree, else each with its sets.
    fn values(&self, key: &str, lengths: Lengths) -> String {
        let mut all: Vec<(String, Vec<&str>)> = Vec::new();
        for one in self.asked {
            let Some(assumed) = one.suit.assumed.iter().find(|own| own.key == key) else {
                continue;
            };
            let value = value(assumed.value, lengths);
            match all.iter_mut().find(|(own, _)| *own == value) {
                Some((_, names)) => names.push(&one.name),
                None => all.push((value, vec![&one.name])),
            }
        }
        match all.as_slice() {
            [(value, names)] if names.len() == self.asked.len() => value.clone(),
            _ => all
                .iter()
                .map(|(value, names)| format!("{value} for {}", names.join(" and ")))
                .collect::<Vec<_>>()
                .join(", "),
        }
    }
}

/// An assumed value; the table's unit is understood where there is but one.
fn value(value: AssumedValue, lengths: Lengths) -> String {
    let length = |mm: f64| {
        if lengths.inches {
            lengths.show(mm)
        } else {
            number(mm)
        }
    };
    match value {
        AssumedValue::Length(mm) => length(mm),
        AssumedValue::Pair([one, other]) => format!("{} and {}", length(one), length(other)),
        AssumedValue::Degrees(degrees) => lengths.value(degrees, "deg"),
        AssumedValue::Word(word) => word.to_owned(),
    }
}

/// Column at which an assumed value stands: the longest key and two spaces.
const AT_VALUE: usize = 25;

/// The checks that set a range's ends; what leaves no range at all is told below the table.
fn deciding(range: &Range) -> String {
    if !range.is_open() {
        return String::new();
    }
    let codes = [range.least, range.greatest];
    let codes: Vec<&str> = codes.into_iter().flatten().map(|end| end.check).collect();
    match codes.as_slice() {
        [one, other] if one == other => (*one).to_owned(),
        codes => codes.join(", "),
    }
}
