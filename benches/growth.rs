//! What a bore costs on a head of two bores a side and of 64: `cargo bench --bench growth`.
//!
//! Prints microseconds a bore for each stage, best of several runs, and how far the dearest bore is from
//! the cheapest. A stage whose bores cost twice as much on a long head grows faster than the head.

#![allow(clippy::expect_used, reason = "a bench stops at the first surprise")]

mod heads {
    pub mod checked;
    pub mod plain;
    pub mod step_text;
}

use std::hint::black_box;
use std::time::{Duration, Instant};

use barrelhead::check;
use barrelhead::input::{Design, read_str};
use barrelhead::solid::{self, mesh::mesh};
use heads::checked::checked;
use heads::plain::plain;
use heads::step_text::step_text;

const BORES: [usize; 6] = [2, 4, 8, 16, 32, 64];

fn main() {
    println!("microseconds a bore, with all that belongs to it");
    print!("{:>24}", "bores a side");
    for bores in BORES {
        print!("{bores:>9}");
    }
    println!("{:>18}", "dearest/cheapest");
    let texts = BORES.map(plain);
    row("read and check", |at| {
        black_box(check::run(&read(&texts[at])));
    });
    let checked = BORES.map(|bores| checked(&read(&plain(bores))));
    row("solids", |at| {
        black_box(solid::unproved(&checked[at]));
    });
    row("proved and meshed", |at| {
        black_box(solid::build(&checked[at]).expect("a sound solid"));
    });
    let breps: Vec<_> = checked.iter().map(solid::unproved).collect();
    row("mesh", |at| {
        for brep in &breps[at] {
            black_box(mesh(brep, 0.02).expect("a sound mesh"));
        }
    });
    let built: Vec<_> = checked
        .iter()
        .map(|checked| solid::build(checked).expect("a sound solid"))
        .collect();
    row("STEP", |at| {
        for part in built[at].parts() {
            black_box(step_text(part));
        }
    });
}

fn read(text: &str) -> Design {
    read_str(text, "plain.toml".as_ref(), ".".as_ref()).expect("a plain head")
}

/// Times a stage on every head and prints its row.
fn row(stage: &str, work: impl Fn(usize)) {
    print!("{stage:>24}");
    let costs: Vec<f64> = (0..BORES.len())
        .map(|at| best(|| work(at)) * 1e6 / (2 * BORES[at]) as f64)
        .collect();
    for cost in &costs {
        print!("{cost:>9.2}");
    }
    let dearest = costs.iter().copied().fold(0.0, f64::max);
    let cheapest = costs.iter().copied().fold(f64::INFINITY, f64::min);
    println!("{:>18.2}", dearest / cheapest);
}

/// Seconds of the quickest run within a third of a second, of three at least: what others do on the
/// machine only ever adds.
fn best(work: impl Fn()) -> f64 {
    let (begun, mut best, mut runs) = (Instant::now(), f64::INFINITY, 0);
    while runs < 3 || begun.elapsed() < Duration::from_millis(350) {
        let since = Instant::now();
        work();
        best = best.min(since.elapsed().as_secs_f64());
        runs += 1;
    }
    best
}
