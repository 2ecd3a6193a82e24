//! Random designs: whatever the checks let pass must build and prove itself, and must obey the
//! laws of the workshop: a mirror, another unit, another order of keys change nothing but signs.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod random;

use std::collections::BTreeMap;

use barrelhead::check::{self, Checked, Report, Verdict};
use barrelhead::input;
use barrelhead::layout::{Copy, Layout};
use barrelhead::solid::{self, Solids};
use random::features::{FEATURES, features};
use random::look::look_at;
use random::{Dice, Sheet, Value};
use rayon::prelude::*;

enum Fate {
    Built(Box<(Report, Solids, Checked)>),
    Stopped(Report),
    Refused(String),
    /// Passed its checks and failed its proof: a fault of the program.
    Faulty(String),
}

fn fate(text: &str) -> Fate {
    let design = match input::read_str(text, "random.toml".as_ref(), ".".as_ref()) {
        Ok(design) => design,
        Err(findings) => return Fate::Refused(findings[0].message.clone()),
    };
    let finished = Layout::new(&design, Copy::Finished);
    let printed = Layout::new(&design, Copy::Printed);
    if let Some(fault) = barrelhead::layout::faults(&printed).first() {
        return Fate::Refused(fault.message.clone());
    }
    match check::verdicts(finished, printed) {
        (report, Some(checked)) => match solid::build(&checked) {
            Ok(solids) => Fate::Built(Box::new((report, solids, checked))),
            Err(fault) => Fate::Faulty(fault.to_string()),
        },
        (report, None) => Fate::Stopped(report),
    }
}

/// What became of many designs.
#[derive(Default)]
struct Tally {
    built: usize,
    stops: BTreeMap<&'static str, usize>,
    refused: BTreeMap<String, usize>,
    features: BTreeMap<&'static str, usize>,
    /// What was wrong with the first that failed, and its file.
    fault: Option<String>,
}

impl Tally {
    fn and(mut self, other: Tally) -> Tally {
        fn add<K: Ord>(sums: &mut BTreeMap<K, usize>, more: BTreeMap<K, usize>) {
            for (key, count) in more {
                *sums.entry(key).or_default() += count;
            }
        }
        self.built += other.built;
        self.fault = self.fault.or(other.fault);
        add(&mut self.stops, other.stops);
        add(&mut self.refused, other.refused);
        add(&mut self.features, other.features);
        self
    }
}

/// Message of a refusal without its numbers, so that like ones are counted together.
fn in_kind(message: &str) -> String {
    message.replace(|c: char| c.is_ascii_digit() || c == '.' || c == '-', "")
}

/// Draws, builds and looks at so many designs.
fn try_many(seed: u64, count: usize) -> Tally {
    let mut dice = Dice::new(seed);
    let texts: Vec<String> = (0..count)
        .map(|_| random::design(&mut dice).millimetres())
        .collect();
    texts
        .par_iter()
        .map(|text| {
            let mut tally = Tally::default();
            match fate(text) {
                Fate::Built(built) => {
                    let (_, solids, checked) = *built;
                    let layout = checked.finished();
                    let further = || {
                        solid::assembly::assembly(layout, &solids, Some(60.0)).map(|_| ())?;
                        solid::rig::rig_solids(layout).map(|_| ())
                    };
                    let seen = look_at(&solids, &checked);
                    let seen = seen.and_then(|()| further().map_err(|fault| fault.to_string()));
                    tally.fault = seen.err().map(|fault| format!("{fault}\n{text}"));
                    tally.built = 1;
                    for feature in features(&layout.design, layout) {
                        tally.features.insert(feature, 1);
                    }
                }
                Fate::Stopped(report) => {
                    for finding in &report.findings {
                        if finding.verdict == Verdict::Stop {
                            tally.stops.insert(finding.code, 1);
                        }
                    }
                }
                Fate::Faulty(fault) => tally.fault = Some(format!("{fault}\n{text}")),
                Fate::Refused(message) => {
                    tally.refused.insert(in_kind(&message), 1);
                }
            }
            tally
        })
        .reduce(Tally::default, Tally::and)
}

/// The closed list of the contract: no design is refused for anything else.
const STOPS: [&str; 20] = [
    "wood-over",
    "wood-under",
    "web",
    "cheek",
    "rib",
    "end-wood",
    "slot-end",
    "bearing",
    "rim",
    "edges",
    "counterbore",
    "bore-depth",
    "clearance",
    "barrels-apart",
    "far-wood",
    "ramp-depth",
    "screw-slot",
    "screw-bore",
    "block-wood",
    "block-bore",
];

fn report_of(name: &str, seed: u64, count: usize, tally: &Tally) {
    if let Some(fault) = &tally.fault {
        panic!("{name} seed {seed}: {fault}");
    }
    println!(
        "{name} seed {seed}: {} of {count} built\n  stopped by {:?}\n  refused as input: {:#?}",
        tally.built, tally.stops, tally.refused
    );
    for code in tally.stops.keys() {
        assert!(STOPS.contains(code), "{code} is no stop of the contract");
    }
    assert!(
        tally.built * 3 >= count,
        "too few designs were valid to mean anything: {}",
        tally.built
    );
}

/// Ten thousand designs. Every one that passes its checks is built, closed, oriented, with the faces
/// and passages its design asks for, its volume that of the closed form, its bores where the layout
/// has them; and every feature of the parameter file is among them.
#[test]
fn what_passes_its_checks_is_built_and_proved() {
    let (seed, count) = (7, 10_000);
    let tally = try_many(seed, count);
    report_of("fixed", seed, count, &tally);
    println!("  built with {:?}", tally.features);
    for feature in FEATURES {
        assert!(
            tally.features.contains_key(feature),
            "no design built has: {feature}"
        );
    }
}

/// The same for designs never drawn before: 300, or as many as BARRELHEAD_FRESH says; a seed that
/// failed is tried again with BARRELHEAD_SEED.
#[test]
fn designs_never_drawn_before_are_built_and_proved() {
    let number = |name: &str| std::env::var(name).ok()?.parse::<u64>().ok();
    let now = std::time::UNIX_EPOCH.elapsed();
    let clock = now.map_or(0, |now| now.as_nanos() as u64);
    let seed = number("BARRELHEAD_SEED").unwrap_or(clock);
    let count = number("BARRELHEAD_FRESH").unwrap_or(300) as usize;
    println!("BARRELHEAD_SEED={seed}");
    let tally = try_many(seed, count);
    report_of("fresh", seed, count, &tally);
}

/// Both designs meet the same fate, and where built, `same` holds for every pair of numbers.
fn same_fate(one: &str, other: &str, law: &str, flip: f64) {
    match (fate(one), fate(other)) {
        (Fate::Built(one), Fate::Built(other)) => {
            let ((report, solids, _), (other_report, other_solids, _)) = (*one, *other);
            // The mirror's blocks change names; a head with two blocks has them in the other order.
            let (a, b) = (&solids.head.measures, &other_solids.head.measures);
            let close = |x: f64, y: f64, scale: f64| (x - y).abs() <= 1e-9 * scale;
            assert!(
                close(a.volume, b.volume, a.volume),
                "{law}: volume {} {}",
                a.volume,
                b.volume
            );
            assert!(
                close(a.area, b.area, a.area),
                "{law}: area {} {}",
                a.area,
                b.area
            );
            let size = a.max.distance(a.min);
            assert!(
                close(a.centroid.x, flip * b.centroid.x, size),
                "{law}: centroid"
            );
            assert!(
                close(a.centroid.y, b.centroid.y, size) && close(a.centroid.z, b.centroid.z, size)
            );
            let blocks = |solids: &Solids| {
                let mut volumes: Vec<f64> =
                    solids.blocks.iter().map(|b| b.measures.volume).collect();
                volumes.sort_by(f64::total_cmp);
                volumes
            };
            for (x, y) in blocks(&solids).into_iter().zip(blocks(&other_solids)) {
                assert!(close(x, y, x), "{law}: block {x} {y}");
            }
            for finding in &report.findings {
                let twin = other_report
                    .finding(finding.code)
                    .unwrap_or_else(|| panic!("{law}: no {}", finding.code));
                assert_eq!(finding.verdict, twin.verdict, "{law}: {}", finding.code);
                assert!(
                    close(finding.value, twin.value, 1e3),
                    "{law}: {} {} {}",
                    finding.code,
                    finding.value,
                    twin.value
                );
            }
        }
        (Fate::Stopped(one), Fate::Stopped(other)) => {
            for finding in &one.findings {
                let twin = other.finding(finding.code).map(|twin| twin.verdict);
                assert_eq!(Some(finding.verdict), twin, "{law}: {}", finding.code);
            }
        }
        (Fate::Refused(_), Fate::Refused(_)) => {}
        (Fate::Faulty(fault), _) | (_, Fate::Faulty(fault)) => panic!("{law}: {fault}\n{one}"),
        _ => panic!("{law}: one is built, the other is not\n{one}\n{other}"),
    }
}

/// Mirror, inches for millimetres, and another order of keys give the same solid. Tolerance 1e-9
/// relative: the sums differ only by rounding.
#[test]
fn mirror_unit_and_order_change_nothing() {
    let mut dice = Dice::new(11);
    for _ in 0..80 {
        let sheet = random::design(&mut dice);
        let plain = sheet.millimetres();
        same_fate(&plain, &sheet.inches(), "inches", 1.0);
        same_fate(
            &plain,
            &sheet.shuffled(&mut dice).millimetres(),
            "order of keys",
            1.0,
        );
        let both = as_both_sides(&sheet);
        same_fate(
            &both.millimetres(),
            &both.mirrored().millimetres(),
            "mirror",
            -1.0,
        );
    }
}

/// The same design with the bass side's keys written out, so that a mirror can swap them, and with
/// the axis below the face given: centred, the treble plate alone decides it.
fn as_both_sides(sheet: &Sheet) -> Sheet {
    let mut sheet = sheet.clone();
    if sheet.take("placement.depth").is_some()
        && let Some(Value::Length(thickness)) = sheet.get("head.thickness").cloned()
    {
        sheet.length("placement.axis_below_face", thickness / 2.0);
    }
    for (treble, bass) in [
        ("head.width_at_nut_end", "head.bass.width_at_nut_end"),
        ("head.width_at_crest_end", "head.bass.width_at_crest_end"),
    ] {
        if let (Some(width), None) = (sheet.get(treble).cloned(), sheet.get(bass)) {
            sheet.set(bass, width);
        }
    }
    sheet
}
