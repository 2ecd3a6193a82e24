//! Looks for every hole of a design in its solid and its mesh: where the layout has it, as wide, as deep, with
//! the end it is to have, and nothing of the wood standing in it.

use barrelhead::input::Point;
use barrelhead::layout::{Block, Bore, EndCut, Layout};
use barrelhead::solid::brep::{Brep, Surface};
use barrelhead::solid::mesh_data::Mesh;
use glam::DVec3;

use super::shell::ROUNDING;

/// How a hole ends.
#[derive(Clone, Copy, PartialEq)]
enum Bottom {
    /// By a floor square to it, or on the other side of a block.
    Square,
    /// By a cone.
    Point(Cone),
    /// By the plane |x| of its own side, that leaves no cylinder past it.
    Plane(f64),
    /// By a cone that such a plane cuts.
    PointAndPlane(Cone, f64),
}

#[derive(Clone, Copy, PartialEq)]
struct Cone {
    height: f64,
    half_angle: f64,
}

/// A hole that must be there: a cylinder about an axis, and how it ends.
pub struct Hole {
    what: String,
    mouth: DVec3,
    direction: DVec3,
    radius: f64,
    /// Depth at which its own cylinder begins: a counterbore's, or the side.
    from: f64,
    /// Depth to which the cylinder goes, along the axis.
    depth: f64,
    bottom: Bottom,
}

/// Where a point is, seen from a hole.
struct Seen {
    deep: f64,
    out: DVec3,
    /// From the end plane, above zero on the hole's own side; infinite without one.
    short: f64,
}

impl Hole {
    fn plain(what: String, mouth: DVec3, direction: DVec3, diameter: f64, depth: f64) -> Hole {
        Hole {
            what,
            mouth,
            direction,
            radius: diameter / 2.0,
            from: 0.0,
            depth,
            bottom: Bottom::Square,
        }
    }

    fn bore(bore: &Bore) -> Hole {
        let cone = match bore.point {
            Point::Flat => None,
            Point::Angle(angle) => Some(Cone {
                height: bore.diameter / 2.0 / (angle / 2.0).tan(),
                half_angle: angle / 2.0,
            }),
        };
        let bottom = match (bore.end_plane, cone) {
            (None, None) => Bottom::Square,
            (None, Some(cone)) => Bottom::Point(cone),
            (Some((plane, EndCut::Point)), Some(cone)) => Bottom::PointAndPlane(cone, plane),
            (Some((plane, _)), _) => Bottom::Plane(plane),
        };
        let what = format!("bore {} {}", bore.side.name(), bore.number);
        Hole {
            from: bore.counterbore.map_or(0.0, |wide| wide.depth),
            bottom,
            ..Hole::plain(what, bore.entry, bore.direction, bore.diameter, bore.depth)
        }
    }

    fn plane(&self) -> Option<f64> {
        match self.bottom {
            Bottom::Plane(plane) | Bottom::PointAndPlane(_, plane) => Some(plane),
            Bottom::Square | Bottom::Point(_) => None,
        }
    }

    fn cone(&self) -> Option<Cone> {
        match self.bottom {
            Bottom::Point(cone) | Bottom::PointAndPlane(cone, _) => Some(cone),
            Bottom::Square | Bottom::Plane(_) => None,
        }
    }

    fn see(&self, point: DVec3) -> Seen {
        let off = point - self.mouth;
        let deep = off.dot(self.direction);
        let plane = self.plane();
        Seen {
            deep,
            out: off - self.direction * deep,
            short: plane.map_or(f64::INFINITY, |plane| {
                point.x * self.mouth.x.signum() - plane
            }),
        }
    }

    /// How far outside the hole's wall a point is that is as deep as the hole goes, square to that wall, below
    /// zero in the hole; whether that wall is the cylinder's. `None` past the hole's end.
    fn off_wall(&self, seen: &Seen) -> Option<(f64, bool)> {
        if seen.deep < -ROUNDING || seen.short < -ROUNDING {
            return None;
        }
        let out = seen.out.length();
        // A plane that cuts the cylinder is its only end.
        if matches!(self.bottom, Bottom::Plane(_)) || seen.deep <= self.depth + ROUNDING {
            return Some((out - self.radius, true));
        }
        let cone = self.cone()?;
        let left = self.depth + cone.height - seen.deep;
        let wide = left * cone.half_angle.tan();
        (left >= -ROUNDING).then_some(((out - wide) * cone.half_angle.cos(), false))
    }

    fn ends_by(&self, seen: &Seen) -> bool {
        let square = matches!(self.bottom, Bottom::Square);
        (square && (seen.deep - self.depth).abs() <= ROUNDING) || seen.short.abs() <= ROUNDING
    }
}

/// Bores, counterbores and pilots of a head.
pub fn holes_of_head(layout: &Layout) -> Vec<Hole> {
    let mut holes = Vec::new();
    for bore in layout.bores() {
        holes.push(Hole::bore(bore));
        if let Some(wide) = bore.counterbore {
            let what = format!("counterbore {} {}", bore.side.name(), bore.number);
            let (at, into) = (bore.entry, bore.direction);
            holes.push(Hole::plain(what, at, into, wide.diameter, wide.depth));
        }
    }
    for pilot in layout.each_side().flat_map(|side| &side.pilots) {
        let what = format!("pilot {} {}", pilot.side.name(), pilot.number);
        let (at, into) = (pilot.entry, pilot.direction);
        holes.push(Hole::plain(what, at, into, pilot.diameter, pilot.depth));
    }
    holes
}

/// Holes of a guide block.
pub fn holes_of_block(block: &Block) -> Vec<Hole> {
    let hole = |hole: &barrelhead::layout::Hole| {
        let what = format!("guide hole {}", hole.number);
        let mouth = DVec3::new(hole.x, 0.0, hole.z);
        Hole::plain(what, mouth, DVec3::Y, hole.diameter, block.depth)
    };
    block.holes.iter().map(hole).collect()
}

/// What was found of a hole.
#[derive(Clone, Copy)]
struct Found {
    from: f64,
    to: f64,
    cone: bool,
    plane: bool,
}

/// Every hole is there as cylinder and cone faces about its axis, from the depth where it begins to the depth or
/// plane where it ends, and no level cylinder or cone besides them.
pub fn holes_are_drilled(brep: &Brep, holes: &[Hole]) -> Result<(), String> {
    let nothing = Found {
        from: f64::INFINITY,
        to: f64::NEG_INFINITY,
        cone: false,
        plane: false,
    };
    let mut found = vec![nothing; holes.len()];
    for face in &brep.faces {
        let (origin, axis) = match face.surface {
            Surface::Plane { .. } => continue,
            Surface::Cylinder { origin, axis, .. } | Surface::Cone { origin, axis, .. } => {
                (origin, axis)
            }
        };
        // Crest and slot corners stand upright.
        if axis.z.abs() > 0.5 {
            continue;
        }
        let vertices = || {
            let edges = face.loops.iter().flatten();
            edges.map(|used| brep.vertices[brep.ends(*used).0])
        };
        let mut known = false;
        for (hole, found) in holes.iter().zip(&mut found) {
            let off = origin - hole.mouth;
            let aside = (off - hole.direction * off.dot(hole.direction)).length();
            if axis.cross(hole.direction).length() > ROUNDING || aside > ROUNDING {
                continue;
            }
            match face.surface {
                Surface::Cylinder { radius, .. } if (radius - hole.radius).abs() <= ROUNDING => {
                    // Bores of a parallel head lie on one axis: where all of the face stands tells them apart.
                    let within = |seen: &Seen| {
                        seen.deep > -ROUNDING
                            && seen.short > -ROUNDING
                            && (matches!(hole.bottom, Bottom::Plane(_))
                                || seen.deep < hole.depth + ROUNDING)
                    };
                    if vertices().all(|at| within(&hole.see(at))) {
                        for seen in vertices().map(|at| hole.see(at)) {
                            found.from = found.from.min(seen.deep);
                            found.to = found.to.max(seen.deep);
                            found.plane |= seen.short.abs() <= ROUNDING;
                        }
                        known = true;
                    }
                }
                Surface::Cone {
                    radius, half_angle, ..
                } => {
                    let Some(cone) = hole.cone() else { continue };
                    let apex = origin - axis * (radius / half_angle.tan());
                    let tip = hole.mouth + hole.direction * (hole.depth + cone.height);
                    if apex.distance(tip) <= ROUNDING
                        && (half_angle - cone.half_angle).abs() <= 1e-12
                        && axis.dot(hole.direction) < 0.0
                    {
                        found.cone = true;
                        let mut at = vertices().map(|at| hole.see(at));
                        found.plane |= at.any(|seen| seen.short.abs() <= ROUNDING);
                        known = true;
                    }
                }
                _ => {}
            }
        }
        if !known {
            return Err(format!("face {} is no hole of the design", face.name));
        }
    }
    for (hole, found) in holes.iter().zip(&found) {
        let by_plane = matches!(hole.bottom, Bottom::Plane(_));
        let begins = (found.from - hole.from).abs() <= ROUNDING;
        let ends = by_plane || (found.to - hole.depth).abs() <= ROUNDING;
        if !begins || !ends {
            return Err(format!(
                "{} is drilled from {} to {} deep, not from {} to {}",
                hole.what, found.from, found.to, hole.from, hole.depth
            ));
        }
        if found.cone != hole.cone().is_some() || found.plane != hole.plane().is_some() {
            return Err(format!("{} does not end as it should", hole.what));
        }
    }
    Ok(())
}

/// No point of the mesh stands in a hole; rims where it begins and where it ends run all the way round; and
/// every facet of its wall keeps within the chord.
pub fn holes_are_free(mesh: &Mesh, holes: &[Hole], chord: f64) -> Result<(), String> {
    holes.iter().try_for_each(|hole| {
        is_free(mesh, hole, chord).map_err(|what| format!("{}: {what}", hole.what))
    })
}

fn is_free(mesh: &Mesh, hole: &Hole, chord: f64) -> Result<(), String> {
    // What a point is: on the cylinder, on the cone, on an end square to the axis or in the end plane.
    const CYLINDER: u8 = 1;
    const CONE: u8 = 2;
    const END: u8 = 4;
    let mut kinds = vec![0u8; mesh.points.len()];
    let (mut begin, mut rim, mut end) = (Vec::new(), Vec::new(), Vec::new());
    let mut tip = false;
    let reach = hole.radius + ROUNDING;
    for (kind, point) in kinds.iter_mut().zip(&mesh.points) {
        let seen = hole.see(*point);
        if seen.out.length_squared() > reach * reach {
            continue;
        }
        let Some((off, cylinder)) = hole.off_wall(&seen) else {
            continue;
        };
        let ends = hole.ends_by(&seen);
        if off < -ROUNDING && !ends {
            return Err(format!("{point} stands in it"));
        }
        if off.abs() > ROUNDING {
            continue;
        }
        *kind = if cylinder { CYLINDER } else { CONE };
        let (first, last) = (
            (seen.deep - hole.from).abs() <= ROUNDING,
            (seen.deep - hole.depth).abs() <= ROUNDING,
        );
        if last && cylinder {
            rim.push(seen.out);
            *kind |= CONE;
        }
        if ends {
            end.push(seen.out);
            *kind |= END;
        }
        if first && cylinder {
            begin.push(seen.out);
            *kind |= END;
        }
        tip |= !cylinder && seen.out.length() <= ROUNDING;
    }
    let step = 2.0 * (1.0 - chord / hole.radius).max(-1.0).acos();
    let round = |what: &str, rim: &[DVec3], most: f64| {
        let gap = widest_gap(rim, hole.direction);
        let message = || format!("its rim {what} is open by {gap:.3} rad");
        (gap <= most + 1e-9).then_some(()).ok_or_else(message)
    };
    round("where it begins", &begin, step)?;
    match hole.bottom {
        Bottom::Square | Bottom::Plane(_) => round("where it ends", &end, step)?,
        Bottom::Point(_) => {
            round("before its point", &rim, step)?;
            if !tip {
                return Err("its point has no tip".to_owned());
            }
        }
        Bottom::PointAndPlane(..) => {
            round("before its point", &rim, step)?;
            // An ellipse about a point beside its middle: its steps turn by more here, by less there.
            round("in the end plane", &end, 1.5)?;
        }
    }
    for corners in &mesh.triangles {
        let kind = corners.iter().fold(!0, |all, id| all & kinds[*id]);
        // Facets of a floor, of the side or of the end plane touch the wall with their corners alone.
        if kind & (CYLINDER | CONE) == 0 || kind & END != 0 {
            continue;
        }
        let [a, b, c] = corners.map(|id| mesh.points[id]);
        for middle in [
            (a + b) / 2.0,
            (b + c) / 2.0,
            (c + a) / 2.0,
            (a + b + c) / 3.0,
        ] {
            let off = hole.off_wall(&hole.see(middle)).map_or(0.0, |(off, _)| off);
            if off < -chord - ROUNDING {
                return Err(format!("a facet stands {} mm into it", -off));
            }
        }
    }
    Ok(())
}

/// Largest angle about an axis between neighbours of a ring of points, a whole turn for fewer than two.
fn widest_gap(ring: &[DVec3], axis: DVec3) -> f64 {
    let Some(first) = ring.first() else {
        return std::f64::consts::TAU;
    };
    let (x, y) = (first.normalize(), axis.cross(first.normalize()));
    let mut turns: Vec<f64> = ring
        .iter()
        .map(|out| {
            out.dot(y)
                .atan2(out.dot(x))
                .rem_euclid(std::f64::consts::TAU)
        })
        .collect();
    turns.sort_by(f64::total_cmp);
    let last = turns.last().copied().unwrap_or_default();
    let around = turns[0] + std::f64::consts::TAU - last;
    turns
        .windows(2)
        .map(|two| two[1] - two[0])
        .fold(around, f64::max)
}
