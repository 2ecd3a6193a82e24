//! Figures of the setup sheet in words: stop, wedge, shim, bit, speed, and what this press has.

use crate::check::words::margin_words;
use crate::check::{Basis, Finding, Limit, Report, Verdict};
use crate::input::{Point, Side};
use crate::layout::{Block, Layout, RigLayout};
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
            "not stated in the file: try rig, head, block and bit under the chuck before you clamp"
                .to_owned(),
        ),
    ]
    .into_iter()
    .map(|(code, name, unknown)| {
        let text = report.finding(code).map_or(unknown, |finding| match code {
            "press-daylight" => daylight(layout, finding, lengths),
            _ => finding_of_press(finding, lengths),
        });
        (name, text)
    })
    .collect()
}

/// The check's own words, which are of head and block on the bare table, and what the rig under them adds.
fn daylight(layout: &Layout, finding: &Finding, lengths: Lengths) -> String {
    let bare = finding_of_press(finding, lengths);
    let (Some(rig), Limit::Single(there)) = (RigLayout::new(layout), finding.limit) else {
        return bare;
    };
    let takes = finding.value + rig.raises(layout);
    let left = there - takes;
    let on_rig = if left < -NOISE {
        format!(
            "TOO LITTLE ON THE RIG: it takes {}, {} more than there is, and does not go under the chuck",
            lengths.show(takes),
            lengths.show(-left)
        )
    } else {
        format!(
            "On the rig it takes {}; {} to spare",
            lengths.show(takes),
            lengths.show(left)
        )
    };
    format!(
        "{bare}. That is on the bare table. {on_rig}: the block's top is {} above the table there.",
        lengths.show(rig.height_over_table())
    )
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    /// What the sheet says of the daylight that this press has, mm.
    fn said(there: f64) -> (f64, String) {
        let mut design = six_string();
        design.press = Some(crate::input::Press {
            travel: 80.0,
            daylight: Some(there),
            bit_length: Some(120.0),
            flute_length: None,
        });
        let layout = Layout::new(&design, Copy::Finished);
        let (report, _) = crate::check::run(&design);
        let lengths = Lengths { inches: false };
        let rows = super::press(&layout, &report, lengths);
        let row = rows.into_iter().find(|(name, _)| *name == "Daylight");
        let top = RigLayout::new(&layout).unwrap().height_over_table();
        (top, row.unwrap().1)
    }

    /// The rig's height comes on top of the bit's length, whatever head and block take on the bare table.
    #[test]
    fn daylight_is_told_for_the_bare_table_and_for_the_rig() {
        let (top, _) = said(1000.0);
        let takes = top + 120.0;
        let (_, roomy) = said(takes + 1.0);
        let wanted = format!("On the rig it takes {takes:.2} mm; 1.00 mm to spare");
        assert!(roomy.contains(&wanted), "{roomy}");
        assert!(roomy.contains("the bare table"), "{roomy}");
        let (_, short) = said(takes - 1.0);
        assert!(short.starts_with("the job takes"), "{short}");
        let wanted = format!("TOO LITTLE ON THE RIG: it takes {takes:.2} mm, 1.00 mm more than");
        assert!(short.contains(&wanted), "{short}");
        assert!(short.contains("does not go under the chuck"), "{short}");
        assert!(
            short.contains(&format!("{top:.2} mm above the table")),
            "{short}"
        );
        // Where even the bare table is too little, both are said.
        let (_, none) = said(100.0);
        assert!(
            none.starts_with("TOO LITTLE: ") && none.contains("ON THE RIG"),
            "{none}"
        );
    }
}
