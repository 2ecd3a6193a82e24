//! What a bore costs on a head of two bores a side and of 64: `cargo bench --bench growth`.
//!
//! Prints microseconds a bore for each stage, best of several runs, and how far the dearest bore is from
//! the cheapest, by the median of rounds. A stage whose bores cost more than twice as much on one head as on
//! another grows faster than the head: it is said to be past the aim, and the bench ends with status 1.

#![allow(clippy::expect_used, reason = "a bench stops at the first surprise")]

mod judge {
    pub mod aim;
}
mod heads {
    pub mod checked;
    pub mod plain;
    pub mod step_text;
}

use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use barrelhead::check;
use barrelhead::input::{Design, read_str};
use barrelhead::solid::{self, mesh::mesh};
use heads::checked::checked;
use heads::plain::plain;
use heads::step_text::step_text;
use judge::aim::{AIM, judge};

const BORES: [usize; 6] = [2, 4, 8, 16, 32, 64];
/// Rounds over all heads.
const ROUNDS: usize = 7;
/// A head's share of a round.
const SHARE: Duration = Duration::from_millis(50);

fn main() -> ExitCode {
    println!("microseconds a bore, with all that belongs to it");
    print!("{:>24}", "bores a side");
    for bores in BORES {
        print!("{bores:>9}");
    }
    println!("{:>18}", "dearest/cheapest");
    let mut past = Vec::new();
    let texts = BORES.map(plain);
    row(&mut past, "read and check", |at| {
        black_box(check::run(&read(&texts[at])));
    });
    let checked = BORES.map(|bores| checked(&read(&plain(bores))));
    row(&mut past, "solids", |at| {
        black_box(solid::unproved(&checked[at]));
    });
    row(&mut past, "proved and meshed", |at| {
        black_box(solid::build(&checked[at]).expect("a sound solid"));
    });
    let breps: Vec<_> = checked.iter().map(solid::unproved).collect();
    row(&mut past, "mesh", |at| {
        for brep in &breps[at] {
            black_box(mesh(brep, 0.02).expect("a sound mesh"));
        }
    });
    let built: Vec<_> = checked
        .iter()
        .map(|checked| solid::build(checked).expect("a sound solid"))
        .collect();
    row(&mut past, "STEP", |at| {
        for part in built[at].parts() {
            black_box(step_text(part));
        }
    });
    if past.is_empty() {
        println!("no stage is past the aim of {AIM}");
        return ExitCode::SUCCESS;
    }
    println!("past the aim of {AIM}: {}", past.join(", "));
    ExitCode::FAILURE
}

fn read(text: &str) -> Design {
    read_str(text, "plain.toml".as_ref(), ".".as_ref()).expect("a plain head")
}

/// Times a stage on every head and prints its row.
fn row(past: &mut Vec<&str>, stage: &'static str, work: impl Fn(usize)) {
    print!("{stage:>24}");
    let judged = judge(|| {
        let heads = || (0..BORES.len()).map(|at| best(|| work(at)) * 1e6 / (2 * BORES[at]) as f64);
        (0..ROUNDS).map(|_| heads().collect()).collect()
    });
    for cost in &judged.costs {
        print!("{cost:>9.2}");
    }
    println!("{:>18.2}  {}", judged.factor, judged.words());
    if judged.past() {
        past.push(stage);
    }
}

/// Seconds of the quickest run within a head's share, of two at least: what others do on the machine only
/// ever adds.
fn best(work: impl Fn()) -> f64 {
    let (begun, mut best, mut runs) = (Instant::now(), f64::INFINITY, 0);
    while runs < 2 || begun.elapsed() < SHARE {
        let since = Instant::now();
        work();
        best = best.min(since.elapsed().as_secs_f64());
        runs += 1;
    }
    best
}
