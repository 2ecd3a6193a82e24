//! Surfaces as the file states them, with what an integral over them needs.

use super::meaning::{Found, real, reference};
use super::parse::File;
use glam::DVec3;

/// What a surface is, lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    Plane,
    Cylinder { radius: f64 },
    Cone { radius: f64, half_angle: f64 },
}

/// A surface in its placement. Parameters: u is the first coordinate of a plane and the angle of
/// a cylinder or cone; v is the second coordinate or the height along the axis.
#[derive(Debug, Clone, Copy)]
pub struct Surface {
    pub origin: DVec3,
    pub x: DVec3,
    pub y: DVec3,
    pub axis: DVec3,
    pub kind: Kind,
}

impl Surface {
    /// Reads a surface.
    pub fn read(file: &File, name: u64) -> Found<Surface> {
        let (placement, kind) = match file.keyword(name) {
            "PLANE" => (&file.record(name, "PLANE", 2)?[1], Kind::Plane),
            "CYLINDRICAL_SURFACE" => {
                let values = file.record(name, "CYLINDRICAL_SURFACE", 3)?;
                let radius = real(&values[2])?;
                (&values[1], Kind::Cylinder { radius })
            }
            "CONICAL_SURFACE" => {
                let values = file.record(name, "CONICAL_SURFACE", 4)?;
                let (radius, half_angle) = (real(&values[2])?, real(&values[3])?);
                if !(radius >= 0.0 && half_angle > 0.0 && half_angle < 1.6) {
                    return Err(format!("#{name} is no cone in radians"));
                }
                (&values[1], Kind::Cone { radius, half_angle })
            }
            other => return Err(format!("#{name} is a {other}")),
        };
        let [origin, x, y, axis] = file.placement(reference(placement)?)?;
        Ok(Surface {
            origin,
            x,
            y,
            axis,
            kind,
        })
    }

    /// Distance of a point from the surface, mm.
    pub fn distance(&self, p: DVec3) -> f64 {
        let height = (p - self.origin).dot(self.axis);
        let radius = self.radial(p).length();
        match self.kind {
            Kind::Plane => height.abs(),
            Kind::Cylinder { radius: r } => (radius - r).abs(),
            Kind::Cone {
                radius: r,
                half_angle,
            } => ((radius - r) * half_angle.cos() - height * half_angle.sin()).abs(),
        }
    }

    /// v of a point on the surface.
    pub fn v(&self, p: DVec3) -> f64 {
        let local = p - self.origin;
        match self.kind {
            Kind::Plane => local.dot(self.y),
            Kind::Cylinder { .. } | Kind::Cone { .. } => local.dot(self.axis),
        }
    }

    /// Rate of u for a point that moves at `rate` along the surface.
    pub fn u_rate(&self, p: DVec3, rate: DVec3) -> f64 {
        match self.kind {
            Kind::Plane => rate.dot(self.x),
            Kind::Cylinder { .. } | Kind::Cone { .. } => {
                let radial = self.radial(p);
                self.axis.dot(radial.cross(rate)) / radial.length_squared()
            }
        }
    }

    /// v from which to integrate: at a cone's apex the whole line of constant v is one point, so
    /// an integral from there needs nothing added where a loop passes through it.
    pub fn v_base(&self) -> f64 {
        match self.kind {
            Kind::Cone { radius, half_angle } => -radius / half_angle.tan(),
            _ => 0.0,
        }
    }

    /// Point at the u of `p` and another v, and there the natural normal times the area of du·dv.
    pub fn at(&self, p: DVec3, v: f64) -> (DVec3, DVec3) {
        match self.kind {
            Kind::Plane => {
                let u = (p - self.origin).dot(self.x);
                (self.origin + self.x * u + self.y * v, self.axis)
            }
            Kind::Cylinder { radius } => {
                let out = self.radial(p).normalize();
                (self.origin + out * radius + self.axis * v, out * radius)
            }
            Kind::Cone { radius, half_angle } => {
                let slope = half_angle.tan();
                let here = radius + v * slope;
                let out = self.radial(p).normalize();
                (
                    self.origin + out * here + self.axis * v,
                    (out - self.axis * slope) * here,
                )
            }
        }
    }

    fn radial(&self, p: DVec3) -> DVec3 {
        let local = p - self.origin;
        local - self.axis * local.dot(self.axis)
    }
}
