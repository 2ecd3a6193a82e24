//! Barrel bores: where each enters, where it runs, how deep it goes and how it ends.

use glam::{DVec2, DVec3};

use crate::input::{BoreDepth, Counterbore, Design, Point, Side};

use super::plate::Plate;
use super::{Copy, SideLine, Slot};

/// Where a bore enters its side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    pub s: f64,
    pub point: DVec3,
    pub direction: DVec3,
}

/// How a bore ends in the model.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoreEnd {
    /// In the wood.
    Blind,
    /// Into its mirror image, in the plane x = 0.
    Opens,
    /// In a flat face that keeps a web to the opposite bore.
    Web,
}

impl BoreEnd {
    /// Word of the report.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            BoreEnd::Blind => "blind",
            BoreEnd::Opens => "opens",
            BoreEnd::Web => "web",
        }
    }
}

/// Which part of a bore an end plane cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndCut {
    /// The full diameter; point and rim lie wholly past the plane.
    FullDiameter,
    /// Only the point; the rim lies wholly short of the plane.
    Point,
}

/// Where a bore's axis meets the walls of its slot, as depth along the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlotCrossing {
    /// Depth at the outer wall.
    pub outer: f64,
    /// Depth at the inner wall, the rib's.
    pub inner: f64,
    /// Angle between the axis and the walls' normal, signed like the taper, radians: at a
    /// distance v towards the crest from the axis the wall lies v·tan(skew) deeper.
    pub skew: f64,
}

/// One bore.
#[derive(Debug, Clone, PartialEq)]
pub struct Bore {
    /// Side it enters.
    pub side: Side,
    /// 1-based, from the nut.
    pub number: usize,
    /// Distance along the side line from y = 0.
    pub s: f64,
    /// Centre of its mouth on the side.
    pub entry: DVec3,
    /// Unit vector into the wood.
    pub direction: DVec3,
    /// Taper of its side, radians; of its partner's where it is turned to it.
    pub taper: f64,
    /// By how much it is turned from square to its side, signed like the taper, radians: nothing but in a
    /// pair that opens and is mirrored only to the contract's 1e-6, whose bass bore runs as the treble
    /// one's mirror image.
    pub turned: f64,
    /// Diameter.
    pub diameter: f64,
    /// Depth asked for: the depth rule before any lengthening or shortening at an end plane.
    pub depth_asked: f64,
    /// D: full diameter goes this deep along the axis.
    pub depth: f64,
    /// Included angle of the point, or flat.
    pub point: Point,
    /// Length of the point beyond D; 0 for a flat end.
    pub point_height: f64,
    /// How it ends in the model.
    pub end: BoreEnd,
    /// Distance |x| of the end plane from the centre line, and what it cuts; `None` where blind.
    pub end_plane: Option<(f64, EndCut)>,
    /// Length of the full diameter in the model, along the axis.
    pub length_in_model: f64,
    /// Wider mouth.
    pub counterbore: Option<Counterbore>,
    /// Where it meets its slot.
    pub slot: Option<SlotCrossing>,
    /// Bound on the width of wood that drilling takes beyond the end plane; 0 where blind.
    pub beyond_end_plane: f64,
}

impl Bore {
    /// Radius.
    #[must_use]
    pub fn radius(&self) -> f64 {
        self.diameter / 2.0
    }

    /// |x| of the entry.
    #[must_use]
    pub fn half_width(&self) -> f64 {
        self.entry.x * self.side.sign()
    }

    /// The point of the axis at a depth.
    #[must_use]
    pub fn axis_at(&self, depth: f64) -> DVec3 {
        self.entry + self.direction * depth
    }

    /// y at which the bore's centre on the side squares across to the centre line.
    #[must_use]
    pub fn squares_across_at(&self) -> f64 {
        self.entry.y
    }

    /// y at which the axis, prolonged, crosses the centre line.
    #[must_use]
    pub fn centre_line_y(&self) -> f64 {
        self.entry.y + self.half_width() * self.taper.tan()
    }

    /// Least distance from the plane x = 0, signed (+ on its own side), that the rim of the full
    /// diameter reaches if it goes `depth` deep.
    #[must_use]
    pub fn rim_reach(&self, depth: f64) -> f64 {
        let (sin, cos) = self.taper.sin_cos();
        self.half_width() - depth * cos - self.radius() * sin.abs()
    }

    /// The same for the far side of the rim: where the rim lies wholly past is below this.
    #[must_use]
    pub fn rim_near(&self, depth: f64) -> f64 {
        let (sin, cos) = self.taper.sin_cos();
        self.half_width() - depth * cos + self.radius() * sin.abs()
    }

    /// The same for rim and point together.
    #[must_use]
    pub fn reach(&self, depth: f64) -> f64 {
        let tip = self.half_width() - (depth + self.point_height) * self.taper.cos();
        tip.min(self.rim_reach(depth))
    }

    /// Depth along the axis at which it meets the plane |x| = `w` of its own side.
    #[must_use]
    pub fn depth_at_plane(&self, w: f64) -> f64 {
        (self.half_width() - w) / self.taper.cos()
    }

    /// The section of the bore as built (full diameter, point, end plane; without counterbore) by
    /// the plane of the axes, z = −a, as a convex polygon. Every other bore's axis lies in that
    /// plane too, so distances between bores are distances between these polygons.
    #[must_use]
    pub fn section(&self) -> Vec<DVec2> {
        let along = DVec2::new(self.side.sign() * self.taper.sin(), self.taper.cos());
        let across = along * self.radius();
        let at = |depth: f64| self.axis_at(depth).truncate();
        let mut corners = vec![at(0.0) - across, at(0.0) + across];
        let tan = self.taper.tan();
        match self.end_plane {
            Some((w, EndCut::FullDiameter)) => {
                let depth = self.depth_at_plane(w);
                corners.push(at(depth + self.radius() * tan) + across);
                corners.push(at(depth - self.radius() * tan) - across);
            }
            Some((w, EndCut::Point)) => {
                corners.push(at(self.depth) + across);
                corners.extend(
                    self.point_cut(w)
                        .map(|[near, far]| [far, near])
                        .into_iter()
                        .flatten(),
                );
                corners.push(at(self.depth) - across);
            }
            None => {
                corners.push(at(self.depth) + across);
                if self.point_height > 0.0 {
                    corners.push(at(self.depth + self.point_height));
                }
                corners.push(at(self.depth) - across);
            }
        }
        corners
    }

    /// Where the end plane |x| = `w` cuts the two edges of the point's section in the plane of the
    /// axes: towards the nut, towards the crest. `None` for a flat end.
    #[must_use]
    pub fn point_cut(&self, w: f64) -> Option<[DVec2; 2]> {
        if self.point_height <= 0.0 {
            return None;
        }
        let sign = self.side.sign();
        let along = DVec2::new(sign * self.taper.sin(), self.taper.cos());
        let tip = self.axis_at(self.depth + self.point_height).truncate();
        let rim = self.axis_at(self.depth).truncate();
        let cut = |v: f64| {
            let edge = rim + along * v;
            // Along the edge from tip (past the plane) to rim (short of it).
            let (from, to) = (tip.x * sign - w, edge.x * sign - w);
            tip + (edge - tip) * (from / (from - to))
        };
        Some([cut(-self.radius()), cut(self.radius())])
    }

    /// The ellipse in which the end plane |x| = `w` cuts the point: its centre and its semi-axes
    /// along y and z. `None` for a flat end.
    #[must_use]
    pub fn point_ellipse(&self, w: f64) -> Option<(DVec3, f64, f64)> {
        let [near, far] = self.point_cut(w)?;
        let middle = (near + far) / 2.0;
        // At the centre the cone's radius, less the offset from its axis, leaves the half height.
        let apex = self.axis_at(self.depth + self.point_height).truncate();
        let axis = self.direction.truncate();
        let back = (apex - middle).dot(axis);
        let aside = (apex - middle).perp_dot(axis);
        let cone = back * self.radius() / self.point_height;
        let half_height = (cone * cone - aside * aside).max(0.0).sqrt();
        Some((
            middle.extend(self.entry.z),
            near.distance(far) / 2.0,
            half_height,
        ))
    }
}

/// Height of a bit's point: (d/2)/tan(σ/2); 0 where flat. Handbook formula, confirmed against two
/// published worked values (0.104 in at 118° → 0.031 in; 12.7 mm → 3.82 mm).
#[must_use]
pub fn point_height(diameter: f64, point: Point) -> f64 {
    match point {
        Point::Flat => 0.0,
        Point::Angle(included) => diameter / 2.0 / (included / 2.0).tan(),
    }
}

/// Entries of one side's bores.
pub(super) fn entries(line: &SideLine, plate: &Plate, axis_below_face: f64) -> Vec<Entry> {
    plate
        .stations
        .iter()
        .map(|&s| Entry {
            s,
            point: line.at(s).extend(-axis_below_face),
            direction: line.inward.extend(0.0),
        })
        .collect()
}

/// Bores of one side, all still blind; pairs are ended afterwards.
pub(super) fn bores(
    design: &Design,
    copy: Copy,
    line: &SideLine,
    entries: &[Entry],
    slot: Option<&Slot>,
) -> Vec<Bore> {
    let allowance = match copy {
        Copy::Finished => 0.0,
        Copy::Printed => design.print.head_allowance,
    };
    let diameter = design.bores.diameter + allowance;
    let depth = match design.bores.depth {
        BoreDepth::BeyondBarrel(beyond) => design.machines.barrel_length + beyond,
        BoreDepth::BeyondCentre(beyond) => {
            let widest = entries.iter().map(|e| e.point.x.abs()).fold(0.0, f64::max);
            widest / line.taper.cos() + beyond
        }
    };
    let counterbore = design.bores.counterbore.map(|mouth| Counterbore {
        diameter: mouth.diameter + allowance,
        ..mouth
    });
    entries
        .iter()
        .enumerate()
        .map(|(index, entry)| Bore {
            side: line.side,
            number: index + 1,
            s: entry.s,
            entry: entry.point,
            direction: entry.direction,
            taper: line.taper,
            turned: 0.0,
            diameter,
            depth_asked: depth,
            depth,
            point: design.bores.point,
            point_height: point_height(diameter, design.bores.point),
            end: BoreEnd::Blind,
            end_plane: None,
            length_in_model: depth,
            counterbore,
            slot: slot.map(|slot| crossing(entry, slot)),
            beyond_end_plane: 0.0,
        })
        .collect()
}

/// Where the axis meets its own slot's walls.
fn crossing(entry: &Entry, slot: &Slot) -> SlotCrossing {
    let (_, q) = slot.coordinates(entry.point.truncate());
    // Depth along the axis for a step of 1 towards the rib, square to the walls.
    let per_q = 1.0 / slot.skew.cos();
    SlotCrossing {
        outer: (q - slot.width / 2.0) * per_q,
        inner: (q + slot.width / 2.0) * per_q,
        skew: slot.skew,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Point length (d/2)/tan(σ/2). Published: 12.7 mm at 118° → 3.82 mm (page "118° Drill Point
    /// Length Calculator"); 0.104 in → 0.031 in (forum table "Drill Tip Lengths"). Computed: 10 mm
    /// at 135° → 2.0711, at 140° → 1.8199.
    #[test]
    fn point_lengths_from_tables() {
        let at = |d: f64, degrees: f64| point_height(d, Point::Angle(degrees.to_radians()));
        assert!((at(12.7, 118.0) - 3.82).abs() < 0.005);
        assert!((at(0.104, 118.0) - 0.031).abs() < 0.000_5);
        assert!((at(10.0, 135.0) - 2.0711).abs() < 5e-5);
        assert!((at(10.0, 140.0) - 1.8199).abs() < 5e-5);
        assert!(point_height(10.0, Point::Flat).abs() < f64::EPSILON);
    }
}
