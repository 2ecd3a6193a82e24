//! Everything `make` does for each demo, from start of the program to its files on the disk, and the
//! memory at its peak: `cargo bench --bench whole_make`.
//!
//! A run is a process of its own: this bench starts itself again with a demo's name, and the new process
//! tells its peak before it ends. It links the libraries that only benches need, so its peak lies a little
//! above the program's own. Every run begins with an empty folder.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a bench stops at the first surprise"
)]

#[path = "../tests/support"]
mod support {
    pub mod demos;
    pub mod designs;
    pub mod project;
}

use std::process::{Command, ExitCode};
use std::time::Instant;
use std::{env, fs};

use barrelhead::cli;
use support::demos::{demo_file, demos};

/// Names the demo to a process that makes it.
const DEMO: &str = "BARRELHEAD_BENCH_DEMO";
/// Names the folder it makes it in.
const FOLDER: &str = "BARRELHEAD_BENCH_FOLDER";
/// Runs of each demo.
const RUNS: usize = 15;

fn main() -> ExitCode {
    if let (Some(demo), Some(folder)) = (env::var_os(DEMO), env::var_os(FOLDER)) {
        let file = demo_file(demo.to_str().expect("a demo's name"));
        let line = ["barrelhead".into(), "make".into(), file.into()];
        let rest = ["--quiet".into(), "--out".into(), folder];
        let ended = cli::run(line.into_iter().chain(rest));
        let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
        let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        println!("{}", peak.unwrap_or("? kB").trim());
        return ended.into();
    }
    println!(
        "{:>12}{:>14}{:>14}{:>14}",
        "demo", "best, ms", "median, ms", "peak"
    );
    for demo in demos() {
        let place = tempfile::tempdir().unwrap();
        let mut times = Vec::new();
        let mut peak = String::new();
        for _ in 0..RUNS {
            let out = place.path().join("out");
            let _ = fs::remove_dir_all(&out);
            assert!(
                !out.exists(),
                "{demo}: an earlier run's files are still there"
            );
            let mut command = Command::new(env::current_exe().unwrap());
            command.env(DEMO, &demo).env(FOLDER, &out);
            let since = Instant::now();
            let output = command.output().unwrap();
            times.push(since.elapsed().as_secs_f64() * 1e3);
            assert!(output.status.success(), "{demo}: {output:?}");
            assert!(out.join("report.html").is_file(), "{demo}");
            let said = String::from_utf8_lossy(&output.stdout).into_owned();
            peak = said.lines().last().unwrap_or("?").to_owned();
        }
        times.sort_by(f64::total_cmp);
        let (best, median) = (times[0], times[RUNS / 2]);
        println!("{demo:>12}{best:>14.0}{median:>14.0}{peak:>14}");
    }
    ExitCode::SUCCESS
}
