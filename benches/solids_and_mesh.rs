//! Building, proving and meshing the solids of each demo: `cargo bench --bench solids_and_mesh`.

mod heads;

use std::hint::black_box;

use barrelhead::solid::{self, mesh::mesh};
use criterion::{Criterion, criterion_group, criterion_main};

fn solids(criterion: &mut Criterion) {
    for demo in heads::DEMOS {
        let checked = heads::demo(demo);
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
