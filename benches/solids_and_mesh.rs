//! Building, proving and meshing the solids of each demo: `cargo bench --bench solids_and_mesh`.

#![allow(clippy::expect_used, reason = "a bench stops at the first surprise")]

mod heads {
    pub mod checked;
}
#[path = "../tests/support"]
mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::hint::black_box;

use barrelhead::input;
use barrelhead::solid::{self, mesh::mesh};
use criterion::{Criterion, criterion_group, criterion_main};
use heads::checked::checked;
use support::demos::{demo_file, demos};

fn solids(criterion: &mut Criterion) {
    for demo in demos() {
        let checked = checked(&input::read(&demo_file(&demo)).expect("a demo reads"));
        criterion.bench_function(&format!("solids/{demo}"), |bencher| {
            bencher.iter(|| solid::unproved(black_box(&checked)));
        });
        criterion.bench_function(
            &format!("solids and copies, proved and meshed/{demo}"),
            |bencher| bencher.iter(|| solid::build(black_box(&checked))),
        );
        let breps = solid::unproved(&checked);
        let chord = checked.finished().design.print.chord;
        criterion.bench_function(&format!("mesh/{demo}"), |bencher| {
            bencher.iter(|| {
                let meshes = breps.iter().map(|brep| mesh(black_box(brep), chord));
                meshes.collect::<Result<Vec<_>, _>>()
            });
        });
    }
}

criterion_group!(benches, solids);
criterion_main!(benches);
