//! `make --watch`: saved files are made anew, mistakes are shown and the last good files kept, and who
//! reads the output meanwhile sees whole files only. Nothing here sleeps for a fixed time: every step
//! waits for what it expects, up to a deadline that only a hang reaches.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use serde_json::Value;

/// An unoptimised build on a busy machine makes a design in a few seconds.
const DEADLINE: Duration = Duration::from_secs(120);

const SET: &str = "[machines]
barrel_diameter = 10.0
barrel_length = 30.5
string_hole = 19.0
plate_width = 17.4
plate_thickness = 1.2
pitches = [35.0, 35.0]
overhang = [17.0, 18.5]
";

fn design(thickness: &str) -> String {
    format!(
        "title = \"Watched\"
[head]
length = 196.0
side_end = 184.0
width_at_nut_end = 63.0
width_at_crest_end = 71.0
thickness = {thickness}
angle = 14.0
crest = \"arch\"
[nut]
string_span = 43.0
string_height = 4.2
[machines]
from = \"sets/one.toml\"
[placement]
[bores]
diameter = 10.5
beyond_barrel = 2.0
[slots]
width = 15.0
rib = 14.0
end_margin = [18.0, 18.0]
[guide]
depth = 24.0
end_margin = 31.0
"
    )
}

/// A running watch; its lines come through a channel. Killed when dropped.
struct Watch {
    child: Child,
    lines: Receiver<String>,
    folder: tempfile::TempDir,
}

impl Drop for Watch {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Watch {
    fn on(text: &str) -> Watch {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("sets")).unwrap();
        fs::write(folder.path().join("sets/one.toml"), SET).unwrap();
        fs::write(folder.path().join("mine.toml"), text).unwrap();
        // One pipe for both, so that their lines keep their order.
        let line = "exec \"$0\" make mine.toml --watch --only report 2>&1";
        let mut child = Command::new("sh")
            .args(["-c", line, env!("CARGO_BIN_EXE_barrelhead")])
            .current_dir(folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (told, lines) = channel();
        let out = BufReader::new(child.stdout.take().unwrap());
        std::thread::spawn(move || {
            let lines = out.lines().map_while(Result::ok);
            lines.for_each(|line| told.send(line).unwrap_or(()));
        });
        Watch {
            child,
            lines,
            folder,
        }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// What is said up to the line that ends a round.
    fn round(&self) -> String {
        let mut said = String::new();
        loop {
            match self.lines.recv_timeout(DEADLINE) {
                Ok(line) => {
                    let last = line.contains("Watching ");
                    said.push_str(&line);
                    said.push('\n');
                    if last {
                        return said;
                    }
                }
                Err(RecvTimeoutError::Timeout) => panic!("nothing came; before: {said}"),
                Err(RecvTimeoutError::Disconnected) => panic!("it ended: {said}"),
            }
        }
    }

    /// Waits until something holds; what a round said may come a moment after its files.
    fn until(&self, what: &str, holds: impl Fn() -> bool) {
        let since = Instant::now();
        while !holds() {
            assert!(since.elapsed() < DEADLINE, "{what}");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// The report; it is away while the other files are exchanged, so that it never stands beside a
    /// mixed set.
    fn report(&self) -> Value {
        let since = Instant::now();
        loop {
            match fs::read_to_string(self.path("output/mine/report.json")) {
                Ok(text) => return serde_json::from_str(&text).unwrap(),
                Err(error) => assert!(since.elapsed() < DEADLINE, "{error}"),
            }
        }
    }

    fn thickness(&self) -> f64 {
        let low = &self.report()["solids"]["head"]["bounding_box"]["min"][2];
        -low.as_f64().unwrap()
    }

    fn diameter(&self) -> f64 {
        let checks = self.report()["checks"].as_array().unwrap().clone();
        let clearance = checks.iter().find(|check| check["code"] == "clearance");
        10.5 - clearance.unwrap()["value"].as_f64().unwrap()
    }
}

fn save_by_renaming(path: &Path, text: &str) {
    let beside = path.with_extension("toml.new");
    fs::write(&beside, text).unwrap();
    fs::rename(beside, path).unwrap();
}

#[test]
fn saves_are_made_anew_and_mistakes_keep_the_last_good_files() {
    let watch = Watch::on(&design("20.4"));
    let first = watch.round();
    assert!(
        first.contains("mine.toml") && first.contains("sets/one.toml"),
        "{first}"
    );
    assert!((watch.thickness() - 20.4).abs() < 1e-9);

    // In place, and by another file put in its place.
    fs::write(watch.path("mine.toml"), design("21.0")).unwrap();
    watch.until("saved in place", || (watch.thickness() - 21.0).abs() < 1e-9);
    watch.round();
    save_by_renaming(&watch.path("mine.toml"), &design("21.4"));
    watch.until("renamed", || (watch.thickness() - 21.4).abs() < 1e-9);
    watch.round();

    // A file it takes from.
    save_by_renaming(&watch.path("sets/one.toml"), &SET.replace("10.0", "10.1"));
    watch.until("the set", || (watch.diameter() - 10.1).abs() < 1e-9);
    watch.round();

    // A mistake: told with its line, the files stay as they were.
    let kept = fs::read(watch.path("output/mine/head.step")).unwrap();
    fs::write(watch.path("mine.toml"), design("thick")).unwrap();
    let mut said = String::new();
    while !said.contains("thick") {
        said = watch.round();
    }
    assert!(said.contains("Nothing was written"), "{said}");
    assert_eq!(fs::read(watch.path("output/mine/head.step")).unwrap(), kept);

    // A design that a check stops; then a file gone, and both mended.
    fs::write(watch.path("mine.toml"), design("11.0")).unwrap();
    while !said.contains("stop") {
        said = watch.round();
    }
    fs::remove_file(watch.path("sets/one.toml")).unwrap();
    while !said.contains("sets/one.toml") || !said.contains("Nothing was written") {
        said = watch.round();
    }
    assert_eq!(fs::read(watch.path("output/mine/head.step")).unwrap(), kept);
    fs::write(watch.path("sets/one.toml"), SET).unwrap();
    fs::write(watch.path("mine.toml"), design("22.0")).unwrap();
    watch.until("mended", || (watch.thickness() - 22.0).abs() < 1e-9);
    assert!((watch.diameter() - 10.0).abs() < 1e-9);
}

/// Who looks all the time finds whole files: report.json parses, head.stl is as long as its count of
/// triangles says, both through many rebuilds.
#[test]
fn a_viewer_that_reloads_sees_whole_files_only() {
    let watch = Watch::on(&design("20.4"));
    watch.round();
    let stl = watch.path("output/mine/head.stl");
    let mut looks = 0;
    for step in 0..6 {
        let wanted = 20.5 + 0.1 * f64::from(step);
        fs::write(watch.path("mine.toml"), design(&format!("{wanted:?}"))).unwrap();
        let since = Instant::now();
        loop {
            let found = watch.thickness();
            let bytes = fs::read(&stl).unwrap();
            let count = u32::from_le_bytes(bytes[80..84].try_into().unwrap());
            assert_eq!(bytes.len(), 84 + 50 * count as usize, "look {looks}");
            looks += 1;
            if (found - wanted).abs() < 1e-9 {
                break;
            }
            assert!(since.elapsed() < DEADLINE, "{wanted} never came");
        }
    }
    assert!(looks > 6, "{looks}");
}

#[test]
fn watching_and_json_do_not_go_together() {
    let output = Command::new(env!("CARGO_BIN_EXE_barrelhead"))
        .args(["make", "mine.toml", "--watch", "--json"])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
}
