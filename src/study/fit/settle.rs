//! How one plate of rigid barrels settles on one set of bores: the shift and turn that leave the
//! most room, found as the convex problem it is.
//!
//! The plate lies flat on the side, so it has two shifts and a turn in the side's plane. A barrel
//! keeps inside its bore where its axis stays within the clearance of the bore's axis at both
//! ends of the grip; between them both axes are straight, so the ends decide. The turn is taken
//! to the first order: a true turn by t moves a station at distance R from the plate's middle by
//! at most R·t²/2 from where the linear one puts it. A plate that finds its bores turns by no
//! more than clearance over R, so that is at most clearance²/2R: 0.004 mm for 0.5 mm on 35 mm.
//! A bore that leans by a degree is 0.02 % wider across its lean; that is left out too.

use glam::DVec2;

use super::barrier::{Discs, Stop, minimise};

/// A bore as it is in the wood, in the side's plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrilledBore {
    /// Centre at the side: along it, and across it, mm.
    pub centre: DVec2,
    /// Drift of the axis per mm of depth, along and across.
    pub slope: DVec2,
    /// Diameter, mm.
    pub diameter: f64,
}

/// An end of the grip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum End {
    /// At the side.
    Mouth,
    /// At the barrel's end.
    Bottom,
}

/// How a plate settles.
#[derive(Debug, Clone, PartialEq)]
pub struct Settled {
    /// Shift of the middle of the stations (their mean), along and across, mm.
    pub shift: DVec2,
    /// Turn about that middle, radians, from along towards across. 0 where no station is off it.
    pub turn: f64,
    /// Least radial gap over all barrels and both ends, mm; below 0 the plate does not go in.
    pub gap: f64,
    /// No placing leaves more than this, by the dual of the problem, mm: `gap` is the best to
    /// within `at_most − gap`.
    pub at_most: f64,
    /// Where it would touch first: bores, counted from 0, with the end.
    pub deciding: Vec<(usize, End)>,
}

/// Shares of the dual below this do not decide: inner-point methods leave every loose disc a
/// share of about remaining gap over slack.
const LEAST_SHARE: f64 = 1e-4;

/// Settles barrels of one diameter at `stations` (along, across, mm) in `bores`, one each, over
/// a grip in mm: the barrel's length, or what of it lies below a counterbore. Of unequal counts
/// the longer is cut; without any the gap is without bound.
#[must_use]
pub fn settle(
    stations: &[DVec2],
    bores: &[DrilledBore],
    barrel_diameter: f64,
    grip: f64,
) -> Settled {
    let arms = Arms::of(&stations[..stations.len().min(bores.len())]);
    let mut offsets = Vec::with_capacity(2 * arms.len());
    let mut clearances = Vec::with_capacity(arms.len());
    for (station, bore) in stations.iter().zip(bores) {
        let mouth = *station - bore.centre;
        offsets.push(mouth);
        offsets.push(mouth - bore.slope * grip);
        clearances.push((bore.diameter - barrel_diameter) / 2.0);
    }
    let discs = Discs {
        arms: &arms.scaled,
        offsets: &offsets,
        clearances: &clearances,
    };
    let start = arms.level(&offsets);
    let found = minimise(discs, start, Stop::AtBest);
    let deciding = (0..offsets.len())
        .filter(|&disc| found.share(discs, disc) > LEAST_SHARE)
        .map(|disc| {
            let end = if disc % 2 == 0 {
                End::Mouth
            } else {
                End::Bottom
            };
            (disc / 2, end)
        })
        .collect();
    Settled {
        shift: DVec2::new(found.place[0], found.place[1]),
        turn: arms.turn(found.place[2]),
        gap: -found.excess,
        at_most: -found.bound,
        deciding,
    }
}

/// Where a turn about the middle moves each station, for a turn that moves the farthest by 1 mm.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Arms {
    pub scaled: Vec<DVec2>,
    /// The farthest station from the middle, mm; 0 where the turn is idle.
    pub reach: f64,
    /// Σ of squared scaled arms.
    square: f64,
}

impl Arms {
    pub fn of(stations: &[DVec2]) -> Arms {
        let count = stations.len().max(1) as f64;
        let middle = stations.iter().copied().sum::<DVec2>() / count;
        let from_middle = |station: &DVec2| *station - middle;
        let largest = stations
            .iter()
            .map(|station| station.abs().max_element())
            .fold(0.0, f64::max);
        let mut reach = stations
            .iter()
            .map(|station| from_middle(station).length())
            .fold(0.0, f64::max);
        // A mean of equal stations is off by rounding: no arm to turn on.
        if reach <= 1e-12 * largest {
            reach = 0.0;
        }
        let scaled: Vec<DVec2> = stations
            .iter()
            .map(|station| {
                if reach > 0.0 {
                    from_middle(station).perp() / reach
                } else {
                    DVec2::ZERO
                }
            })
            .collect();
        let square = scaled.iter().map(|arm| arm.length_squared()).sum();
        Arms {
            scaled,
            reach,
            square,
        }
    }

    pub fn len(&self) -> usize {
        self.scaled.len()
    }

    /// The scaled turn in radians.
    pub fn turn(&self, scaled: f64) -> f64 {
        if self.reach > 0.0 {
            scaled / self.reach
        } else {
            0.0
        }
    }

    /// The placing that makes the squares of all offsets least: a good place to start.
    pub fn level(&self, offsets: &[DVec2]) -> [f64; 3] {
        let mut sum = DVec2::ZERO;
        let mut moment = 0.0;
        for (pair, arm) in offsets.chunks_exact(2).zip(&self.scaled) {
            let both = pair[0] + pair[1];
            sum += both;
            moment += both.dot(*arm);
        }
        let shift = -sum / offsets.len().max(1) as f64;
        let turn = if self.square > 0.0 {
            -moment / (2.0 * self.square)
        } else {
            0.0
        };
        [shift.x, shift.y, turn]
    }
}
