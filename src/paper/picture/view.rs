//! Where a picture is taken from, and where a point of the solid comes to lie in it.

use glam::{DVec2, DVec3};

/// A direction of sight for a parallel projection.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Unit vector to the right of the picture.
    pub right: DVec3,
    /// Unit vector to the top of the picture.
    pub up: DVec3,
    /// Unit vector from the solid to the eye.
    pub eye: DVec3,
}

impl View {
    /// The view from `eye` (towards it from the solid, of any length above 0) with `up` upright as
    /// far as it can be; `up` must not lie along `eye`.
    #[must_use]
    pub fn new(eye: DVec3, up: DVec3) -> View {
        let eye = eye.normalize_or(DVec3::Z);
        let right = up.cross(eye).normalize_or(DVec3::X);
        View {
            right,
            up: eye.cross(right),
            eye,
        }
    }

    /// Right, up, towards the eye, mm.
    pub(super) fn seen(&self, p: DVec3) -> DVec3 {
        DVec3::new(p.dot(self.right), p.dot(self.up), p.dot(self.eye))
    }

    /// The frame that holds all points, its longer extent `pixels` long.
    pub(super) fn frame(
        &self,
        points: &[DVec3],
        pixels: usize,
        fine: usize,
        border: usize,
    ) -> Frame {
        let (mut least, mut most) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for point in points {
            let at = self.seen(*point).truncate();
            least = least.min(at);
            most = most.max(at);
        }
        let extent = (most - least).max(DVec2::splat(f64::MIN_POSITIVE));
        let scale = pixels.max(1) as f64 / extent.max_element();
        // Whole pixels, and so whole blocks of fine ones.
        let size = |mm: f64| ((mm * scale).ceil() as usize + 2 * border) * fine;
        let border = (border * fine) as f64;
        let scale = scale * fine as f64;
        Frame {
            view: *self,
            scale,
            corner: DVec2::new(least.x - border / scale, most.y + border / scale),
            width: size(extent.x),
            height: size(extent.y),
        }
    }
}

/// A view with its scale and size in fine pixels.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub view: View,
    /// Fine pixels to a millimetre.
    pub scale: f64,
    /// Upper left corner, mm to the right and up.
    corner: DVec2,
    pub width: usize,
    pub height: usize,
}

impl Frame {
    /// A point in fine pixels, right and down from the upper left corner; z towards the eye in mm.
    pub fn place(&self, p: DVec3) -> DVec3 {
        let seen = self.view.seen(p);
        DVec3::new(
            (seen.x - self.corner.x) * self.scale,
            (self.corner.y - seen.y) * self.scale,
            seen.z,
        )
    }
}
