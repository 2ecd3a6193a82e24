//! What a solid must be by its design: how many holes go right through, how many faces it has. Counted
//! from the contract's section 3 over what the layout holds, not from how the solid is built.

use barrelhead::input::{Crest, Design, Guide, Head, PerSide};
use barrelhead::layout::{Block, Bore, BoreEnd, Copy, EndCut, Layout};
use glam::DVec3;

/// Wall of a hole: two half faces, since no edge is closed.
const WALL: usize = 2;

/// Holes right through the head: each slot, each bore from the side into its slot, each opening of a
/// pair into one another.
pub fn passages(layout: &Layout) -> usize {
    let bores = layout.bores().count();
    let through_slots = if layout.design.slots.is_some() {
        2 + bores
    } else {
        0
    };
    through_slots + openings(layout)
}

/// Pairs that open into one another, by their entries, directions and the depth asked for (contract,
/// 3.3 and 3.9).
fn openings(layout: &Layout) -> usize {
    let PerSide { treble, bass } = &layout.sides;
    let opens = |(one, other): (&Bore, &Bore)| {
        let [a, b] = [one, other].map(to_centre_plane);
        let pointed = one.point_height > 0.0;
        let parted = layout.copy == Copy::Printed && pointed && (a.tip + b.tip).abs() < 0.01;
        let reaches = |end: End| end.rim <= 1e-9 || end.tip.min(end.rim) < -1e-6;
        !parted && (reaches(a) || reaches(b))
    };
    let every = treble
        .bores
        .iter()
        .flat_map(|one| bass.bores.iter().map(move |other| (one, other)));
    every
        .filter(|(one, other)| mirrored(one, other))
        .filter(|pair| opens(*pair))
        .count()
}

fn mirrored(one: &Bore, other: &Bore) -> bool {
    let flip = DVec3::new(-1.0, 1.0, 1.0);
    (one.entry - other.entry * flip).length() <= 1e-6
        && (one.direction - other.direction * flip).length() <= 1e-6
}

/// What of a bore's end is left to the centre plane, below zero past it.
#[derive(Clone, Copy)]
struct End {
    tip: f64,
    rim: f64,
}

fn to_centre_plane(bore: &Bore) -> End {
    let (in_x, aside) = (bore.direction.x.abs(), bore.direction.y.abs());
    let (x, deep) = (bore.entry.x.abs(), bore.depth_asked);
    let rim = x - deep * in_x - bore.diameter / 2.0 * aside;
    End {
        tip: (x - (deep + bore.point_height) * in_x).min(rim),
        rim,
    }
}

/// What of a bore's end as built is left to the centre plane, below zero past it.
pub fn left_to_centre(bore: &Bore) -> f64 {
    if let Some((plane, _)) = bore.end_plane {
        return plane;
    }
    let end = to_centre_plane(&Bore {
        depth_asked: bore.depth,
        ..bore.clone()
    });
    end.tip.min(end.rim)
}

/// The box a head fills, by its widths, lengths and thicknesses.
pub fn box_of_head(head: &Head) -> [DVec3; 2] {
    let mut extent = [DVec3::ZERO; 2];
    let mut reach = |x: f64, y: f64| {
        let at_y = head.thickness + (head.thickness_at_crest - head.thickness) * y / head.length;
        extent[0] = extent[0].min(DVec3::new(x, y, -at_y));
        extent[1] = extent[1].max(DVec3::new(x, y, 0.0));
    };
    let (from, to) = (head.half_width_at_start, head.half_width_at_end);
    for (sign, from, to) in [(1.0, from.treble, to.treble), (-1.0, from.bass, to.bass)] {
        let run = head.side_end - head.side_start;
        let prolonged = from - (to - from) / run * head.side_start;
        let shoulder = head.shoulder_width.filter(|_| head.side_start > 0.0);
        reach(sign * shoulder.map_or(prolonged, |width| width / 2.0), 0.0);
        reach(sign * from, head.side_start);
        reach(sign * to, head.side_end);
    }
    if head.crest == Crest::Arch {
        // The circle through both side ends and the middle of the crest.
        let (chord, rise) = (to.treble + to.bass, head.length - head.side_end);
        let middle = (to.treble - to.bass) / 2.0;
        let up = (rise * rise - to.treble * to.bass) / (2.0 * rise);
        let radius = (chord / 2.0).hypot(up);
        reach(middle, head.side_end + up + radius);
        if up > 0.0 {
            reach(middle + radius, head.side_end + up);
            reach(middle - radius, head.side_end + up);
        }
    }
    extent
}

/// The box a guide block fills, over so many pitches.
pub fn box_of_block(guide: &Guide, pitches: &[f64]) -> [DVec3; 2] {
    let length = 2.0 * guide.end_margin + pitches.iter().sum::<f64>();
    [DVec3::ZERO, DVec3::new(length, guide.depth, guide.height)]
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
