//! The screen that `make` ends with: what one wants at hand when going to the bench.

use crate::check::{Report, Verdict};
use crate::input::{Point, Side, Unit};
use crate::layout::{BoreEnd, Layout, SideLayout};
use crate::pipeline::Outcome;
use crate::tolerance::NOISE;
use crate::units;

use super::style::{Lengths, QUIET, STRONG, clean, fill, fill_after, number, paint, shorten};
use super::table::{Lean, Table};
use super::{check, style, verdicts};

/// Column at which the text beside a heading begins.
const INDENT: usize = 12;

/// Where the depth stop is set for one side, or for both.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthStop {
    /// "treble", "bass" or "both".
    pub sides: &'static str,
    /// From the block's top to the tip of the bit at full depth, mm.
    pub figure: f64,
    /// Deepest D of the side, mm.
    pub deepest: f64,
    /// Length of the bit's point, mm.
    pub point: f64,
}

/// The depth stop of each side: block, deepest bore and point together.
pub fn depth_stops(layout: &Layout) -> Vec<DepthStop> {
    let of = |side: &SideLayout| {
        let deepest = side.bores.iter().map(|bore| bore.depth).fold(0.0, f64::max);
        let point = side
            .bores
            .iter()
            .map(|bore| bore.point_height)
            .fold(0.0, f64::max);
        DepthStop {
            sides: side.side.name(),
            figure: layout.design.guide.depth + deepest + point,
            deepest,
            point,
        }
    };
    let (treble, bass) = (of(&layout.sides.treble), of(&layout.sides.bass));
    if (treble.figure - bass.figure).abs() <= NOISE {
        vec![DepthStop {
            sides: "both",
            ..treble
        }]
    } else {
        vec![treble, bass]
    }
}

/// The whole screen.
pub fn draw(outcome: &Outcome, inches: bool) -> String {
    let (layout, report) = (&outcome.layout, &outcome.report);
    let lengths = Lengths {
        inches: inches || layout.design.unit == Unit::Inch,
    };
    let mut out = title(layout, report);
    out.push_str(&bores(layout, lengths));
    out.push_str(&stops(layout, lengths));
    if let Some(window) = report.rib_window {
        out.push_str(&verdicts::rib_window(window, check::rib(layout), lengths));
    }
    out.push_str(&plates(layout, lengths));
    out.push_str(&shim(layout, lengths));
    out.push('\n');
    out.push_str(&worth_reading(report, lengths));
    out.push('\n');
    out.push_str(&files(outcome));
    out.push_str(&for_people());
    out
}

fn title(layout: &Layout, report: &Report) -> String {
    let (treble, bass) = (
        layout.sides.treble.bores.len(),
        layout.sides.bass.bores.len(),
    );
    let title = shorten(&clean(&layout.design.title), 50);
    format!(
        "{}  {treble} treble + {bass} bass   {}\n\n",
        paint(STRONG, &title),
        verdicts::summary(report)
    )
}

/// A length in a cell: millimetres, and inches beside them where wanted.
fn cell(mm: f64, lengths: Lengths) -> String {
    if lengths.inches {
        let inches = units::show_inches(mm);
        format!("{} ({})", number(mm), inches.trim_end_matches(" in"))
    } else {
        number(mm)
    }
}

/// Rows of both sides; one set marked "both" where the two read alike.
fn both_or_each(
    layout: &Layout,
    rows: impl Fn(&SideLayout) -> Vec<Vec<String>>,
) -> Vec<Vec<String>> {
    let named = |name: &str, rows: Vec<Vec<String>>| {
        let name = name.to_owned();
        rows.into_iter().map(move |mut row| {
            row.insert(0, name.clone());
            row
        })
    };
    let (treble, bass) = (rows(&layout.sides.treble), rows(&layout.sides.bass));
    if treble == bass {
        named("both", treble).collect()
    } else {
        named(Side::Treble.name(), treble)
            .chain(named(Side::Bass.name(), bass))
            .collect()
    }
}

fn bores(layout: &Layout, lengths: Lengths) -> String {
    let barrel = layout.design.machines.barrel_length;
    let mut table = Table::new(&[
        ("side", Lean::Left),
        ("no.", Lean::Right),
        ("along side", Lean::Right),
        ("from last", Lean::Right),
        ("across at y", Lean::Right),
        ("D", Lean::Right),
        ("ends", Lean::Left),
        ("slot", Lean::Right),
        ("in rib", Lean::Right),
    ]);
    let rows = |side: &SideLayout| {
        let mut before = None;
        side.bores
            .iter()
            .map(|bore| {
                let gap = before.replace(bore.s).map(|last: f64| bore.s - last);
                let slot = bore.slot;
                vec![
                    bore.number.to_string(),
                    cell(bore.s, lengths),
                    gap.map_or(String::new(), |gap| cell(gap, lengths)),
                    cell(bore.centre_line_y(), lengths),
                    cell(bore.depth, lengths),
                    bore.end.name().to_owned(),
                    slot.map_or(String::new(), |slot| {
                        format!("{:.1}-{:.1}", slot.outer, slot.inner)
                    }),
                    slot.map_or(String::new(), |slot| number(barrel - slot.inner)),
                ]
            })
            .collect()
    };
    for row in both_or_each(layout, rows) {
        table.row(row);
    }
    let mut out = table.draw();
    let mut notes =
        "mm. Along side: from the nut line. Across at y: where it squares across to the \
                     centre line."
            .to_owned();
    if layout.design.slots.is_some() {
        notes.push_str(
            " Slot: depth at its two walls. In rib: how far the barrel reaches past the inner one.",
        );
    }
    if layout.bores().any(|bore| bore.end == BoreEnd::Opens) {
        notes.push_str(" Opens: into the bore opposite.");
    }
    out.push_str(&verdicts::note(&notes));
    out.push('\n');
    out
}

fn stops(layout: &Layout, lengths: Lengths) -> String {
    let bores = &layout.design.bores;
    let point = match bores.point {
        Point::Flat => "flat end".to_owned(),
        Point::Angle(angle) => format!(
            "{}° point",
            units::plain((angle.to_degrees() * 100.0).round() / 100.0)
        ),
    };
    let axis = lengths.show(layout.axis_below_face);
    let mouth = bores.counterbore.map_or(String::new(), |mouth| {
        format!(
            "; counterbore {}, {} deep",
            lengths.show(mouth.diameter),
            lengths.show(mouth.depth)
        )
    });
    let mut out = heading(
        "Bore",
        &format!(
            "{} diameter, {point}, axis {axis} below the face{mouth}",
            lengths.show(bores.diameter)
        ),
    );
    for stop in depth_stops(layout) {
        let side = match stop.sides {
            "both" => "both sides",
            "treble" => "treble side",
            _ => "bass side",
        };
        let tip = if stop.point > 0.0 {
            format!(" + point {}", number(stop.point))
        } else {
            String::new()
        };
        let travel = layout.design.press.as_ref().map_or(String::new(), |press| {
            format!("; the press has {} of travel", lengths.show(press.travel))
        });
        out.push_str(&heading(
            "Depth stop",
            &format!(
                "{} from the block's top, {side} (block {} + D {}{tip}){travel}",
                paint(STRONG, &lengths.show(stop.figure)),
                number(layout.design.guide.depth),
                number(stop.deepest),
            ),
        ));
    }
    if layout.bores().any(|bore| bore.end == BoreEnd::Web) {
        out.push_str(&heading(
            "Web",
            "these bores end 0.25 mm short of the centre plane in the model; the bit will break through what is left",
        ));
    }
    out
}

fn plates(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(&[
        ("plate", Lean::Left),
        ("begins at", Lean::Right),
        ("ends at", Lean::Right),
        ("side before", Lean::Right),
        ("side after", Lean::Right),
        ("edge to face", Lean::Right),
        ("to back", Lean::Right),
    ]);
    let rows = |side: &SideLayout| {
        let plate = &side.plate;
        let back = plate.to_back.iter().copied().fold(f64::INFINITY, f64::min);
        let figures = [
            plate.start_s,
            plate.end_s,
            plate.to_side_start,
            plate.to_side_end,
            plate.to_face,
            back,
        ];
        vec![figures.iter().map(|&mm| cell(mm, lengths)).collect()]
    };
    for row in both_or_each(layout, rows) {
        table.row(row);
    }
    table.draw()
}

fn shim(layout: &Layout, lengths: Lengths) -> String {
    let Some(block) = layout
        .blocks
        .first()
        .filter(|block| block.shim.abs() > NOISE)
    else {
        return String::new();
    };
    let between = if block.shim > 0.0 {
        "block and upright"
    } else {
        "head and upright"
    };
    heading(
        "Shim",
        &format!("{} between {between}", lengths.show(block.shim.abs())),
    )
}

/// Cautions in short, and the clear check with least to spare.
fn worth_reading(report: &Report, lengths: Lengths) -> String {
    let mut out = String::new();
    for finding in report.worst_first() {
        if finding.verdict != Verdict::Clear {
            out.push_str(&verdicts::brief(finding, lengths));
        }
    }
    out.push_str(&verdicts::tightest_clear(report, lengths, 1));
    out
}

fn files(outcome: &Outcome) -> String {
    let names: Vec<String> = outcome
        .files
        .iter()
        .map(|file| {
            let inside = file.strip_prefix(&outcome.folder).unwrap_or(file);
            clean(&inside.display().to_string())
        })
        .collect();
    let folder = clean(&outcome.folder.display().to_string());
    heading("Written", &format!("to {folder}: {}", names.join(", ")))
}

/// The usual cautions wherever the work can hurt someone.
pub fn for_people() -> String {
    let text = "Before you drill: eye protection on; head and block clamped, never held by hand; \
                no gloves, sleeves and hair tied back. Follow the machine's manual and the rules of \
                your workshop; this is work for practised hands. Try it on scrap first.";
    fill(text, 0)
        .lines()
        .map(|line| format!("{}\n", paint(QUIET, line)))
        .collect()
}

fn heading(word: &str, text: &str) -> String {
    fill_after(
        &paint(STRONG, word),
        text,
        INDENT.max(style::width(word) + 1),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::example;
    use crate::layout::Copy;
    use std::path::PathBuf;

    fn outcome(layout: Layout) -> Outcome {
        Outcome {
            layout,
            report: Report {
                findings: Vec::new(),
                rib_window: None,
            },
            files: vec!["out/a/head.step".into(), "out/a/report.json".into()],
            folder: PathBuf::from("out/a"),
        }
    }

    fn plain(outcome: &Outcome, inches: bool) -> String {
        anstream::adapter::strip_str(&draw(outcome, inches)).to_string()
    }

    #[test]
    fn the_stop_figure_is_block_and_bore_and_point() {
        // By hand: 24 + 32.5 + 5.25/tan 59 = 59.6545...
        let layout = Layout::new(&example::six_string(), Copy::Finished);
        let stops = depth_stops(&layout);
        assert_eq!(stops.len(), 1);
        assert!((stops[0].figure - 59.65).abs() < 0.005, "{stops:?}");
        let text = plain(&outcome(layout), false);
        assert!(text.contains("59.65"), "{text}");
    }

    #[test]
    fn mirrored_sides_share_their_rows_and_others_do_not() {
        let mut design = example::six_string();
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)), false);
        assert!(text.contains("both") && !text.contains("\nbass"), "{text}");
        design.machines.pitches.bass.push(35.0);
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)), false);
        assert!(
            text.contains("\ntreble") && text.contains("\nbass"),
            "{text}"
        );
    }

    #[test]
    fn one_screen_in_either_unit() {
        let mut design = example::six_string();
        design.machines.pitches.bass = vec![24.5; 5];
        design.machines.pitches.treble = vec![24.5; 5];
        for inches in [false, true] {
            let text = plain(&outcome(Layout::new(&design, Copy::Finished)), inches);
            assert!(text.lines().count() <= 45, "{text}");
            for line in text.lines() {
                assert!(style::width(line) <= style::SCREEN, "{text}");
            }
        }
    }

    #[test]
    fn a_shim_is_told_with_its_place() {
        let mut design = example::six_string();
        design.guide.axis_height = Some(10.0);
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)), false);
        assert!(text.contains("0.20 mm between block and upright"), "{text}");
        design.guide.axis_height = Some(10.5);
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)), false);
        assert!(text.contains("0.30 mm between head and upright"), "{text}");
    }
}
