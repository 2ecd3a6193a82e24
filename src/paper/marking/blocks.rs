//! Cutting a part out for a page without tearing the numbers beside a mark: lines that were written
//! under one another as a block go onto a page together or not at all.

use glam::DVec2;

use crate::paper::dimension::line_step;
use crate::paper::place::{Window, cut_out, text_box};
use crate::paper::{Fill, Item, Sheet};
use crate::tolerance::NOISE;

/// What of the sheet belongs into `window`. A block of text is kept where the window holds the whole
/// of it; one that none of `windows` holds whole, where its middle lies inside.
pub(super) fn cut_out_whole_blocks(
    sheet: &Sheet,
    window: &Window,
    windows: &[Window],
) -> Vec<Item> {
    let mut out = Vec::new();
    let mut rest = Sheet::default();
    for run in runs(&sheet.items) {
        let Some(held) = bounds(run) else {
            rest.items.extend_from_slice(run);
            continue;
        };
        // In drawing order: white paper under a text hides what was drawn before it, no more.
        out.extend(cut_out(&rest, window, |_| false));
        rest.items.clear();
        let whole = |window: &Window| window.holds(held.min) && window.holds(held.max);
        let middle = (held.min + held.max) / 2.0;
        if whole(window) || (window.holds(middle) && !windows.iter().any(whole)) {
            out.extend_from_slice(run);
        }
    }
    out.extend(cut_out(&rest, window, |_| false));
    out
}

/// The box of every text of a sheet.
pub(super) fn text_windows(sheet: &Sheet) -> Vec<Window> {
    let items = sheet.items.iter();
    items
        .filter_map(|item| bounds(std::slice::from_ref(item)))
        .collect()
}

/// The items in runs: each block of text with the white paper under its lines, and what comes
/// between.
fn runs(items: &[Item]) -> Vec<&[Item]> {
    let mut runs = Vec::new();
    let (mut start, mut index) = (0, 0);
    while index < items.len() {
        let Some(mut end) = line_of_text(items, index) else {
            index += 1;
            continue;
        };
        while let Some(next) = line_of_text(items, end)
            && under(items.get(end - 1), items.get(next - 1))
        {
            end = next;
        }
        runs.push(&items[start..index]);
        runs.push(&items[index..end]);
        (start, index) = (end, end);
    }
    runs.push(&items[start..]);
    runs.retain(|run| !run.is_empty());
    runs
}

/// Past the end of a line of text, with the white paper under it if it has any, that begins at
/// `index`.
fn line_of_text(items: &[Item], index: usize) -> Option<usize> {
    match (items.get(index)?, items.get(index + 1)) {
        (Item::Text(_), _) => Some(index + 1),
        (Item::Path(path), Some(Item::Text(_)))
            if path.line.is_none() && path.fill == Fill::Grey(1.0) =>
        {
            Some(index + 2)
        }
        _ => None,
    }
}

/// Whether the second text stands as the next line under the first.
fn under(first: Option<&Item>, second: Option<&Item>) -> bool {
    let (Some(Item::Text(first)), Some(Item::Text(second))) = (first, second) else {
        return false;
    };
    let step = first.at - second.at;
    first.turn.abs() < NOISE
        && second.turn.abs() < NOISE
        && step.x.abs() < NOISE
        && (step.y - line_step(first.height)).abs() < NOISE
}

/// The box round every text of a run; `None` for a run without text.
fn bounds(run: &[Item]) -> Option<Window> {
    let text = |item: &Item| match item {
        Item::Text(text) => Some(text_box(text)),
        _ => None,
    };
    let corners: Vec<DVec2> = run.iter().filter_map(text).flatten().collect();
    let first = *corners.first()?;
    let grown = |window: Window, corner: &DVec2| Window {
        min: window.min.min(*corner),
        max: window.max.max(*corner),
    };
    let start = Window {
        min: first,
        max: first,
    };
    Some(corners.iter().fold(start, grown))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::Weight;
    use crate::paper::marking::marks::write;
    use crate::paper::{Anchor, Layer, Text};

    fn window(low: f64, high: f64) -> Window {
        Window {
            min: DVec2::new(-50.0, low),
            max: DVec2::new(50.0, high),
        }
    }

    fn words(items: &[Item]) -> Vec<&str> {
        let text = |item| match item {
            &Item::Text(Text { ref text, .. }) => Some(text.as_str()),
            _ => None,
        };
        items.iter().filter_map(text).collect()
    }

    #[test]
    fn a_block_stays_whole_and_takes_its_white_paper_along() {
        let mut sheet = Sheet::default();
        let lines = ["T1", "s 1.00", "y 1.00"].map(|text| (text.to_owned(), Weight::Plain));
        write(&mut sheet, DVec2::ZERO, Anchor::Start, &lines);
        sheet.text(
            Layer::Notes,
            DVec2::new(0.0, 20.0),
            2.5,
            Anchor::Start,
            "crest",
        );
        let (below, above) = (window(-30.0, 1.0), window(-10.0, 30.0));
        let both = [below, above];
        assert!(cut_out_whole_blocks(&sheet, &below, &both).is_empty());
        let kept = cut_out_whole_blocks(&sheet, &above, &both);
        assert_eq!(words(&kept), ["T1", "s 1.00", "y 1.00", "crest"]);
        // Three lines, three papers, one text without.
        assert_eq!(kept.len(), 7);
        // Held whole by none: where its middle lies, and all of it.
        let torn = [window(-30.0, -1.0), window(-1.0, 30.0)];
        assert!(cut_out_whole_blocks(&sheet, &torn[0], &torn).is_empty());
        let kept = cut_out_whole_blocks(&sheet, &torn[1], &torn);
        assert_eq!(words(&kept), ["T1", "s 1.00", "y 1.00", "crest"]);
    }
}
