//! Triangles of plane faces.

use glam::{DVec2, DVec3};

use super::sweep::{NotSimple, Sweep, turn};

/// Divides plane faces, one after the other, in the same room.
#[derive(Debug, Default)]
pub struct PlaneFaces {
    ids: Vec<usize>,
    counts: Vec<usize>,
    sweep: Sweep,
}

impl PlaneFaces {
    /// Adds the triangles of a face: an outer loop less its holes, or several such. Loops are numbers of
    /// points; seen with the second axis a quarter turn anticlockwise from the first, outer loops run
    /// anticlockwise, holes clockwise, and so do the triangles. The axes are unit vectors.
    ///
    /// # Errors
    /// Where the boundary touches or crosses itself or runs the wrong way.
    pub fn divide<Points: Iterator<Item = usize>>(
        &mut self,
        points: &[DVec3],
        loops: impl Iterator<Item = Points>,
        axes: [DVec3; 2],
        triangles: &mut Vec<[usize; 3]>,
    ) -> Result<(), NotSimple> {
        self.ids.clear();
        self.counts.clear();
        for corners in loops {
            let before = self.ids.len();
            self.ids.extend(corners);
            self.counts.push(self.ids.len() - before);
        }
        let flat = |id: &usize| DVec2::new(points[*id].dot(axes[0]), points[*id].dot(axes[1]));
        if let [a, b, c] = *self.ids {
            let [p, q, r] = [a, b, c].map(|id| flat(&id));
            if turn(p, q, r) <= 0.0 {
                return Err(NotSimple);
            }
            triangles.push([a, b, c]);
            return Ok(());
        }
        // Swept along its longer side a face is cut by the line in few places.
        let (mut least, mut most) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for point in self.ids.iter().map(flat) {
            (least, most) = (least.min(point), most.max(point));
        }
        let size = most - least;
        let turned = |point: DVec2| {
            if size.x >= size.y {
                point
            } else {
                DVec2::new(point.y, -point.x)
            }
        };
        let flat = self.ids.iter().map(flat).map(turned);
        let found = self.sweep.triangles(flat, self.counts.iter().copied())?;
        let ids = &self.ids;
        triangles.extend(found.iter().map(|corners| corners.map(|i| ids[i as usize])));
        Ok(())
    }
}
