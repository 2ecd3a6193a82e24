//! The guide block seen along its holes, in its own frame.

use glam::DVec2;

use super::{circle, closed, straight};
use crate::layout::Block;
use crate::paper::{Item, Layer, LineKind};
use crate::plane::Region;

/// The block's section, the same right through: the outline with its scribe grooves, the holes as circles.
/// Across the sheet x, upwards z from the upright; seen from the foot that stands on the head, and, since block,
/// holes and grooves run straight through, cut alike from either face.
#[must_use]
pub fn guide_block(block: &Block) -> Vec<Item> {
    let outline = Region::polygon(&profile(block));
    let mut items = vec![closed(Layer::Outline, LineKind::Wide, &outline)];
    for hole in &block.holes {
        items.push(circle(
            Layer::Bores,
            DVec2::new(hole.x, hole.z),
            hole.diameter,
        ));
        let top = DVec2::new(hole.x, block.height);
        items.push(straight(
            Layer::Axes,
            LineKind::Axis,
            DVec2::new(hole.x, 0.0),
            top,
        ));
    }
    items.push(straight(
        Layer::Axes,
        LineKind::Axis,
        DVec2::new(0.0, block.axis_height),
        DVec2::new(block.length, block.axis_height),
    ));
    items
}

/// Corners of the section, from the lower left one, anticlockwise.
#[must_use]
pub fn profile(block: &Block) -> Vec<DVec2> {
    let mut corners = vec![
        DVec2::ZERO,
        DVec2::new(block.length, 0.0),
        DVec2::new(block.length, block.height),
    ];
    for groove in block.grooves.iter().rev() {
        let half = groove.width / 2.0;
        corners.push(DVec2::new(groove.x + half, block.height));
        corners.push(DVec2::new(groove.x, block.height - groove.depth));
        corners.push(DVec2::new(groove.x - half, block.height));
    }
    corners.push(DVec2::new(0.0, block.height));
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::flat::tests::layout;

    #[test]
    fn section_less_its_grooves() {
        let layout = layout();
        let block = &layout.blocks[0];
        let area = Region::polygon(&profile(block)).moments().area;
        assert!((area - (132.0 * 20.4 - 3.0 * 0.8 * 0.4 / 2.0)).abs() < 1e-9);
        let items = guide_block(block);
        for (x, hole) in [31.0, 66.0, 101.0].into_iter().zip(1..) {
            assert!(
                items.contains(&circle(Layer::Bores, DVec2::new(x, 10.2), 10.5)),
                "hole {hole}"
            );
        }
    }
}
