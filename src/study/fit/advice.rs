//! The fit of a design: worst case by formula, chance by trials, for its own bore and for the
//! stock bits around it, and which bit to take.

use glam::DVec2;

use super::trials::{Chance, Plate, Scatter, Seat, chances};
use crate::check::limits::rule;
use crate::input::Side;
use crate::layout::{Layout, SideLayout};
use crate::standards::{StockSize, nearest_stock, stock_between, y14_5};
use crate::tolerance::NOISE;

/// Share of plates that must go in for a bit to be advised: one in a hundred has to be eased with
/// a reamer (our assumption).
pub const WANTED: f64 = 0.99;

/// Standard deviations to either side that a worst case reckons with; beyond them lie 3 errors in
/// a thousand (common practice).
pub const WORST: f64 = 3.0;

/// Stock bits looked at, mm below and above the design's bore (our assumption): a slack bore
/// rattles long before the upper end.
pub const BITS_BELOW: f64 = 0.35;
/// See [`BITS_BELOW`].
pub const BITS_ABOVE: f64 = 0.65;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// Heads to try.
    pub trials: u64,
    /// Of the generator.
    pub seed: u64,
}

/// One bit.
#[derive(Debug, Clone, PartialEq)]
pub struct Bit {
    /// As asked for over the counter; `None` for a design's bore that the check `bit-size` calls no stock
    /// size.
    pub name: Option<String>,
    /// Diameter, mm.
    pub diameter: f64,
    /// Bit less barrel, mm.
    pub clearance: f64,
    /// How far a barrel can lean in the bore: clearance over the grip, radians.
    pub lean: f64,
    /// The chance that the plate goes in.
    pub chance: Chance,
    /// The design's own.
    pub own: bool,
    /// How much wider than the bit of that name, mm: a design's bore in inches may be a metric bit but
    /// for thousandths.
    pub off: f64,
}

/// A worst case.
#[derive(Debug, Clone, PartialEq)]
pub struct WorstCase {
    /// Which formula, for people.
    pub formula: &'static str,
    /// What it takes in and what it leaves out.
    pub covers: &'static str,
    /// Least bore, mm.
    pub bore: f64,
    /// The next stock size from there up; `None` where there is none within 2 mm.
    pub bit: Option<StockSize>,
}

/// The fit on one side.
#[derive(Debug, Clone, PartialEq)]
pub struct SideFit {
    /// Side.
    pub side: Side,
    /// The plate over its bores.
    pub plate: Plate,
    /// Worst cases, mildest first.
    pub worst: Vec<WorstCase>,
    /// How far the bit's play in the block lets it stray by the barrel's end, as the diameter of
    /// a zone, mm; `None` where the block's bore is no wider than the bit, or holds bushes.
    pub block_play: Option<f64>,
    /// Bits, rising.
    pub bits: Vec<Bit>,
}

impl SideFit {
    /// The design's own bore.
    #[must_use]
    pub fn own(&self) -> Option<&Bit> {
        self.bits.iter().find(|bit| bit.own)
    }

    /// The smallest stock bit with which the plate goes in often enough.
    #[must_use]
    pub fn advised(&self) -> Option<&Bit> {
        self.first_good(|_| true)
    }

    /// The same for who has metric bits alone, and inch bits alone.
    #[must_use]
    pub fn advised_of_each(&self) -> [Option<&Bit>; 2] {
        let metric = |name: &str| name.ends_with(" mm");
        [
            self.first_good(metric),
            self.first_good(|name| !metric(name)),
        ]
    }

    fn first_good(&self, of: impl Fn(&str) -> bool) -> Option<&Bit> {
        self.bits
            .iter()
            .find(|bit| bit.name.as_deref().is_some_and(&of) && bit.chance.share() >= WANTED)
    }
}

/// The fit of every side.
#[must_use]
pub fn fit(layout: &Layout, asked: Asked) -> Vec<SideFit> {
    layout
        .each_side()
        .map(|side| of_side(layout, side, asked))
        .collect()
}

/// The scatter that a design states.
#[must_use]
pub fn scatter(layout: &Layout) -> Scatter {
    let drilling = &layout.design.drilling;
    Scatter {
        position: drilling.position,
        squareness: drilling.squareness,
        wander: drilling.wander,
        growth: drilling.growth,
        pitch: drilling.pitch,
    }
}

/// The plate of a side over its bores. A counterbore holds nothing, so the grip begins below it.
#[must_use]
pub fn plate(layout: &Layout, side: &SideLayout) -> Plate {
    let machines = &layout.design.machines;
    let counterbore = layout.design.bores.counterbore;
    let open = counterbore.map_or(0.0, |counterbore| counterbore.depth);
    Plate {
        stations: side.bores.iter().map(|b| DVec2::new(b.s, 0.0)).collect(),
        barrel_diameter: machines.barrel_diameter,
        open,
        grip: (machines.barrel_length - open).max(0.0),
    }
}

fn of_side(layout: &Layout, side: &SideLayout, asked: Asked) -> SideFit {
    let plate = plate(layout, side);
    let own = layout.design.bores.diameter;
    let mut sizes: Vec<(Option<String>, f64)> = stock_between(
        (own - BITS_BELOW).max(plate.barrel_diameter),
        own + BITS_ABOVE,
    )
    .into_iter()
    .map(|size| (Some(size.name), size.diameter))
    .collect();
    // The bit that makes the design's bore, as the check of bits sees it, is not listed beside it.
    let made_by = made_by(own);
    if let Some(bit) = &made_by {
        sizes.retain(|(_, size)| (size - bit.diameter).abs() > NOISE);
    }
    sizes.push((made_by.as_ref().map(|bit| bit.name.clone()), own));
    sizes.sort_by(|a, b| a.1.total_cmp(&b.1));
    let off = made_by.map_or(0.0, |bit| own - bit.diameter);
    let diameters: Vec<f64> = sizes.iter().map(|(_, diameter)| *diameter).collect();
    let scatter = scatter(layout);
    let chances = chances(
        &plate,
        &scatter,
        Seat::Floating,
        &diameters,
        asked.trials,
        asked.seed,
    );
    let bits = sizes
        .into_iter()
        .zip(chances)
        .map(|((name, diameter), chance)| {
            let clearance = diameter - plate.barrel_diameter;
            let is_own = (diameter - own).abs() <= NOISE;
            Bit {
                name,
                diameter,
                clearance,
                lean: clearance.atan2(plate.grip),
                chance,
                own: is_own,
                off: if is_own { off } else { 0.0 },
            }
        })
        .collect();
    SideFit {
        side: side.side,
        worst: worst_cases(&plate, &scatter),
        block_play: block_play(layout, &plate),
        bits,
        plate,
    }
}

/// The bit that makes a bore, where the check `bit-size` calls it a stock size.
fn made_by(bore: f64) -> Option<StockSize> {
    let size = nearest_stock(bore);
    let near = rule("bit-size")?.caution?;
    near.holds((bore - size.diameter).abs()).then_some(size)
}

/// Zones are twice three standard deviations across. What a bore gains over its bit is on the
/// safe side and left out.
fn worst_cases(plate: &Plate, scatter: &Scatter) -> Vec<WorstCase> {
    let barrel = plate.barrel_diameter;
    let at_side = 2.0 * WORST * scatter.position;
    let barrels = 2.0 * WORST * scatter.pitch;
    let drift = WORST * (scatter.squareness * plate.grip).hypot(scatter.wander);
    let case = |formula, covers, bore: f64| WorstCase {
        formula,
        covers,
        bore,
        bit: stock_between(bore, bore + 2.0).into_iter().next(),
    };
    vec![
        case(
            "floating fastener, H = F + T",
            "bores off their places at the side; plate true, bores square",
            y14_5::floating(barrel, at_side),
        ),
        case(
            "fixed fastener, projected zone, H = F + T1 + T2",
            "bores off, leaning and drifting over the whole grip, and barrels off on the plate",
            y14_5::fixed_projected(barrel, barrels, at_side + 2.0 * drift),
        ),
    ]
}

/// The same geometry as a fixed fastener that stands out of its hole: the block holds the bit
/// over its depth, and the bit stands out by the grip.
fn block_play(layout: &Layout, plate: &Plate) -> Option<f64> {
    let guide = &layout.design.guide;
    let play = guide.bore_diameter - layout.design.bores.diameter;
    (play > NOISE && guide.bush_diameter.is_none())
        .then(|| y14_5::fixed_not_projected(0.0, 0.0, play, plate.grip, guide.depth))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    fn sides() -> Vec<SideFit> {
        let asked = Asked {
            trials: 20_000,
            seed: 1,
        };
        fit(&Layout::new(&six_string(), Copy::Finished), asked)
    }

    #[test]
    fn worst_cases_longhand() {
        // Defaults: T = 6·0.1 = 0.6, so 10 + 0.6 = 10.6. Drift 3·√(0.0532325² + 0.1²) =
        // 3·0.1132859 = 0.3398578, where 0.0532325 = 30.5·0.1°; 10 + 6·0.03 + 0.6 + 2·0.3398578
        // = 11.4597156.
        let side = &sides()[0];
        assert!((side.worst[0].bore - 10.6).abs() < 1e-9);
        assert!((side.worst[1].bore - 11.459_715_6).abs() < 1e-6);
        let bits: Vec<&str> = side
            .worst
            .iter()
            .filter_map(|case| case.bit.as_ref().map(|bit| bit.name.as_str()))
            .collect();
        assert_eq!(bits, ["10.6 mm", "11.5 mm"]);
        assert_eq!(side.block_play, None);
    }

    #[test]
    fn bits_rise_and_so_does_the_chance() {
        for side in sides() {
            assert!(side.bits.windows(2).all(|pair| {
                pair[0].diameter < pair[1].diameter
                    && pair[0].chance.good <= pair[1].chance.good
                    && pair[0].lean < pair[1].lean
            }));
            let own = side.own().expect("the design's bore is among them");
            // 0.5 mm over 30.5 mm: 0.939 degrees.
            assert!((own.lean.to_degrees() - 0.939).abs() < 0.001);
            let advised = side.advised().expect("a wide enough bit is there");
            assert!(advised.chance.share() >= WANTED);
        }
    }

    #[test]
    fn a_bore_that_is_a_bit_to_the_hundredth_is_that_bit() {
        // 0.4175 in are 10.6045 mm; the check `bit-size` calls it clear at 0.0045.
        let mut design = six_string();
        design.bores.diameter = 0.4175 * crate::units::MM_PER_INCH;
        let asked = Asked {
            trials: 20_000,
            seed: 1,
        };
        let side = &fit(&Layout::new(&design, Copy::Finished), asked)[0];
        let near = side
            .bits
            .iter()
            .filter(|bit| (bit.diameter - 10.6).abs() < 0.02);
        assert_eq!(near.count(), 1);
        let own = side.own().unwrap();
        assert_eq!(own.name.as_deref(), Some("10.6 mm"));
        assert_eq!(side.advised().map(|bit| bit.diameter), Some(own.diameter));
        // What is farther from every bit than that check allows stays no stock size.
        design.bores.diameter = 10.55;
        let side = &fit(&Layout::new(&design, Copy::Finished), asked)[0];
        assert_eq!(side.own().unwrap().name, None);
    }
}
