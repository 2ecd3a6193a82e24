//! The chance that a plate goes in: many heads drilled and many plates made, each with errors as
//! the shop makes them, and counted.
//!
//! Each chunk of trials draws from its own stream of one generator, so the counts are the same
//! however many threads share the work. Every bit is tried on the same errors: what a trial needs
//! is one figure, the least clearance it goes in with, and that is bracketed first by cheap bounds
//! and only then settled exactly.

use glam::DVec2;
use rand::{Rng, RngExt as _};
use rand_distr::StandardNormal;
use rand_pcg::Pcg64;
use rayon::prelude::*;

use super::barrier::{Discs, Stop, minimise};
use super::settle::Arms;
use crate::tolerance::SETTLED;

/// How far a shop's work and a plate scatter; mm and radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// A bore's centre at the side, along and across: standard deviation of each.
    pub position: f64,
    /// Lean of the rig against the side, along and across: standard deviation of each; one lean
    /// for all bores of a side, radians.
    pub squareness: f64,
    /// Drift of a bore's axis by the end of the grip, along and across: standard deviation of each.
    pub wander: f64,
    /// How much wider than its bit a bore comes out on average: anything from nothing to twice
    /// this, each as likely.
    pub growth: f64,
    /// A barrel's place on its plate, along it: standard deviation.
    pub pitch: f64,
}

/// A plate over its bores, before any error.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Barrels along and across the side, mm.
    pub stations: Vec<DVec2>,
    /// Diameter of the barrels, mm.
    pub barrel_diameter: f64,
    /// Depth of the counterbore, which holds nothing, mm; 0 without one.
    pub open: f64,
    /// Length over which a barrel must keep inside its bore, from there on, mm.
    pub grip: f64,
}

/// How a plate meets the side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seat {
    /// It finds its own place and turn before its screws are driven.
    Floating,
    /// Held where the drawing has it, by pins or old screw holes.
    Fixed,
}

/// What the trials say of one bit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance {
    /// Trials made.
    pub trials: u64,
    /// Trials in which every barrel went in and touched nothing.
    pub good: u64,
}

impl Chance {
    /// The share of good trials, 0 to 1; 0 without any trial.
    #[must_use]
    pub fn share(self) -> f64 {
        self.good as f64 / self.trials.max(1) as f64
    }

    /// Standard error of the share. Where all or none were good it is that of one trial the other
    /// way, for nothing is certain after so many trials.
    #[must_use]
    pub fn standard_error(self) -> f64 {
        let trials = self.trials.max(1) as f64;
        let good = (self.good as f64).clamp(1.0, (trials - 1.0).max(1.0)) / trials;
        (good * (1.0 - good) / trials).sqrt()
    }
}

/// Trials of one stream; a change of it changes every figure, as the seed does.
const CHUNK: u64 = 4096;

/// Tries every bit of `diameters` (mm) on the same `trials` heads.
#[must_use]
pub fn chances(
    plate: &Plate,
    scatter: &Scatter,
    seat: Seat,
    diameters: &[f64],
    trials: u64,
    seed: u64,
) -> Vec<Chance> {
    let mut order: Vec<usize> = (0..diameters.len()).collect();
    order.sort_by(|a, b| diameters[*a].total_cmp(&diameters[*b]));
    let clearances: Vec<f64> = order
        .iter()
        .map(|bit| (diameters[*bit] - plate.barrel_diameter) / 2.0)
        .collect();
    let arms = Arms::of(&plate.stations);
    let nothing = || vec![0_u64; clearances.len() + 1];
    // By the smallest bit that goes in; the last entry counts the trials where none does.
    let smallest = (0..trials.div_ceil(CHUNK))
        .into_par_iter()
        .fold(nothing, |mut counts, chunk| {
            let mut work = Work::new(plate, &arms);
            let mut stream = Pcg64::new(u128::from(seed), u128::from(chunk));
            for _ in 0..CHUNK.min(trials - chunk * CHUNK) {
                work.draw(plate, scatter, &mut stream);
                counts[work.smallest(&arms, seat, &clearances)] += 1;
            }
            counts
        })
        .reduce(nothing, |a, b| {
            a.iter().zip(b).map(|(a, b)| a + b).collect()
        });
    let mut found = vec![Chance { trials, good: 0 }; diameters.len()];
    let mut good = 0;
    for (bit, count) in order.iter().zip(smallest) {
        good += count;
        found[*bit].good = good;
    }
    found
}

/// Room for one trial, made once a chunk.
struct Work {
    /// Mouth and bottom of each bore: barrel's axis less bore's.
    offsets: Vec<DVec2>,
    /// Half of each bore's growth.
    growths: Vec<f64>,
    /// Bores whose distance along their join no placing changes.
    joins: Vec<(usize, usize, DVec2)>,
}

impl Work {
    fn new(plate: &Plate, arms: &Arms) -> Work {
        let count = plate.stations.len();
        let neighbours = (1..count).map(|bore| (bore - 1, bore));
        let ends = (count > 2).then(|| (0, count - 1));
        let joins = neighbours
            .chain(ends)
            .filter(|_| arms.reach > 0.0)
            .filter_map(|(a, b)| {
                let join = (plate.stations[b] - plate.stations[a]).try_normalize()?;
                Some((a, b, join))
            })
            .collect();
        Work {
            offsets: vec![DVec2::ZERO; 2 * count],
            growths: vec![0.0; count],
            joins,
        }
    }

    fn draw(&mut self, plate: &Plate, scatter: &Scatter, stream: &mut impl Rng) {
        let mut normal = || -> f64 { stream.sample(StandardNormal) };
        let rig = DVec2::new(normal(), normal()) * (scatter.squareness * plate.grip);
        for pair in self.offsets.chunks_exact_mut(2) {
            let place = DVec2::new(normal(), normal()) * scatter.position;
            let drift = rig + DVec2::new(normal(), normal()) * scatter.wander;
            pair[0] = DVec2::new(normal() * scatter.pitch, 0.0) - place;
            pair[1] = pair[0] - drift;
        }
        for growth in &mut self.growths {
            *growth = scatter.growth * stream.random::<f64>();
        }
    }

    /// The first of the rising half clearances with which all barrels go in.
    fn smallest(&self, arms: &Arms, seat: Seat, clearances: &[f64]) -> usize {
        let place = match seat {
            Seat::Floating => arms.level(&self.offsets),
            Seat::Fixed => [0.0; 3],
        };
        let discs = Discs {
            arms: &arms.scaled,
            offsets: &self.offsets,
            clearances: &self.growths,
        };
        let enough = discs.excess(place);
        let fits = clearances.partition_point(|own| *own < enough);
        if seat == Seat::Fixed {
            return fits;
        }
        let first = clearances.partition_point(|own| *own < self.least());
        if first >= fits {
            return fits;
        }
        let between = Stop::Between(&clearances[first..fits]);
        let found = minimise(discs, place, between);
        // Where it just touches, to the solver's own tolerance, it goes in.
        let enough = found.excess - SETTLED;
        clearances.partition_point(|own| *own < enough)
    }

    /// No smaller half clearance will do: half of each bore's drift, and half of what the
    /// distance of two barrels along their join is off, less growth.
    fn least(&self) -> f64 {
        let mut least = f64::NEG_INFINITY;
        for (pair, growth) in self.offsets.chunks_exact(2).zip(&self.growths) {
            least = least.max((pair[0] - pair[1]).length() / 2.0 - growth);
        }
        for &(a, b, join) in &self.joins {
            let growth = (self.growths[a] + self.growths[b]) / 2.0;
            for end in 0..2 {
                for other in 0..2 {
                    let off = self.offsets[2 * a + end] - self.offsets[2 * b + other];
                    least = least.max(off.dot(join).abs() / 2.0 - growth);
                }
            }
        }
        least
    }
}

/// The same counts without any shortcut, bit by bit: what the shortcuts are tested against.
#[cfg(test)]
pub(super) fn settled_one_by_one(
    plate: &Plate,
    scatter: &Scatter,
    diameters: &[f64],
    trials: u64,
    seed: u64,
) -> Vec<u64> {
    let arms = Arms::of(&plate.stations);
    let mut good = vec![0; diameters.len()];
    assert!(trials <= CHUNK, "one stream");
    let mut work = Work::new(plate, &arms);
    let mut stream = Pcg64::new(u128::from(seed), 0);
    for _ in 0..trials {
        work.draw(plate, scatter, &mut stream);
        for (bit, good) in diameters.iter().zip(&mut good) {
            let bores: Vec<super::DrilledBore> = work
                .offsets
                .chunks_exact(2)
                .zip(&plate.stations)
                .zip(&work.growths)
                .map(|((pair, station), growth)| super::DrilledBore {
                    centre: *station - pair[0],
                    slope: (pair[0] - pair[1]) / plate.grip,
                    diameter: bit + 2.0 * growth,
                })
                .collect();
            let settled = super::settle(&plate.stations, &bores, plate.barrel_diameter, plate.grip);
            *good += u64::from(settled.gap >= -SETTLED);
        }
    }
    good
}
