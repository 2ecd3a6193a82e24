//! Draws, judges, builds and looks at many designs, and counts what became of them.

use std::collections::BTreeMap;

use barrelhead::check::{self, Checked, Finding, Limit, Report, Verdict};
use barrelhead::input;
use barrelhead::layout::{Copy, Layout};
use barrelhead::solid::{self, Solids};
use rayon::prelude::*;

use super::Dice;
use super::features::features;
use super::look::look_at;

/// What becomes of a design.
pub enum Fate {
    Built(Box<(Report, Solids, Checked)>),
    Stopped(Report),
    Refused(String),
    /// Passed its checks and failed its proof: a fault of the program.
    Faulty(String),
}

pub fn fate(text: &str) -> Fate {
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
pub struct Tally {
    pub built: usize,
    /// Stopped, by check; a design may miss several.
    pub stops: BTreeMap<&'static str, usize>,
    /// Stopped by nothing but a bound of a check's own that keeps from the builder what no double
    /// could hold (a ring of no width, say), by check.
    pub guarded: BTreeMap<&'static str, usize>,
    pub stopped: usize,
    pub refused: BTreeMap<String, usize>,
    pub features: BTreeMap<&'static str, usize>,
    /// What was wrong with the first that failed, and its file.
    pub fault: Option<String>,
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
        self.stopped += other.stopped;
        add(&mut self.stops, other.stops);
        add(&mut self.guarded, other.guarded);
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
pub fn try_many(seed: u64, count: usize) -> Tally {
    let mut dice = Dice::new(seed);
    let texts: Vec<String> = (0..count)
        .map(|index| {
            let sheet = super::design(&mut dice);
            // Every fourth maker works in inches.
            if index % 4 == 3 {
                sheet.inches()
            } else {
                sheet.millimetres()
            }
        })
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
                    for feature in features(&checked) {
                        tally.features.insert(feature, 1);
                    }
                }
                Fate::Stopped(report) => {
                    tally.stopped = 1;
                    let stops = report.findings.iter();
                    let stops = stops.filter(|finding| finding.verdict == Verdict::Stop);
                    for finding in stops.clone() {
                        tally.stops.insert(finding.code, 1);
                    }
                    if !stops.clone().any(by_the_contract) {
                        tally.guarded = stops.map(|finding| (finding.code, 1)).collect();
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

/// The closed list of the contract with its limits: no design is refused for anything else.
pub const STOPS: [(&str, &[f64]); 20] = [
    ("wood-over", &[1.0]),
    ("wood-under", &[1.0]),
    ("web", &[1.0]),
    ("cheek", &[1.0]),
    ("rib", &[1.0]),
    ("end-wood", &[1.0]),
    ("slot-end", &[0.5]),
    ("bearing", &[0.5]),
    ("rim", &[0.5]),
    ("edges", &[1.0]),
    ("counterbore", &[1.0]),
    ("bore-depth", &[0.0]),
    ("clearance", &[0.0]),
    ("barrels-apart", &[0.0]),
    ("far-wood", &[0.5, 0.01]),
    ("ramp-depth", &[1.0]),
    ("screw-slot", &[0.5]),
    ("screw-bore", &[0.5]),
    ("block-wood", &[1.0]),
    ("block-bore", &[0.0]),
];

/// Whether a stop is one of the contract's, and its value misses that limit.
fn by_the_contract(finding: &Finding) -> bool {
    let mut rows = STOPS.iter().filter(|(code, _)| *code == finding.code);
    let missed = |limit: &f64| match finding.limit {
        Limit::Single(own) => own == *limit && !(finding.value > *limit + 1e-9),
        Limit::Band { .. } => false,
    };
    rows.any(|(_, limits)| limits.iter().any(missed))
}

pub fn report_of(name: &str, seed: u64, count: usize, tally: &Tally) {
    if let Some(fault) = &tally.fault {
        panic!("{name} seed {seed}: {fault}");
    }
    println!(
        "{name} seed {seed}: {} of {count} built, {} stopped\n  by {:?}\n  \
         by a guard alone {:?}\n  refused as input: {:#?}",
        tally.built, tally.stopped, tally.stops, tally.guarded, tally.refused
    );
    for code in tally.stops.keys() {
        let listed = STOPS.iter().any(|(own, _)| own == code);
        assert!(listed, "{code} is no stop of the contract");
    }
    let refused: usize = tally.refused.values().sum();
    assert_eq!(tally.built + tally.stopped + refused, count);
    assert!(
        tally.built * 3 >= count,
        "too few designs were valid to mean anything: {}",
        tally.built
    );
}
