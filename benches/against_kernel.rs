//! Our solids, meshes and STEP files timed beside OpenCASCADE's, in one run, on the same designs:
//! `cargo bench --bench against_kernel` prints the table of DEVELOPERS.md.
//!
//! OpenCASCADE runs in the Python environment of the reference tests, `tests/reference/time_kernel.py`;
//! its import and start-up are left out. Both sides work in one thread, both make head and block or
//! blocks, both write their STEP files to the disk. All times are the processor's, so that a busy machine
//! does not flatter the shorter one: medians of OpenCASCADE's, means over half a second of ours.
//!
//! OpenCASCADE keeps closer to a curved surface than the chord it is given, so a mesh of ours that is
//! as close as its own is set beside it too.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a bench stops at the first surprise"
)]

mod heads {
    pub mod plain;
    pub mod step_text;
}

#[path = "../tests/support"]
mod support {
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use barrelhead::check::{self, Checked};
use barrelhead::input;
use barrelhead::solid::brep::Surface;
use barrelhead::solid::{self, mesh::mesh_by_face};
use heads::plain::plain;
use heads::step_text::step_text;
use support::process::run;
use support::project::root;
use support::reference::script;

/// What one side needs for a design, seconds, and what came of it.
struct Figures {
    solids: f64,
    mesh: f64,
    step: f64,
    triangles: f64,
    farthest: f64,
    volume: f64,
    /// Time and triangles of a mesh that strays no farther than the other side's.
    close_mesh: f64,
    close_triangles: f64,
}

fn main() {
    let scratch = Path::new(env!("CARGO_TARGET_TMPDIR")).join("against-kernel");
    fs::create_dir_all(&scratch).unwrap();
    let long = scratch.join("sixty-four.toml");
    fs::write(&long, plain(64)).unwrap();
    let designs = [
        ("Sandpiper", root().join("params/sandpiper.toml")),
        ("Curlew", root().join("params/curlew.toml")),
        ("64 bores a side", long),
    ];
    let theirs = theirs(&scratch, designs.iter().map(|(_, path)| path));
    println!("| design | step | barrelhead | OpenCASCADE | ratio |");
    println!("|---|---|---:|---:|---:|");
    // One thread for ours too, and the whole of it on that thread, whose time is taken.
    let alone = rayon::ThreadPoolBuilder::new().num_threads(1).build();
    alone.unwrap().install(|| {
        for ((name, path), theirs) in designs.iter().zip(&theirs) {
            print_design(name, path, theirs, &scratch);
        }
    });
}

/// OpenCASCADE's figures, a design a line.
fn theirs<'a>(scratch: &Path, designs: impl Iterator<Item = &'a PathBuf>) -> Vec<Figures> {
    let output = run(
        script("time_kernel.py").arg(scratch).args(designs),
        "timing OpenCASCADE",
    );
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines()
        .map(|line| {
            let line: serde_json::Value = serde_json::from_str(line).unwrap();
            let figure = |key: &str| line[key].as_f64().unwrap();
            Figures {
                solids: figure("solids"),
                mesh: figure("mesh"),
                step: figure("step"),
                triangles: figure("triangles"),
                farthest: figure("farthest"),
                volume: figure("volume"),
                close_mesh: figure("mesh"),
                close_triangles: figure("triangles"),
            }
        })
        .collect()
}

/// Times our own steps of a design and prints its rows.
fn print_design(name: &str, path: &Path, theirs: &Figures, scratch: &Path) {
    let design = input::read(path).unwrap_or_else(|found| panic!("{name}: {}", found[0].message));
    let (report, checked) = check::run(&design);
    let checked = checked.unwrap_or_else(|| panic!("{name}: {:?}", report.verdict()));
    let (ours, proved) = ours(&checked, theirs.farthest, scratch);
    // Times of two different solids would say nothing.
    let apart = (ours.volume - theirs.volume).abs() / theirs.volume;
    assert!(apart < 1e-8, "{name}: volumes are {apart:e} apart");
    let times = |step: &str, ours: f64, theirs: f64| {
        println!(
            "| {name} | {step} | {} | {} | {:.0} |",
            seconds(ours),
            seconds(theirs),
            theirs / ours
        );
    };
    times("solids", ours.solids, theirs.solids);
    times(
        "solids and printed copies, proved and meshed",
        proved,
        theirs.solids,
    );
    times("mesh", ours.mesh, theirs.mesh);
    times(
        "mesh, as close as OpenCASCADE's",
        ours.close_mesh,
        theirs.mesh,
    );
    times("STEP", ours.step, theirs.step);
    let counts = |what: &str, ours: f64| {
        let theirs = theirs.triangles;
        println!(
            "| {name} | {what} | {ours} | {theirs} | {:.3} |",
            theirs / ours
        );
    };
    counts("triangles", ours.triangles);
    counts("triangles, as close as OpenCASCADE's", ours.close_triangles);
    println!(
        "| {name} | farthest off the surface, mm | {:.4} | {:.4} | |",
        ours.farthest, theirs.farthest
    );
}

/// Our figures, and the time of everything that `make` builds. `close` is the chord of the closer mesh, mm.
fn ours(checked: &Checked, close: f64, scratch: &Path) -> (Figures, f64) {
    let chord = checked.finished().design.print.chord;
    let (solids, breps) = timed(|| solid::unproved(checked));
    let (proved, built) = timed(|| solid::build(checked).unwrap());
    let meshed = |chord| {
        let meshes = breps.iter().map(|brep| mesh_by_face(brep, chord).unwrap());
        meshes.collect::<Vec<_>>()
    };
    let (mesh, meshes) = timed(|| meshed(chord));
    let (close_mesh, close_meshes) = timed(|| meshed(close));
    let (step, ()) = timed(|| {
        for part in built.parts() {
            let text = step_text(part);
            fs::write(scratch.join(format!("{}.step", part.stem)), text).unwrap();
        }
    });
    let mut farthest = 0.0_f64;
    let mut triangles = 0;
    for (brep, (mesh, ranges)) in breps.iter().zip(&meshes) {
        triangles += mesh.triangles.len();
        for (face, range) in brep.faces.iter().zip(ranges) {
            if let Surface::Plane { .. } = face.surface {
                continue;
            }
            for corners in &mesh.triangles[range.clone()] {
                let [a, b, c] = corners.map(|id| mesh.points[id]);
                for middle in [
                    (a + b) / 2.0,
                    (b + c) / 2.0,
                    (c + a) / 2.0,
                    (a + b + c) / 3.0,
                ] {
                    farthest = farthest.max(face.surface.distance(middle).abs());
                }
            }
        }
    }
    let figures = Figures {
        solids,
        mesh,
        step,
        triangles: triangles as f64,
        farthest,
        volume: built.parts().map(|part| part.measures.volume).sum(),
        close_mesh,
        close_triangles: close_meshes
            .iter()
            .map(|(mesh, _)| mesh.triangles.len() as f64)
            .sum(),
    };
    (figures, proved)
}

/// Time of `work` in seconds, over half a second of runs or five, and its last result: the mean of the
/// processor's time where the system tells it, else the median of the clock's.
fn timed<T>(work: impl Fn() -> T) -> (f64, T) {
    let mut result = black_box(work());
    let (mut times, begun, worked) = (Vec::new(), Instant::now(), processor());
    while times.len() < 5 || begun.elapsed() < Duration::from_millis(500) {
        let since = Instant::now();
        result = black_box(work());
        times.push(since.elapsed().as_secs_f64());
    }
    if let (Some(from), Some(to)) = (worked, processor()) {
        return ((to - from) / times.len() as f64, result);
    }
    times.sort_by(f64::total_cmp);
    (times[times.len() / 2], result)
}

/// Seconds for which this thread has had a processor, as Linux counts them, to some 4 ms.
fn processor() -> Option<f64> {
    let counts = fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = counts.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds * 1e-9)
}

/// Three digits and a unit that suits them.
fn seconds(time: f64) -> String {
    let (value, unit) = match time {
        t if t >= 1.0 => (t, "s"),
        t if t >= 1e-3 => (t * 1e3, "ms"),
        t => (t * 1e6, "µs"),
    };
    let digits = (2 - value.log10().floor() as i32).max(0) as usize;
    format!("{value:.digits$} {unit}")
}
