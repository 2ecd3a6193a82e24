//! The setup sheet: what someone at the drill press needs of one job, on two sides of one paper.
//! First page: both sides as they stand, figures, steps. Second page: before and after, cautions.

mod band;
mod carry_on;
mod figures;
mod press_view;
mod words;

use glam::DVec2;

pub(crate) use words::PEOPLE;

use super::heading;
use super::measure::{shortened, text_width};
use super::prose::Column;
use super::{Anchor, Layer, Sheet, SheetOptions, Weight};
use crate::check::Report;
use crate::input::Side;
use crate::layout::Layout;
use crate::study::drilled::words::needs_repair;

/// Margin of the paper, mm.
const MARGIN: f64 = 11.0;
/// Height of the small print, of page numbers and of the figures beside a drawing, mm.
const SMALL: f64 = 2.6;
/// Least of a long title that a heading keeps, and between a heading and what stands beside it, mm.
const LEAST_TITLE: f64 = 50.0;
/// See [`LEAST_TITLE`].
const BESIDE: f64 = 4.0;
/// Heights of running text that are tried, largest first, in tenths of a millimetre.
const HEIGHTS: std::ops::RangeInclusive<u8> = 18..=34;
/// Least height of a page's text before the cautions of the checks take a page of their own, in
/// tenths of a millimetre.
const CROWDED: u8 = 24;
/// Height of the text where the cautions have pages of their own, mm.
const CHECKS_ALONE: f64 = 2.4;
/// Height of one side's band, mm.
const BAND: f64 = 62.0;

/// The setup sheet of a design: two pages, or more where the checks have much to say. Its text is
/// as large as the paper allows.
#[must_use]
pub fn setup_sheets(layout: &Layout, report: &Report, options: SheetOptions) -> Vec<Sheet> {
    let job = Job {
        layout,
        report,
        options,
    };
    let (sheet, fits) = job.largest(CROWDED, |height| job.before_and_after(height, 2, true));
    if fits {
        let press = |height| job.at_the_press(height, 2);
        let (first, _) = job.largest(*HEIGHTS.start(), press);
        return vec![first, sheet];
    }
    let smallest = *HEIGHTS.start();
    let cautions = job.check_pages();
    let count = 2 + cautions.len();
    let mut sheets = vec![
        job.largest(smallest, |height| job.at_the_press(height, count))
            .0,
        job.largest(smallest, |height| {
            job.before_and_after(height, count, false)
        })
        .0,
    ];
    for (index, cautions) in cautions.iter().enumerate() {
        let (mut sheet, mut column) = job.page("the checks", [3 + index, count], CHECKS_ALONE);
        checks(&mut sheet, &mut column, cautions);
        sheets.push(sheet);
    }
    sheets
}

/// One job and how it is wanted on paper.
#[derive(Clone, Copy)]
struct Job<'a> {
    layout: &'a Layout,
    report: &'a Report,
    options: SheetOptions,
}

/// A page, and the column that is left of it.
type Filled = (Sheet, Column);

impl Job<'_> {
    /// The page with the largest text that leaves its lower margin free, and whether any does.
    fn largest(self, least: u8, draw: impl Fn(f64) -> Filled) -> (Sheet, bool) {
        for tenths in (least..=*HEIGHTS.end()).rev() {
            let (sheet, column) = draw(f64::from(tenths) / 10.0);
            if column.top >= MARGIN {
                return (sheet, true);
            }
        }
        (draw(f64::from(least) / 10.0).0, false)
    }

    /// An empty page with its title, and the column below it.
    fn page(self, title: &str, [number, count]: [usize; 2], height: f64) -> Filled {
        let (paper_width, paper_height) = self.options.paper.sides();
        let design = &self.layout.design;
        let name = format!("Setup sheet: {}", design.title);
        let mut sheet = Sheet::new(name, paper_width, paper_height);
        let mut column = Column {
            left: MARGIN,
            width: paper_width - 2.0 * MARGIN,
            top: paper_height - MARGIN,
            height,
        };
        let job = &design.job;
        let mut right = Vec::new();
        for (word, text) in [
            ("job", &job.number),
            ("rev.", &job.revision),
            ("", &job.date),
        ] {
            if !text.is_empty() {
                right.push(format!("{word} {text}").trim().to_owned());
            }
        }
        let kind = format!(": {title}");
        let wide = |text: &str| text_width(text, SMALL, Weight::Plain);
        let page = format!("page {number} of {count}");
        let own = heading::least_width("", &design.title, &kind, LEAST_TITLE);
        // A long job number gives way to what page this is.
        let room = column.width - own - BESIDE - wide(&format!(", {page}"));
        let job = shortened(&right.join(", "), SMALL, Weight::Plain, room);
        let right = if job.is_empty() {
            page
        } else {
            format!("{job}, {page}")
        };
        let line = column.top - heading::HEIGHT;
        let room = column.width - wide(&right) - BESIDE;
        let heading = heading::fitted("", &design.title, &kind, room);
        let at = DVec2::new(column.left, line);
        sheet.strong(Layer::Notes, at, heading::HEIGHT, Anchor::Start, heading);
        let at = DVec2::new(column.left + column.width, line);
        sheet.text(Layer::Notes, at, SMALL, Anchor::End, right);
        column.space(9.0);
        (sheet, column)
    }

    fn at_the_press(self, height: f64, count: usize) -> Filled {
        let Job {
            layout,
            report,
            options: SheetOptions { lengths, .. },
        } = self;
        let (mut sheet, mut column) = self.page("at the press", [1, count], height);
        for side in Side::BOTH {
            if let Some(standing) = layout.standing(side) {
                band::band(&mut sheet, layout, &standing, &column, lengths);
                column.space(BAND);
            }
        }
        column.space(1.0);
        let lines = [
            ("Bit", figures::bit(layout, lengths)),
            ("Speed", figures::speed(layout)),
        ];
        let press = figures::press(layout, report, lengths);
        let indent = text_width("Quill travel  ", height, Weight::Strong);
        for (name, text) in lines.into_iter().chain(press) {
            column.hung(&mut sheet, name, indent, &text);
        }
        column.space(1.0);
        column.heading(&mut sheet, "Steps, for each side");
        column.paragraph(&mut sheet, Weight::Strong, words::FIRST);
        column.steps(&mut sheet, 1, &words::steps(layout, lengths));
        column.paragraph(&mut sheet, Weight::Plain, words::tip(layout));
        (sheet, column)
    }

    fn before_and_after(self, height: f64, count: usize, with_checks: bool) -> Filled {
        let (layout, lengths) = (self.layout, self.options.lengths);
        let (mut sheet, mut column) = self.page("before and after", [2, count], height);
        let dash = text_width("– ", height, Weight::Strong);
        column.heading(&mut sheet, "Have ready");
        for line in words::have_ready(layout, lengths) {
            column.hung(&mut sheet, "–", dash, &line);
        }
        column.space(2.0);
        column.heading(&mut sheet, "Order of work, and why");
        column.steps(&mut sheet, 1, &words::order_of_work(layout, lengths));
        column.space(2.0);
        if with_checks {
            checks(&mut sheet, &mut column, &self.cautions());
            column.space(2.0);
        }
        column.heading(&mut sheet, "Before you switch on");
        for line in words::PEOPLE {
            column.hung(&mut sheet, "–", dash, line);
        }
        column.height = 2.0;
        column.space(1.0);
        for line in words::publications() {
            column.paragraph(&mut sheet, Weight::Plain, &line);
        }
        (sheet, column)
    }

    /// Every check that drew a caution.
    fn cautions(self) -> Vec<Caution> {
        let repair = needs_repair(self.layout).into_iter().map(|line| {
            let text = format!("{line} Do what the rescue sheet says before anything on this one.");
            (carry_on::SETTLE, text)
        });
        repair
            .chain(words::from_checks(self.report, self.options.lengths))
            .collect()
    }

    /// The cautions in pages of their own, each as many as it holds and at least one.
    fn check_pages(self) -> Vec<Vec<Caution>> {
        let mut pages: Vec<Vec<Caution>> = vec![Vec::new()];
        for caution in self.cautions() {
            if let Some(last) = pages.last_mut() {
                last.push(caution);
                let (mut sheet, mut column) = self.page("", [3, 3], CHECKS_ALONE);
                checks(&mut sheet, &mut column, last);
                if column.top < MARGIN && last.len() > 1 {
                    let next = last.pop();
                    pages.push(next.into_iter().collect());
                }
            }
        }
        pages
    }
}

/// Whether to carry on, and what was found.
type Caution = (&'static str, String);

/// The cautions under their heading.
fn checks(sheet: &mut Sheet, column: &mut Column, cautions: &[Caution]) {
    column.heading(sheet, "What the checks ask you to know");
    if cautions.is_empty() {
        let text = "No check of this design speaks up.";
        column.paragraph(sheet, Weight::Plain, text);
    }
    let indent = text_width("Settle first  ", column.height, Weight::Strong);
    for (word, line) in cautions {
        column.hung(sheet, word, indent, line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::run;
    use crate::input::sample::six_string;
    use crate::layout::Copy;
    use crate::paper::Item;
    use crate::paper::cut::inside;
    use crate::paper::overlaps::overlaps;
    use crate::paper::place::text_box;
    use crate::plane::{Piece, Region};

    /// One barrel a side on a head as short as it goes: the view is narrower than the words under it.
    #[test]
    fn captions_of_a_short_head_keep_apart() {
        let mut design = six_string();
        design.head.length = 90.0;
        design.head.side_end = 80.0;
        design.machines.pitches.treble.clear();
        design.machines.pitches.bass.clear();
        design.machines.screws = None;
        let layout = Layout::new(&design, Copy::Finished);
        let sheets = setup_sheets(&layout, &run(&design).0, SheetOptions::default());
        assert_eq!(overlaps(&sheets[0], 0.01), Vec::<String>::new());
    }

    /// Eight barrels a side on a long head, drawn small: the names of the bores keep off the head's outline, and
    /// none is left out.
    #[test]
    fn names_of_bores_break_no_outline_of_a_long_head() {
        let mut long = six_string();
        long.head.length = 420.0;
        long.head.side_end = 405.0;
        long.head.half_width_at_end = crate::input::PerSide::from_fn(|_| 37.5);
        long.machines.pitches = crate::input::PerSide::from_fn(|_| vec![45.0; 7]);
        long.machines.screws = None;
        for (design, names) in [(long, 16), (six_string(), 6)] {
            let layout = Layout::new(&design, Copy::Finished);
            let sheet =
                setup_sheets(&layout, &run(&design).0, SheetOptions::default()).swap_remove(0);
            let outline: Vec<Piece> = sheet
                .items
                .iter()
                .filter_map(|item| match item {
                    Item::Path(path) if path.layer == Layer::Outline => Some(&path.pieces),
                    _ => None,
                })
                .flatten()
                .copied()
                .collect();
            assert!(outline.len() > 12);
            let named = |text: &&crate::paper::Text| {
                let number = text.text.strip_prefix(['T', 'B']);
                text.anchor == Anchor::Middle && number.is_some_and(|n| n.parse::<u8>().is_ok())
            };
            let texts = sheet.items.iter().filter_map(|item| match item {
                Item::Text(text) => Some(text),
                _ => None,
            });
            let mut found = 0;
            for text in texts.filter(named) {
                found += 1;
                let on_paper = Region::polygon(&text_box(text));
                let broken = outline
                    .iter()
                    .any(|piece| !inside(piece, &on_paper).is_empty());
                assert!(!broken, "{}", text.text);
            }
            assert_eq!(found, names);
        }
    }
}
