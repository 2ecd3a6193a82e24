//! Plug and drill anew: which bores, how wide the plugs, what shows.

use std::f64::consts::PI;

use glam::DVec2;

use crate::check::Verdict;
use crate::input::Unit;
use crate::layout::{Layout, OldBore};
use crate::standards::{Mark, StockSize, dowels};
use crate::study::fit::{DrilledBore, Settled, settle};
use crate::tolerance::NOISE;
use crate::units::plain;

use super::wood::{self, Hole};
use super::{FREE, Rescue, WoodLeft, covered, middle, moved, settle_on, solver_bore};

/// Least wood of a plug left all round the new bore, mm: less breaks up under the bit (our
/// assumption).
pub const PLUG_WALL: f64 = 1.5;
/// With more bores a side than this, all that may stay are kept or none, rather than every combination tried.
const COMBINED: usize = 10;

/// Two places of a plate nearer than this are equally near, mm: a place that is not unique comes out in
/// its middle to about a hundredth of this.
const SAME: f64 = 1e-3;

/// What an old and a new bore have in common at the side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// Between the centres, mm.
    pub apart: f64,
    /// Widest, along the line through the centres, mm; below zero it is the wood between them.
    pub width: f64,
    /// Area, mm².
    pub area: f64,
    /// Share of the new bore's area.
    pub share: f64,
}

/// About which centre a plug is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Centred {
    /// The new bore's: the plug stays round it as an even ring.
    New,
    /// The old bore's: the bad bore leads the cutter.
    Old,
}

/// One bore to plug and drill anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Plug {
    /// The bore as it is.
    pub old: OldBore,
    /// Centre of the new bore at the side: along from the nut line, across from the design's axis, mm.
    pub new: DVec2,
    /// Its diameter, mm.
    pub new_diameter: f64,
    /// Old and new.
    pub overlap: Overlap,
    /// The plug.
    pub size: StockSize,
    /// About which centre it is set.
    pub centred: Centred,
    /// Plug left around the new bore where it is thinnest, mm; below zero the new bore runs past the plug
    /// into the wood.
    pub ring: f64,
    /// How far the plate reaches past the plug, mm; below zero the repair shows.
    pub covered: f64,
    /// Wood left around the plug.
    pub wood: Vec<WoodLeft>,
}

impl Plug {
    /// The plug's centre on the side.
    #[must_use]
    pub fn centre(&self) -> DVec2 {
        match self.centred {
            Centred::New => self.new,
            Centred::Old => self.old.centre,
        }
    }

    /// The hole it fills.
    fn hole(&self) -> Hole {
        (self.old.number, self.centre(), self.size.diameter)
    }

    /// What of the wood around it a check stops.
    pub fn stops(&self) -> impl Iterator<Item = &WoodLeft> {
        let stopped = |wood: &&WoodLeft| wood.verdict == Verdict::Stop;
        self.wood.iter().filter(stopped)
    }

    /// Whether no check stops it and the plate hides it. A new bore that runs past a glued plug into the
    /// wood is no fault; how much of the plug stays is said beside it.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.covered >= 0.0 && self.stops().next().is_none()
    }
}

/// The area and width that two circles have in common.
#[must_use]
pub fn overlap(old: (DVec2, f64), new: (DVec2, f64)) -> Overlap {
    let ((a, r), (b, q)) = (old, new);
    let apart = a.distance(b);
    let area = if apart >= r + q {
        0.0
    } else if apart <= (r - q).abs() {
        PI * r.min(q).powi(2)
    } else {
        let part = |own: f64, other: f64| {
            let to_chord = (apart * apart + own * own - other * other) / (2.0 * apart);
            let half = (to_chord / own).clamp(-1.0, 1.0).acos();
            own * own * (half - half.sin() * half.cos())
        };
        part(r, q) + part(q, r)
    };
    Overlap {
        apart,
        width: (r + q - apart).min(2.0 * r.min(q)),
        area,
        share: area / (PI * q * q),
    }
}

/// The fewest bores to drill anew so that the plate is free on the others, and among equals those
/// that leave the plate nearest to where the bores as they are would best have it, and of those as near to it the
/// ones that leave it nearest to where the design has it; with where the plate then settles.
pub(super) fn fewest(layout: &Layout, rescue: &Rescue) -> (Vec<Plug>, Settled) {
    let count = rescue.bores.len();
    let may_stay = |index: &usize| {
        let number = rescue.bores.get(*index).map(|bore| bore.number);
        let mut faulty = rescue.faulty.iter();
        !faulty.any(|bore| Some(bore.number) == number)
    };
    let mut best: Option<(usize, [f64; 2], Vec<usize>, Settled)> = None;
    let sets: Vec<Vec<usize>> = if count > COMBINED {
        // All that may stay, or none.
        vec![(0..count).filter(may_stay).collect()]
    } else {
        let taken = |bits: u32| (0..count).filter(|index| bits >> index & 1 == 1).collect();
        (1..1_u32 << count).map(taken).collect()
    };
    for kept in sets {
        if kept.is_empty() || !kept.iter().all(may_stay) {
            continue;
        }
        let settled = on_kept(rescue, &kept);
        if kept.len() == count || settled.gap < FREE - NOISE {
            continue;
        }
        // A plate that would stand over face, back or the ends of the side is no repair.
        if super::stands_over(layout, rescue.side, &rescue.plate, &settled) {
            continue;
        }
        let moves = [away(rescue, &kept, &settled), off(rescue, &kept, &settled)];
        let plugs = count - kept.len();
        let better = best.as_ref().is_none_or(|(fewest, least, ..)| {
            let nearer = |which: usize| moves[which] < least[which] - SAME;
            let as_near = moves[0] <= least[0] + SAME;
            plugs < *fewest || plugs == *fewest && (nearer(0) || as_near && nearer(1))
        });
        if better {
            best = Some((plugs, moves, kept, settled));
        }
    }
    let (kept, settled) = best.map_or_else(
        || (Vec::new(), nowhere(rescue)),
        |(_, _, kept, settled)| (kept, settled),
    );
    let about = if kept.is_empty() {
        middle(&rescue.plate.stations)
    } else {
        middle(&stations(rescue, &kept))
    };
    let mut plugs: Vec<Plug> = (0..count)
        .filter(|index| !kept.contains(index))
        .filter_map(|index| plug(layout, rescue, index, (about, &settled)))
        .collect();
    // All are open before the first is glued: between two of them both are as wide as their plugs.
    let holes: Vec<Hole> = plugs.iter().map(Plug::hole).collect();
    for (plug, hole) in plugs.iter_mut().zip(&holes) {
        plug.wood = wood::left(layout, rescue, &[*hole], &holes);
    }
    (plugs, settled)
}

fn stations(rescue: &Rescue, which: &[usize]) -> Vec<DVec2> {
    which
        .iter()
        .filter_map(|&index| rescue.plate.stations.get(index).copied())
        .collect()
}

/// How far a plate settled on the bores kept is from where all of them would best have it, at the
/// station that is moved farthest.
fn away(rescue: &Rescue, kept: &[usize], settled: &Settled) -> f64 {
    let (own, all) = (
        middle(&stations(rescue, kept)),
        middle(&rescue.plate.stations),
    );
    rescue
        .plate
        .stations
        .iter()
        .map(|s| moved(*s, own, settled).distance(moved(*s, all, &rescue.settled)))
        .fold(0.0, f64::max)
}

/// How far such a plate is from where the design has it, at the station that is moved farthest.
fn off(rescue: &Rescue, kept: &[usize], settled: &Settled) -> f64 {
    let about = middle(&stations(rescue, kept));
    let all = rescue.plate.stations.iter();
    all.map(|s| moved(*s, about, settled).distance(*s))
        .fold(0.0, f64::max)
}

fn on_kept(rescue: &Rescue, kept: &[usize]) -> Settled {
    let bores: Vec<DrilledBore> = kept
        .iter()
        .filter_map(|&index| rescue.bores.get(index))
        .map(|bore| solver_bore(bore, &rescue.plate))
        .collect();
    let plate = &rescue.plate;
    settle(
        &stations(rescue, kept),
        &bores,
        plate.barrel_diameter,
        plate.grip,
    )
}

/// The plate where the design has it.
fn nowhere(rescue: &Rescue) -> Settled {
    let bores: Vec<DrilledBore> = rescue
        .bores
        .iter()
        .map(|bore| DrilledBore {
            centre: bore.designed,
            slope: DVec2::ZERO,
            diameter: rescue.plate.barrel_diameter + 2.0 * FREE,
        })
        .collect();
    Settled {
        shift: DVec2::ZERO,
        turn: 0.0,
        ..settle_on(&rescue.plate, &bores)
    }
}

fn plug(
    layout: &Layout,
    rescue: &Rescue,
    index: usize,
    (about, settled): (DVec2, &Settled),
) -> Option<Plug> {
    let old = *rescue.bores.get(index)?;
    let new = moved(*rescue.plate.stations.get(index)?, about, settled);
    let new_diameter = layout.design.bores.diameter;
    let inches = layout.design.unit == Unit::Inch;
    let bottom = old.centre + old.slope * old.depth;
    let off = new.distance(old.centre).max(new.distance(bottom));
    let about_new = (old.diameter + 2.0 * off).max(new_diameter + 2.0 * PLUG_WALL);
    // About the old bore it must also take a mouth that widens by the lean.
    let about_old = old.diameter + 2.0 * old.slope.length() * old.depth;
    let made = |centred: Centred, least: f64| {
        let size = dowel(least, inches);
        let centre = match centred {
            Centred::New => new,
            Centred::Old => old.centre,
        };
        let place = (about, settled);
        Plug {
            overlap: overlap((old.centre, old.diameter / 2.0), (new, new_diameter / 2.0)),
            ring: (size.diameter - new_diameter) / 2.0 - centre.distance(new),
            covered: covered(layout, rescue.side, place, (centre, size.diameter / 2.0)),
            wood: wood::left(layout, rescue, &[(old.number, centre, size.diameter)], &[]),
            old,
            new,
            new_diameter,
            size,
            centred,
        }
    };
    let even = made(Centred::New, about_new);
    if even.is_sound() {
        return Some(even);
    }
    let led = made(Centred::Old, about_old);
    let worse = |plug: &Plug| (plug.stops().count(), plug.covered < 0.0);
    Some(if worse(&led) <= worse(&even) {
        led
    } else {
        even
    })
}

/// The next dowel up; beyond the list one turned to whole millimetres.
fn dowel(least: f64, inches: bool) -> StockSize {
    let listed = dowels::sizes(inches);
    let next = listed
        .into_iter()
        .find(|size| size.diameter >= least - NOISE);
    next.unwrap_or_else(|| {
        let diameter = (least - NOISE).ceil();
        StockSize {
            name: format!("{} mm, turned", plain(diameter)),
            diameter,
            mark: Mark::Computed,
        }
    })
}
