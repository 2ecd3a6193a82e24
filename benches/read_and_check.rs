//! Reading and checking a demo, and thousands of checks in a sweep: `cargo bench --bench read_and_check`.

#![allow(clippy::expect_used, reason = "a bench stops at the first surprise")]

#[path = "../tests/support"]
mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::hint::black_box;

use barrelhead::check;
use barrelhead::input::{self, Numbers};
use barrelhead::study::vary::{Axis, vary};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use support::demos::{demo_file, demos};

fn one(criterion: &mut Criterion) {
    for demo in demos() {
        let file = demo_file(&demo);
        criterion.bench_function(&format!("read/{demo}"), |bencher| {
            bencher.iter(|| input::read(black_box(&file)));
        });
        let design = input::read(&file).expect("a demo reads");
        criterion.bench_function(&format!("check/{demo}"), |bencher| {
            bencher.iter(|| check::run(black_box(&design)));
        });
    }
}

fn sweep(criterion: &mut Criterion) {
    let numbers = Numbers::read(&demo_file("sandpiper")).expect("a demo reads");
    let axes = ["slots.rib=10..16:0.1", "head.thickness=18..24:0.1"]
        .map(|range| Axis::parse(range, &numbers).expect("a range of a number of the demo"));
    let count: usize = axes.iter().map(|axis| axis.values.len()).product();
    let mut group = criterion.benchmark_group("sweep");
    group.sample_size(10);
    group.throughput(Throughput::Elements(count as u64));
    group.bench_function(format!("{count} checks on all cores"), |bencher| {
        bencher.iter(|| vary(black_box(&numbers), &axes, &|| ()));
    });
    group.finish();
}

criterion_group!(benches, one, sweep);
criterion_main!(benches);
