//! Volume, area and centroid of head and guide block in closed form, from the layout alone. No
//! face or edge is looked at, so that agreement with the integral over the faces means something.

use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use crate::layout::{Block, Bore, BoreEnd, EndCut, Layout, Pilot, Slot};
use crate::plane::moments::{Body, Linear};

/// Volume, first moment and area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosedForm {
    /// Volume and first moment.
    pub body: Body,
    /// Area of the whole boundary.
    pub area: f64,
}

impl ClosedForm {
    /// Centre of volume.
    #[must_use]
    pub fn centroid(&self) -> DVec3 {
        self.body.moment / self.body.volume
    }

    /// Adds a body and the area it brings.
    pub(super) fn add(&mut self, part: ClosedForm) {
        self.body = self.body + part.body;
        self.area += part.area;
    }

    /// Takes away a hole's body and adds the area it makes.
    pub(super) fn take(&mut self, hole: ClosedForm) {
        self.body = self.body - hole.body;
        self.area += hole.area;
    }
}

/// The head.
#[must_use]
pub fn head(layout: &Layout) -> ClosedForm {
    let thickness = layout.outline.thickness;
    let region = layout.outline.region();
    let plan = region.moments();
    let walls: f64 = region
        .boundary
        .iter()
        .map(|piece| piece.wall_area(&thickness))
        .sum();
    let mut sum = ClosedForm {
        body: plan.column_below(&thickness),
        area: plan.area * (1.0 + slant(&thickness)) + walls,
    };
    for side in layout.each_side() {
        if let Some(slot) = &side.slot {
            sum.take(slot_and_ramp(slot, &thickness));
        }
        for bore in &side.bores {
            sum.take(bore_form(bore));
        }
        for pilot in &side.pilots {
            sum.take(pilot_form(pilot));
        }
    }
    sum
}

/// Area of a sloping plane over the area of its plan.
fn slant(depth: &Linear) -> f64 {
    depth.slope.length().hypot(1.0)
}

/// What a slot and its ramp take away, and the area they add to face, back and walls together.
fn slot_and_ramp(slot: &Slot, thickness: &Linear) -> ClosedForm {
    let region = slot.region();
    let plan = region.moments();
    let walls: f64 = region
        .boundary
        .iter()
        .map(|piece| piece.wall_area(thickness))
        .sum();
    let mut sum = ClosedForm {
        body: plan.column_below(thickness),
        area: walls - plan.area * (1.0 + slant(thickness)),
    };
    let (Some(ramp), Some(floor), Some(ramp_region)) =
        (slot.ramp, slot.ramp_depth(), slot.ramp_region())
    else {
        return sum;
    };
    let beyond_slot = ramp_region.moments() - slot.nut_end_region().moments();
    sum.body = sum.body + beyond_slot.column_below(&floor);
    sum.area += beyond_slot.area * (slant(&floor) - 1.0);
    // The ramp's two straight walls: triangles of run mouth + corner radius.
    let run = ramp.mouth + slot.corner_radius;
    sum.area += run * run * ramp.angle.tan();
    // What the ramp takes of the walls round the slot's nut end.
    sum.area -= region
        .boundary
        .iter()
        .filter(|piece| slot.coordinates(piece.at(0.5)).0 < slot.length / 2.0)
        .filter(|piece| slot.coordinates(piece.at(0.5)).1.abs() < slot.width * 0.499_999)
        .map(|piece| piece.wall_area(&floor))
        .sum::<f64>();
    sum
}

/// A stretch of a round hole between two planes square to the plane of the axes: depth along the
/// axis and its change for each mm towards the crest, at both ends.
struct Stretch {
    from: (f64, f64),
    to: (f64, f64),
}

/// Direction along the side to the crest, of a hole that runs along `inward`.
fn crestward(inward: DVec3) -> DVec3 {
    let plan = DVec2::new(inward.x, inward.y).perp();
    let along = if plan.y < 0.0 { -plan } else { plan };
    along.extend(0.0)
}

/// Body and wall area of a truncated cylinder: volume πr²·(mean length), side area 2πr·(mean
/// length) (handbook form, confirmed on a public page).
fn truncated_cylinder(entry: DVec3, along: DVec3, radius: f64, stretch: &Stretch) -> ClosedForm {
    let ((p, kp), (q, kq)) = (stretch.from, stretch.to);
    let section = PI * radius * radius;
    let second = section * radius * radius / 4.0;
    let volume = section * (q - p);
    let along_axis = section * (q * q - p * p) / 2.0 + second * (kq * kq - kp * kp) / 2.0;
    let aside = second * (kq - kp);
    ClosedForm {
        body: Body {
            volume,
            moment: entry * volume + along * along_axis + crestward(along) * aside,
        },
        area: 2.0 * PI * radius * (q - p),
    }
}

fn bore_form(bore: &Bore) -> ClosedForm {
    let (entry, along, radius) = (bore.entry, bore.direction, bore.radius());
    let section = PI * radius * radius;
    let mut sum = ClosedForm {
        body: Body::default(),
        area: 0.0,
    };
    let mut add = |part: ClosedForm| {
        sum.body = sum.body + part.body;
        sum.area += part.area;
    };
    let mut start = (0.0, bore.turned.tan());
    if let Some(wide) = bore.counterbore {
        let stretch = Stretch {
            from: start,
            to: (wide.depth, 0.0),
        };
        add(truncated_cylinder(
            entry,
            along,
            wide.diameter / 2.0,
            &stretch,
        ));
        // The side loses the wide mouth, the floor gives back all but the bore's section.
        add(ClosedForm {
            body: Body::default(),
            area: -section,
        });
        start = (wide.depth, 0.0);
    } else {
        add(ClosedForm {
            body: Body::default(),
            area: -section,
        });
    }
    if let Some(slot) = bore.slot {
        let slope = slot.skew.tan();
        let stretch = Stretch {
            from: start,
            to: (slot.outer, slope),
        };
        add(truncated_cylinder(entry, along, radius, &stretch));
        // Both walls lose the bore's oblique section.
        add(ClosedForm {
            body: Body::default(),
            area: -2.0 * section / slot.skew.cos(),
        });
        start = (slot.inner, slope);
    }
    let cylinder_end = match bore.end_plane {
        Some((w, EndCut::FullDiameter)) => (bore.depth_at_plane(w), bore.taper.tan()),
        _ => (bore.depth, 0.0),
    };
    add(truncated_cylinder(
        entry,
        along,
        radius,
        &Stretch {
            from: start,
            to: cylinder_end,
        },
    ));
    add(end_form(bore));
    sum
}

/// The bore's point or flat end.
fn end_form(bore: &Bore) -> ClosedForm {
    let radius = bore.radius();
    let section = PI * radius * radius;
    let nothing = ClosedForm {
        body: Body::default(),
        area: 0.0,
    };
    let flat = |area: f64| ClosedForm {
        body: Body::default(),
        area,
    };
    match bore.end_plane {
        Some((_, EndCut::FullDiameter)) if bore.end == BoreEnd::Opens => nothing,
        Some((_, EndCut::FullDiameter)) => flat(section / bore.taper.cos()),
        Some((w, EndCut::Point)) => {
            let mut cone = whole_point(bore);
            let Some((center, semi_y, semi_z)) = bore.point_ellipse(w) else {
                return cone;
            };
            // Less the tip past the plane, an oblique cone on the ellipse.
            let tip = bore.axis_at(bore.depth + bore.point_height);
            let base = PI * semi_y * semi_z;
            let height = w - tip.x * bore.side.sign();
            let past = Body::at(base * height / 3.0, center + (tip - center) / 4.0);
            cone.body = cone.body - past;
            // All of a cone leans alike to its axis: its area is its shadow's over the sine.
            let half_angle = (radius / bore.point_height).atan();
            cone.area -= base * bore.taper.cos() / half_angle.sin();
            if bore.end == BoreEnd::Web {
                cone.area += base;
            }
            cone
        }
        None if bore.point_height > 0.0 => whole_point(bore),
        None => flat(section),
    }
}

/// A whole conical point: πr²h/3, side πr√(r² + h²).
fn whole_point(bore: &Bore) -> ClosedForm {
    let (radius, height) = (bore.radius(), bore.point_height);
    ClosedForm {
        body: Body::at(
            PI * radius * radius * height / 3.0,
            bore.axis_at(bore.depth + height / 4.0),
        ),
        area: PI * radius * radius.hypot(height),
    }
}

fn pilot_form(pilot: &Pilot) -> ClosedForm {
    let stretch = Stretch {
        from: (0.0, 0.0),
        to: (pilot.depth, 0.0),
    };
    // The flat bottom gives back what the mouth takes from the side.
    truncated_cylinder(pilot.entry, pilot.direction, pilot.diameter / 2.0, &stretch)
}

/// A guide block.
#[must_use]
pub fn guide_block(block: &Block) -> ClosedForm {
    let (x, y, z) = (block.length, block.depth, block.height);
    let mut sum = ClosedForm {
        body: Body::at(x * y * z, DVec3::new(x, y, z) / 2.0),
        area: 2.0 * (x * y + y * z + z * x),
    };
    for hole in &block.holes {
        let radius = hole.diameter / 2.0;
        let section = PI * radius * radius;
        sum.take(ClosedForm {
            body: Body::at(section * y, DVec3::new(hole.x, y / 2.0, hole.z)),
            area: 2.0 * PI * radius * y - 2.0 * section,
        });
    }
    for groove in &block.grooves {
        let triangle = groove.width * groove.depth / 2.0;
        let flank = (groove.width / 2.0).hypot(groove.depth);
        sum.take(ClosedForm {
            body: Body::at(
                triangle * y,
                DVec3::new(groove.x, y / 2.0, z - groove.depth / 3.0),
            ),
            area: (2.0 * flank - groove.width) * y - 2.0 * triangle,
        });
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Truncated cylinder r = 5, h from 8 to 12: πr²(h₁ + h₂)/2 = 785.398163 (page "Truncated
    /// Cylinder Volume", reproduced by a general kernel).
    #[test]
    fn truncated_cylinder_from_the_handbook() {
        let stretch = Stretch {
            from: (0.0, 0.0),
            to: (10.0, 4.0 / 10.0),
        };
        let form = truncated_cylinder(DVec3::ZERO, DVec3::X, 5.0, &stretch);
        assert!((form.body.volume - 785.398_163_397).abs() < 1e-9);
        // Its centroid lies where thin slices across put it.
        let n = 4000;
        let (mut deep, mut aside) = (0.0, 0.0);
        for i in 0..n {
            let v = -5.0 + 10.0 * (f64::from(i) + 0.5) / f64::from(n);
            let strip = 2.0 * (25.0 - v * v).sqrt() * 10.0 / f64::from(n);
            let h = 10.0 + 0.4 * v;
            deep += strip * h * h / 2.0;
            aside += strip * h * v;
        }
        assert!((form.body.moment.x - deep).abs() < 1e-4 * deep);
        assert!((form.body.moment.y - aside).abs() < 1e-4 * aside);
    }

    /// A 118° point on a diameter of 10: πr²h/3 = 78.652471 for h = 3.004303 (computed; a general
    /// kernel agrees). The published height is rounded to 1e-6 mm, hence 1e-5.
    #[test]
    fn cone_from_the_handbook() {
        let height =
            crate::layout::point_height(10.0, crate::input::Point::Angle(118f64.to_radians()));
        assert!((PI * 25.0 * height / 3.0 - 78.652_471_067).abs() < 1e-5);
    }
}
