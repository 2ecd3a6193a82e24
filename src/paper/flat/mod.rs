//! What goes into the DXF files: items in millimetres at true coordinates, no sheet, no text and no
//! dimensions, so that a layer can be cut as it is.
//!
//! A layer a purpose: outline, slots, ramps, bores, counterbores, pilots and scribe marks are
//! closed loops, circles or grooves to be made; axes and adjacent parts are there to set up by.

mod block;
mod face;
mod side;
mod template;

pub use block::{guide_block, profile};
pub use face::head_face;
pub use side::head_side;
pub use template::{SlotTemplate, slot_template, template_notes};

use glam::DVec2;

use super::{Fill, Item, Layer, LineKind, Path};
use crate::plane::{Piece, Region};

fn closed(layer: Layer, line: LineKind, region: &Region) -> Item {
    Item::Path(Path {
        layer,
        line: Some(line),
        pieces: region.boundary.clone(),
        closed: true,
        fill: Fill::None,
    })
}

fn straight(layer: Layer, line: LineKind, a: DVec2, b: DVec2) -> Item {
    Item::Path(Path {
        layer,
        line: Some(line),
        pieces: vec![Piece::Line { a, b }],
        closed: false,
        fill: Fill::None,
    })
}

fn circle(layer: Layer, center: DVec2, diameter: f64) -> Item {
    Item::Circle {
        layer,
        line: LineKind::Wide,
        center,
        radius: diameter / 2.0,
        fill: Fill::None,
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::input::Side;
    use crate::input::sample::six_string;
    use crate::layout::{Copy, Layout};

    pub(crate) fn layout() -> Layout {
        Layout::new(&six_string(), Copy::Finished)
    }

    /// Every closed path's pieces join to 1e-9 and come back to their start.
    pub(crate) fn assert_closed(items: &[Item]) {
        for item in items {
            let Item::Path(path) = item else { continue };
            for (piece, next) in path.pieces.iter().zip(path.pieces.iter().cycle().skip(1)) {
                if path.closed {
                    assert!(piece.end().distance(next.start()) < 1e-9, "{path:?}");
                }
            }
        }
    }

    #[test]
    fn everything_closed_is_closed_and_nothing_is_text() {
        let layout = layout();
        let mut all = vec![head_face(&layout), guide_block(&layout.blocks[0])];
        all.extend(Side::BOTH.map(|side| head_side(&layout, side)));
        let template = slot_template(&layout, &layout.design.template.unwrap()).unwrap();
        all.push(template.items);
        for items in all {
            assert_closed(&items);
            assert!(!items.is_empty());
            assert!(items.iter().all(|item| !matches!(item, Item::Text(_))));
            for item in &items {
                if let Item::Path(path) = item {
                    let made = matches!(path.layer, Layer::Outline | Layer::Slots | Layer::Ramps);
                    assert!(!made || path.closed, "{path:?}");
                }
            }
        }
    }
}
