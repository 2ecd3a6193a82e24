//! How a string lies on its barrel: one layer of touching turns from the string hole, and the point
//! at which the string leaves it for the nut.

use std::f64::consts::FRAC_PI_2;

use glam::DVec3;

use crate::input::{Design, Strings};
use crate::layout::Bore;

/// A string on its barrel. Depths are measured along the bore's axis from the side.
#[derive(Debug, Clone, PartialEq)]
pub struct Strung {
    /// Diameter of the string.
    pub diameter: f64,
    /// Whether it leaves the barrel on the face's side.
    pub over: bool,
    /// Turns on the barrel.
    pub turns: f64,
    /// Whether they walk towards the side; else towards the rib.
    pub outwards: bool,
    /// Depth at which the string's centre line leaves the winding: turns × diameter from the hole.
    pub leaves_at: f64,
    /// Depths between which the winding lies, half a string past its first and last turn.
    pub winding: [f64; 2],
    /// Radius of the winding, outside.
    pub winding_radius: f64,
    /// The barrel's axis at `leaves_at`.
    axis: DVec3,
    /// Unit vector square to the axis, level, towards the nut.
    nutward: DVec3,
}

impl Strung {
    pub(super) fn new(
        design: &Design,
        strings: &Strings,
        index: usize,
        bore: &Bore,
    ) -> Option<Strung> {
        let diameter = *strings.diameters.get(index)?;
        let turns = *strings.turns.get(index)?;
        let outwards = *strings.outwards.get(index)?;
        let hole = design.machines.string_hole;
        let walked = if outwards { -turns } else { turns } * diameter;
        let leaves_at = hole + walked;
        let across = DVec3::Z.cross(bore.direction);
        Some(Strung {
            diameter,
            over: *strings.over.get(index)?,
            turns,
            outwards,
            leaves_at,
            winding: [
                hole.min(leaves_at) - diameter / 2.0,
                hole.max(leaves_at) + diameter / 2.0,
            ],
            winding_radius: design.machines.barrel_diameter / 2.0 + diameter,
            axis: bore.axis_at(leaves_at),
            nutward: if across.y > 0.0 { -across } else { across },
        })
    }

    /// Radius of the string.
    #[must_use]
    pub fn radius(&self) -> f64 {
        self.diameter / 2.0
    }

    /// Radius at which the string's centre line runs round the barrel.
    #[must_use]
    pub fn centre_radius(&self) -> f64 {
        self.winding_radius - self.radius()
    }

    /// Where the centre line of a string from `nut` touches the winding's. Seen along the axis it is
    /// the tangent from the nut to a circle: the angle at the centre between nut and tangent point is
    /// acos(radius / distance).
    pub(super) fn touches(&self, nut: DVec3) -> DVec3 {
        let out = nut - self.axis;
        let (level, up) = (out.dot(self.nutward), out.z);
        let radius = self.centre_radius();
        let ratio = radius / level.hypot(up);
        let apart = if ratio < 1.0 {
            ratio.acos()
        } else {
            // The nut inside the winding: no such tangent. The checks then refuse the head.
            FRAC_PI_2
        };
        let angle = up.atan2(level) + if self.over { apart } else { -apart };
        let (sin, cos) = angle.sin_cos();
        self.axis + (self.nutward * cos + DVec3::Z * sin) * radius
    }
}
