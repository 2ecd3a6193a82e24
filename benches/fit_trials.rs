//! One million trials of a plate of three barrels: `cargo bench --bench fit_trials`.

use std::hint::black_box;

use barrelhead::study::fit::{Plate, Scatter, Seat, chances};
use criterion::{Criterion, criterion_group, criterion_main};
use glam::DVec2;

fn million(criterion: &mut Criterion) {
    let plate = Plate {
        open: 0.0,
        stations: (0..3)
            .map(|i| DVec2::new(57.0 + 35.0 * f64::from(i), 0.0))
            .collect(),
        barrel_diameter: 10.0,
        grip: 30.5,
    };
    let scatter = Scatter {
        position: 0.1,
        squareness: 0.1_f64.to_radians(),
        wander: 0.1,
        growth: 0.05,
        pitch: 0.03,
    };
    let mut group = criterion.benchmark_group("one million trials, three barrels");
    group.sample_size(10);
    let tenths: Vec<f64> = (2..=11)
        .map(|tenth| 10.0 + f64::from(tenth) / 10.0)
        .collect();
    // The narrow bit is the slow one: nearly every head has to be settled.
    for (name, bits) in [
        ("bit 10.5", vec![10.5]),
        ("bit 10.3", vec![10.3]),
        ("ten bits from 10.2 to 11.1", tenths),
    ] {
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                chances(
                    black_box(&plate),
                    &scatter,
                    Seat::Floating,
                    &bits,
                    1_000_000,
                    1,
                )
            });
        });
    }
    group.finish();
}

criterion_group!(benches, million);
criterion_main!(benches);
