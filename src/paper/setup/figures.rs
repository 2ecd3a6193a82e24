//! Figures of the setup sheet in words: stop, wedge, shim, bit, speed, and what this press has.

use crate::check::words::margin_words;
use crate::check::{Basis, Finding, Limit, Report, Verdict};
use crate::input::{Point, Side};
use crate::layout::{Block, Layout};
use crate::paper::marking::short_name;
use crate::standards::boring_speeds::{BoringSpeed, boring_speed};
use crate::standards::{Mark, nearest_stock};
use crate::tolerance::NOISE;
use crate::units::{Lengths, bare_inches, number, plain, show_degrees};

/// `= block 24.00 + bore 32.50 + point 3.15 mm`, and the same in inches on a line of its own where they are
/// asked for.
pub(super) fn stop_parts(layout: &Layout, side: Side, lengths: Lengths) -> Vec<String> {
    let stop = layout.stop(side);
    let line = |figure: fn(f64) -> String, unit: &str| {
        let point = if stop.point > 0.0 {
            format!(" + point {}", figure(stop.point))
        } else {
            String::new()
        };
        let (block, bore) = (figure(stop.block), figure(stop.deepest));
        format!("= block {block} + bore {bore}{point} {unit}")
    };
    let inches = lengths.inches.then(|| line(bare_inches, "in"));
    [line(number, "mm")].into_iter().chain(inches).collect()
}

/// Why the stop of a side is set deeper than its depth rule asks for; `None` where it is not.
pub(super) fn deeper(layout: &Layout, side: Side, lengths: Lengths) -> Option<String> {
    let deepest = layout.stop(side).deepest;
    layout
        .deeper()
        .find(|one| one.bore.side == side && one.bore.depth >= deepest - NOISE)
        .map(|one| {
            format!(
                "Bore {} deeper than asked for {}: {}.",
                lengths.show(one.by),
                short_name(side, one.bore.number),
                one.why
            )
        })
}

/// The wedge under the lower side, with the hand its thick end points to; `None` where the sides
/// are parallel.
pub(super) fn wedge(layout: &Layout, nut_at_left: bool) -> Option<String> {
    let angle = layout.wedge_angle();
    if angle.abs() <= NOISE {
        return None;
    }
    let (end, at_left) = if angle > 0.0 {
        ("nut", nut_at_left)
    } else {
        ("crest", !nut_at_left)
    };
    let hand = if at_left { "left" } else { "right" };
    Some(format!(
        "{}, thick end at the {end} ({hand})",
        show_degrees(angle.abs())
    ))
}

/// Thickness of the shim and where it goes; `None` where none is needed.
pub(super) fn shim(block: &Block, lengths: Lengths) -> Option<String> {
    let (thick, between) = block.shim_to_lay()?;
    Some(format!("{} between {between}", lengths.show(thick)))
}

/// `10.50 mm, 118° point`, and the nearest size in the trade where it goes by another name.
pub(super) fn bit(layout: &Layout, lengths: Lengths) -> String {
    let bores = &layout.design.bores;
    let point = match bores.point {
        Point::Flat => "flat end".to_owned(),
        Point::Angle(angle) => {
            let degrees = plain((angle.to_degrees() * 100.0).round() / 100.0);
            format!("{degrees}° point")
        }
    };
    let stock = nearest_stock(bores.diameter);
    let name = if (stock.diameter - bores.diameter).abs() > NOISE || stock.name.ends_with(" mm") {
        String::new()
    } else {
        format!(" = {}", stock.name)
    };
    format!("{}{name}, {point}", lengths.show(bores.diameter))
}

/// What the table of speeds says of this bit.
pub(super) fn speed(layout: &Layout) -> String {
    let bores = &layout.design.bores;
    let told = match boring_speed(bores.diameter) {
        BoringSpeed::Row(row) => format!(
            "{:.0} rev/min in hardwood, {:.0} in softwood",
            row.hardwood, row.softwood
        ),
        BoringSpeed::Between(small, large) => format!(
            "{:.0} to {:.0} rev/min in hardwood, {:.0} to {:.0} in softwood; begin at the lower",
            large.hardwood, small.hardwood, large.softwood, small.softwood
        ),
        BoringSpeed::Unknown => {
            return "no speed was found published for this size; ask the bit's maker".to_owned();
        }
    };
    let other = match bores.point {
        Point::Flat => "; published for twist bits, a flat-ended bit may want less",
        Point::Angle(_) => "",
    };
    format!("{told} (common practice{other})")
}

/// One line a check of the press: what the job takes, what there is, what is to spare; and what the
/// parameter file leaves to be measured.
pub(super) fn press(
    layout: &Layout,
    report: &Report,
    lengths: Lengths,
) -> Vec<(&'static str, String)> {
    let takes = lengths.show(layout.longest_stop());
    if layout.design.press.is_none() {
        let text = format!(
            "not described in the file: it must have {takes} of quill travel, the bit as much of flutes; and room under the chuck for head, block and bit"
        );
        return vec![("This press", text)];
    }
    [
        ("press-travel", "Quill travel", String::new()),
        (
            "press-flutes",
            "Flutes",
            format!(
                "the job takes {takes}; no length was found published for this bit: measure it"
            ),
        ),
        (
            "press-daylight",
            "Daylight",
            "not stated in the file: try head, block and bit under the chuck before you clamp"
                .to_owned(),
        ),
    ]
    .into_iter()
    .map(|(code, name, unknown)| {
        let text = report
            .finding(code)
            .map_or(unknown, |finding| finding_of_press(finding, lengths));
        (name, text)
    })
    .collect()
}

/// Where a limit comes from, said to someone who has not seen the program's tables.
pub(super) fn basis_in_words(basis: &Basis) -> String {
    basis.name().replace(
        Mark::Confirmed.words(),
        "as a trader's table gives it: measure yours",
    )
}

fn finding_of_press(finding: &Finding, lengths: Lengths) -> String {
    let basis = match &finding.basis {
        Basis::Own => String::new(),
        other => format!(" ({})", basis_in_words(other)),
    };
    let loud = if finding.verdict == Verdict::Clear {
        ""
    } else {
        "TOO LITTLE: "
    };
    let there = match finding.limit {
        Limit::Single(limit) => lengths.show(limit),
        Limit::Band { high, .. } => lengths.show(high),
    };
    format!(
        "{loud}the job takes {} of {there}; {}{basis}",
        lengths.show(finding.value),
        margin_words(finding, lengths)
    )
}
