//! The least reaming that frees a plate: a wider bore about the same axis, by a bit from the shelf.

use crate::check::Basis;
use crate::check::limits::{Bound, rule};
use crate::input::OwnLimit;
use crate::layout::Layout;
use crate::standards::StockSize;
use crate::study::fit::{DrilledBore, Settled};
use crate::tolerance::NOISE;

use super::{
    FREE, Loosest, PlateRoom, Rescue, WoodLeft, bits, covered, middle, room, settle_on,
    solver_bore, wood,
};

/// Some bores of a side reamed with one bit.
#[derive(Debug, Clone, PartialEq)]
pub struct Reaming {
    /// The bit.
    pub bit: StockSize,
    /// 1-based numbers of the bores it widens.
    pub numbers: Vec<usize>,
    /// How the plate then settles.
    pub settled: Settled,
    /// Bit less barrel, mm.
    pub clearance: f64,
    /// Where the plate then is.
    pub room: PlateRoom,
    /// How far a barrel can lean in the widened bore, radians.
    pub lean: f64,
    /// How far the plate reaches past the widened bores, mm, least; below zero one shows.
    pub covered: f64,
    /// The wood left around them.
    pub wood: Vec<WoodLeft>,
}

/// Beyond the loosest: how much further the bits are searched, mm.
const SEARCHED: f64 = 2.0;
/// With more bores a side than this, bores are taken out one by one instead of in every combination.
const COMBINED: usize = 10;

/// The most clearance: the upper limit of the check `clearance`, the maker's own where there is one.
#[must_use]
pub fn loosest(layout: &Layout) -> Loosest {
    if let Some(OwnLimit::Band { high, .. }) = layout.design.limits.get("clearance") {
        return Loosest {
            clearance: *high,
            basis: Basis::Own,
        };
    }
    let high = rule("clearance").and_then(|rule| match rule.caution {
        Some(Bound::Within { high, .. }) => Some((high, rule.basis.clone())),
        _ => None,
    });
    let (clearance, basis) = high.unwrap_or((0.0, Basis::Assumed));
    Loosest { clearance, basis }
}

/// The fewest bores that free the plate with a bit that is not too loose, and fewer bores with a
/// looser bit.
pub(super) fn least(layout: &Layout, rescue: &Rescue) -> (Option<Reaming>, Option<Reaming>) {
    let barrel = rescue.plate.barrel_diameter;
    let narrowest = rescue.bores.iter().map(|bore| bore.diameter);
    let from = narrowest.fold(f64::INFINITY, f64::min).max(barrel);
    let most = barrel + rescue.loosest.clearance;
    let bits = bits(layout, from + NOISE, most + SEARCHED);
    let split = bits.partition_point(|bit| bit.diameter <= most + NOISE);
    let (fitting, loose) = bits.split_at(split);
    let within = smallest(rescue, fitting);
    let fewer = within.as_ref().map_or(usize::MAX, |(_, which)| which.len());
    let beyond = smallest(rescue, loose).filter(|(_, which)| which.len() < fewer);
    let made = |found: Option<(&StockSize, Vec<usize>)>| {
        found.map(|(bit, which)| reamed(layout, rescue, bit, &which))
    };
    (made(within), made(beyond))
}

/// The fewest bores that any of the rising bits frees the plate with, and the smallest such bit.
fn smallest<'b>(rescue: &Rescue, bits: &'b [StockSize]) -> Option<(&'b StockSize, Vec<usize>)> {
    let count = fewest(rescue, bits.last()?.diameter)?.len();
    bits.iter().find_map(|bit| {
        let which = fewest(rescue, bit.diameter)?;
        (which.len() == count).then_some((bit, which))
    })
}

/// The fewest bores, counted from 0, that free the plate when widened to a diameter.
fn fewest(rescue: &Rescue, diameter: f64) -> Option<Vec<usize>> {
    let open: Vec<usize> = (0..rescue.bores.len())
        .filter(|&index| rescue.bores[index].diameter < diameter - NOISE)
        .collect();
    let frees = |which: &[usize]| settled(rescue, which, diameter).gap >= FREE - NOISE;
    if open.is_empty() || !frees(&open) {
        return None;
    }
    if open.len() > COMBINED {
        let mut left = open;
        let mut index = 0;
        while index < left.len() {
            let mut tried = left.clone();
            tried.remove(index);
            if !tried.is_empty() && frees(&tried) {
                left = tried;
            } else {
                index += 1;
            }
        }
        return Some(left);
    }
    let mut sets: Vec<Vec<usize>> = (1_u32..1 << open.len())
        .map(|bits| {
            let taken = open.iter().enumerate();
            let taken = taken.filter(|(place, _)| bits >> place & 1 == 1);
            taken.map(|(_, index)| *index).collect()
        })
        .collect();
    sets.sort_by_key(Vec::len);
    sets.into_iter().find(|which| frees(which))
}

fn settled(rescue: &Rescue, which: &[usize], diameter: f64) -> Settled {
    let bores: Vec<DrilledBore> = rescue
        .bores
        .iter()
        .enumerate()
        .map(|(index, bore)| {
            let mut bore = solver_bore(bore, &rescue.plate);
            if which.contains(&index) {
                bore.diameter = diameter;
            }
            bore
        })
        .collect();
    settle_on(&rescue.plate, &bores)
}

fn reamed(layout: &Layout, rescue: &Rescue, bit: &StockSize, which: &[usize]) -> Reaming {
    let settled = settled(rescue, which, bit.diameter);
    let about = middle(&rescue.plate.stations);
    let widened: Vec<_> = which
        .iter()
        .filter_map(|&index| rescue.bores.get(index))
        .map(|bore| (bore.number, bore.centre, bit.diameter))
        .collect();
    let covered = widened
        .iter()
        .map(|(_, centre, wide)| {
            let circle = (*centre, wide / 2.0);
            covered(layout, rescue.side, (about, &settled), circle)
        })
        .fold(f64::INFINITY, f64::min);
    let clearance = bit.diameter - rescue.plate.barrel_diameter;
    Reaming {
        bit: bit.clone(),
        numbers: widened.iter().map(|(number, ..)| *number).collect(),
        clearance,
        lean: clearance.atan2(rescue.plate.grip),
        covered,
        wood: wood::left(layout, rescue, &widened, &[]),
        room: room(layout, rescue.side, &rescue.plate, &settled),
        settled,
    }
}
