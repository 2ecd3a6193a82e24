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

use barrelhead::check::{self, Report, Verdict};
use barrelhead::input;
use barrelhead::layout::Copy;
use barrelhead::solid::{self, Solids};
use random::{Dice, Sheet};

enum Fate {
    Built(Box<(Report, Solids)>),
    Stopped(Report),
    Refused(String),
}

fn fate(text: &str) -> Fate {
    let design = match input::read_str(text, "random.toml".as_ref(), ".".as_ref()) {
        Ok(design) => design,
        Err(findings) => return Fate::Refused(findings[0].message.clone()),
    };
    let finished = barrelhead::layout::Layout::new(&design, Copy::Finished);
    let printed = barrelhead::layout::Layout::new(&design, Copy::Printed);
    if let Some(fault) = barrelhead::layout::faults(&printed).first() {
        return Fate::Refused(fault.message.clone());
    }
    match check::verdicts(finished, printed) {
        (report, Some(checked)) => match solid::build(&checked) {
            Ok(solids) => {
                let layout = checked.finished();
                let further = solid::assembly::assembly(layout, &solids, Some(60.0))
                    .map(|_| ())
                    .and_then(|()| solid::rig::rig_solids(layout).map(|_| ()));
                if let Err(fault) = further {
                    panic!("assembly or rig of a sound design failed its proof: {fault}\n{text}")
                }
                Fate::Built(Box::new((report, solids)))
            }
            Err(fault) => {
                panic!("a design that passed its checks failed its proof: {fault}\n{text}")
            }
        },
        (report, None) => Fate::Stopped(report),
    }
}

/// Every design that passes its checks passes its proof: closed, oriented, closed form equal to
/// the integral over the faces to 1e-9, meshes of both copies closed and within their bound.
#[test]
fn what_passes_its_checks_is_built_and_proved() {
    let fresh = std::time::UNIX_EPOCH
        .elapsed()
        .map_or(0, |now| now.as_nanos() as u64);
    // BARRELHEAD_FRESH=5000 tries so many new designs besides; the seed is printed.
    let more = std::env::var("BARRELHEAD_FRESH")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(0);
    for (name, seed, count) in [("fixed", 7, 600), ("fresh", fresh, more)] {
        println!("{name} seed {seed}");
        let mut dice = Dice::new(seed);
        let (mut built, mut refused) = (0, 0);
        let mut stops: BTreeMap<&str, usize> = BTreeMap::new();
        for _ in 0..count {
            match fate(&random::design(&mut dice).millimetres()) {
                Fate::Built(_) => built += 1,
                Fate::Stopped(report) => {
                    for finding in &report.findings {
                        if finding.verdict == Verdict::Stop {
                            *stops.entry(finding.code).or_default() += 1;
                        }
                    }
                }
                Fate::Refused(message) => {
                    println!("refused: {message}");
                    refused += 1;
                }
            }
        }
        println!("{name}: {built} of {count} built, {refused} refused as input; stops {stops:?}");
        assert!(
            built * 4 >= count,
            "too few designs were valid to mean anything: {built}"
        );
    }
}

/// Both designs meet the same fate, and where built, `same` holds for every pair of numbers.
fn same_fate(one: &str, other: &str, law: &str, flip: f64) {
    match (fate(one), fate(other)) {
        (Fate::Built(one), Fate::Built(other)) => {
            let ((report, solids), (other_report, other_solids)) = (*one, *other);
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
        same_fate(
            &plain,
            &as_both_sides(&sheet).mirrored().millimetres(),
            "mirror",
            -1.0,
        );
    }
}

/// The same design with the bass side's keys written out, so that a mirror can swap them.
fn as_both_sides(sheet: &Sheet) -> Sheet {
    let mut sheet = sheet.clone();
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
