//! Bores, counterbores and pilots of the head: rings on the faces they pierce, tubes between.

use glam::DVec3;

use crate::input::Side;
use crate::layout::{Bore, BoreEnd, EndCut, Pilot};

use super::brep::Surface;
use super::builder::{Builder, HoleFrame, Ring};

/// The faces of one side that its bores pierce.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pierced {
    /// The side plane.
    pub side: usize,
    /// Outer and inner wall of the slot, if there is one.
    pub walls: Option<(usize, usize)>,
}

/// Cylinder about a hole's axis.
pub(super) fn cylinder(frame: &HoleFrame, radius: f64) -> Surface {
    Surface::Cylinder {
        origin: frame.origin,
        axis: frame.along,
        x_axis: frame.first,
        radius,
    }
}

/// +1 where a hole frame's first direction points to the crest, −1 where to the nut.
fn crestward(side: Side) -> f64 {
    -side.sign()
}

/// Adds one bore. `shared` is the ring of the opposite bore it opens into, if that one was built
/// before. Returns the ring at its end where it opens.
pub(super) fn add_bore(
    builder: &mut Builder,
    bore: &Bore,
    pierced: Pierced,
    shared: Option<Ring>,
) -> Option<Ring> {
    let frame = HoleFrame::new(bore.entry, bore.direction, DVec3::Z);
    let radius = bore.radius();
    let name = format!("bore {} {}", bore.side.name(), bore.number);
    let wall = cylinder(&frame, radius);
    let mut from = mouth(builder, bore, &frame, pierced.side, &name);
    let slope_to_crest = crestward(bore.side);
    if let (Some(crossing), Some((outer_wall, inner_wall))) = (bore.slot, pierced.walls) {
        let slope = slope_to_crest * crossing.skew.tan();
        let outer = builder.ring(&frame, radius, crossing.outer, slope);
        builder.tube(&name, wall, &from, &outer);
        builder.add_hole(outer_wall, outer.backward());
        from = builder.ring(&frame, radius, crossing.inner, slope);
        builder.add_hole(inner_wall, from.forward());
    }
    match bore.end_plane {
        Some((w, EndCut::FullDiameter)) => {
            let end = shared.unwrap_or_else(|| {
                let slope = slope_to_crest * bore.taper.tan();
                builder.ring(&frame, radius, bore.depth_at_plane(w), slope)
            });
            builder.tube(&name, wall, &from, &end);
            finish_at_plane(builder, bore, &name, w, end)
        }
        Some((w, EndCut::Point)) => {
            let rim = builder.ring(&frame, radius, bore.depth, 0.0);
            builder.tube(&name, wall, &from, &rim);
            let (center, semi_y, semi_z) =
                bore.point_ellipse(w)
                    .unwrap_or((bore.axis_at(bore.depth), radius, radius));
            let end = shared.unwrap_or_else(|| {
                let first = DVec3::Y * slope_to_crest;
                builder.ring_on(center, first * semi_y, DVec3::Z * semi_z)
            });
            builder.tube(&name, point(bore, &frame), &rim, &end);
            finish_at_plane(builder, bore, &name, w, end)
        }
        None => {
            let rim = builder.ring(&frame, radius, bore.depth, 0.0);
            builder.tube(&name, wall, &from, &rim);
            if bore.point_height > 0.0 {
                let apex = bore.axis_at(bore.depth + bore.point_height);
                builder.cone_bottom(&name, point(bore, &frame), &rim, apex);
            } else {
                flat_bottom(builder, &name, &frame, bore.depth, &rim);
            }
            None
        }
    }
}

/// The bore's mouth in the side: its own ring, or its counterbore down to the bore's ring in the
/// counterbore's floor.
fn mouth(builder: &mut Builder, bore: &Bore, frame: &HoleFrame, side: usize, name: &str) -> Ring {
    // The side leans against a bore that is turned from square to it.
    let slope = crestward(bore.side) * bore.turned.tan();
    let Some(wide) = bore.counterbore else {
        let ring = builder.ring(frame, bore.radius(), 0.0, slope);
        builder.add_hole(side, ring.forward());
        return ring;
    };
    let radius = wide.diameter / 2.0;
    let name = format!("counter{name}");
    let opening = builder.ring(frame, radius, 0.0, slope);
    builder.add_hole(side, opening.forward());
    let floor_rim = builder.ring(frame, radius, wide.depth, 0.0);
    builder.tube(&name, cylinder(frame, radius), &opening, &floor_rim);
    let floor = flat_bottom(builder, &name, frame, wide.depth, &floor_rim);
    let ring = builder.ring(frame, bore.radius(), wide.depth, 0.0);
    builder.add_hole(floor, ring.forward());
    ring
}

/// The conical surface of a bit's point.
fn point(bore: &Bore, frame: &HoleFrame) -> Surface {
    Surface::Cone {
        origin: bore.axis_at(bore.depth),
        axis: -frame.along,
        x_axis: frame.first,
        radius: bore.radius(),
        half_angle: (bore.radius() / bore.point_height).atan(),
    }
}

/// A flat floor across a hole.
pub(super) fn flat_bottom(
    builder: &mut Builder,
    name: &str,
    frame: &HoleFrame,
    depth: f64,
    rim: &Ring,
) -> usize {
    let center = frame.origin + frame.along * depth;
    builder.plane_face(
        name,
        center,
        -frame.along,
        frame.first,
        vec![rim.backward()],
    )
}

/// Closes a bore in its end plane with a flat face, or leaves it open into its partner.
fn finish_at_plane(
    builder: &mut Builder,
    bore: &Bore,
    name: &str,
    w: f64,
    end: Ring,
) -> Option<Ring> {
    if bore.end == BoreEnd::Opens {
        return Some(end);
    }
    let sign = bore.side.sign();
    let on_plane = DVec3::new(sign * w, bore.entry.y, bore.entry.z);
    builder.plane_face(
        name,
        on_plane,
        DVec3::X * sign,
        DVec3::Y,
        vec![end.backward()],
    );
    None
}

/// Adds a screw pilot: a flat-ended bore.
pub(super) fn add_pilot(builder: &mut Builder, pilot: &Pilot, side_face: usize) {
    let frame = HoleFrame::new(pilot.entry, pilot.direction, DVec3::Z);
    let radius = pilot.diameter / 2.0;
    let name = format!("pilot {} {}", pilot.side.name(), pilot.number);
    let opening = builder.ring(&frame, radius, 0.0, 0.0);
    builder.add_hole(side_face, opening.forward());
    let rim = builder.ring(&frame, radius, pilot.depth, 0.0);
    builder.tube(&name, cylinder(&frame, radius), &opening, &rim);
    flat_bottom(builder, &name, &frame, pilot.depth, &rim);
}
