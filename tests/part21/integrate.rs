//! Integrals over a face as integrals round its loops (Green's theorem in the surface's own
//! parameters), so nothing is meshed and nothing is assumed about the shape of the face.

use super::curves::Piece;
use super::surfaces::Surface;
use glam::DVec3;

/// Integrals over a region of a surface, with respect to its natural normal n.
#[derive(Debug, Clone, Copy, Default)]
pub struct Integrals {
    /// ∫ dA, mm².
    pub area: f64,
    /// ∫ p·n/3 dA, mm³.
    pub volume: f64,
    /// ∫ (x²nx, y²ny, z²nz)/2 dA, mm⁴.
    pub moment: DVec3,
    /// How far u went on the way round: not zero where a loop runs round the axis.
    pub turn: f64,
}

impl Integrals {
    /// Adds `other` times a factor.
    pub fn add(&mut self, other: &Integrals, factor: f64) {
        self.area += other.area * factor;
        self.volume += other.volume * factor;
        self.moment += other.moment * factor;
        self.turn += other.turn * factor;
    }
}

/// Nodes and weights of Gauss-Legendre quadrature with eight points on −1 to 1 (Abramowitz and
/// Stegun, table 25.4, from memory; the test below checks them on a power they must get right).
const NODES: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// Points and weights on an interval.
fn gauss(from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
    NODES
        .iter()
        .flat_map(|(x, w)| [(-x, *w), (*x, *w)])
        .map(move |(x, w)| (middle + half * x, half * w))
}

/// Positions along a piece, inside each of its steps, and their weights.
pub fn samples(piece: &Piece) -> Vec<(f64, f64)> {
    let steps = piece.steps();
    let width = (piece.to - piece.from) / f64::from(steps);
    (0..steps)
        .flat_map(|i| {
            let from = piece.from + width * f64::from(i);
            gauss(from, from + width)
        })
        .collect()
}

/// What one piece of a loop adds. A loop that runs anticlockwise in (u, v) gives the region inside.
pub fn along(surface: &Surface, piece: &Piece) -> Integrals {
    let mut sum = Integrals::default();
    for (t, weight) in samples(piece) {
        let p = piece.at(t);
        let du = surface.u_rate(p, piece.rate(t)) * weight;
        sum.turn += du;
        for (v, dv) in gauss(surface.v_base(), surface.v(p)) {
            let (q, normal) = surface.at(p, v);
            // Green: ∬ f du dv = −∮ (∫ f dv) du.
            let factor = -du * dv;
            sum.area += factor * normal.length();
            sum.volume += factor * q.dot(normal) / 3.0;
            sum.moment += factor * q * q * normal / 2.0;
        }
    }
    sum
}

#[test]
fn quadrature_is_exact_for_a_power_of_fourteen() {
    let sum: f64 = gauss(0.0, 2.0).map(|(x, w)| w * x.powi(14)).sum();
    let exact = 2.0_f64.powi(15) / 15.0;
    assert!((sum - exact).abs() < 1e-12 * exact, "{sum} {exact}");
}
