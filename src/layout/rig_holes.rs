//! Screw holes of the rig: ISO 273, medium series.

use crate::input::Side;
use crate::tolerance::MERGE;

use super::{Block, Layout, RigLayout};

/// Wood kept round every screw hole, mm (our choice).
const WOOD: f64 = 3.0;
/// Screws into the upright's foot stand no farther apart than this, mm (our choice).
const APART_AT_MOST: f64 = 90.0;

/// A screw hole of the rig, right through its board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RigHole {
    /// Along the rig.
    pub x: f64,
    /// In the upright: height above the base. In the base: z.
    pub across: f64,
    /// Diameter.
    pub diameter: f64,
}

/// Through the upright into the block's wood, at half the block's depth: in the first and the last
/// stretch between guide holes, or between a hole and the block's end, that leaves wood enough. A
/// block of its own for the bass side gets its own holes where they neither touch nor equal the
/// treble's.
pub(super) fn block_screws(layout: &Layout, rig: &RigLayout) -> Vec<RigHole> {
    let diameter = rig.thread.medium;
    let across = rig.block_foot + layout.design.guide.depth / 2.0;
    let mut holes: Vec<RigHole> = Vec::new();
    if layout.design.guide.depth < diameter + 2.0 * WOOD {
        return holes;
    }
    for side in [Side::Treble, Side::Bass] {
        let Some(standing) = layout.standing(side) else {
            continue;
        };
        for x in stretches(standing.block, rig, diameter + 2.0 * WOOD) {
            if holes
                .iter()
                .all(|hole| (hole.x - x).abs() >= diameter + WOOD.max(MERGE))
            {
                holes.push(RigHole {
                    x,
                    across,
                    diameter,
                });
            }
        }
    }
    holes.sort_by(|a, b| a.x.total_cmp(&b.x));
    holes
}

/// Middles of the first and last stretch of the block's wood at least `room` long, in front of the
/// upright's full thickness.
fn stretches(block: &Block, rig: &RigLayout, room: f64) -> Vec<f64> {
    let mut from = 0.0;
    let mut free = Vec::new();
    for hole in &block.holes {
        free.push((from, hole.x - hole.diameter / 2.0));
        from = hole.x + hole.diameter / 2.0;
    }
    free.push((from, block.length));
    let middles: Vec<f64> = free
        .into_iter()
        .map(|(a, b)| (f64::max(a, rig.bearing[0]), f64::min(b, rig.bearing[1])))
        .filter(|(a, b)| b - a >= room)
        .map(|(a, b)| (a + b) / 2.0)
        .collect();
    match middles.as_slice() {
        [first, .., last] => vec![*first, *last],
        few => few.to_vec(),
    }
}

/// Up through the base: a row into the upright's foot and one into each brace.
pub(super) fn base_screws(rig: &RigLayout) -> Vec<RigHole> {
    let diameter = rig.thread.medium;
    let [start, end] = rig.bearing;
    let room = end - start;
    let most = (room / (diameter + 2.0 * WOOD)).floor();
    let count = (room / APART_AT_MOST).ceil().max(2.0).min(most) as usize;
    let hole = |x: f64, across: f64| RigHole {
        x,
        across,
        diameter,
    };
    let row = (0..count).map(|i| {
        let share = (i as f64 + 0.5) / count as f64;
        hole(start + room * share, -rig.thickness[1] / 2.0)
    });
    let behind = -rig.thickness[1] - rig.brace[1] / 2.0;
    let braces = rig.brace_x.map(|x| hole(x, behind));
    // Boards too small for a hole get none.
    let reach = diameter / 2.0 + WOOD;
    let fits = |hole: &RigHole, [back, front]: [f64; 2]| {
        hole.across - back >= reach && front - hole.across >= reach
    };
    let upright = [-rig.thickness[1], 0.0];
    let brace = [rig.base_z[0], -rig.thickness[1]];
    let narrow = rig.brace[2] < diameter;
    row.filter(|hole| {
        fits(hole, rig.base_z) && rig.thickness[1] >= diameter && upright[1] > upright[0]
    })
    .chain(
        braces
            .into_iter()
            .filter(|hole| !narrow && fits(hole, brace)),
    )
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::input::{Along, Design, PerSide};
    use crate::layout::Copy;

    fn rig_of(design: &Design) -> (Layout, RigLayout) {
        let layout = Layout::new(design, Copy::Finished);
        let rig = RigLayout::new(&layout).unwrap();
        (layout, rig)
    }

    #[test]
    fn the_block_s_screws_keep_their_wood_and_clear_the_guide_holes() {
        let (layout, rig) = rig_of(&six_string());
        assert_eq!(rig.block_screws.len(), 2);
        for screw in &rig.block_screws {
            assert!((screw.diameter - 5.5).abs() < 1e-12);
            for hole in &layout.blocks[0].holes {
                let wood = (hole.x - screw.x).abs() - (hole.diameter + screw.diameter) / 2.0;
                assert!(wood >= WOOD - 1e-9, "{wood}");
            }
            assert!(screw.x - 2.75 >= rig.bearing[0] && screw.x + 2.75 <= rig.bearing[1]);
        }
    }

    #[test]
    fn a_second_block_adds_its_holes_only_where_they_fit_between() {
        let mut design = six_string();
        design.placement.along = Along::FirstBarrel(PerSide {
            treble: 57.0,
            bass: 57.0,
        });
        design.machines.pitches.bass = vec![35.0];
        let (_, rig) = rig_of(&design);
        // Treble at both ends; the bass block shares the first and has its last nearer.
        assert_eq!(rig.block_screws.len(), 3, "{:?}", rig.block_screws);
        let xs: Vec<f64> = rig.block_screws.iter().map(|hole| hole.x).collect();
        // Shorter by a pitch of 35: middle of its last 25.75 mm of wood, 132 − 35 − 25.75/2.
        assert!((xs[1] - (97.0 - 12.875)).abs() < 1e-9, "{xs:?}");
        // The treble's last stretch is cut short where the upright is relieved.
        assert!(
            (xs[2] - (106.25 + rig.bearing[1]) / 2.0).abs() < 1e-9,
            "{xs:?}"
        );
        // Only 5 mm nearer: the holes would run into one another.
        design.machines.pitches.bass = vec![35.0, 30.0];
        let (_, rig) = rig_of(&design);
        assert_eq!(rig.block_screws.len(), 2);
    }

    #[test]
    fn boards_too_small_for_a_screw_get_none() {
        let mut design = six_string();
        design.guide.depth = 8.0;
        design.rig.behind = 6.0;
        design.rig.upright = 4.0;
        let (_, rig) = rig_of(&design);
        assert!(rig.block_screws.is_empty());
        assert!(rig.base_screws.is_empty(), "{:?}", rig.base_screws);
    }
}
