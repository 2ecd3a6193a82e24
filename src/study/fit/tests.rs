//! Laws of settling, and trials against cases that can be worked out.

use glam::DVec2;
use proptest::prelude::*;

use super::*;
use crate::tolerance::SETTLED;

const BARREL: f64 = 10.0;
const GRIP: f64 = 30.5;

fn row(count: usize) -> Vec<DVec2> {
    (0..count)
        .map(|i| DVec2::new(57.0 + 35.0 * i as f64, 0.0))
        .collect()
}

fn true_bores(stations: &[DVec2], diameter: f64) -> Vec<DrilledBore> {
    stations
        .iter()
        .map(|station| DrilledBore {
            centre: *station,
            slope: DVec2::ZERO,
            diameter,
        })
        .collect()
}

/// Two answers are each within the solver's tolerance of the same best.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 3.0 * SETTLED
}

#[test]
fn a_true_head_has_half_the_clearance_everywhere() {
    for count in [1, 2, 3, 64] {
        let stations = row(count);
        let settled = settle(&stations, &true_bores(&stations, 10.5), BARREL, GRIP);
        assert!(same(settled.gap, 0.25), "{count}: {settled:?}");
        assert!(settled.shift.length() < 1e-6 && settled.turn.abs() < 1e-6);
    }
}

#[test]
fn one_bore_off_along_the_side_takes_half_of_it_from_the_gap() {
    // The middle of three is 0.4 mm off: the plate goes half-way, 0.2 mm, and 0.25 − 0.2 is left.
    let stations = row(3);
    let mut bores = true_bores(&stations, 10.5);
    bores[1].centre.x += 0.4;
    let settled = settle(&stations, &bores, BARREL, GRIP);
    assert!(same(settled.gap, 0.05), "{settled:?}");
    assert!((settled.shift.x - 0.2).abs() < 1e-6);
    assert!(settled.deciding.iter().any(|(bore, _)| *bore == 1));
}

#[test]
fn an_end_bore_off_across_is_met_by_a_turn() {
    // Across 0, 0, 0.4: the best line is -0.1, 0.1, 0.3, off by 0.1 at each, 0.2 a pitch.
    let stations = row(3);
    let mut bores = true_bores(&stations, 10.5);
    bores[2].centre.y += 0.4;
    let settled = settle(&stations, &bores, BARREL, GRIP);
    assert!(same(settled.gap, 0.15), "{settled:?}");
    assert!((settled.turn - 0.2 / 35.0).abs() < 1e-6);
    assert!((settled.shift.y - 0.1).abs() < 1e-6);
}

#[test]
fn lean_alone_takes_half_its_drift_at_both_ends() {
    // One bore leans by 0.02 along: 0.61 mm at the barrel's end, 0.305 to each side.
    let stations = row(1);
    let mut bores = true_bores(&stations, 10.5);
    bores[0].slope.x = 0.02;
    let settled = settle(&stations, &bores, BARREL, GRIP);
    assert!(same(settled.gap, 0.25 - 0.305), "{settled:?}");
    assert_eq!(settled.deciding, [(0, End::Mouth), (0, End::Bottom)]);
}

#[test]
fn nothing_to_settle_and_a_turn_without_an_arm() {
    assert_eq!(settle(&[], &[], BARREL, GRIP).deciding, []);
    let stations = vec![DVec2::new(57.0, 0.0); 3];
    let settled = settle(&stations, &true_bores(&stations, 10.4), BARREL, GRIP);
    assert!(same(settled.gap, 0.2) && settled.turn.abs() < 1e-12);
}

/// Stations in a row or in the plane, and bores off their places by up to a size that spans what
/// a shop and what a fool can do.
fn cases() -> impl Strategy<Value = (Vec<DVec2>, Vec<DrilledBore>)> {
    let bore = (
        -1.0..1.0_f64,
        -1.0..1.0_f64,
        -0.02..0.02_f64,
        -0.02..0.02_f64,
        -0.2..0.4_f64,
    );
    let across = prop_oneof![Just(0.0), -10.0..10.0_f64];
    let size = prop_oneof![Just(0.0), Just(1e-6), Just(0.1), Just(1.0)];
    (
        prop::collection::vec((bore, across, 8.0..60.0_f64), 1..10),
        size,
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(rows, size, leans, equal)| {
            let (mut along, mut stations, mut bores) = (0.0, Vec::new(), Vec::new());
            for ((x, y, slope_x, slope_y, wider), across, pitch) in rows {
                along += pitch;
                let station = DVec2::new(along, across);
                stations.push(station);
                bores.push(DrilledBore {
                    centre: station + DVec2::new(x, y) * size,
                    slope: if leans {
                        DVec2::new(slope_x, slope_y)
                    } else {
                        DVec2::ZERO
                    },
                    diameter: BARREL + 0.5 + if equal { 0.0 } else { wider },
                });
            }
            (stations, bores)
        })
}

proptest! {
    #[test]
    fn every_answer_is_proved((stations, bores) in cases()) {
        let settled = settle(&stations, &bores, BARREL, GRIP);
        prop_assert!(settled.at_most - settled.gap <= SETTLED, "{:?}", settled);
        // The reported place really has the reported gap.
        let middle = stations.iter().copied().sum::<DVec2>() / stations.len() as f64;
        let mut gap = f64::INFINITY;
        for (station, bore) in stations.iter().zip(&bores) {
            let at = *station + settled.shift + (*station - middle).perp() * settled.turn;
            for depth in [0.0, GRIP] {
                let off = at - bore.centre - bore.slope * depth;
                gap = gap.min((bore.diameter - BARREL) / 2.0 - off.length());
            }
        }
        prop_assert!((gap - settled.gap).abs() < 1e-9, "{} {}", gap, settled.gap);
        prop_assert!(!settled.deciding.is_empty());
    }

    #[test]
    fn shifting_all_bores_changes_only_the_shift((stations, bores) in cases(), x in -2.0..2.0_f64, y in -2.0..2.0_f64) {
        let by = DVec2::new(x, y);
        let moved: Vec<_> = bores.iter().map(|b| DrilledBore { centre: b.centre + by, ..*b }).collect();
        let (a, b) = (settle(&stations, &bores, BARREL, GRIP), settle(&stations, &moved, BARREL, GRIP));
        prop_assert!(same(a.gap, b.gap));
        // The best place is known less sharply than the best gap: near it a gap changes with the
        // square of the place, so 1e-9 of gap may be 1e-4 of place.
        prop_assert!((b.shift - a.shift - by).length() < 1e-3, "{:?} {:?}", a, b);
        prop_assert!((b.turn - a.turn).abs() < 1e-3);
    }

    #[test]
    fn order_and_mirroring_change_no_gap((stations, bores) in cases()) {
        let settled = settle(&stations, &bores, BARREL, GRIP);
        let turned: (Vec<_>, Vec<_>) = stations.iter().copied().zip(bores.iter().copied()).rev().unzip();
        prop_assert!(same(settled.gap, settle(&turned.0, &turned.1, BARREL, GRIP).gap));
        let flip = DVec2::new(-1.0, 1.0);
        let stations: Vec<_> = stations.iter().map(|s| *s * flip).collect();
        let bores: Vec<_> = bores.iter().map(|b| DrilledBore { centre: b.centre * flip, slope: b.slope * flip, ..*b }).collect();
        prop_assert!(same(settled.gap, settle(&stations, &bores, BARREL, GRIP).gap));
    }

    #[test]
    fn a_wider_bit_adds_half_of_what_it_is_wider((stations, bores) in cases(), wider in 0.0..1.0_f64) {
        let wide: Vec<_> = bores.iter().map(|b| DrilledBore { diameter: b.diameter + wider, ..*b }).collect();
        let (a, b) = (settle(&stations, &bores, BARREL, GRIP), settle(&stations, &wide, BARREL, GRIP));
        prop_assert!(same(a.gap + wider / 2.0, b.gap));
    }
}

const NONE: Scatter = Scatter {
    position: 0.0,
    squareness: 0.0,
    wander: 0.0,
    growth: 0.0,
    pitch: 0.0,
};

const TRIALS: u64 = 100_000;

/// The share is within four standard errors of what it should be.
fn agrees(
    barrels: usize,
    scatter: &Scatter,
    seat: Seat,
    bits: &[f64],
    wanted: impl Fn(f64) -> f64,
) {
    let plate = Plate {
        open: 0.0,
        stations: row(barrels),
        barrel_diameter: BARREL,
        grip: GRIP,
    };
    let found = chances(&plate, scatter, seat, bits, TRIALS, 7);
    for (bit, chance) in bits.iter().zip(found) {
        let wanted = wanted((bit - BARREL) / 2.0);
        let off = (chance.share() - wanted) / chance.standard_error();
        assert!(
            off.abs() < 4.0,
            "{bit}: {} for {wanted}, {off}",
            chance.share()
        );
    }
}

fn rayleigh(reach: f64, sigma: f64) -> f64 {
    1.0 - (-reach * reach / (2.0 * sigma * sigma)).exp()
}

#[test]
fn one_barrel_of_a_plate_that_is_held_in_place() {
    let scatter = Scatter {
        position: 0.1,
        ..NONE
    };
    agrees(1, &scatter, Seat::Fixed, &[10.1, 10.3, 10.5], |c| {
        rayleigh(c, 0.1)
    });
}

#[test]
fn a_floating_plate_of_one_barrel_minds_drift_alone() {
    let scatter = Scatter {
        position: 0.5,
        wander: 0.2,
        pitch: 0.3,
        ..NONE
    };
    agrees(1, &scatter, Seat::Floating, &[10.1, 10.2, 10.5], |c| {
        rayleigh(2.0 * c, 0.2)
    });
}

#[test]
fn a_rig_out_of_square_leans_all_bores_alike() {
    let scatter = Scatter {
        squareness: 0.005,
        ..NONE
    };
    agrees(3, &scatter, Seat::Floating, &[10.1, 10.2, 10.4], |c| {
        rayleigh(2.0 * c, 0.005 * GRIP)
    });
}

#[test]
fn two_barrels_mind_their_distance_alone() {
    // Across, a shift and a turn meet any two bores; along, two errors of each barrel add up, and
    // each bore's growth g·u, u even over 0 to 1, gives way twice. Simpson's rule over u1 + u2.
    let scatter = Scatter {
        position: 0.12,
        pitch: 0.05,
        growth: 0.08,
        ..NONE
    };
    let sigma = (2.0 * (0.12_f64.powi(2) + 0.05_f64.powi(2))).sqrt();
    let quadrature = |c: f64| {
        let steps = 200;
        let sum: f64 = (0..=steps)
            .map(|i| {
                let u = 2.0 * f64::from(i) / f64::from(steps);
                let density = if u < 1.0 { u } else { 2.0 - u };
                let weight = match i {
                    0 => 1.0,
                    i if i == steps => 1.0,
                    i if i % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                weight * density * within(2.0 * c + 0.08 * u, sigma)
            })
            .sum();
        sum * 2.0 / f64::from(steps) / 3.0
    };
    agrees(
        2,
        &scatter,
        Seat::Floating,
        &[10.05, 10.15, 10.3],
        quadrature,
    );
}

/// The chance that a normal error of deviation `sigma` lies within `reach` either way, by
/// Simpson's rule over the density.
fn within(reach: f64, sigma: f64) -> f64 {
    let steps = 400;
    let density = |x: f64| (-x * x / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
    let width = 2.0 * reach / sigma / f64::from(steps);
    let sum: f64 = (0..steps)
        .map(|i| {
            let from = -reach / sigma + width * f64::from(i);
            density(from) + 4.0 * density(from + width / 2.0) + density(from + width)
        })
        .sum();
    sum * width / 6.0
}

/// Three barrels with every error: the trials' shortcuts against settling each head in full.
#[test]
fn trials_count_what_settling_says() {
    let scatter = Scatter {
        position: 0.1,
        squareness: 0.002,
        wander: 0.1,
        growth: 0.05,
        pitch: 0.03,
    };
    let plate = Plate {
        open: 0.0,
        stations: row(3),
        barrel_diameter: BARREL,
        grip: GRIP,
    };
    let bits = [10.2, 10.3, 10.32, 10.4, 10.5, 10.7];
    let counted = chances(&plate, &scatter, Seat::Floating, &bits, 20_000, 3);
    for (bit, together) in bits.iter().zip(counted) {
        let alone = chances(&plate, &scatter, Seat::Floating, &[*bit], 20_000, 3);
        assert_eq!(alone, [together], "{bit}");
    }
    let settled = super::trials::settled_one_by_one(&plate, &scatter, &bits, 4_000, 3);
    let counted = chances(&plate, &scatter, Seat::Floating, &bits, 4_000, 3);
    assert_eq!(settled, counted.iter().map(|c| c.good).collect::<Vec<_>>());
}

#[test]
fn threads_change_nothing() {
    let scatter = Scatter {
        position: 0.1,
        wander: 0.1,
        ..NONE
    };
    let plate = Plate {
        open: 0.0,
        stations: row(3),
        barrel_diameter: BARREL,
        grip: GRIP,
    };
    let count = |threads| {
        rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .expect("threads")
            .install(|| chances(&plate, &scatter, Seat::Floating, &[10.3, 10.5], 20_000, 5))
    };
    assert_eq!(count(1), count(3));
}

#[test]
fn no_share_is_quite_certain() {
    let all = Chance {
        trials: 1000,
        good: 1000,
    };
    assert!(all.standard_error() > 0.0009 && all.standard_error() < 0.0011);
    assert!(all.share() >= 1.0);
}
