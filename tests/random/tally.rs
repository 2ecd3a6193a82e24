//! Draws, judges, builds and looks at many designs, and counts what became of them.

use std::any::Any;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use barrelhead::check::{self, Checked, Finding, Report, Verdict};
use barrelhead::input;
use barrelhead::layout::{Copy, Layout};
use barrelhead::solid::{self, Solids};
use rayon::prelude::*;

use super::features::features;
use super::look::look_at;
use super::stops::{Ground, ground};
use super::{Dice, Draft, refusals};

/// What the checks say of a design.
pub enum Judged {
    Passed(Report, Checked),
    Stopped(Box<Stopped>),
    /// Mistakes of the file, in the program's words.
    Refused(Vec<String>),
    /// The same, where they show only once positions are known.
    Misfit(Vec<String>),
}

/// A design that checks stopped: its report and both its copies.
#[derive(Clone)]
pub struct Stopped {
    pub report: Report,
    pub finished: Layout,
    pub printed: Layout,
}

impl Stopped {
    pub fn stops(&self) -> impl Iterator<Item = &Finding> {
        let findings = self.report.findings.iter();
        findings.filter(|finding| finding.verdict == Verdict::Stop)
    }

    /// The guards that stopped it, none where a row of the contract did; the fault where a stop is neither.
    pub fn guards(&self) -> Result<Vec<String>, String> {
        let mut guards = Vec::new();
        let mut by_the_contract = false;
        for finding in self.stops() {
            match ground(finding, &self.finished, &self.printed)? {
                Ground::Contract => by_the_contract = true,
                Ground::Guard(guard) => guards.push(guard),
            }
        }
        if by_the_contract {
            guards.clear();
        }
        Ok(guards)
    }
}

/// What becomes of a design.
pub enum Fate {
    Built(Box<(Report, Solids, Checked)>),
    Stopped(Box<Stopped>),
    Refused(Vec<String>),
    Misfit(Vec<String>),
    /// Passed its checks and failed its proof: a fault of the program.
    Faulty(String),
}

/// Reads a design and judges it.
pub fn judged(draft: &Draft) -> Judged {
    // Only a design that takes something from a file beside it needs a folder.
    let place = (!draft.beside.is_empty()).then(|| {
        let place = tempfile::tempdir().unwrap_or_else(|error| panic!("{error}"));
        let written = draft.write(place.path(), "random.toml");
        written.unwrap_or_else(|error| panic!("{error}"));
        place
    });
    let base = place.as_ref().map_or(Path::new("."), |place| place.path());
    let design = match input::read_str(&draft.text, Path::new("random.toml"), base) {
        Ok(design) => design,
        Err(findings) => {
            return Judged::Refused(findings.into_iter().map(|one| one.message).collect());
        }
    };
    let finished = Layout::new(&design, Copy::Finished);
    let printed = Layout::new(&design, Copy::Printed);
    let faults = barrelhead::layout::faults;
    let misfit: Vec<_> = faults(&finished)
        .into_iter()
        .chain(faults(&printed))
        .collect();
    if !misfit.is_empty() {
        return Judged::Misfit(misfit.into_iter().map(|fault| fault.message).collect());
    }
    match check::verdicts(finished.clone(), printed.clone()) {
        (report, Some(checked)) => Judged::Passed(report, checked),
        (report, None) => Judged::Stopped(Box::new(Stopped {
            report,
            finished,
            printed,
        })),
    }
}

/// Reads, judges and builds a design.
pub fn fate(draft: &Draft) -> Fate {
    match judged(draft) {
        Judged::Passed(report, checked) => match solid::build(&checked) {
            Ok(solids) => Fate::Built(Box::new((report, solids, checked))),
            Err(fault) => Fate::Faulty(fault.to_string()),
        },
        Judged::Stopped(stopped) => Fate::Stopped(stopped),
        Judged::Refused(messages) => Fate::Refused(messages),
        Judged::Misfit(messages) => Fate::Misfit(messages),
    }
}

/// What became of many designs.
#[derive(Default)]
pub struct Tally {
    pub built: usize,
    /// Stopped, by check; a design may miss several.
    pub stops: BTreeMap<&'static str, usize>,
    /// Stopped by nothing but a bound of the program's own, by place and bound.
    pub guarded: BTreeMap<String, usize>,
    pub stopped: usize,
    pub refused: usize,
    /// Refused only once positions are known.
    pub misfits: usize,
    /// Mistakes, by the contract's rule; a design may have several.
    pub rules: BTreeMap<&'static str, usize>,
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
        self.refused += other.refused;
        self.misfits += other.misfits;
        add(&mut self.rules, other.rules);
        add(&mut self.features, other.features);
        self
    }
}

/// Draws, builds and looks at so many designs.
pub fn try_many(seed: u64, count: usize) -> Tally {
    let mut dice = Dice::new(seed);
    let drafts: Vec<Draft> = (0..count)
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
    drafts
        .par_iter()
        .map(|draft| {
            let mut tally = Tally::default();
            // Whatever happens, the design it happened to is named.
            let tried = catch_unwind(AssertUnwindSafe(|| try_one(draft, &mut tally)));
            let seen = tried.unwrap_or_else(|panic| Err(format!("panic: {}", words_of(&*panic))));
            tally.fault = seen.err().map(|fault| format!("{fault}\n{draft}"));
            tally
        })
        .reduce(Tally::default, Tally::and)
}

fn words_of(panic: &dyn Any) -> &str {
    let text = panic.downcast_ref::<&str>().copied();
    let text = text.or_else(|| panic.downcast_ref::<String>().map(String::as_str));
    text.unwrap_or("without words")
}

fn try_one(draft: &Draft, tally: &mut Tally) -> Result<(), String> {
    match fate(draft) {
        Fate::Built(built) => {
            let (_, solids, checked) = *built;
            let layout = checked.finished();
            tally.built = 1;
            for feature in features(&checked) {
                tally.features.insert(feature, 1);
            }
            look_at(&solids, &checked)?;
            solid::assembly::assembly(layout, &solids, Some(60.0))
                .map(|_| ())
                .and_then(|()| solid::rig::rig_solids(layout).map(|_| ()))
                .map_err(|fault| fault.to_string())
        }
        Fate::Stopped(stopped) => {
            tally.stopped = 1;
            for finding in stopped.stops() {
                tally.stops.insert(finding.code, 1);
            }
            let guards = stopped.guards()?;
            tally.guarded = guards.into_iter().map(|guard| (guard, 1)).collect();
            Ok(())
        }
        Fate::Faulty(fault) => Err(fault),
        Fate::Refused(messages) => {
            tally.refused = 1;
            count_rules(&messages, tally)
        }
        Fate::Misfit(messages) => {
            tally.misfits = 1;
            count_rules(&messages, tally)
        }
    }
}

fn count_rules(messages: &[String], tally: &mut Tally) -> Result<(), String> {
    for message in messages {
        tally.rules.insert(refusals::rule(message)?, 1);
    }
    Ok(())
}

/// Prints what became of the designs, and fails where one was refused for anything but the contract.
pub fn report_of(name: &str, seed: u64, count: usize, tally: &Tally) {
    if let Some(fault) = &tally.fault {
        panic!("{name} seed {seed}: {fault}");
    }
    println!(
        "{name} seed {seed}: {} of {count} built, {} stopped\n  by {:?}\n  \
         by a guard alone {:?}\n  refused as input {}, once positions were known {}, by {:#?}",
        tally.built,
        tally.stopped,
        tally.stops,
        tally.guarded,
        tally.refused,
        tally.misfits,
        tally.rules
    );
    // Neither the fixed designs nor fresh ones: whatever the contract's stops let pass can be built.
    assert!(
        tally.guarded.is_empty(),
        "{name} seed {seed}: a guard alone stops a design: {:?}",
        tally.guarded
    );
    assert_eq!(
        tally.built + tally.stopped + tally.refused + tally.misfits,
        count
    );
    assert!(
        tally.built * 2 >= count,
        "too few designs were valid to mean anything: {}",
        tally.built
    );
}
