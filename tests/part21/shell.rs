//! One shell: its loops, faces and edges, and whether they close into a solid by the file's own
//! flags.

use super::curves::{Edge, ON, edge};
use super::integrate::{Integrals, along, samples};
use super::meaning::{flag, reference, references, text};
use super::parse::File;
use super::surfaces::{Kind, Surface};
use std::collections::{BTreeMap, BTreeSet};

/// A face on a cylinder or cone.
#[derive(Debug, Clone)]
pub struct Round {
    /// Name of the face.
    pub name: String,
    pub surface: Surface,
    /// True where the wood lies outside it, as round a hole.
    pub hollow: bool,
    /// Least and greatest height of its boundary along the axis, from the surface's origin, mm.
    pub low: f64,
    pub high: f64,
}

/// What was found of a shell.
#[derive(Debug, Default)]
pub struct Shell {
    pub sums: Integrals,
    pub faces: usize,
    pub edges: usize,
    pub vertices: usize,
    pub holes: usize,
    pub round: Vec<Round>,
    /// What is wrong.
    pub wrong: Vec<String>,
}

impl Shell {
    /// Holes right through, by Euler and Poincaré; none where the count does not close.
    pub fn genus(&self) -> Option<usize> {
        let plus = self.edges + self.holes + 2;
        let minus = self.vertices + self.faces;
        let twice = plus.checked_sub(minus)?;
        (twice % 2 == 0).then_some(twice / 2)
    }
}

#[derive(Default)]
struct Walk {
    edges: BTreeMap<u64, Edge>,
    /// Uses of each edge, as direction after all flags and face.
    uses: BTreeMap<u64, Vec<(bool, u64)>>,
}

/// Walks a CLOSED_SHELL.
pub fn shell(file: &File, name: u64) -> Shell {
    let mut out = Shell::default();
    let mut walk = Walk::default();
    let faces = file
        .record(name, "CLOSED_SHELL", 2)
        .and_then(|values| references(&values[1]));
    match faces {
        Ok(faces) => {
            for one in &faces {
                if let Err(wrong) = face(file, *one, &mut walk, &mut out) {
                    out.wrong.push(format!("face #{one}: {wrong}"));
                }
            }
            out.faces = faces.len();
            connected(&faces, &walk, &mut out);
        }
        Err(wrong) => out.wrong.push(wrong),
    }
    for (edge, uses) in &walk.uses {
        let directions: Vec<bool> = uses.iter().map(|(forward, _)| *forward).collect();
        if directions.len() != 2 || directions[0] == directions[1] {
            out.wrong.push(format!(
                "edge #{edge} is not used once each way: {directions:?}"
            ));
        }
    }
    let ends = walk.edges.values().flat_map(|e| [e.start, e.end]);
    out.vertices = ends.collect::<BTreeSet<_>>().len();
    out.edges = walk.edges.len();
    out
}

fn face(file: &File, name: u64, walk: &mut Walk, out: &mut Shell) -> Result<(), String> {
    let values = file.record(name, "ADVANCED_FACE", 4)?;
    let surface = Surface::read(file, reference(&values[2])?)?;
    let same_sense = flag(&values[3])?;
    let sense = if same_sense { 1.0 } else { -1.0 };
    let mut total = Integrals::default();
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut outer = 0;
    for bound in references(&values[1])? {
        let is_outer = file.keyword(bound) == "FACE_OUTER_BOUND";
        let keyword = if is_outer {
            "FACE_OUTER_BOUND"
        } else {
            "FACE_BOUND"
        };
        let record = file.record(bound, keyword, 3)?;
        let pieces = loop_pieces(file, reference(&record[1])?, flag(&record[2])?, name, walk)?;
        let mut sum = Integrals::default();
        let mut apex = false;
        for edge in &pieces {
            for (t, _) in samples(&edge.piece) {
                let off = surface.distance(edge.piece.at(t));
                if off.is_nan() || off > ON {
                    return Err(format!("its boundary lies {off:e} off the surface"));
                }
            }
            sum.add(&along(&surface, &edge.piece), 1.0);
            let base = surface.origin.dot(surface.axis);
            let (least, most) = edge.piece.range(surface.axis);
            low = low.min(least - base);
            high = high.max(most - base);
            let start = edge.piece.at(edge.piece.from);
            apex |= matches!(surface.kind, Kind::Cone { .. })
                && (surface.v(start) - surface.v_base()).abs() < ON;
        }
        // A loop through a cone's apex jumps in u there; any other must come back to its start.
        if surface.kind != Kind::Plane && !apex && sum.turn.abs() > 1e-6 {
            return Err("a loop runs round the axis".to_owned());
        }
        let enclosed = sum.area * sense;
        if is_outer {
            outer += 1;
            if enclosed.is_nan() || enclosed <= 0.0 {
                return Err(format!("outer loop runs clockwise, area {enclosed}"));
            }
        } else {
            out.holes += 1;
            if enclosed.is_nan() || enclosed >= 0.0 {
                return Err(format!("inner loop runs anticlockwise, area {enclosed}"));
            }
        }
        total.add(&sum, 1.0);
    }
    if outer != 1 {
        return Err(format!("{outer} outer bounds"));
    }
    // The region is what the loops enclose, whichever way they run; only then does the sense
    // of the face tell on the volume.
    let region = total.area.signum();
    out.sums.area += total.area * region;
    out.sums.volume += total.volume * region * sense;
    out.sums.moment += total.moment * region * sense;
    if surface.kind != Kind::Plane {
        out.round.push(Round {
            name: text(&values[0])?,
            surface,
            hollow: !same_sense,
            low,
            high,
        });
    }
    Ok(())
}

/// Edges of a loop in the order and direction in which the bound runs.
fn loop_pieces(
    file: &File,
    name: u64,
    orientation: bool,
    face: u64,
    walk: &mut Walk,
) -> Result<Vec<Edge>, String> {
    let mut pieces = Vec::new();
    for used in references(&file.record(name, "EDGE_LOOP", 2)?[1])? {
        let values = file.record(used, "ORIENTED_EDGE", 5)?;
        let edge_name = reference(&values[3])?;
        let read = match walk.edges.get(&edge_name) {
            Some(known) => *known,
            None => edge(file, edge_name)?,
        };
        walk.edges.insert(edge_name, read);
        let forward = flag(&values[4])? == orientation;
        let uses = walk.uses.entry(edge_name).or_default();
        uses.push((forward, face));
        pieces.push(if forward {
            read
        } else {
            Edge {
                start: read.end,
                end: read.start,
                piece: read.piece.reversed(),
            }
        });
    }
    if !orientation {
        pieces.reverse();
    }
    for (i, edge) in pieces.iter().enumerate() {
        let next = &pieces[(i + 1) % pieces.len()];
        if edge.end != next.start {
            return Err(format!("loop #{name} is not connected head to tail"));
        }
    }
    Ok(pieces)
}

/// Checks that every face can be reached from the first over shared edges.
fn connected(faces: &[u64], walk: &Walk, out: &mut Shell) {
    let mut reached: BTreeSet<u64> = faces.iter().take(1).copied().collect();
    loop {
        let before = reached.len();
        for uses in walk.uses.values() {
            if uses.iter().any(|(_, face)| reached.contains(face)) {
                reached.extend(uses.iter().map(|(_, face)| *face));
            }
        }
        if reached.len() == before {
            break;
        }
    }
    let distinct: BTreeSet<u64> = faces.iter().copied().collect();
    if reached.len() != faces.len() || distinct.len() != faces.len() {
        out.wrong.push("the shell is not one piece".to_owned());
    }
}
