//! What a solid must be by its design: how many holes go right through, how many faces it has. Counted
//! from the contract's section 3 over what the layout holds, not from how the solid is built.

use barrelhead::input::{Design, PerSide};
use barrelhead::layout::{Block, Bore, BoreEnd, EndCut, Layout};

/// Wall of a hole: two half faces, since no edge is closed.
const WALL: usize = 2;

/// Holes right through the head: each slot, each bore from the side into its slot, each opening of a
/// pair into one another.
pub fn passages(layout: &Layout) -> usize {
    let slots = layout
        .each_side()
        .filter(|side| side.slot.is_some())
        .count();
    let into_slots = layout.bores().filter(|bore| bore.slot.is_some()).count();
    slots + into_slots + openings(layout)
}

fn openings(layout: &Layout) -> usize {
    let opens = |bore: &Bore| usize::from(bore.end == BoreEnd::Opens);
    let PerSide { treble, bass } = &layout.sides;
    let (treble, bass): (usize, usize) = (
        treble.bores.iter().map(opens).sum(),
        bass.bores.iter().map(opens).sum(),
    );
    assert_eq!(treble, bass, "a bore opens into nothing");
    treble
}

/// Faces of the head.
pub fn faces(design: &Design, layout: &Layout) -> usize {
    let head = &design.head;
    let shoulders = if head.side_start > 0.0 && head.shoulder_width.is_some() {
        2
    } else {
        0
    };
    // Face, back, nut end, crest, two sides.
    let outline = 6 + shoulders;
    let slots = design.slots.as_ref().map_or(0, |slots| {
        let (radius, half) = (slots.corner_radius, slots.width / 2.0);
        let end = if radius == 0.0 || radius == half {
            1
        } else {
            3
        };
        let ramp = match slots.ramp {
            None => 0,
            // At the slot's very end only the corners' wood is left to cut, on either side; a half
            // cylinder behind them is parted in two.
            Some(ramp) if ramp.mouth == 0.0 && radius == half => 3,
            Some(ramp) if ramp.mouth == 0.0 && radius > 0.0 => 2,
            Some(ramp) if ramp.mouth == 0.0 => 0,
            Some(_) => 1,
        };
        2 * (2 + 2 * end + ramp)
    });
    let bores: usize = layout.bores().map(of_bore).sum();
    let pilots: usize = layout.each_side().map(|side| side.pilots.len()).sum();
    outline + slots + bores + pilots * (WALL + 1)
}

fn of_bore(bore: &Bore) -> usize {
    let walls = if bore.slot.is_some() { 2 * WALL } else { WALL };
    let mouth = if bore.counterbore.is_some() {
        WALL + 1
    } else {
        0
    };
    let pointed = bore.point_height > 0.0;
    let end = match (bore.end, bore.end_plane) {
        (BoreEnd::Opens, Some((_, EndCut::FullDiameter))) => 0,
        (BoreEnd::Opens, _) => WALL,
        (BoreEnd::Web, Some((_, EndCut::FullDiameter))) => 1,
        (BoreEnd::Web, _) => WALL + 1,
        (BoreEnd::Blind, _) if pointed => WALL,
        (BoreEnd::Blind, _) => 1,
    };
    walls + mouth + end
}

/// Faces of a guide block: the box's six, the outer one parted by the grooves, two more to a groove.
pub fn block_faces(block: &Block) -> usize {
    6 + 3 * block.grooves.len() + WALL * block.holes.len()
}
