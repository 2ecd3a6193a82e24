//! A head that is already drilled: whether the plate goes on its bores as they are, the least reaming
//! that frees it, and where reaming will not do, what to plug and drill anew.
//!
//! The plate is settled on the bores by the solver of `fit`. A set of another pitch over old bores is
//! the same question: `[machines]` is the new set, the records are the old bores.

mod faulty;
mod plugs;
mod reaming;
mod single;
mod steps;
mod wood;
pub mod words;

use glam::DVec2;

use crate::check::{Basis, Verdict};
use crate::input::{Side, Unit};
use crate::layout::{Layout, OldBore};
use crate::standards::{StockSize, stock_between};
use crate::study::fit::{self, DrilledBore, Settled};
use crate::tolerance::NOISE;

pub use faulty::Faulty;
pub use plugs::{Centred, Overlap, PLUG_WALL, Plug, overlap};
pub use reaming::{Reaming, loosest};
pub use single::Single;
pub use steps::steps;
pub use wood::WoodLeft;

/// Least gap all round every barrel for it to turn freely, mm on the radius: half of what the
/// clearance of a new bore leaves at its least (our assumption).
pub const FREE: f64 = 0.05;

/// How the plate sits on the bores as they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sits {
    /// [`FREE`] or more all round every barrel.
    Freely,
    /// It goes in, with less than that.
    Tight,
    /// It does not go in.
    NotAtAll,
}

/// The plate where it settles: wood to its edges, mm; below zero it stands over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateRoom {
    /// To the face, worse end.
    pub face: f64,
    /// To the back, worse end.
    pub back: f64,
    /// To the start of the straight side.
    pub nut_end: f64,
    /// To its end.
    pub crest_end: f64,
}

/// The most that a bore may be wider than its barrel.
#[derive(Debug, Clone, PartialEq)]
pub struct Loosest {
    /// mm, on the diameter.
    pub clearance: f64,
    /// On what it rests.
    pub basis: Basis,
}

/// What to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remedy {
    /// Nothing.
    Nothing,
    /// Ream, as [`Rescue::reaming`] says.
    Ream,
    /// Plug and drill anew, as [`Rescue::plugs`] says.
    Plug,
    /// Neither: reaming does not do, and a check stops the plugs, or the plate does not hide one.
    Neither,
}

/// One side's plate over its bores as they are.
#[derive(Debug, Clone, PartialEq)]
pub struct Rescue {
    /// Which side.
    pub side: Side,
    /// Its bores, from the nut.
    pub bores: Vec<OldBore>,
    /// Where its barrels are, their diameter, and the grip.
    pub plate: fit::Plate,
    /// The design's axis below the face, mm.
    pub axis_below_face: f64,
    /// How the plate settles on the bores as they are.
    pub settled: Settled,
    /// Whether it goes in.
    pub sits: Sits,
    /// Where the plate then is.
    pub room: PlateRoom,
    /// The most clearance.
    pub loosest: Loosest,
    /// The most clearance of a bore that stays as it is, mm: the design's own where that is more.
    pub most_left: f64,
    /// Bores that may not stay as they are, even where the plate goes in.
    pub faulty: Vec<Faulty>,
    /// Bores that show beside the plate where it settles, and by how much, mm; none where it does not
    /// go in.
    pub shows: Vec<(usize, f64)>,
    /// The fewest bores, with the smallest bit for them, that free the plate within [`Loosest`]; `None`
    /// where the plate is free, where no such bit frees it, and where a bore is faulty.
    pub reaming: Option<Reaming>,
    /// The fewer bores that would do with a bit beyond that.
    pub too_loose: Option<Reaming>,
    /// The fewest bores to plug and drill anew, the faulty ones among them; empty where all may stay.
    pub plugs: Vec<Plug>,
    /// Where the plate sits once those are drilled anew.
    pub plugged: Option<Settled>,
    /// What single machines would do; only where not all may stay.
    pub single: Option<Single>,
    /// What to do.
    pub remedy: Remedy,
}

/// The sides that the file has records of, treble first.
#[must_use]
pub fn rescues(layout: &Layout) -> Vec<Rescue> {
    Side::BOTH
        .into_iter()
        .filter(|side| layout.design.drilled.iter().any(|r| r.side == *side))
        .map(|side| rescue(layout, side))
        .collect()
}

/// One side, whether the file has records of it or not.
#[must_use]
pub fn rescue(layout: &Layout, side: Side) -> Rescue {
    let own = layout.sides.get(side);
    let plate = fit::plate(layout, own);
    let bores = layout.as_drilled(side);
    let settled = settle_on(
        &plate,
        &bores
            .iter()
            .map(|bore| solver_bore(bore, &plate))
            .collect::<Vec<_>>(),
    );
    let sits = if settled.gap >= FREE - NOISE {
        Sits::Freely
    } else if settled.gap >= -NOISE {
        Sits::Tight
    } else {
        Sits::NotAtAll
    };
    let loosest = loosest(layout);
    let most_left = faulty::most_left(layout, &loosest);
    let shows = match sits {
        Sits::NotAtAll => Vec::new(),
        _ => faulty::showing(layout, side, &bores, (&plate, &settled)),
    };
    let mut rescue = Rescue {
        side,
        room: room(layout, side, &plate, &settled),
        faulty: faulty::faulty(layout, side, &bores, &plate, most_left),
        shows,
        most_left,
        bores,
        plate,
        axis_below_face: layout.axis_below_face,
        settled,
        sits,
        loosest,
        reaming: None,
        too_loose: None,
        plugs: Vec::new(),
        plugged: None,
        single: None,
        remedy: Remedy::Nothing,
    };
    if !rescue.serves() {
        // No bit makes a bore narrower, or closes one.
        if rescue.faulty.is_empty() {
            (rescue.reaming, rescue.too_loose) = reaming::least(layout, &rescue);
        }
        let (plugs, plugged) = plugs::fewest(layout, &rescue);
        (rescue.plugs, rescue.plugged) = (plugs, Some(plugged));
        // An open bore holds no machine, on whatever plate.
        let [_, open] = rescue.too_wide_and_open();
        rescue.single = open.is_empty().then(|| single::single(layout, &rescue));
        let reams = rescue.reaming.as_ref().is_some_and(|reaming| {
            reaming.covered >= 0.0
                && !stands_over(layout, rescue.side, &rescue.plate, &reaming.settled)
                && reaming.wood.iter().all(|w| w.verdict != Verdict::Stop)
        });
        rescue.remedy = if reams {
            Remedy::Ream
        } else if rescue.plugs.iter().all(Plug::is_sound) {
            Remedy::Plug
        } else {
            Remedy::Neither
        };
    }
    rescue
}

impl Rescue {
    /// Whether the machines may be fitted as the head is.
    #[must_use]
    pub fn serves(&self) -> bool {
        self.sits == Sits::Freely && self.faulty.is_empty()
    }

    /// Numbers of the bores that may not stay because they are too wide, and of those that break out.
    #[must_use]
    pub fn too_wide_and_open(&self) -> [Vec<usize>; 2] {
        let numbers = |of: fn(&Faulty) -> bool| {
            let all = self.faulty.iter().filter(|bore| of(bore));
            all.map(|bore| bore.number).collect()
        };
        [
            numbers(|bore| bore.too_wide.is_some()),
            numbers(|bore| !bore.breaks.is_empty()),
        ]
    }
}

/// The bits of a maker who works in the file's unit, from one diameter to another, rising.
fn bits(layout: &Layout, low: f64, high: f64) -> Vec<StockSize> {
    let metric = layout.design.unit == Unit::Mm;
    let mut all = stock_between(low, high);
    all.retain(|bit| bit.name.ends_with("mm") == metric);
    all
}

/// A bore as the solver takes it: from where it holds a barrel, which a leaning one does off its mouth.
fn solver_bore(bore: &OldBore, plate: &fit::Plate) -> DrilledBore {
    DrilledBore {
        centre: bore.centre + bore.slope * plate.open,
        slope: bore.slope,
        diameter: bore.diameter,
    }
}

fn settle_on(plate: &fit::Plate, bores: &[DrilledBore]) -> Settled {
    fit::settle(&plate.stations, bores, plate.barrel_diameter, plate.grip)
}

fn middle(stations: &[DVec2]) -> DVec2 {
    stations.iter().copied().sum::<DVec2>() / stations.len().max(1) as f64
}

/// Where a settled plate moves a point of its own to; the turn to the first order, as it was found.
/// `about`: the middle of the stations it was settled on.
fn moved(point: DVec2, about: DVec2, settled: &Settled) -> DVec2 {
    point + settled.shift + (point - about).perp() * settled.turn
}

fn room(layout: &Layout, side: Side, plate: &fit::Plate, settled: &Settled) -> PlateRoom {
    let own = &layout.sides.get(side).plate;
    let about = middle(&plate.stations);
    let lift = |s: f64| moved(DVec2::new(s, 0.0), about, settled).y;
    let (nut, crest) = (lift(own.start_s), lift(own.end_s));
    PlateRoom {
        face: own.to_face - nut.max(crest),
        back: (own.to_back[0] + nut).min(own.to_back[2] + crest),
        nut_end: own.to_side_start + settled.shift.x,
        crest_end: own.to_side_end - settled.shift.x,
    }
}

/// Whether a settled plate stands farther over the face, the back or an end of the side than the design
/// has it.
fn stands_over(layout: &Layout, side: Side, plate: &fit::Plate, settled: &Settled) -> bool {
    let least = |room: PlateRoom| {
        let across = room.face.min(room.back);
        across.min(room.nut_end).min(room.crest_end)
    };
    let designed = Settled {
        shift: DVec2::ZERO,
        turn: 0.0,
        ..settled.clone()
    };
    let own = least(room(layout, side, plate, &designed));
    least(room(layout, side, plate, settled)) < own.min(0.0) - NOISE
}

/// How far a settled plate reaches past a circle on the side, mm; below zero the circle shows.
fn covered(
    layout: &Layout,
    side: Side,
    (about, settled): (DVec2, &Settled),
    (centre, radius): (DVec2, f64),
) -> f64 {
    let own = &layout.sides.get(side).plate;
    let middle = -layout.design.machines.axis_offset;
    let along = centre.x - settled.shift.x;
    let across = centre.y - settled.shift.y - settled.turn * (along - about.x);
    let ends = (along - own.start_s).min(own.end_s - along);
    ends.min(own.width / 2.0 - (across - middle).abs()) - radius
}

#[cfg(test)]
mod tests;
