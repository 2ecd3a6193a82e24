//! What every upright print shares: the foot's chamfer and the notches that tell its ends apart.

use crate::input::Side;

use super::upright::{Run, Upright, Vee, Wall};

/// Chamfer of the foot, mm: more than a squashed first layer stands out (our assumption).
const CHAMFER: f64 = 0.5;
/// A groove that ends within this of the chamfer's own depth leaves a sliver.
const APART: f64 = 0.1;
/// Wood kept between holes and whatever the print adds, mm: the stop of the check `block-wood`.
pub(super) const WOOD: f64 = 1.0;

/// A notch at full size: width, depth, middle of the first from the face's or upright's edge, and
/// from one to the next, mm. Five widths of a 0.4 mm nozzle can be seen and felt (our assumption).
const NOTCH: [f64; 4] = [2.4, 1.2, 2.5, 3.5];
/// Sizes tried, as shares of the full one.
const SIZES: [f64; 3] = [1.0, 0.8, 0.6];

/// How the ends of blocks and bars are told apart, for people.
pub const NOTCH_RULE: &str = "The notched end points to the nut: one notch for the treble side, two \
    for the bass side. The notches stand next to the head's face, which is the upright's side of a \
    block. The chamfered edge is the foot.";

/// Chamfers foot and hole rims by what the wood allows: together they take at most two thirds of
/// the least wood round any hole.
pub(super) fn chamfer_foot(body: &mut Upright) {
    for hole in &mut body.holes {
        if let Run::Through { rim } = &mut hole.run {
            *rim = 0.0;
        }
    }
    let mut least = body.least_wood();
    for (index, hole) in body.holes.iter().enumerate() {
        for next in &body.holes[index + 1..] {
            least = least.min(hole.center.distance(next.center) - hole.reach() - next.reach());
        }
    }
    let mut chamfer = CHAMFER.min(least / 3.0).min(body.size.min_element() / 8.0);
    while let Some(near) = body
        .grooves
        .iter()
        .find(|groove| (groove.depth - chamfer).abs() < APART * chamfer)
    {
        chamfer = near.depth * (1.0 - 2.0 * APART);
    }
    body.chamfer = chamfer;
    for hole in &mut body.holes {
        if let Run::Through { rim } = &mut hole.run {
            *rim = chamfer;
        }
    }
}

/// Notches the nut end for a side: one for treble, two for bass, at the largest size that keeps
/// the wood round the holes. The nut is at x = 0 for treble, at the far end for bass; face and
/// upright are at the back. False where no size fits.
pub(super) fn notch(body: &mut Upright, side: Side) -> bool {
    let (wall, count) = match side {
        Side::Treble => (Wall::Near, 1),
        Side::Bass => (Wall::Far, 2),
    };
    let kept = body.least_wood().min(WOOD);
    for size in SIZES {
        let [width, depth, first, step] = NOTCH.map(|length| length * size);
        let notches: Vec<Vee> = (0..count)
            .map(|k| {
                let from_back = first + step * f64::from(k);
                let at = match wall {
                    Wall::Far => body.size.y - from_back,
                    _ => from_back,
                };
                Vee {
                    wall,
                    at,
                    width,
                    depth,
                }
            })
            .collect();
        let room = first + step * f64::from(count - 1) + width / 2.0 + WOOD <= body.size.y;
        let clear = notches.iter().all(|notch| {
            body.holes
                .iter()
                .all(|hole| body.distance_to_groove(notch, hole.center) - hole.reach() >= kept)
        });
        if room && clear {
            body.grooves.extend(notches);
            return true;
        }
    }
    false
}
