//! String slots and their ramps, in plan.
//!
//! Each slot has a frame of its own: `along` it to the crest (coordinate τ, from its extreme end
//! towards the nut) and `outward` across it towards its side (coordinate q, from its mid-line).

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

use crate::input::{Lie, Ramp, Side, Slots};
use crate::plane::moments::Linear;
use crate::plane::{Piece, Region};
use crate::tolerance::MERGE;

use super::SideLine;
use super::bore::Entry;

/// One slot.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot {
    /// Which side's.
    pub side: Side,
    /// Mid-line at the slot's extreme end towards the nut: τ = q = 0.
    pub origin: DVec2,
    /// Unit vector along the slot to the crest.
    pub along: DVec2,
    /// Unit vector across it, towards its side.
    pub outward: DVec2,
    /// Extreme end to extreme end.
    pub length: f64,
    /// Width.
    pub width: f64,
    /// Corner radius in plan: 0, or up to width/2 (half-round ends).
    pub corner_radius: f64,
    /// Angle between a bore's axis and the walls' normal: the taper for a slot parallel to the
    /// centre line, 0 for one parallel to the side.
    pub skew: f64,
    /// Ramp at the nut end.
    pub ramp: Option<RampLayout>,
}

/// A ramp: as wide as its slot, its floor falling from the mouth line at τ = −mouth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RampLayout {
    /// Mouth line before the slot's extreme end.
    pub mouth: f64,
    /// Angle of the floor below the face, radians.
    pub angle: f64,
}

impl Slot {
    pub(super) fn new(slots: &Slots, line: &SideLine, entries: &[Entry]) -> Slot {
        let side = line.side;
        let sign = side.sign();
        let half = slots.width / 2.0;
        // The mid-line: a point of it, its direction, its outward normal.
        let (on_mid_line, along, outward, skew) = match slots.lie {
            Lie::Rib(rib) => (
                DVec2::new(sign * (rib / 2.0 + half), 0.0),
                DVec2::Y,
                DVec2::X * sign,
                line.taper,
            ),
            Lie::Cheek(cheek) => (
                line.origin + line.inward * (cheek + half),
                line.along,
                -line.inward,
                0.0,
            ),
        };
        let crossing = |entry: Option<&Entry>| {
            let point = entry.map_or(line.origin, |entry| entry.point.truncate());
            let t = (on_mid_line - point).dot(outward) / line.inward.dot(outward);
            point + line.inward * t
        };
        let [nut_margin, crest_margin] = slots.end_margin;
        let (first, last) = (crossing(entries.first()), crossing(entries.last()));
        let origin = first - along * nut_margin;
        let corner_radius = if slots.corner_radius < MERGE {
            0.0
        } else if half - slots.corner_radius < MERGE {
            half
        } else {
            slots.corner_radius
        };
        Slot {
            side,
            origin,
            along,
            outward,
            length: nut_margin + (last - first).dot(along) + crest_margin,
            width: slots.width,
            corner_radius,
            skew,
            ramp: slots.ramp.and_then(|ramp| ramp_layout(ramp, corner_radius)),
        }
    }

    /// The point at (τ, q).
    #[must_use]
    pub fn at(&self, tau: f64, q: f64) -> DVec2 {
        self.origin + self.along * tau + self.outward * q
    }

    /// (τ, q) of a point.
    #[must_use]
    pub fn coordinates(&self, point: DVec2) -> (f64, f64) {
        let out = point - self.origin;
        (out.dot(self.along), out.dot(self.outward))
    }

    /// τ at which the walls' straight part begins and ends.
    #[must_use]
    pub fn straight(&self) -> [f64; 2] {
        [self.corner_radius, self.length - self.corner_radius]
    }

    /// The slot in plan.
    #[must_use]
    pub fn region(&self) -> Region {
        self.rounded(0.0, self.length, self.corner_radius, self.corner_radius)
    }

    /// What the ramp takes from the face in plan, the slot itself included up to where its
    /// straight walls begin; `None` without a ramp.
    #[must_use]
    pub fn ramp_region(&self) -> Option<Region> {
        let ramp = self.ramp?;
        Some(self.rounded(-ramp.mouth, self.corner_radius, 0.0, 0.0))
    }

    /// Slot and ramp together, in plan: the opening in the face.
    #[must_use]
    pub fn opening(&self) -> Region {
        match self.ramp {
            Some(ramp) => self.rounded(-ramp.mouth, self.length, 0.0, self.corner_radius),
            None => self.region(),
        }
    }

    /// The slot's part before its straight walls begin, in plan: its nut end with the corners.
    #[must_use]
    pub fn nut_end_region(&self) -> Region {
        self.rounded(0.0, self.corner_radius, self.corner_radius, 0.0)
    }

    /// Depth of the ramp's floor below the face, as a function of (x, y).
    #[must_use]
    pub fn ramp_depth(&self) -> Option<Linear> {
        let ramp = self.ramp?;
        let slope = self.along * ramp.angle.tan();
        Some(Linear {
            at_origin: ramp.mouth * ramp.angle.tan() - slope.dot(self.origin),
            slope,
        })
    }

    /// A bar from τ = `from` to `to`, with corners of the two radii at its two ends.
    fn rounded(&self, from: f64, to: f64, nut_radius: f64, crest_radius: f64) -> Region {
        let half = self.width / 2.0;
        // (τ, q) of each corner in order, and the radius it is rounded with.
        let corners = [
            (from, half, nut_radius),
            (to, half, crest_radius),
            (to, -half, crest_radius),
            (from, -half, nut_radius),
        ];
        let mut boundary: Vec<Piece> = Vec::with_capacity(8);
        let mut first = None;
        let mut last: Option<DVec2> = None;
        // Going nut → crest on the outer wall turns anticlockwise where outward is to the right.
        let turn = if self.along.perp_dot(self.outward) < 0.0 {
            1.0
        } else {
            -1.0
        };
        for (index, &(tau, q, radius)) in corners.iter().enumerate() {
            let corner = self.at(tau, q);
            // The corners come as nut, crest, crest, nut.
            let inward_tau = if index % 3 == 0 { 1.0 } else { -1.0 };
            let inward_q = if q > 0.0 { -1.0 } else { 1.0 };
            let on_wall = corner + self.along * (inward_tau * radius);
            let on_end = corner + self.outward * (inward_q * radius);
            let (enter, leave) = if index % 2 == 0 {
                (on_end, on_wall)
            } else {
                (on_wall, on_end)
            };
            if let Some(last) = last {
                push_line(&mut boundary, last, enter);
            } else {
                first = Some(enter);
            }
            if radius > 0.0 {
                let center = on_wall + self.outward * (inward_q * radius);
                boundary.push(Piece::Arc {
                    center,
                    radius,
                    from: (enter - center).to_angle(),
                    sweep: turn * FRAC_PI_2,
                });
            }
            last = Some(leave);
        }
        if let (Some(first), Some(last)) = (first, last) {
            push_line(&mut boundary, last, first);
        }
        if turn < 0.0 {
            reverse(&mut boundary);
        }
        Region { boundary }
    }
}

/// A mouth within the kernel's merge distance of the slot's own end is at that end; a square end
/// then leaves the ramp nothing to take away.
fn ramp_layout(ramp: Ramp, corner_radius: f64) -> Option<RampLayout> {
    let mouth = if ramp.mouth < MERGE { 0.0 } else { ramp.mouth };
    (mouth > 0.0 || corner_radius > 0.0).then_some(RampLayout {
        mouth,
        angle: ramp.angle,
    })
}

/// Adds a straight piece unless it has no length.
fn push_line(boundary: &mut Vec<Piece>, a: DVec2, b: DVec2) {
    if a.distance(b) >= MERGE {
        boundary.push(Piece::Line { a, b });
    }
}

/// Turns a boundary round.
fn reverse(boundary: &mut [Piece]) {
    boundary.reverse();
    for piece in boundary {
        *piece = match *piece {
            Piece::Line { a, b } => Piece::Line { a: b, b: a },
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => Piece::Arc {
                center,
                radius,
                from: from + sweep,
                sweep: -sweep,
            },
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn slot(side: Side, corner_radius: f64) -> Slot {
        Slot {
            side,
            origin: DVec2::new(14.5 * side.sign(), 38.0),
            along: DVec2::Y,
            outward: DVec2::X * side.sign(),
            length: 106.0,
            width: 15.0,
            corner_radius,
            skew: 0.02,
            ramp: Some(RampLayout {
                mouth: 19.0,
                angle: 0.4,
            }),
        }
    }

    #[test]
    fn areas_in_plan() {
        for side in Side::BOTH {
            for radius in [0.0, 3.0, 7.5] {
                let slot = slot(side, radius);
                let corners = (4.0 - PI) * radius * radius;
                let area = slot.region().moments().area;
                assert!(
                    (area - (106.0 * 15.0 - corners)).abs() < 1e-9,
                    "{side:?} {radius} {area}"
                );
                let opening = slot.opening().moments().area;
                assert!((opening - (125.0 * 15.0 - corners / 2.0)).abs() < 1e-9);
                let end = slot.nut_end_region().moments().area;
                assert!((end - (radius * 15.0 - corners / 2.0)).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn ramp_floor_starts_at_the_face_on_the_mouth_line() {
        let slot = slot(Side::Bass, 7.5);
        let depth = slot.ramp_depth().unwrap();
        assert!(depth.at(slot.at(-19.0, 3.0)).abs() < 1e-12);
        assert!((depth.at(slot.at(0.0, -3.0)) - 19.0 * 0.4_f64.tan()).abs() < 1e-12);
    }
}
