//! Rods: walls that go all the way round, such as a bore's. Each is two halves, and a chord that
//! asks for 51 points round it would get 52 if the halves were divided alike. So where the number is
//! odd one half gets a piece more, and the seam between the halves that lies opposite moves half a
//! piece: from one generator to another, which leaves every facet within the chord.
//!
//! Only a seam that nothing else ends on can move. A rod is found by going from face to face; if
//! anything there is not as it must be, its halves stay divided alike.

use std::f64::consts::{PI, TAU};

use super::divide::{Odd, Share, pieces, step, widest};
use crate::solid::brep::{Brep, Curve, EdgeId, EdgeUse, Surface};
use crate::tolerance::NOISE;

/// A face at an edge, and whether the loop that runs over it is two arcs: a ring that stands alone.
#[derive(Debug, Clone, Copy, Default)]
struct Beside {
    face: usize,
    ring: bool,
}

/// Which of the two seams a vertex lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Seam {
    Fixed,
    Moving,
}

impl Seam {
    fn opposite(self) -> Seam {
        match self {
            Seam::Fixed => Seam::Moving,
            Seam::Moving => Seam::Fixed,
        }
    }
}

/// Gives the arcs of every rod that an odd number of pieces suffices for their shares.
pub(super) fn rods(brep: &Brep, chord: f64, shares: &mut [Share]) {
    let mut search = Search::new(brep);
    for face in 0..brep.faces.len() {
        if search.rod_of[face].is_none()
            && is_curved(&brep.faces[face].surface)
            && let Some(rod) = search.rod(face)
        {
            rod.share(brep, chord, shares);
        }
    }
}

fn is_curved(surface: &Surface) -> bool {
    !matches!(surface, Surface::Plane { .. })
}

/// The half arcs of a rod, each with the seam of its start and whether it is on the half that may
/// get more, and the greatest radius.
#[derive(Debug)]
struct Rod {
    arcs: Vec<(EdgeId, Seam, bool)>,
    radius: f64,
}

impl Rod {
    fn share(&self, brep: &Brep, chord: f64, shares: &mut [Share]) {
        let round = pieces(TAU, step(self.radius, chord));
        if round.is_multiple_of(2) {
            return;
        }
        debug_assert!(self.arcs.iter().all(|(arc, ..)| is_half_turn(brep, *arc)));
        for &(arc, seam, has_more) in &self.arcs {
            shares[arc] = Share {
                pieces: (round + usize::from(has_more)) / 2,
                odd: Some(Odd {
                    round,
                    from_start: seam == Seam::Fixed,
                    has_more,
                }),
            };
        }
    }
}

struct Search<'a> {
    brep: &'a Brep,
    /// The two faces at each edge.
    beside: Vec<[Beside; 2]>,
    /// The rod that a face was counted to, and whether it is of the half that may get more.
    rod_of: Vec<Option<(usize, bool)>>,
    seams: Vec<Option<Seam>>,
    rods: usize,
}

impl Search<'_> {
    fn new(brep: &Brep) -> Search<'_> {
        let mut beside = vec![[Beside::default(); 2]; brep.edges.len()];
        for (number, face) in brep.faces.iter().enumerate() {
            for edges in &face.loops {
                let is_arc = |used: &EdgeUse| brep.edges[used.edge].curve != Curve::Line;
                let ring = edges.len() == 2 && edges.iter().all(is_arc);
                for used in edges {
                    beside[used.edge][usize::from(used.forward)] = Beside { face: number, ring };
                }
            }
        }
        Search {
            brep,
            beside,
            rod_of: vec![None; brep.faces.len()],
            seams: vec![None; brep.vertices.len()],
            rods: 0,
        }
    }

    /// The rod that a face belongs to, if it is one.
    fn rod(&mut self, face: usize) -> Option<Rod> {
        let mut rod = Rod {
            arcs: Vec::new(),
            radius: 0.0,
        };
        let mut sound = true;
        self.rod_of[face] = Some((self.rods, true));
        let first_arc = self
            .loop_of(face)
            .iter()
            .find(|used| self.is_arc(used.edge));
        let start = self.brep.edges[first_arc?.edge].start;
        self.seams[start] = Some(Seam::Fixed);
        let mut ahead = vec![(face, true)];
        while let Some((face, has_more)) = ahead.pop() {
            rod.radius = rod.radius.max(widest(self.brep, &self.brep.faces[face]));
            sound &= self.is_strip(face) && self.tell_seams(face);
            for place in 0..self.loop_of(face).len() {
                let used = self.loop_of(face)[place];
                let other = self.beside[used.edge][usize::from(!used.forward)];
                let arc = self.is_arc(used.edge);
                if arc && let Some(seam) = self.seams[self.brep.edges[used.edge].start] {
                    rod.arcs.push((used.edge, seam, has_more));
                }
                if !is_curved(&self.brep.faces[other.face].surface) {
                    // A plane may meet the rod in a ring that stands alone, never along a seam.
                    sound &= arc && other.ring;
                    continue;
                }
                let as_here = (self.rods, has_more == arc);
                match self.rod_of[other.face] {
                    None => {
                        self.rod_of[other.face] = Some(as_here);
                        ahead.push((other.face, as_here.1));
                    }
                    Some(found) => sound &= found == as_here,
                }
            }
        }
        self.rods += 1;
        sound.then_some(rod)
    }

    fn loop_of(&self, face: usize) -> &[EdgeUse] {
        self.brep.faces[face]
            .loops
            .first()
            .map_or(&[], Vec::as_slice)
    }

    fn is_arc(&self, edge: EdgeId) -> bool {
        matches!(self.brep.edges[edge].curve, Curve::Arc { .. })
    }

    /// Whether a face is half a wall: between two half turns, or one and an apex.
    fn is_strip(&self, face: usize) -> bool {
        let edges = self.loop_of(face);
        let arcs = edges.iter().filter(|used| self.is_arc(used.edge));
        let apart = |i: usize| self.is_arc(edges[i].edge) != self.is_arc(edges[(i + 1) % 4].edge);
        let half_turns = arcs.clone().all(|used| is_half_turn(self.brep, used.edge));
        self.brep.faces[face].loops.len() == 1
            && half_turns
            && match edges.len() {
                4 => (0..4).all(apart),
                3 => arcs.count() == 1,
                _ => false,
            }
    }

    /// Tells the seam of every vertex round a strip from one that is known: lines run along a
    /// seam, arcs from one to the other. An apex lies on neither. False where that cannot be.
    fn tell_seams(&mut self, face: usize) -> bool {
        let count = self.loop_of(face).len();
        let over_apex = count == 3;
        // Twice round, so that the known one may stand anywhere.
        for place in 0..2 * count {
            let used = self.loop_of(face)[place % count];
            let arc = self.is_arc(used.edge);
            if !arc && over_apex {
                continue;
            }
            let (from, to) = self.brep.ends(used);
            let told = |seam: Seam| if arc { seam.opposite() } else { seam };
            match (self.seams[from], self.seams[to]) {
                (Some(seam), None) => self.seams[to] = Some(told(seam)),
                (None, Some(seam)) => self.seams[from] = Some(told(seam)),
                (Some(one), Some(other)) if told(one) != other => return false,
                _ => {}
            }
        }
        true
    }
}

fn is_half_turn(brep: &Brep, edge: EdgeId) -> bool {
    match brep.edges[edge].curve {
        Curve::Arc { from, to, .. } => ((to - from).abs() - PI).abs() < NOISE,
        Curve::Line => false,
    }
}
