//! For tests of sheets: texts that lie over one another.

use glam::DVec2;

use super::place::text_box;
use super::{Item, Sheet};

/// Pairs of texts whose boxes overlap by more than `hair`, mm, both along and across the sheet.
pub fn overlaps(sheet: &Sheet, hair: f64) -> Vec<String> {
    let boxes: Vec<(&str, [DVec2; 2])> = sheet
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Text(text) => {
                let corners = text_box(text);
                let low = corners.into_iter().fold(DVec2::INFINITY, DVec2::min);
                let high = corners.into_iter().fold(DVec2::NEG_INFINITY, DVec2::max);
                Some((text.text.as_str(), [low, high]))
            }
            _ => None,
        })
        .collect();
    let mut found = Vec::new();
    for (index, (one, [low, high])) in boxes.iter().enumerate() {
        for (other, [other_low, other_high]) in &boxes[index + 1..] {
            let shared = high.min(*other_high) - low.max(*other_low);
            if shared.cmpgt(DVec2::splat(hair)).all() {
                found.push(format!("{one:?} over {other:?}"));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{Anchor, Layer};

    #[test]
    fn one_text_over_another_is_seen_and_one_above_it_is_not() {
        let mut sheet = Sheet::new("", 100.0, 100.0);
        for (y, text) in [(10.0, "one"), (20.0, "two"), (21.0, "three")] {
            let at = DVec2::new(10.0, y);
            sheet.text(Layer::Notes, at, 3.0, Anchor::Start, text);
        }
        assert_eq!(overlaps(&sheet, 0.1), ["\"two\" over \"three\""]);
    }
}
