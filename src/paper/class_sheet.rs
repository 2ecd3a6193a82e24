//! One sheet for a teaching day: a line a head, to hang beside the drill press.

use glam::DVec2;

use super::heading;
use super::measure::{shortened, text_width};
use super::prose::Column;
use super::table::{Lean, Table};
use super::{Anchor, Layer, Paper, Sheet, Weight};
use crate::study::class::{Class, Head, block_name};

/// Margin, mm.
const MARGIN: f64 = 12.0;
/// Height of capitals, mm.
const TEXT: f64 = 2.3;
/// Heads on one page.
const ROWS: usize = 40;
/// Widest name shown of a file that was not read, mm.
const WIDEST: f64 = 50.0;
/// So many files that were not read are named; more are counted.
const NAMED: usize = 10;

/// The sheets, the heads block by block and sorted by the setting of the depth stop, so that both are
/// changed least often. `not_read` are the names of files that are missing: every page says so.
#[must_use]
pub fn class_sheets(title: &str, class: &Class, not_read: &[String], paper: Paper) -> Vec<Sheet> {
    let mut order: Vec<usize> = (0..class.heads.len()).collect();
    let stop = |index: &usize| {
        let stop = class.heads.get(*index).and_then(Head::deepest_stop);
        stop.unwrap_or_default()
    };
    // Heads without a block, which are not drilled, come last.
    let block = |index: &usize| {
        let head = class.heads.get(*index);
        head.and_then(|head| head.block).unwrap_or(usize::MAX)
    };
    order.sort_by(|a, b| {
        let stops = stop(a).total_cmp(&stop(b));
        block(a).cmp(&block(b)).then(stops)
    });
    let pages = order.len().div_ceil(ROWS);
    let chunks = order.chunks(ROWS).enumerate();
    chunks
        .map(|(page, heads)| sheet(title, class, heads, not_read, paper, [page + 1, pages]))
        .collect()
}

fn sheet(
    title: &str,
    class: &Class,
    heads: &[usize],
    not_read: &[String],
    paper: Paper,
    page: [usize; 2],
) -> Sheet {
    let (width, height) = paper.sides();
    let mut sheet = Sheet::new(format!("Heads of {title}"), width, height);
    let top = height - MARGIN;
    let at = DVec2::new(MARGIN, top - heading::HEIGHT);
    let heading = heading::fitted("Heads of ", title, "", width - 60.0);
    sheet.strong(Layer::Notes, at, heading::HEIGHT, Anchor::Start, heading);
    let at = DVec2::new(width - MARGIN, top - heading::HEIGHT);
    let [number_of, of] = page;
    sheet.text(
        Layer::Notes,
        at,
        TEXT,
        Anchor::End,
        format!("page {number_of} of {of}"),
    );
    let mut text = Column {
        left: MARGIN,
        width: width - 2.0 * MARGIN,
        top: top - 9.0,
        height: TEXT,
    };
    text.paragraph(
        &mut sheet,
        Weight::Plain,
        "Block by block, and in the order of the depth stop, so that both are changed as seldom as can be. Stop: \
         from the block's top to the tip of the bit at full depth, on the deeper side. Block: heads of one letter are \
         drilled with one guide block, that of the head marked own. Shim: for that block; above zero between block \
         and upright, below zero between head and upright. A head marked stop is not drilled.",
    );
    if !not_read.is_empty() {
        text.paragraph(&mut sheet, Weight::Strong, &not_whole(not_read));
    }
    text.space(2.0);
    let columns = text.width;
    let [shim, stop] = if class.lengths.inches {
        ["shim, mm (in)", "stop, mm (in)"]
    } else {
        ["shim, mm", "stop, mm"]
    };
    let mut table = Table::new(
        TEXT,
        &[
            ("head", Lean::Left),
            ("verdict", Lean::Left),
            ("block", Lean::Left),
            (shim, Lean::Right),
            (stop, Lean::Right),
            ("set", Lean::Right),
            ("look at", Lean::Left),
            ("done", Lean::Middle),
        ],
    )
    .strong(4);
    for &index in heads {
        let Some(head) = class.heads.get(index) else {
            continue;
        };
        let block = head.block.map_or_else(String::new, |block| {
            let name = block_name(block);
            let own = class.blocks.get(block);
            if own.is_some_and(|block| block.made_for == index) {
                format!("{name}, own")
            } else {
                name
            }
        });
        let shims: Vec<String> = head.shims.iter().map(|shim| class.figure(*shim)).collect();
        table.row([
            String::new(),
            head.verdict.name().to_owned(),
            block,
            shims.join(", "),
            head.deepest_stop()
                .map_or_else(String::new, |mm| class.figure(mm)),
            (head.set + 1).to_string(),
            if head.repair.is_empty() {
                head.worst
                    .as_ref()
                    .map_or(String::new(), |worst| worst.code.to_owned())
            } else {
                "rescue sheet first".to_owned()
            },
            String::new(),
        ]);
    }
    // The titles have all the width that the other columns leave.
    let room = columns - table.widths().iter().skip(1).sum::<f64>() - table.padding();
    let titles = heads
        .iter()
        .filter_map(|&index| Some((index, class.heads.get(index)?)));
    for (row, (index, head)) in titles.enumerate() {
        table.put(row, 0, named(head, class.title_repeats(index), room));
    }
    table.draw(&mut sheet, Layer::Notes, DVec2::new(MARGIN, text.top));
    sheet
}

/// A head's title, with its file's name where `repeats`: the title gives way to it.
fn named(head: &Head, repeats: bool, room: f64) -> String {
    let short = |text: &str, room: f64| shortened(text, TEXT, Weight::Plain, room);
    let file = head.file.file_name().filter(|_| repeats);
    let Some(file) = file.map(|name| name.to_string_lossy()) else {
        return short(&head.title, room);
    };
    let file = short(&file, room * 0.6);
    let own = format!(" ({file})");
    let left = room - text_width(&own, TEXT, Weight::Plain);
    format!("{}{own}", short(&head.title, left))
}

/// Which heads the sheet does not have.
fn not_whole(not_read: &[String]) -> String {
    let one = not_read.len() == 1;
    let mut names = not_read
        .iter()
        .take(NAMED)
        .map(|name| shortened(name, TEXT, Weight::Strong, WIDEST))
        .collect::<Vec<_>>()
        .join(", ");
    if not_read.len() > NAMED {
        names.push_str(&format!(" and {} more", not_read.len() - NAMED));
    }
    let (heads, them) = if one {
        ("1 head could not be read and is".to_owned(), "it")
    } else {
        (
            format!("{} heads could not be read and are", not_read.len()),
            "them",
        )
    };
    format!(
        "Not the whole class: {heads} missing here: {names}. Sets, blocks and shims are reckoned without {them}; \
         mend {them} and make this sheet anew."
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::run;
    use crate::input::sample::six_string;
    use crate::layout::{Copy, Layout};
    use crate::paper::Item;
    use crate::study::class::class;

    fn sheets(heads: usize, not_read: usize) -> Vec<Sheet> {
        let design = six_string();
        let head = || {
            let layout = Layout::new(&design, Copy::Finished);
            ("x.toml".into(), layout, run(&design).0)
        };
        let all: Vec<_> = (0..heads).map(|_| head()).collect();
        let names: Vec<String> = (0..not_read)
            .map(|n| format!("{n}-{}.toml", "long".repeat(20)))
            .collect();
        class_sheets("day", &class(&all), &names, Paper::Letter)
    }

    fn text(sheet: &Sheet) -> String {
        let texts = sheet.items.iter().filter_map(|item| match item {
            Item::Text(text) => Some(text.text.as_str()),
            _ => None,
        });
        texts.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn every_page_says_that_heads_are_missing_and_names_them() {
        let pages = sheets(ROWS + 1, 1);
        assert_eq!(pages.len(), 2);
        for page in &pages {
            let text = text(page);
            assert!(text.contains(
                "Not the whole class: 1 head could not be read and is missing here: 0-long"
            ));
            assert!(text.contains("mend it and"), "{text}");
            assert!(text.contains("…. Sets"), "{text}");
        }
        assert!(!text(&sheets(1, 0)[0]).contains("Not the whole class"));
        let text = text(&sheets(1, NAMED + 2)[0]);
        assert!(text.contains("12 heads could not be read and are missing here: 0-long"));
        assert!(
            text.contains("9-long") && !text.contains("10-long"),
            "{text}"
        );
        assert!(text.contains("and 2 more."), "{text}");
    }

    #[test]
    fn heads_of_one_title_are_told_apart_by_their_files() {
        let title = |title: &str| {
            let mut design = six_string();
            design.title = title.to_owned();
            design
        };
        let of = |heads: &[(&str, &str)]| {
            let all: Vec<_> = heads
                .iter()
                .map(|(file, name)| {
                    let design = title(name);
                    let layout = Layout::new(&design, Copy::Finished);
                    (file.into(), layout, run(&design).0)
                })
                .collect();
            text(&class_sheets("day", &class(&all), &[], Paper::Letter)[0])
        };
        let all = of(&[
            ("day/a.toml", "One"),
            ("day/b.toml", "One"),
            ("day/c.toml", "Two"),
        ]);
        assert!(
            all.contains("One (a.toml)") && all.contains("One (b.toml)"),
            "{all}"
        );
        assert!(all.contains("Two") && !all.contains("c.toml"), "{all}");
        let long = "long title ".repeat(30);
        let name = format!("{}.toml", "a-file-of-a-long-name".repeat(9));
        let all = of(&[("day/a.toml", &long), (&name, &long)]);
        assert!(all.contains("… (a.toml)"), "{all}");
        assert!(all.contains("(a-file-of-a-long-name"), "{all}");
    }

    #[test]
    fn a_head_in_inches_gives_shim_and_stop_in_both_units() {
        let mut design = six_string();
        let shown = |design: &crate::input::Design| {
            let layout = Layout::new(design, Copy::Finished);
            let stop = layout.longest_stop();
            let class = class(&[("x.toml".into(), layout, run(design).0)]);
            let pages = class_sheets("day", &class, &[], Paper::A4);
            (text(&pages[0]), format!(" {} ", class.figure(stop)))
        };
        let (metric, _) = shown(&design);
        assert!(!metric.contains("(in)"), "{metric}");
        design.unit = crate::input::Unit::Inch;
        let (both, stop) = shown(&design);
        for told in ["shim, mm (in)", "stop, mm (in)", " 0.00 (0.000) ", &stop] {
            assert!(both.contains(told), "{told}: {both}");
        }
    }

    /// The longest warning there is leaves a full page of heads its room, on the shorter paper.
    #[test]
    fn a_full_page_ends_above_its_margin_whatever_is_missing() {
        for page in sheets(ROWS, 1000) {
            let lowest = page.items.iter().filter_map(|item| match item {
                Item::Text(text) => Some(text.at.y),
                _ => None,
            });
            let lowest = lowest.fold(f64::INFINITY, f64::min);
            assert!(lowest > MARGIN, "{lowest}");
        }
    }
}
