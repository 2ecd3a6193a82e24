//! The screen that `make` ends with: what one wants at hand when going to the bench.

use crate::check::{Report, Verdict};
use crate::input::{Point, Side};
use crate::layout::{Block, BoreEnd, Layout, Serves};
use crate::pipeline::Outcome;
use crate::tolerance::NOISE;
use crate::units::{self, show_degrees};

use super::style::{Lengths, STRONG, clean, fill_after, number, paint, shorten};
use super::{beside, check, side_tables, style, verdicts};

/// Column at which the text beside a heading begins.
const INDENT: usize = 12;

/// The whole screen.
pub fn draw(outcome: &Outcome) -> String {
    let (layout, report) = (&outcome.layout, &outcome.report);
    let lengths = layout.design.lengths();
    let mut out = title(layout, report);
    out.push_str(&side_tables::bores(layout, lengths));
    out.push_str(&stops(layout, lengths));
    out.push_str(&slots(layout, lengths));
    if let Some(window) = report.rib_window {
        out.push_str(&verdicts::rib_window(window, check::rib(layout), lengths));
    }
    out.push_str(&side_tables::plates(layout, lengths));
    out.push_str(&shim(layout, lengths));
    out.push_str(&beside::drilled(layout));
    out.push_str(&beside::readings(layout, report, lengths, false));
    out.push_str(&beside::seasons(layout, report, lengths, false));
    out.push('\n');
    out.push_str(&worth_reading(report, lengths));
    out.push_str(&verdicts::remarks(&layout.design, lengths));
    out.push_str(&verdicts::doubts(&layout.design, lengths));
    out.push('\n');
    out.push_str(&files(outcome));
    for note in &outcome.notes {
        out.push_str(&verdicts::note(&clean(note)));
    }
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
    let head = &layout.design.head;
    let face = if head.veneers_on {
        "face".to_owned()
    } else {
        // What lies against the upright is the core.
        let core = layout.axis_below_face - head.face_veneer;
        format!(
            "finished face, {} below the core's as it is drilled",
            lengths.show(core)
        )
    };
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
            "{} diameter, {point}, axis {axis} below the {face}{mouth}",
            lengths.show(bores.diameter)
        ),
    );
    let part = |mm: f64| {
        if lengths.inches {
            lengths.show(mm)
        } else {
            number(mm)
        }
    };
    for stop in layout.stops() {
        let side = match stop.serves {
            Serves::Both => "both sides",
            Serves::Only(Side::Treble) => "treble side",
            Serves::Only(Side::Bass) => "bass side",
        };
        let tip = if stop.point > 0.0 {
            format!(" + point {}", part(stop.point))
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
                part(stop.block),
                part(stop.deepest),
            ),
        ));
    }
    if layout.bores().any(|bore| bore.end == BoreEnd::Web) {
        out.push_str(&heading(
            "Web",
            "these bores end 0.25 mm short of the centre plane in the model; the bit will break through what is left",
        ));
    }
    for one in layout.deeper() {
        let text = format!(
            "{} bore {} goes {} deeper than asked: {}",
            one.bore.side.name(),
            one.bore.number,
            lengths.show(one.by),
            one.why
        );
        out.push_str(&heading("Deeper", &text));
    }
    out
}

fn shim(layout: &Layout, lengths: Lengths) -> String {
    let shim = layout.blocks.first().and_then(Block::shim_to_lay);
    shim.map_or_else(String::new, |(thick, between)| {
        heading(
            "Shim",
            &format!("{} between {between}", lengths.show(thick)),
        )
    })
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

/// Where slots, ramps and pilots are cut, and where the block's end comes to lie.
fn slots(layout: &Layout, lengths: Lengths) -> String {
    let mut out = String::new();
    for side in layout.each_side() {
        let Some(slot) = &side.slot else { continue };
        let (start, end) = (slot.at(0.0, 0.0), slot.at(slot.length, 0.0));
        let mut text = format!(
            "{}: {} wide, its mid-line from y {} to {}, {}",
            side.side.name(),
            lengths.show(slot.width),
            lengths.show(start.y),
            lengths.show(end.y),
            if (start.x - end.x).abs() > NOISE {
                format!("x {} to {}", lengths.show(start.x), lengths.show(end.x))
            } else {
                format!("at x {}", lengths.show(start.x))
            },
        );
        if let Some(ramp) = slot.ramp {
            text.push_str(&format!(
                "; ramp from y {}, {} down from the face",
                lengths.show(slot.at(-ramp.mouth, 0.0).y),
                show_degrees(ramp.angle)
            ));
        }
        out.push_str(&heading("Slot", &text));
    }
    for side in layout.each_side().filter(|side| !side.pilots.is_empty()) {
        let places: Vec<String> = side
            .pilots
            .iter()
            .map(|pilot| lengths.show(pilot.s))
            .collect();
        let (depth, across) = (side.pilots[0].depth, side.pilots[0].diameter);
        let text = format!(
            "{}: {} along the side, {} across, {} deep",
            side.side.name(),
            places.join(", "),
            lengths.show(across),
            lengths.show(depth)
        );
        out.push_str(&heading("Pilots", &text));
    }
    out
}

/// The files written, a folder a line.
fn files(outcome: &Outcome) -> String {
    let mut folders: Vec<(String, Vec<String>)> = Vec::new();
    for file in &outcome.files {
        let inside = file.strip_prefix(&outcome.folder).unwrap_or(file);
        let parent = inside
            .parent()
            .map(|p| p.display().to_string())
            .unwrap_or_default();
        let name = inside
            .file_name()
            .map(|n| n.to_string_lossy().into_owned())
            .unwrap_or_default();
        match folders.iter_mut().find(|(folder, _)| *folder == parent) {
            Some((_, names)) => names.push(clean(&name)),
            None => folders.push((parent, vec![clean(&name)])),
        }
    }
    let place = clean(&outcome.folder.display().to_string());
    let mut text = heading("Written", &format!("to {place}:"));
    for (folder, names) in folders {
        let folder = if folder.is_empty() {
            String::new()
        } else {
            format!("{}/ ", clean(&folder))
        };
        text.push_str(&fill_after(
            &" ".repeat(INDENT),
            &format!("{folder}{}", names.join(", ")),
            INDENT + 2,
        ));
    }
    text
}

/// The usual cautions wherever the work can hurt someone.
fn for_people() -> String {
    let text = "Before you drill: eye protection on; head and block clamped, never held by hand; \
                no gloves, sleeves and hair tied back. Follow the machine's manual and the rules of \
                your workshop; this is work for practised hands. Try it on scrap first.";
    verdicts::note(text)
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
            notes: Vec::new(),
            earlier: Vec::new(),
            layout,
            report: Report {
                findings: Vec::new(),
                rib_window: None,
            },
            files: vec!["out/a/head.step".into(), "out/a/report.json".into()],
            folder: PathBuf::from("out/a"),
        }
    }

    fn plain(outcome: &Outcome) -> String {
        anstream::adapter::strip_str(&draw(outcome)).to_string()
    }

    #[test]
    fn mirrored_sides_share_their_rows_and_others_do_not() {
        let mut design = example::six_string();
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)));
        assert!(text.contains("both") && !text.contains("\nbass"), "{text}");
        design.machines.pitches.bass.push(35.0);
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)));
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
            design.inches = Some(inches);
            let text = plain(&outcome(Layout::new(&design, Copy::Finished)));
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
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)));
        assert!(
            text.contains("0.20 mm between the block and the upright"),
            "{text}"
        );
        design.guide.axis_height = Some(10.5);
        let text = plain(&outcome(Layout::new(&design, Copy::Finished)));
        assert!(
            text.contains("0.30 mm between the head's face and the upright"),
            "{text}"
        );
    }
}
