//! The marking sheet as the program writes it: true to size, on paper (rendered by pdftoppm) and in
//! the PDF's own coordinates; pages and their sizes; the correction for a printer that scales.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod demos;
    pub mod designs;
    pub mod has_poppler;
    pub mod pdf_lines;
    pub mod poppler;
    pub mod process;
    pub mod project;
    pub mod raster;
}

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use glam::{DVec2, dvec2};
use serde_json::Value;

use support::demos::{demo_file, demos};
use support::has_poppler::has_poppler;
use support::pdf_lines::{self, PdfPage};
use support::process::run;
use support::raster::Raster;

/// The PDF's coordinates are exact to this, mm: its numbers have five decimals of a millimetre or
/// more, and are read in single precision.
const EXACT: f64 = 0.001;
/// What a rendered page may be off, mm: a dot at 300 to the inch is 0.085 mm.
const RENDERED: f64 = 0.1;
const DOTS_PER_INCH: u32 = 300;

struct Made {
    folder: PathBuf,
    report: Value,
}

impl Made {
    fn new(design: &str, extra: &[&str]) -> Made {
        // Of its own: tests that run at once make the same design with the same options.
        static MADE: AtomicUsize = AtomicUsize::new(0);
        let number = MADE.fetch_add(1, Ordering::Relaxed);
        let name = format!("{design}{}-{number}", extra.join(""));
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("true-size")
            .join(name);
        let _ = fs::remove_dir_all(&folder);
        let mut command = Command::new(env!("CARGO_BIN_EXE_barrelhead"));
        command.args(["make", "--quiet", "--only", "bench"]);
        command
            .args(extra)
            .arg("--out")
            .arg(&folder)
            .arg(demo_file(design));
        run(&mut command, design);
        let text = fs::read_to_string(folder.join("report.json")).unwrap();
        let report = serde_json::from_str(&text).unwrap();
        Made { folder, report }
    }

    fn file(&self, name: &str) -> PathBuf {
        self.folder.join("bench").join(name)
    }

    fn pages(&self, name: &str) -> Vec<PdfPage> {
        pdf_lines::pages(&fs::read(self.file(name)).unwrap())
    }

    /// Side, distance along it, and where the bore enters, seen on the face.
    fn bores(&self) -> Vec<(String, f64, DVec2)> {
        let bores = self.report["bores"].as_array().unwrap();
        let of = |bore: &Value| {
            let entry = |i: usize| bore["entry"][i].as_f64().unwrap();
            let side = bore["side"].as_str().unwrap().to_owned();
            let along = bore["along_side"].as_f64().unwrap();
            (side, along, dvec2(entry(0), entry(1)))
        };
        bores.iter().map(of).collect()
    }
}

/// Check bars of a page: ends of the level one and of the upright one.
fn bars(page: &PdfPage, scale: f64) -> [[DVec2; 2]; 2] {
    [dvec2(1.0, 0.0), dvec2(0.0, 1.0)].map(|way| {
        let wanted = way * 100.0 * scale;
        let of_length: Vec<_> = page
            .lines
            .iter()
            .filter(|[a, b]| (*b - *a).distance(wanted) < EXACT)
            .collect();
        assert_eq!(of_length.len(), 1, "bars along {way}: {of_length:?}");
        *of_length[0]
    })
}

/// Where the head's origin lies on a page, and which bores have their mark there: an end of a line
/// at the bore's entry and one square across from it on the centre line.
fn marks(page: &PdfPage, entries: &[DVec2], scale: f64) -> (DVec2, Vec<usize>) {
    let ends: Vec<DVec2> = page.lines.iter().flatten().copied().collect();
    let has = |at: DVec2| ends.iter().any(|end| end.distance(at) < EXACT);
    let mut best = (DVec2::ZERO, vec![]);
    for end in &ends {
        for entry in entries {
            let origin = *end - *entry * scale;
            let there = |(_, entry): &(usize, &DVec2)| {
                has(origin + **entry * scale) && has(origin + dvec2(0.0, entry.y) * scale)
            };
            let found: Vec<usize> = entries
                .iter()
                .enumerate()
                .filter(there)
                .map(|(index, _)| index)
                .collect();
            if found.len() > best.1.len() {
                best = (origin, found);
            }
        }
    }
    best
}

/// Centres of the closed circles of a diameter.
fn circles(page: &PdfPage, diameter: f64) -> Vec<DVec2> {
    let mut found = vec![];
    let mut run: Vec<[DVec2; 4]> = vec![];
    for curve in &page.curves {
        if run
            .last()
            .is_some_and(|last| last[3].distance(curve[0]) > 1e-6)
        {
            run.clear();
        }
        run.push(*curve);
        if run[0][0].distance(curve[3]) < 1e-6 {
            let starts = run.iter().map(|curve| curve[0]);
            #[allow(clippy::cast_precision_loss, reason = "a circle has few pieces")]
            let centre = starts.sum::<DVec2>() / run.len() as f64;
            let off = |curve: &[DVec2; 4]| (curve[0].distance(centre) - diameter / 2.0).abs();
            if run.len() >= 4 && run.iter().all(|curve| off(curve) < EXACT) {
                found.push(centre);
            }
            run.clear();
        }
    }
    found
}

/// Marks on the face and mouths on the strips, on all pages, lie as report.json has the bores.
fn lies_true(made: &Made, scale: f64, what: &str) {
    let bores = made.bores();
    let entries: Vec<DVec2> = bores.iter().map(|bore| bore.2).collect();
    let diameter = made.report["bores"][0]["diameter"].as_f64().unwrap();
    let pages = made.pages("marking-sheet.pdf");
    let mut on_face = vec![];
    let (mut steps, mut mouths_seen) = (vec![], 0);
    for page in &pages {
        bars(page, scale);
        let (_, found) = marks(page, &entries, scale);
        on_face.extend(found);
        let mut mouths = circles(page, diameter * scale);
        mouths_seen += mouths.len();
        mouths.sort_by(|a, b| a.y.total_cmp(&b.y));
        for (index, one) in mouths.iter().enumerate() {
            // The next one straight up on the same strip.
            let next = mouths[index + 1..]
                .iter()
                .find(|p| (p.x - one.x).abs() < 2.0);
            steps.extend(next.map(|next| next.distance(*one)));
        }
    }
    on_face.sort_unstable();
    on_face.dedup();
    assert_eq!(on_face.len(), bores.len(), "{what}: marks {on_face:?}");
    assert!(mouths_seen >= bores.len(), "{what}: {mouths_seen} mouths");
    // A strip in two pages shows the step over their join on neither.
    let joins = 2 * (pages.len() - 1);
    let pairs = bores.windows(2).filter(|pair| pair[0].0 == pair[1].0);
    let pitches: Vec<f64> = pairs.map(|pair| (pair[1].1 - pair[0].1) * scale).collect();
    assert!(steps.len() + joins >= pitches.len(), "{what}: {steps:?}");
    for step in &steps {
        // Each demo has one pitch.
        assert!((step - pitches[0]).abs() < EXACT, "{what}: {step}");
        assert!(
            pitches
                .iter()
                .all(|pitch| (pitch - pitches[0]).abs() < 1e-6)
        );
    }
}

#[test]
fn marks_lie_true_in_the_pdfs_own_coordinates() {
    for design in &demos() {
        for paper in ["a4", "letter"] {
            let made = Made::new(design, &["--paper", paper]);
            lies_true(&made, 1.0, &format!("{design} on {paper}"));
        }
    }
}

#[test]
fn a_measured_bar_enlarges_everything_but_the_paper() {
    for design in ["sandpiper", "turnstone"] {
        let plain = Made::new(design, &[]);
        let larger = Made::new(design, &["--bar", "99.6"]);
        lies_true(&larger, 100.0 / 99.6, design);
        let pages = larger.pages("marking-sheet.pdf");
        let size = plain.pages("marking-sheet.pdf")[0].size;
        for page in &pages {
            assert!(page.size.distance(size) < EXACT, "{design}");
        }
        // The other sheets are not true to size and stay as they are.
        for name in ["setup-sheet.pdf", "rig.pdf"] {
            let same = fs::read(plain.file(name)).unwrap() == fs::read(larger.file(name)).unwrap();
            assert!(same, "{design}: {name}");
        }
    }
}

#[test]
fn pages_are_counted_and_as_large_as_their_paper() {
    // Counted on the sheets as looked at; the papers' sizes as published, ISO 216 and ANSI.
    let counts = [
        ("sandpiper", [1, 2]),
        ("dunlin", [1, 1]),
        ("curlew", [2, 2]),
        ("godwit", [2, 2]),
        ("plover", [1, 2]),
        ("snipe", [1, 2]),
        ("turnstone", [1, 1]),
        ("whimbrel", [2, 2]),
    ];
    assert_eq!(counts.len(), demos().len(), "every demo has its row");
    let papers = [("a4", dvec2(210.0, 297.0)), ("letter", dvec2(215.9, 279.4))];
    for (design, counts) in counts {
        for ((paper, size), count) in papers.iter().zip(counts) {
            let made = Made::new(design, &["--paper", paper]);
            for (name, count) in [
                ("marking-sheet.pdf", Some(count)),
                ("setup-sheet.pdf", Some(2)),
                ("rig.pdf", None),
            ] {
                let pages = made.pages(name);
                let what = format!("{design}: {name} on {paper}");
                assert!(
                    count.is_none_or(|count| count == pages.len()),
                    "{what}: {}",
                    pages.len()
                );
                for page in pages {
                    let upright = dvec2(page.size.min_element(), page.size.max_element());
                    assert!(upright.distance(*size) < EXACT, "{what}: {upright}");
                }
            }
        }
    }
}

/// Middle of the line that crosses the way through `at` in the direction `way`, within `reach`.
fn crossed(raster: &Raster, at: DVec2, way: DVec2, reach: f64) -> DVec2 {
    let ink = raster.ink(at - way * reach, at + way * reach);
    let [first, last] = ink.unwrap_or_else(|| panic!("no ink at {at}"));
    assert!(first.distance(last) < 0.75, "more than a line at {at}");
    (first + last) / 2.0
}

fn prints_true(made: &Made, page_number: u32, scale: f64, what: &str) {
    let file = made.file("marking-sheet.pdf");
    let raster = Raster::of(&file, page_number, DOTS_PER_INCH);
    let page = &made.pages("marking-sheet.pdf")[page_number as usize - 1];
    assert!((raster.size() - page.size).abs().max_element() < RENDERED);
    // Bars from end tick to end tick, measured beside the bar.
    for [a, b] in bars(page, scale) {
        let along = (b - a).normalize();
        let beside = along.perp() * 3.0;
        let ends = [a, b].map(|end| crossed(&raster, end + beside, along, 1.0));
        let length = ends[0].distance(ends[1]);
        assert!(
            (length - 100.0 * scale).abs() < RENDERED,
            "{what}: {length}"
        );
    }
    let bores = made.bores();
    let entries: Vec<DVec2> = bores.iter().map(|bore| bore.2).collect();
    let (origin, found) = marks(page, &entries, scale);
    assert!(found.len() > 1, "{what}: {found:?}");
    // Two millimetres off the centre line the drawn axis still lies well apart from the mark.
    let beside = |index: usize| dvec2(2.0 * entries[index].x.signum(), entries[index].y);
    let seen: Vec<DVec2> = found
        .iter()
        .map(|&index| crossed(&raster, origin + beside(index) * scale, DVec2::Y, 0.4))
        .collect();
    for (i, one) in found.iter().zip(&seen) {
        for (j, other) in found.iter().zip(&seen) {
            let wanted = (entries[*j].y - entries[*i].y) * scale;
            let off = other.y - one.y - wanted;
            assert!(
                off.abs() < RENDERED,
                "{what}: bores {i} and {j} are {off} off"
            );
        }
    }
    // Across the head: where the mouths of its bores lie on the strips.
    let diameter = made.report["bores"][0]["diameter"].as_f64().unwrap() * scale;
    let mouths = circles(page, diameter);
    assert!(mouths.len() > 1, "{what}");
    for mouth in mouths {
        // Half-way between the axis's directions nothing else crosses the circle.
        let out = dvec2(0.8, -0.6);
        let rim = crossed(&raster, mouth + out * (diameter / 2.0), out, 0.6);
        let off = rim.distance(mouth) - diameter / 2.0;
        assert!(
            off.abs() < RENDERED,
            "{what}: mouth at {mouth} is {off} off"
        );
    }
}

#[test]
fn sheets_print_true() {
    if !has_poppler() {
        return;
    }
    for (design, paper, bar) in [
        ("sandpiper", "a4", None),
        ("sandpiper", "a4", Some("99.6")),
        ("dunlin", "letter", None),
        ("curlew", "letter", None),
    ] {
        let mut extra = vec!["--paper", paper];
        extra.extend(bar.iter().flat_map(|bar| ["--bar", bar]));
        let made = Made::new(design, &extra);
        let scale = bar.map_or(1.0, |bar| 100.0 / bar.parse::<f64>().unwrap());
        prints_true(&made, 1, scale, &format!("{design} {extra:?}"));
    }
}
