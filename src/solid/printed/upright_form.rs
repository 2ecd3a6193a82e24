//! Volume, area and centroid of an upright body in closed form, from its numbers alone.

use std::f64::consts::{PI, SQRT_2};

use glam::{DVec2, DVec3};

use crate::plane::moments::Body;
use crate::solid::closed_form::ClosedForm;

use super::upright::{Dowel, Run, Upright, UprightHole, Vee, Wall};

/// The integral from `a` to `b` of a polynomial of the third degree or lower: Simpson's rule, which
/// is exact for these.
fn cubic(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
    (b - a) / 6.0 * (f(a) + 4.0 * f((a + b) / 2.0) + f(b))
}

/// What must come out of [`upright`](super::upright_brep::brep).
pub(super) fn closed_form(body: &Upright) -> ClosedForm {
    let mut sum = block(body);
    for groove in &body.grooves {
        take(&mut sum, groove_form(body, groove));
    }
    for hole in &body.holes {
        take(&mut sum, hole_form(body, hole));
    }
    for dowel in &body.dowels {
        take(&mut sum, dowel_form(body, dowel));
    }
    sum
}

fn take(sum: &mut ClosedForm, hole: ClosedForm) {
    sum.body = sum.body - hole.body;
    sum.area += hole.area;
}

/// The bare body with its chamfered foot.
fn block(body: &Upright) -> ClosedForm {
    let DVec3 { x, y, z } = body.size;
    let c = body.chamfer;
    let section = |inset: f64| (x - 2.0 * inset) * (y - 2.0 * inset);
    let at_inset = |inset: f64| c - inset;
    let foot = cubic(0.0, c, section);
    let foot_moment = cubic(0.0, c, |u| section(u) * at_inset(u));
    let volume = foot + x * y * (z - c);
    let height_moment = foot_moment + x * y * (z * z - c * c) / 2.0;
    let round = 2.0 * (x + y);
    ClosedForm {
        body: Body {
            volume,
            moment: DVec3::new(x / 2.0 * volume, y / 2.0 * volume, height_moment),
        },
        // Top, foot, walls, and the four slanting bands.
        area: x * y + section(c) + round * (z - c) + SQRT_2 * c * (round - 4.0 * c),
    }
}

/// What a groove takes away, and the area it adds.
fn groove_form(body: &Upright, groove: &Vee) -> ClosedForm {
    let (w, d, z, c) = (groove.width, groove.depth, body.size.z, body.chamfer);
    let triangle = w * d / 2.0;
    // In the foot the chamfer has taken the triangle's first `inset` already.
    let meets = c.min(d);
    let left = |inset: f64| triangle * (1.0 - inset / d) * (1.0 - inset / d);
    let center = |inset: f64| inset + (d - inset) / 3.0;
    let volume = triangle * (z - c) + cubic(0.0, meets, left);
    let inset_moment =
        triangle * (z - c) * center(0.0) + cubic(0.0, meets, |u| left(u) * center(u));
    let height_moment = triangle * (z * z - c * c) / 2.0 + cubic(0.0, meets, |u| left(u) * (c - u));
    let on_wall = body.on_wall(groove.wall, groove.at, 0.0);
    let inward: DVec2 = -groove.wall.outward();
    let plan = on_wall * volume + inward * inset_moment;
    let slant = (w / 2.0).hypot(d);
    let flank = slant * z - slant / d * (c * meets - meets * meets / 2.0);
    let of_foot = if d > c { left(c) } else { 0.0 };
    let of_chamfer = SQRT_2 * w * (meets - meets * meets / (2.0 * d));
    ClosedForm {
        body: Body {
            volume,
            moment: plan.extend(height_moment),
        },
        area: 2.0 * flank - w * (z - c) - triangle - of_foot - of_chamfer,
    }
}

/// A piece of an upright hole: from height `low` to `high`, the radius changing evenly.
fn frustum(
    hole: &UprightHole,
    (low, high): (f64, f64),
    (at_low, at_high): (f64, f64),
) -> ClosedForm {
    let radius = |z: f64| at_low + (at_high - at_low) * (z - low) / (high - low);
    let section = |z: f64| PI * radius(z) * radius(z);
    let volume = cubic(low, high, section);
    let slant = (high - low).hypot(at_high - at_low);
    ClosedForm {
        body: Body {
            volume,
            moment: (hole.center * volume).extend(cubic(low, high, |z| section(z) * z)),
        },
        area: PI * (at_low + at_high) * slant,
    }
}

fn hole_form(body: &Upright, hole: &UprightHole) -> ClosedForm {
    let (top, r) = (body.size.z, hole.radius);
    let disc = |radius: f64| PI * radius * radius;
    let mut pieces = Vec::new();
    let mut flat = 0.0;
    match hole.run {
        Run::Through { rim } => {
            pieces.push(frustum(hole, (0.0, rim), (r + rim, r)));
            pieces.push(frustum(hole, (rim, top), (r, r)));
            flat -= disc(r + rim) + disc(r);
        }
        Run::Blind {
            depth,
            point_height,
        } => {
            let start = hole.mouth.map_or(top, |(wide, deep)| {
                pieces.push(frustum(hole, (top - deep, top), (wide, wide)));
                top - deep
            });
            // The top loses the mouth; a counterbore's floor gives back all but the bore.
            flat -= disc(r);
            pieces.push(frustum(hole, (top - depth, start), (r, r)));
            if point_height > 0.0 {
                let tip = top - depth - point_height;
                pieces.push(frustum(hole, (tip, top - depth), (0.0, r)));
            } else {
                flat += disc(r);
            }
        }
    }
    let nothing = ClosedForm {
        body: Body::default(),
        area: flat,
    };
    pieces.into_iter().fold(nothing, |sum, piece| ClosedForm {
        body: sum.body + piece.body,
        area: sum.area + piece.area,
    })
}

/// The flat bottom gives back what the mouth takes from the wall.
fn dowel_form(body: &Upright, dowel: &Dowel) -> ClosedForm {
    let volume = PI * dowel.radius * dowel.radius * dowel.depth;
    let x = if dowel.wall == Wall::Near {
        dowel.depth / 2.0
    } else {
        body.size.x - dowel.depth / 2.0
    };
    ClosedForm {
        body: Body::at(volume, DVec3::new(x, dowel.y, dowel.z)),
        area: 2.0 * PI * dowel.radius * dowel.depth,
    }
}
