//! Looks at a finished solid and its mesh from the outside: closed, oriented, how many holes go right
//! through, what it holds, where its bores are. Shares no code with the program's own proof.

use barrelhead::layout::{Block, Layout};
use barrelhead::solid::brep::{Brep, Measures, Surface};
use barrelhead::solid::mesh_data::Mesh;
use glam::DVec3;

/// Rounding of a point computed from a plan of up to 2 m, mm.
const ROUNDING: f64 = 1e-9;

/// Holes right through a closed, oriented solid; the reason where it is neither.
pub fn genus_of_brep(brep: &Brep) -> Result<usize, String> {
    let mut used = vec![[0usize; 2]; brep.edges.len()];
    let mut vertices = vec![false; brep.vertices.len()];
    let mut disks = 0i64;
    for face in &brep.faces {
        // A face with n loops is a sphere with n openings.
        disks += 2 - face.loops.len() as i64;
        for edges in &face.loops {
            for (i, one) in edges.iter().enumerate() {
                let next = edges[(i + 1) % edges.len()];
                if brep.ends(*one).1 != brep.ends(next).0 {
                    return Err(format!("a loop of face {} is broken", face.name));
                }
                used[one.edge][usize::from(one.forward)] += 1;
                vertices[brep.ends(*one).0] = true;
            }
        }
    }
    if let Some(edge) = used.iter().position(|uses| *uses != [1, 1]) {
        return Err(format!("edge {edge} is used {:?} times", used[edge]));
    }
    if !vertices.iter().all(|used| *used) {
        return Err("a vertex belongs to nothing".to_owned());
    }
    let mut pieces = Pieces::new(brep.vertices.len());
    for face in &brep.faces {
        let first = brep.ends(face.loops[0][0]).0;
        for used in face.loops.iter().flatten() {
            pieces.join(first, brep.ends(*used).0);
        }
    }
    pieces.must_be_one()?;
    genus(brep.vertices.len() as i64 - brep.edges.len() as i64 + disks)
}

/// The same of a mesh.
pub fn genus_of_mesh(mesh: &Mesh) -> Result<usize, String> {
    let mut edges: Vec<(usize, usize)> = mesh
        .triangles
        .iter()
        .flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)])
        .collect();
    edges.sort_unstable();
    let twice = edges.windows(2).find(|two| two[0] == two[1]);
    let open = edges
        .iter()
        .find(|(a, b)| edges.binary_search(&(*b, *a)).is_err());
    if let Some((a, b)) = twice.map(|two| &two[0]).or(open) {
        return Err(format!("the edge between points {a} and {b} is not closed"));
    }
    let mut pieces = Pieces::new(mesh.points.len());
    edges.iter().for_each(|(a, b)| pieces.join(*a, *b));
    pieces.must_be_one()?;
    let (v, e, f) = (mesh.points.len(), edges.len() / 2, mesh.triangles.len());
    genus(v as i64 - e as i64 + f as i64)
}

/// What hangs together: each point with one it is joined to.
struct Pieces(Vec<usize>);

impl Pieces {
    fn new(count: usize) -> Pieces {
        Pieces((0..count).collect())
    }

    fn root(&mut self, mut at: usize) -> usize {
        while self.0[at] != at {
            self.0[at] = self.0[self.0[at]];
            at = self.0[at];
        }
        at
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        self.0[one] = other;
    }

    fn must_be_one(&self) -> Result<(), String> {
        let roots = self.0.iter().enumerate().filter(|(at, to)| at == *to);
        match roots.count() {
            1 => Ok(()),
            count => Err(format!("{count} pieces that do not hang together")),
        }
    }
}

fn genus(euler: i64) -> Result<usize, String> {
    let twice = 2 - euler;
    match usize::try_from(twice) {
        Ok(twice) if twice.is_multiple_of(2) => Ok(twice / 2),
        _ => Err(format!("Euler characteristic {euler}")),
    }
}

/// Volume of a closed mesh by its tetrahedra to the middle of its box, mm³.
pub fn volume_of_mesh(mesh: &Mesh) -> f64 {
    let middle = mesh.points.iter().sum::<DVec3>() / mesh.points.len() as f64;
    let corner = |id: usize| mesh.points[id] - middle;
    mesh.triangles
        .iter()
        .map(|[a, b, c]| corner(*a).dot(corner(*b).cross(corner(*c))) / 6.0)
        .sum()
}

/// The box measured is the one the design's own lengths make.
pub fn box_is(measures: &Measures, [min, max]: [DVec3; 2]) -> Result<(), String> {
    let off = (measures.min - min).abs().max((measures.max - max).abs());
    if off.max_element() <= ROUNDING {
        return Ok(());
    }
    let (from, to) = (measures.min, measures.max);
    Err(format!("box from {from} to {to}, not from {min} to {max}"))
}

/// Every point lies in the box, and the box is no larger than its points.
pub fn fills_its_box(points: &[DVec3], measures: &Measures, slack: f64) -> Result<(), String> {
    for point in points {
        let outside = (measures.min - *point)
            .max(*point - measures.max)
            .max_element();
        if outside > ROUNDING {
            return Err(format!("{point} lies {outside:.1e} outside the box"));
        }
    }
    let low = points.iter().copied().fold(DVec3::INFINITY, DVec3::min);
    let high = points.iter().copied().fold(DVec3::NEG_INFINITY, DVec3::max);
    let unfilled = (low - measures.min).max(measures.max - high).max_element();
    if unfilled > slack {
        return Err(format!(
            "the box is {unfilled:.1e} larger than what it holds"
        ));
    }
    Ok(())
}

/// A hole that must be there: a cylinder about an axis, as long as it is drilled.
pub struct Hole {
    what: String,
    mouth: DVec3,
    direction: DVec3,
    radius: f64,
    length: f64,
    /// What one side of the rim at the end is deeper, the other shallower, where a plane square to
    /// the centre line ends the hole.
    slant: f64,
}

/// Bores, counterbores and pilots of a head.
pub fn holes_of_head(layout: &Layout) -> Vec<Hole> {
    let mut holes = Vec::new();
    for bore in layout.bores() {
        let hole = |what: &str, diameter: f64, length: f64, slant: f64| Hole {
            what: format!("{what} {} {}", bore.side.name(), bore.number),
            mouth: bore.entry,
            direction: bore.direction,
            radius: diameter / 2.0,
            length,
            slant,
        };
        let slant = match bore.end_plane {
            Some(_) => bore.radius() * bore.taper.tan().abs(),
            None => 0.0,
        };
        holes.push(hole("bore", bore.diameter, bore.length_in_model, slant));
        if let Some(wide) = bore.counterbore {
            holes.push(hole("counterbore", wide.diameter, wide.depth, 0.0));
        }
    }
    for pilot in layout.each_side().flat_map(|side| &side.pilots) {
        holes.push(Hole {
            what: format!("pilot {} {}", pilot.side.name(), pilot.number),
            mouth: pilot.entry,
            direction: pilot.direction,
            radius: pilot.diameter / 2.0,
            length: pilot.depth,
            slant: 0.0,
        });
    }
    holes
}

/// Holes of a guide block.
pub fn holes_of_block(block: &Block) -> Vec<Hole> {
    let hole = |hole: &barrelhead::layout::Hole| Hole {
        what: format!("guide hole {}", hole.number),
        mouth: DVec3::new(hole.x, 0.0, hole.z),
        direction: DVec3::Y,
        radius: hole.diameter / 2.0,
        length: block.depth,
        slant: 0.0,
    };
    block.holes.iter().map(hole).collect()
}

/// Every hole is there as cylinder faces about its axis, and no level cylinder besides them.
pub fn holes_are_drilled(brep: &Brep, holes: &[Hole]) -> Result<(), String> {
    let mut found = vec![false; holes.len()];
    for face in &brep.faces {
        let Surface::Cylinder {
            origin,
            axis,
            radius,
            ..
        } = face.surface
        else {
            continue;
        };
        // Crest and slot corners stand upright.
        if axis.z.abs() > 0.5 {
            continue;
        }
        // Bores of a parallel head lie on one axis: where the face stands tells them apart.
        let at = brep.vertices[brep.ends(face.loops[0][0]).0];
        let same = |hole: &Hole| {
            let off = origin - hole.mouth;
            let deep = (at - hole.mouth).dot(hole.direction);
            axis.cross(hole.direction).length() < ROUNDING
                && (off - hole.direction * off.dot(hole.direction)).length() < ROUNDING
                && (radius - hole.radius).abs() < ROUNDING
                && deep > -ROUNDING
                && deep < hole.length + hole.slant + ROUNDING
        };
        let mut drilled = 0;
        for (hole, found) in holes.iter().zip(&mut found) {
            if same(hole) {
                *found = true;
                drilled += 1;
            }
        }
        if drilled == 0 {
            return Err(format!("face {} is no hole of the design", face.name));
        }
    }
    match found.iter().position(|found| !found) {
        Some(index) => Err(format!("{} is not drilled", holes[index].what)),
        None => Ok(()),
    }
}

/// No point of the mesh stands in a hole, and each hole's mouth has points on its rim.
pub fn holes_are_free(mesh: &Mesh, holes: &[Hole]) -> Result<(), String> {
    for hole in holes {
        let mut on_rim = 0;
        for point in &mesh.points {
            let off = *point - hole.mouth;
            let deep = off.dot(hole.direction);
            if deep < -ROUNDING || deep > hole.length - hole.slant - 1e-6 {
                continue;
            }
            let out = (off - hole.direction * deep).length();
            if out < hole.radius - ROUNDING {
                return Err(format!("{point} stands in {}", hole.what));
            }
            on_rim += usize::from(deep < ROUNDING && (out - hole.radius).abs() < ROUNDING);
        }
        // A bore within a counterbore has no rim at the side.
        let within = holes
            .iter()
            .any(|wide| wide.mouth == hole.mouth && wide.radius > hole.radius);
        if on_rim < 6 && !within {
            return Err(format!("{} has {on_rim} points on its rim", hole.what));
        }
    }
    Ok(())
}
