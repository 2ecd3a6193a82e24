//! What stands over a sheet: what kind of sheet it is, whole, and the design's title, shortened where
//! both do not fit.

use super::Weight;
use super::measure::{shortened, text_width};

/// Height of a heading's capitals, mm.
pub const HEIGHT: f64 = 5.0;

/// A heading no wider than `width` mm: the title between the words that say what sheet this is. They
/// stay whole and the title gives way, with an ellipsis that shows it: a bench with two sheets alike up
/// to the middle of their headings takes the wrong one.
#[must_use]
pub fn fitted(before: &str, title: &str, after: &str, width: f64) -> String {
    let taken = [before, after].map(|text| text_width(text, HEIGHT, Weight::Strong));
    let title = title.split_whitespace().collect::<Vec<_>>().join(" ");
    let room = width - taken[0] - taken[1];
    let title = shortened(&title, HEIGHT, Weight::Strong, room);
    format!("{before}{title}{after}")
}

/// Width that a heading with these words and this title wants at the least, mm, so that what stands
/// beside it may have the rest: the words whole and `least` mm of the title, if it has as much.
#[must_use]
pub fn least_width(before: &str, title: &str, after: &str, least: f64) -> f64 {
    let width = |text: &str| text_width(text, HEIGHT, Weight::Strong);
    width(before) + width(title).min(least) + width(after)
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use crate::check;
    use crate::input::{
        Design, Drilled, Side,
        sample::{record, six_string},
    };
    use crate::layout::{Copy, Layout};
    use crate::paper::measure::text_width;
    use crate::paper::{Anchor, Item, Paper, Sheet, SheetOptions, Text};
    use crate::study::class::class;

    /// Thirty-five letters, some of them wide.
    const TITLE: &str = "Großkopf „Müller“ & Töchter WWW Nr. 7";

    fn design() -> Design {
        let mut design = six_string();
        TITLE.clone_into(&mut design.title);
        "a job of a workshop with a long number, M-7/2026-11".clone_into(&mut design.job.number);
        for side in Side::BOTH {
            design.drilled.push(Drilled {
                diameter: Some(10.6),
                ..record(side, 2)
            });
        }
        design
    }

    fn texts(sheet: &Sheet) -> Vec<&Text> {
        let items = sheet.items.iter();
        let texts = items.filter_map(|item| match item {
            Item::Text(text) => Some(text),
            _ => None,
        });
        texts.collect()
    }

    /// The heading that begins and ends so is there, its title shortened with a sign of it, and does not
    /// run into what stands beside it or off the paper.
    fn headed(sheet: &Sheet, before: &str, after: &str) {
        let all = texts(sheet);
        let heading = all
            .iter()
            .find(|text| text.height > 4.9 && text.text.starts_with(before))
            .unwrap();
        let said = &heading.text;
        assert!(said.ends_with(after), "{said}");
        let title = &said[before.len()..said.len() - after.len()];
        assert!(title == TITLE || title.ends_with('…'), "{said}");
        assert!(title.starts_with("Gro"), "{said}");
        let right = heading.at.x + text_width(said, heading.height, heading.weight);
        assert!(right <= sheet.width - 10.0, "{said}");
        for text in &all {
            if text.anchor == Anchor::End && (text.at.y - heading.at.y).abs() < 1e-9 {
                let left = text.at.x - text_width(&text.text, text.height, text.weight);
                assert!(right < left, "{said} | {}", text.text);
            }
        }
    }

    #[test]
    fn a_long_title_never_takes_away_what_a_sheet_is() {
        let layout = Layout::new(&design(), Copy::Finished);
        let printed = Layout::new(&design(), Copy::Printed);
        let (report, _) = check::judge(layout.clone(), printed);
        for paper in [Paper::A4, Paper::Letter] {
            let options = SheetOptions {
                paper,
                ..SheetOptions::default()
            };
            let rescue = crate::paper::rescue::rescue_sheets(&layout, options);
            headed(&rescue[0], "", ": treble bores as they are");
            headed(&rescue[1], "", ": bass bores as they are");
            let setup = crate::paper::setup::setup_sheets(&layout, &report, options);
            headed(&setup[0], "", ": at the press");
            headed(&setup[1], "", ": before and after");
            let rig = crate::paper::rig::rig_sheets(&layout, options);
            headed(&rig[1], "Rig for ", ": boards");
            headed(&rig[2], "Rig for ", ": at the press");
            let heads = class(&[(PathBuf::from("a.toml"), layout.clone(), report.clone())]);
            let sheet = &crate::paper::class_sheet::class_sheets(TITLE, &heads, &[], paper)[0];
            headed(sheet, "Heads of ", "");
        }
    }

    #[test]
    fn the_class_sheet_cuts_a_title_only_where_it_must_and_shows_it() {
        let listed = |title: &str| {
            let mut design = six_string();
            title.clone_into(&mut design.title);
            let layout = Layout::new(&design, Copy::Finished);
            let printed = Layout::new(&design, Copy::Printed);
            let (report, _) = check::judge(layout.clone(), printed);
            let heads = class(&[(PathBuf::from("a.toml"), layout, report)]);
            crate::paper::class_sheet::class_sheets("day", &heads, &[], Paper::A4).remove(0)
        };
        let sheet = listed(TITLE);
        assert!(texts(&sheet).iter().any(|text| text.text == TITLE));
        let sheet = listed(&TITLE.repeat(5));
        let cut = texts(&sheet);
        let cut = cut
            .iter()
            .find(|text| text.text.starts_with(TITLE))
            .unwrap();
        assert!(cut.text.ends_with('…'), "{}", cut.text);
        let most = texts(&sheet)
            .iter()
            .map(|text| text.at.x)
            .fold(0.0, f64::max);
        assert!(most <= sheet.width - 12.0);
    }
}
