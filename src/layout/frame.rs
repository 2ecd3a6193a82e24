//! A right-handed frame of axes laid into the head frame: an operation's, or the block's at the
//! press.

use glam::DVec3;

/// Origin and axes, given in the head frame. Its points are its own coordinates, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Origin.
    pub origin: DVec3,
    /// Unit vector along +x.
    pub x: DVec3,
    /// Unit vector along +y.
    pub y: DVec3,
    /// Unit vector along +z.
    pub z: DVec3,
}

impl Frame {
    /// The head frame itself.
    pub const HEAD: Frame = Frame {
        origin: DVec3::ZERO,
        x: DVec3::X,
        y: DVec3::Y,
        z: DVec3::Z,
    };

    /// A point of the head in this frame's coordinates.
    #[must_use]
    pub fn local(&self, point: DVec3) -> DVec3 {
        self.local_direction(point - self.origin)
    }

    /// A direction of the head in this frame's coordinates.
    #[must_use]
    pub fn local_direction(&self, direction: DVec3) -> DVec3 {
        DVec3::new(
            direction.dot(self.x),
            direction.dot(self.y),
            direction.dot(self.z),
        )
    }

    /// A point of this frame in the head's coordinates.
    #[must_use]
    pub fn on_head(&self, point: DVec3) -> DVec3 {
        self.origin + self.x * point.x + self.y * point.y + self.z * point.z
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        let (sin, cos) = 0.3_f64.sin_cos();
        let frame = Frame {
            origin: DVec3::new(31.5, -2.0, 4.0),
            x: DVec3::NEG_Z,
            y: DVec3::new(sin, cos, 0.0),
            z: DVec3::new(cos, -sin, 0.0),
        };
        let point = DVec3::new(5.0, 70.0, -10.0);
        assert!(frame.on_head(frame.local(point)).distance(point) < 1e-12);
        assert!(Frame::HEAD.local(point).distance(point) < 1e-12);
    }
}
