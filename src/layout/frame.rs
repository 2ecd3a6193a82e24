//! A right-handed frame of axes laid into another: an operation's, a block's or a set's into the
//! head's, a part's into an assembly's.

use glam::DVec3;

/// Origin and axes, given in the frame it is laid into. Its points are its own coordinates, mm. No
/// frame turns a part inside out or scales it.
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
    /// The outer frame itself: where it lies in the head's, the head frame.
    pub const HEAD: Frame = Frame {
        origin: DVec3::ZERO,
        x: DVec3::X,
        y: DVec3::Y,
        z: DVec3::Z,
    };

    /// The outer frame, moved but not turned.
    #[must_use]
    pub fn moved(origin: DVec3) -> Frame {
        Frame {
            origin,
            ..Frame::HEAD
        }
    }

    /// A point of the outer frame in this frame's coordinates.
    #[must_use]
    pub fn local(&self, point: DVec3) -> DVec3 {
        self.local_direction(point - self.origin)
    }

    /// A direction of the outer frame in this frame's coordinates.
    #[must_use]
    pub fn local_direction(&self, direction: DVec3) -> DVec3 {
        DVec3::new(
            direction.dot(self.x),
            direction.dot(self.y),
            direction.dot(self.z),
        )
    }

    /// A point of this frame in the outer frame's coordinates.
    #[must_use]
    pub fn point(&self, own: DVec3) -> DVec3 {
        self.origin + self.direction(own)
    }

    /// A direction of this frame in the outer frame's coordinates.
    #[must_use]
    pub fn direction(&self, own: DVec3) -> DVec3 {
        self.x * own.x + self.y * own.y + self.z * own.z
    }

    /// The outer frame as it lies in this one.
    #[must_use]
    pub fn inverse(&self) -> Frame {
        Frame {
            origin: self.local(DVec3::ZERO),
            x: self.local_direction(DVec3::X),
            y: self.local_direction(DVec3::Y),
            z: self.local_direction(DVec3::Z),
        }
    }

    /// The same frame, farther along a direction of the outer frame.
    #[must_use]
    pub fn drawn(&self, by: DVec3) -> Frame {
        Frame {
            origin: self.origin + by,
            ..*self
        }
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
        assert!(frame.point(frame.local(point)).distance(point) < 1e-12);
        assert!(frame.inverse().point(point).distance(frame.local(point)) < 1e-12);
        assert!(Frame::HEAD.local(point).distance(point) < 1e-12);
        let drawn = frame.drawn(DVec3::X).point(point);
        assert!(drawn.distance(frame.point(point) + DVec3::X) < 1e-12);
    }
}
