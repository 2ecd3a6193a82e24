//! What the sheet says in words, and the key to its lines.

use glam::DVec2;

use crate::check::{Report, Verdict};
use crate::layout::Layout;
use crate::paper::dimension::{Style, line_step, put};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::tolerance::NOISE;
use crate::units::{show_degrees, show_mm};

use super::face::downhill;
use super::marks::{self, prick};
use super::seams::target;
use super::{CheckBar, short_name};

/// Heights of the words that are tried beside the parts, and on a page of their own, mm.
pub(super) const WORDS: [f64; 2] = [2.1, 1.95];
pub(super) const WORDS_ALONE: f64 = 2.7;
/// Length of a line's sample in the key, mm.
const SAMPLE: f64 = 14.0;
/// Between two columns, mm.
const BETWEEN: f64 = 5.0;

/// A paragraph, its first words bold, or a sample of a line with what it means.
enum Entry {
    Words(&'static str, String),
    Line(LineKind, String),
    Prick(String),
    Ramp(String),
    Target(String),
}

/// The block of notes in `columns` columns over `width` mm, its upper left corner at the origin;
/// `joined` where a part goes on over two pages, words `size` mm high.
pub(super) fn notes(
    layout: &Layout,
    report: &Report,
    bar: Option<CheckBar>,
    joined: bool,
    width: f64,
    columns: usize,
    size: f64,
) -> Sheet {
    let mut sheet = Sheet::new("notes", 0.0, 0.0);
    let columns = columns.max(1);
    let column = (width + BETWEEN) / columns as f64 - BETWEEN;
    let entries = entries(layout, report, bar, joined);
    let heights: Vec<f64> = entries
        .iter()
        .map(|entry| height(entry, column, size))
        .collect();
    // Each column is filled up to an even share of the whole.
    let share = heights.iter().sum::<f64>() / columns as f64;
    let (mut x, mut y, mut done) = (0.0, 0.0, 0.0);
    let mut in_column = 0;
    for (entry, height) in entries.iter().zip(&heights) {
        if in_column + 1 < columns && done + height / 2.0 > share * (in_column + 1) as f64 {
            in_column += 1;
            x += column + BETWEEN;
            y = 0.0;
        }
        draw(&mut sheet, entry, DVec2::new(x, y), column, size);
        y -= height;
        done += height;
    }
    sheet
}

fn entries(layout: &Layout, report: &Report, bar: Option<CheckBar>, joined: bool) -> Vec<Entry> {
    let design = &layout.design;
    let mut list = vec![Entry::Words(
        "Measure before use.",
        "Both check bars must measure 100.0 mm on the paper. If not, have the sheet printed again \
         at full size, not fitted to the page; if that does not cure it, tell whoever made it what \
         you read (it is corrected by --bar)."
            .to_owned(),
    )];
    if let Some(bar) = bar {
        list.push(Entry::Words(
            "Corrected",
            format!(
                "for a printer that prints a bar of 100 mm as {}.",
                show_mm(bar.mm())
            ),
        ));
    }
    let firsts = crate::input::Side::BOTH
        .map(|side| short_name(side, 1))
        .join(" and ");
    list.push(if layout.sides_with_pitches() == 0 {
        Entry::Words(
            "The sheet sets the marks.",
            format!("Transfer {firsts} with care: the block is set by them."),
        )
    } else {
        Entry::Words(
            "The sheet sets the first mark, the block sets the pitch.",
            format!(
                "Transfer {firsts}, next to the nut, with care; the other marks show whether the block agrees."
            ),
        )
    });
    let tapered = layout.each_side().any(|side| side.line.taper.abs() > NOISE);
    if tapered {
        list.push(Entry::Words(
            "A tapered head is never marked straight across.",
            "A square held against one side points past the other side's mark. Hold it to the \
             centre line and square each bore, at its y, out to its own edge."
                .to_owned(),
        ));
    }
    let shouldered = layout
        .each_side()
        .any(|side| layout.straight_from(side.side) > NOISE);
    let ends = if shouldered {
        "the strip's end to where the straight side starts"
    } else {
        "nut line to nut line"
    };
    list.push(Entry::Words(
        "Datum: the face.",
        format!(
            "Cut out the strips and fold them back along the dashed lines. The lip marked FACE lies \
             on the face, the arrows on its edge; {ends}. Each mark goes on round to the back's \
             edge: there it meets the block's line at the press, where face and side are hidden."
        ),
    ));
    if !design.head.veneers_on {
        list.push(Entry::Words(
            "The veneers are not on yet.",
            "The strips fold round the core; the lip marked FACE lies on the core's face."
                .to_owned(),
        ));
    }
    let units = if marks::lengths(layout).inches {
        "in millimetres, under them in inches"
    } else {
        "in millimetres"
    };
    list.push(Entry::Words(
        "Numbers",
        format!(
            "{units}. s: along the side from the nut line; y: along the centre line, where the mark squares \
             across. T treble, B bass, 1 next to the nut."
        ),
    ));
    list.extend(key(layout, joined));
    list.push(Entry::Words("Checks:", verdict(report)));
    list
}

/// The key to lines and signs; to the signs of a join where the sheet has one.
fn key(layout: &Layout, joined: bool) -> Vec<Entry> {
    let design = &layout.design;
    let lengths = marks::lengths(layout);
    let radius = design.head.edge_radius;
    let mut knife = "a knife may cut here: ".to_owned();
    if design.slots.is_some() {
        knife += "the wood goes with the slot, or ";
    }
    if radius > 0.0 {
        knife += &format!(
            "goes with the rounding ({} radius), or ",
            lengths.show(radius)
        );
    }
    knife += "the plate hides the cut (pencil where it has openings)";
    let pencil = match design.machines.screws {
        Some(_) => "with a pencil only; strings; circles of bores and of screw holes",
        None => "with a pencil only; strings; circles of the bores",
    };
    let shouldered = layout
        .each_side()
        .any(|side| layout.straight_from(side.side) > NOISE);
    let fold = if shouldered {
        "strips: fold here; face: the side line prolonged"
    } else {
        "fold"
    };
    let adjacent = if joined {
        "edge of the plate; where two pages join"
    } else {
        "edge of the plate"
    };
    let strung = layout.strings.iter().any(|string| string.strung.is_some());
    let turns = if strung { "; the string's turns" } else { "" };
    let mut list = vec![
        Entry::Line(LineKind::Wide, knife),
        Entry::Line(LineKind::Narrow, pencil.to_owned()),
        Entry::Line(
            LineKind::Dotted,
            format!(
                "do not transfer: the bore in the wood, square to the side; where the side tapers it leaves \
                 the mark{turns}"
            ),
        ),
        Entry::Line(
            LineKind::Axis,
            "centre line; on a strip, the line of the bores' centres".to_owned(),
        ),
        Entry::Line(LineKind::Hidden, fold.to_owned()),
        Entry::Line(LineKind::Adjacent, adjacent.to_owned()),
    ];
    let mut pricks = format!(
        "prick: bores {} across",
        lengths.show(design.bores.diameter)
    );
    if let Some(mouth) = design.bores.counterbore {
        pricks += &format!(" with mouths {} across", lengths.show(mouth.diameter));
    }
    if let Some(screws) = &design.machines.screws {
        pricks += &format!(
            "; screw holes {} across, {} deep",
            lengths.show(screws.pilot),
            lengths.show(screws.depth)
        );
    }
    if design.slots.is_some() {
        pricks += "; slots' round ends";
    }
    list.push(Entry::Prick(pricks));
    if let Some(ramp) = design.slots.as_ref().and_then(|slots| slots.ramp) {
        list.push(Entry::Ramp(format!(
            "ramp: falls {} the way the arrow points",
            show_degrees(ramp.angle)
        )));
    }
    if joined {
        list.push(Entry::Target(
            "lay these on one another where two pages join; the other lines must run on".to_owned(),
        ));
    }
    list
}

fn verdict(report: &Report) -> String {
    let cautions: Vec<&str> = report
        .findings
        .iter()
        .filter(|finding| finding.verdict != Verdict::Clear)
        .map(|finding| finding.code)
        .collect();
    if cautions.is_empty() {
        "all clear.".to_owned()
    } else {
        format!(
            "{}; the setup sheet says whether to carry on.",
            cautions.join(", ")
        )
    }
}

/// The texts of an entry, wrapped, with the first line's indent.
fn wrapped(entry: &Entry, width: f64, size: f64) -> Vec<(String, f64)> {
    match entry {
        Entry::Words(start, text) => {
            let start = text_width(&format!("{start} "), size, Weight::Strong);
            wrap(text, [start, 0.0], width, size)
        }
        Entry::Line(_, text) | Entry::Prick(text) | Entry::Ramp(text) | Entry::Target(text) => {
            wrap(text, [SAMPLE + 2.0; 2], width, size)
        }
    }
}

/// Lines of words, each with its indent.
fn wrap(text: &str, [first, indent]: [f64; 2], width: f64, size: f64) -> Vec<(String, f64)> {
    let mut lines = vec![(String::new(), first)];
    for word in text.split_whitespace() {
        let Some((line, left)) = lines.last_mut() else {
            break;
        };
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if *left + text_width(&longer, size, Weight::Plain) <= width {
            *line = longer;
        } else {
            lines.push((word.to_owned(), indent));
        }
    }
    lines
}

fn height(entry: &Entry, width: f64, size: f64) -> f64 {
    let lines = match entry {
        // The sign is taller than a line.
        Entry::Target(_) => wrapped(entry, width, size).len().max(2),
        _ => wrapped(entry, width, size).len(),
    };
    lines as f64 * line_step(size) + 0.8
}

fn draw(sheet: &mut Sheet, entry: &Entry, corner: DVec2, width: f64, size: f64) {
    let base = corner - DVec2::Y * size;
    let middle = base + DVec2::Y * (size / 2.0);
    let style = |weight| Style {
        text: size,
        weight,
        ..Style::default()
    };
    match entry {
        Entry::Words(start, _) => {
            let strong = style(Weight::Strong);
            put(sheet, Layer::Notes, base, 0.0, Anchor::Start, strong, start);
        }
        Entry::Line(line, _) => {
            sheet.line(Layer::Notes, *line, middle, middle + DVec2::X * SAMPLE);
        }
        Entry::Prick(_) => prick(sheet, Layer::Notes, middle + DVec2::X * (SAMPLE / 2.0)),
        Entry::Ramp(_) => downhill(sheet, middle, middle + DVec2::X * SAMPLE),
        Entry::Target(_) => target(sheet, middle + DVec2::new(SAMPLE / 2.0, -1.0)),
    }
    for (index, (text, left)) in wrapped(entry, width, size).iter().enumerate() {
        let at = base + DVec2::new(*left, -(index as f64) * line_step(size));
        let plain = style(Weight::Plain);
        put(sheet, Layer::Notes, at, 0.0, Anchor::Start, plain, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::run;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn one_mark_a_side_is_compared_with_no_other() {
        let mut design = six_string();
        let words = |design: &crate::input::Design| {
            let layout = Layout::new(design, Copy::Finished);
            let said = entries(&layout, &run(design).0, None, false);
            let words = said.into_iter().filter_map(|entry| match entry {
                Entry::Words(strong, text) => Some(format!("{strong} {text}")),
                _ => None,
            });
            words.collect::<Vec<_>>().join(" ")
        };
        assert!(words(&design).contains("the other marks show whether the block agrees"));
        design.machines.pitches.treble.clear();
        design.machines.pitches.bass.clear();
        let alone = words(&design);
        assert!(alone.contains("Transfer T1 and B1 with care"), "{alone}");
        assert!(
            !alone.contains("other marks") && !alone.contains("pitch"),
            "{alone}"
        );
    }
}
