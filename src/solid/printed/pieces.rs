//! Parting an upright body that is too long for the bed: between its holes, with dowel holes in the
//! joints where the wood is thick enough, plain butt joints where it is not.

use glam::{DVec2, DVec3};

use super::foot::chamfer_foot;
use super::upright::{Dowel, Upright, Vee, Wall};

/// Dowel a joint is made for, mm, and what its hole is wider (our assumption).
pub(super) const DOWEL: f64 = 4.0;
const DOWEL_CLEARANCE: f64 = 0.2;
/// Deepest and shallowest dowel hole, mm.
const DEPTHS: (f64, f64) = (8.0, 4.0);
/// Wood round a dowel hole, mm.
const WALL: f64 = 1.6;

/// Stretches of x that no joint may touch.
pub(super) fn taken(body: &Upright) -> Vec<(f64, f64)> {
    let holes = body.holes.iter().map(|hole| (hole.center.x, hole.reach()));
    let grooves = body
        .grooves
        .iter()
        .filter(|groove| matches!(groove.wall, Wall::Front | Wall::Back))
        .map(|groove| {
            (
                body.on_wall(groove.wall, groove.at, 0.0).x,
                groove.width / 2.0,
            )
        });
    holes
        .chain(grooves)
        .map(|(x, half)| (x - half, x + half))
        .collect()
}

/// The pieces between these cuts, in order along x. Every piece has its own chamfered foot.
pub(super) fn pieces(body: &Upright, cuts: &[f64]) -> Vec<Upright> {
    let stops: Vec<f64> = [0.0]
        .into_iter()
        .chain(cuts.iter().copied())
        .chain([body.size.x])
        .collect();
    let mut made: Vec<Upright> = stops
        .windows(2)
        .map(|ends| piece(body, ends[0], ends[1]))
        .collect();
    for (index, cut) in cuts.iter().enumerate() {
        let clear = taken(body)
            .iter()
            .map(|(from, to)| (cut - to).max(from - cut))
            .fold(f64::INFINITY, f64::min);
        for (side, wall) in [(index, Wall::Far), (index + 1, Wall::Near)] {
            let dowels = dowels(&made[side], clear, wall);
            made[side].dowels.extend(dowels);
        }
    }
    made
}

fn piece(body: &Upright, from: f64, to: f64) -> Upright {
    let inside = |x: f64| x > from && x < to;
    let size = DVec3::new(to - from, body.size.y, body.size.z);
    let grooves = body.grooves.iter().filter_map(|groove| {
        let at = match groove.wall {
            Wall::Near => (from <= 0.0).then_some(groove.at),
            Wall::Far => (to >= body.size.x).then_some(groove.at),
            Wall::Front => inside(groove.at).then_some(groove.at - from),
            Wall::Back => {
                let x = body.size.x - groove.at;
                inside(x).then_some(to - x)
            }
        };
        at.map(|at| Vee { at, ..*groove })
    });
    let mut piece = Upright {
        size,
        chamfer: body.chamfer,
        grooves: grooves.collect(),
        holes: body
            .holes
            .iter()
            .filter(|hole| inside(hole.center.x))
            .map(|hole| super::upright::UprightHole {
                center: hole.center - DVec2::new(from, 0.0),
                ..*hole
            })
            .collect(),
        dowels: Vec::new(),
    };
    // A joint halves the wood between two holes, and has a foot of its own.
    if body.chamfer > 0.0 {
        chamfer_foot(&mut piece);
    }
    piece
}

/// Dowel holes of a joint: two, one above the other, or one in a low body, or none.
fn dowels(body: &Upright, clear: f64, wall: Wall) -> Vec<Dowel> {
    let radius = (DOWEL + DOWEL_CLEARANCE) / 2.0;
    let depth = DEPTHS.0.min(clear - WALL);
    let room = 2.0 * (radius + WALL);
    if depth < DEPTHS.1 || body.size.y < room || body.size.z < room + body.chamfer {
        return Vec::new();
    }
    let heights = if body.size.z >= 2.0 * (room + body.chamfer) {
        vec![body.size.z / 4.0, body.size.z * 3.0 / 4.0]
    } else {
        vec![body.size.z / 2.0]
    };
    heights
        .into_iter()
        .map(|z| Dowel {
            wall,
            y: body.size.y / 2.0,
            z,
            radius,
            depth,
        })
        .collect()
}
