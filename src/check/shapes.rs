//! Shapes that the checks measure between: the plan of bores, counterbores and pilots, and how
//! far a body stays from a plane.
//!
//! Every bore's axis lies in one plane, z = −a, and bores are convex and symmetric about it. The
//! least distance between two bores is therefore that of their sections there, and the least
//! distance from a bore to anything that goes right through the thickness is that in plan.

use glam::{DVec2, DVec3};

use crate::layout::{Bore, EndCut, Layout, Outline, OutlinePart, Pilot, SideLayout, Slot};
use crate::plane::{Piece, Region};

use super::at::{Words, words};

/// A linear function of space whose value is the distance from a plane, positive in the wood.
#[derive(Debug, Clone, Copy)]
pub(super) struct Distance {
    at_origin: f64,
    gradient: DVec3,
}

impl Distance {
    /// From the plane z = `z`, positive below it.
    pub fn below(z: f64) -> Distance {
        Distance {
            at_origin: z,
            gradient: DVec3::new(0.0, 0.0, -1.0),
        }
    }

    /// From the back plane moved `into` the wood (measured like the thickness), positive in front
    /// of it, square to it.
    pub fn from_back(outline: &Outline, into: f64) -> Distance {
        let slope = outline.thickness.slope;
        let gradient = DVec3::new(slope.x, slope.y, 1.0);
        let scale = 1.0 / gradient.length();
        Distance {
            at_origin: (outline.thickness.at_origin - into) * scale,
            gradient: gradient * scale,
        }
    }

    /// From the floor of a slot's ramp, prolonged, positive below it, square to it.
    pub fn below_ramp(slot: &Slot) -> Option<Distance> {
        let depth = slot.ramp_depth()?;
        let gradient = DVec3::new(-depth.slope.x, -depth.slope.y, -1.0);
        let scale = 1.0 / gradient.length();
        Some(Distance {
            at_origin: -depth.at_origin * scale,
            gradient: gradient * scale,
        })
    }

    fn at(&self, point: DVec3) -> f64 {
        self.at_origin + self.gradient.dot(point)
    }

    /// Least over a flat disc square to `axis` (a unit vector).
    fn over_disc(&self, centre: DVec3, axis: DVec3, radius: f64) -> f64 {
        let across = self.gradient - axis * self.gradient.dot(axis);
        self.at(centre) - radius * across.length()
    }

    /// Least over a cylinder.
    pub fn over_cylinder(&self, entry: DVec3, axis: DVec3, radius: f64, depth: f64) -> f64 {
        self.over_disc(entry, axis, radius)
            .min(self.over_disc(entry + axis * depth, axis, radius))
    }

    /// Least over a bore as built, without its counterbore. Exact, but where a plane so steep that
    /// the tip comes nearer than the rim meets a point that its end plane cuts: then the tip
    /// beyond the end plane counts, which is on the safe side.
    pub fn over_bore(&self, bore: &Bore) -> f64 {
        let axis = bore.direction;
        let mouth = self.over_disc(bore.entry, axis, bore.radius());
        let end = match bore.end_plane {
            Some((w, EndCut::FullDiameter)) => {
                let along = along(bore).extend(0.0) + axis * bore.taper.tan();
                let across = DVec2::new(self.gradient.dot(along), self.gradient.z);
                self.at(bore.axis_at(bore.depth_at_plane(w))) - bore.radius() * across.length()
            }
            _ => self
                .over_disc(bore.axis_at(bore.depth), axis, bore.radius())
                .min(self.at(bore.axis_at(bore.depth + bore.point_height))),
        };
        mouth.min(end)
    }
}

/// Unit vector along the side that a bore enters, to the crest.
fn along(bore: &Bore) -> DVec2 {
    DVec2::new(bore.side.sign() * bore.taper.sin(), bore.taper.cos())
}

/// A cylinder from the side, seen in plan.
fn bar(entry: DVec2, axis: DVec2, along: DVec2, radius: f64, depth: f64) -> Region {
    let across = along * radius;
    let end = entry + axis * depth;
    Region::polygon(&[entry - across, entry + across, end + across, end - across])
}

/// A bore as built, in plan, without its counterbore.
pub(super) fn bore_plan(bore: &Bore) -> Region {
    Region::polygon(&bore.section())
}

/// A bore's counterbore in plan.
pub(super) fn counterbore_plan(bore: &Bore) -> Option<Region> {
    bore.counterbore.map(|mouth| {
        bar(
            bore.entry.truncate(),
            bore.direction.truncate(),
            along(bore),
            mouth.diameter / 2.0,
            mouth.depth,
        )
    })
}

/// A pilot in plan.
pub(super) fn pilot_plan(side: &SideLayout, pilot: &Pilot) -> Region {
    bar(
        pilot.entry.truncate(),
        pilot.direction.truncate(),
        side.line.along,
        pilot.diameter / 2.0,
        pilot.depth,
    )
}

/// The barrel that lies in a bore, in plan, from the side to its end.
pub(super) fn barrel_plan(bore: &Bore, diameter: f64, length: f64) -> Region {
    bar(
        bore.entry.truncate(),
        bore.direction.truncate(),
        along(bore),
        diameter / 2.0,
        length,
    )
}

/// Everything drilled from one side, in plan, each with its name.
pub(super) fn drilled(side: &SideLayout) -> Vec<(Words, Region)> {
    let mut list = Vec::new();
    for bore in &side.bores {
        list.push((bore.into(), bore_plan(bore)));
        if let Some(plan) = counterbore_plan(bore) {
            list.push((words!("counterbore of ", bore), plan));
        }
    }
    for pilot in &side.pilots {
        list.push((pilot.into(), pilot_plan(side, pilot)));
    }
    list
}

/// Distance from a region to the crest, 0 where the crest's line crosses it, negative where it
/// lies beyond.
pub(super) fn to_crest(outline: &Outline, region: &Region) -> f64 {
    let Some(crest) = outline.part(OutlinePart::Crest) else {
        return f64::INFINITY;
    };
    let distance = region.boundary_distance(&crest);
    let start = region.boundary.first().map_or(DVec2::ZERO, Piece::start);
    let beyond = start.y > crest.start().y
        && match crest {
            Piece::Line { .. } => true,
            Piece::Arc { center, radius, .. } => start.distance(center) > radius,
        };
    if beyond { -distance } else { distance }
}

/// Distance from a region to a shoulder, 0 where the shoulder's line crosses it, negative where
/// the region lies outside the head; `None` where the side has no shoulder.
pub(super) fn to_shoulder(
    layout: &Layout,
    side: crate::input::Side,
    region: &Region,
) -> Option<f64> {
    let shoulder = layout.outline.part(OutlinePart::Shoulder(side))?;
    let distance = region.boundary_distance(&shoulder);
    let Piece::Line { a, b } = shoulder else {
        return Some(distance);
    };
    // The outline runs anticlockwise: outside is to the right of the shoulder's line. Only what
    // lies beside the shoulder itself can be outside because of it.
    let outside = region.boundary.iter().any(|piece| {
        let point = piece.start();
        let beside = (point - a).dot(b - a) * (point - b).dot(b - a) < 0.0;
        beside && (b - a).perp_dot(point - a) < 0.0
    });
    Some(if outside { -distance } else { distance })
}

/// Distance between a body's plan and the ramp of a slot, and the body's distance below the
/// ramp's floor: the ramp lies within the column over its plan and above its floor, so the larger
/// of the two is a distance that is certainly there (and the least distance wherever the nearest
/// point is on a wall or on the floor). `None` without a ramp.
pub(super) fn to_ramp(plan: &Region, slot: &Slot, below: impl Fn(Distance) -> f64) -> Option<f64> {
    let ramp = slot.ramp_region()?;
    let floor = Distance::below_ramp(slot)?;
    Some(plan.distance(&ramp).max(below(floor)))
}
