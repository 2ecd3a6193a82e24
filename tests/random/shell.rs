//! Looks at a finished solid and its mesh from the outside: closed, oriented, how many holes go right
//! through, what it holds, the box it fills. Shares no code with the program's own proof.

use barrelhead::solid::brep::{Brep, Measures};
use barrelhead::solid::mesh_data::Mesh;
use glam::DVec3;

/// Rounding of a point computed from a plan of up to 2 m, mm.
pub const ROUNDING: f64 = 1e-9;

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
pub fn box_is([from, to]: [DVec3; 2], [min, max]: [DVec3; 2]) -> Result<(), String> {
    let off = (from - min).abs().max((to - max).abs());
    if off.max_element() <= ROUNDING {
        return Ok(());
    }
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
