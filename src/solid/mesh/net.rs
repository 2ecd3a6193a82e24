//! Triangles that know their neighbours, and the exchange of diagonals that makes them as stout as
//! their boundary lets them be.
//!
//! A half-edge is a number: side `i` of triangle `t`, from its corner `i` to the next, is `3 t + i`.

use glam::DVec2;

use crate::tolerance::COCIRCULAR;

/// What lies behind an edge whose triangle is not there: the face's boundary.
pub(super) const NOTHING: u32 = u32::MAX;
/// Set in what lies behind an edge that was drawn as a diagonal before either of its triangles.
const DIAGONAL: u32 = 1 << 31;

/// Triangles of one face, and which sides meet.
#[derive(Debug, Default)]
pub(super) struct Net {
    /// Corners, anticlockwise.
    pub triangles: Vec<[u32; 3]>,
    /// The half-edge on the other side of each, or [`NOTHING`].
    twins: Vec<u32>,
    /// Of each diagonal the half-edge that came first.
    diagonals: Vec<u32>,
    /// Half-edges whose diagonal is still to be looked at.
    pending: Vec<u32>,
}

impl Net {
    /// The half-edge on the other side of one; [`NOTHING`] at the boundary.
    #[cfg(test)]
    pub fn twin(&self, half: usize) -> u32 {
        self.twins[half]
    }

    /// Takes all triangles out.
    pub fn clear(&mut self) {
        self.triangles.clear();
        self.twins.clear();
        self.diagonals.clear();
    }

    /// A new diagonal, as what lies behind it on either side.
    pub fn diagonal(&mut self) -> u32 {
        self.diagonals.push(NOTHING);
        DIAGONAL | (self.diagonals.len() - 1) as u32
    }

    /// Adds the triangle a, b, c; `behind_ab` and `behind_bc` say what lies behind these sides.
    /// Returns the half-edge from c to a: what lies behind a to c.
    pub fn add(&mut self, [a, b, c]: [u32; 3], behind_ab: u32, behind_bc: u32) -> u32 {
        let first = self.twins.len() as u32;
        self.triangles.push([a, b, c]);
        self.twins.extend([NOTHING; 3]);
        self.join(first, behind_ab);
        self.join(first + 1, behind_bc);
        first + 2
    }

    fn join(&mut self, half: u32, behind: u32) {
        if behind == NOTHING {
            return;
        }
        let mut twin = behind;
        if behind & DIAGONAL != 0 {
            let first = &mut self.diagonals[(behind & !DIAGONAL) as usize];
            if *first == NOTHING {
                *first = half;
                return;
            }
            twin = *first;
        }
        self.set_twins(half, twin);
    }

    fn set_twins(&mut self, one: u32, other: u32) {
        self.twins[one as usize] = other;
        if other != NOTHING {
            self.twins[other as usize] = one;
        }
    }

    /// Exchanges diagonals until no triangle's circle holds the corner across one of its sides (the
    /// constrained Delaunay triangulation). Corners that lie on the circle but for rounding count
    /// as outside: of the rim of a bore all do, and any choice among them is as good.
    ///
    /// Every exchange lowers the surface that the corners span when each is lifted by its distance
    /// squared, by more than rounding: so it ends.
    pub fn make_stout(&mut self, points: &[DVec2]) {
        let halves = 0..self.twins.len() as u32;
        let twins = &self.twins;
        self.pending.clear();
        self.pending
            .extend(halves.filter(|&half| twins[half as usize] < half));
        while let Some(half) = self.pending.pop() {
            let twin = self.twins[half as usize];
            if twin == NOTHING {
                continue;
            }
            let [a, b, c] = self.corners_from(half);
            let [_, _, d] = self.corners_from(twin);
            if !holds([a, b, c, d].map(|corner| points[corner as usize])) {
                continue;
            }
            let outside =
                [1, 2].map(|on| [half, twin].map(|side| self.twins[along(side, on) as usize]));
            let [[behind_bc, behind_ad], [behind_ca, behind_db]] = outside;
            let (one, other) = (half / 3, twin / 3);
            self.triangles[one as usize] = [c, a, d];
            self.triangles[other as usize] = [d, b, c];
            for (side, behind) in [
                (3 * one, behind_ca),
                (3 * one + 1, behind_ad),
                (3 * other, behind_db),
                (3 * other + 1, behind_bc),
            ] {
                self.set_twins(side, behind);
                self.pending.push(side);
            }
            self.set_twins(3 * one + 2, 3 * other + 2);
        }
    }

    /// Corners of a half-edge's triangle, from the half-edge's start.
    fn corners_from(&self, half: u32) -> [u32; 3] {
        let corners = self.triangles[(half / 3) as usize];
        let first = (half % 3) as usize;
        [0, 1, 2].map(|i| corners[(first + i) % 3])
    }
}

/// The half-edge `on` sides farther round its triangle.
fn along(half: u32, on: u32) -> u32 {
    half / 3 * 3 + (half % 3 + on) % 3
}

/// Whether d lies inside the circle through a, b, c (anticlockwise) by more than rounding.
fn holds([a, b, c, d]: [DVec2; 4]) -> bool {
    let (a, b, c) = (a - d, b - d, c - d);
    let (lift_a, lift_b, lift_c) = (a.length_squared(), b.length_squared(), c.length_squared());
    let terms = [
        (lift_a, b.x * c.y, c.x * b.y),
        (lift_b, c.x * a.y, a.x * c.y),
        (lift_c, a.x * b.y, b.x * a.y),
    ];
    let (mut inside, mut size) = (0.0, 0.0);
    for (lift, one, other) in terms {
        inside += lift * (one - other);
        size += lift * (one.abs() + other.abs());
    }
    inside > COCIRCULAR * size
}
