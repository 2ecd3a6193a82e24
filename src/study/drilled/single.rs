//! Machines on plates of their own instead of one plate: would they spare the wood?

use crate::layout::Layout;
use crate::standards::StockSize;
use crate::study::fit::settle;
use crate::tolerance::NOISE;

use super::{FREE, Rescue, bits, solver_bore};

/// Machines on plates of their own, one a bore, in the bores as they are.
#[derive(Debug, Clone, PartialEq)]
pub struct Single {
    /// Bores that must be reamed for it, with the bit for each.
    pub ream: Vec<(usize, StockSize)>,
    /// Bores that are then looser than allowed, with what is allowed there, mm.
    pub too_loose: Vec<(usize, f64)>,
    /// Least distance between neighbouring bores, mm: no plate may be longer. `None`: one bore.
    pub nearest: Option<f64>,
}

impl Single {
    /// Whether they would spare the wood: no plug at all.
    #[must_use]
    pub fn spares(&self) -> bool {
        self.too_loose.is_empty()
    }
}

/// What single machines would do.
pub(super) fn single(layout: &Layout, rescue: &Rescue) -> Single {
    let plate = &rescue.plate;
    let (mut ream, mut too_loose) = (Vec::new(), Vec::new());
    for bore in &rescue.bores {
        let own = settle(
            &[bore.centre + bore.slope * plate.open],
            &[solver_bore(bore, plate)],
            plate.barrel_diameter,
            plate.grip,
        );
        let mut diameter = bore.diameter;
        let mut most = rescue.most_left;
        if own.gap < FREE - NOISE {
            let least = bore.diameter + 2.0 * (FREE - own.gap);
            // Wider than the coarsest step between bits, 1/64 in.
            let next = bits(layout, least - NOISE, least + 0.5).into_iter().next();
            if let Some(bit) = next {
                diameter = bit.diameter;
                most = rescue.loosest.clearance;
                ream.push((bore.number, bit));
            }
        }
        if diameter > plate.barrel_diameter + most + NOISE {
            too_loose.push((bore.number, most));
        }
    }
    let gaps = rescue.bores.windows(2);
    let nearest = gaps
        .map(|two| two[0].centre.distance(two[1].centre))
        .reduce(f64::min);
    Single {
        ream,
        too_loose,
        nearest,
    }
}
