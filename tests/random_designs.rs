//! Random designs: whatever the checks let pass must build and prove itself, and must obey the
//! laws of the workshop: a mirror, another unit, another order of keys change nothing but signs.

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
    match check::judge(finished, printed) {
        (report, Some(checked)) => match solid::build(&checked) {
            Ok(solids) => Fate::Built(Box::new((report, solids))),
            Err(fault) => panic!("a design that passed its checks failed its proof: {fault}\n{text}"),
        },
        (report, None) => Fate::Stopped(report),
    }
}

/// Every design that passes its checks passes its proof: closed, oriented, closed form equal to
/// the integral over the faces to 1e-9, meshes of both copies closed and within their bound.
#[test]
fn what_passes_its_checks_is_built_and_proved() {
    let fresh = std::time::UNIX_EPOCH.elapsed().map_or(0, |now| now.as_nanos() as u64);
    for (name, seed, count) in [("fixed", 7, 1500), ("fresh", fresh, 500)] {
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
        assert!(built > count / 4, "too few designs were valid to mean anything: {built}");
    }
}
