//! What becomes of a parameter file: refused, stopped, or built with everything that is made of it.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use barrelhead::check::{self, Finding, Slack, Verdict};
use barrelhead::input;
use barrelhead::layout::{Copy, Layout, faults};
use barrelhead::solid::{self, Solids};
use barrelhead::write::{step, stl};

use crate::random::look::look_at;

/// What is looked at besides the program's own proof.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Everything that the design says of its solids.
    Whole,
    /// Nothing, where the design says it only to within the kernel's merge distance.
    None,
}

/// Both copies of a design that was read.
pub struct Read {
    pub finished: Layout,
    pub printed: Layout,
}

/// Reads a parameter file as the program does; the message where it does not take it.
pub fn read(text: &str) -> Result<Read, String> {
    let design = input::read_str(text, Path::new("edge.toml"), Path::new("."))
        .map_err(|found| found[0].message.clone())?;
    let [finished, printed] = [Copy::Finished, Copy::Printed].map(|c| Layout::new(&design, c));
    match faults(&finished).into_iter().chain(faults(&printed)).next() {
        Some(fault) => Err(fault.message),
        None => Ok(Read { finished, printed }),
    }
}

impl Read {
    /// How far one check is from its stop; `None` where it does not apply.
    pub fn slack(&self, code: &str) -> Option<Slack> {
        let all = check::slacks(&self.finished, &self.printed);
        all.into_iter().find(|slack| slack.code == code)
    }

    /// What stops the design.
    pub fn stops(&self) -> Vec<Finding> {
        let all = check::findings(&self.finished, &self.printed);
        let stops = all.into_iter().filter(|f| f.verdict == Verdict::Stop);
        stops.collect()
    }

    /// What one check stops, found without asking the others.
    pub fn stop_of(&self, code: &str) -> Option<Finding> {
        let found = check::one(code, &self.finished, &self.printed)?;
        (found.verdict == Verdict::Stop).then_some(found)
    }

    /// Builds head, blocks and printed copies, each with its proof; looks at all of it from the outside, by
    /// code that shares nothing with the proof; and writes the files of each.
    ///
    /// Asserts that a stopped design gets no token to build from. An error says which step of a design
    /// that no check stops went wrong.
    pub fn build(&self, look: Look) -> Result<Solids, String> {
        let work = || {
            let (report, checked) = check::judge(self.finished.clone(), self.printed.clone());
            let checked = checked.ok_or_else(|| format!("stopped: {:?}", report.verdict()))?;
            let solids = solid::build(&checked).map_err(|fault| fault.to_string())?;
            if look == Look::Whole {
                look_at(&solids, &checked)?;
            }
            for part in solids.parts() {
                written(part).map_err(|fault| format!("{}: {fault}", part.stem))?;
            }
            Ok(solids)
        };
        catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err("it panicked".to_owned()))
    }
}

fn written(part: &solid::Part) -> Result<(), String> {
    let step_part = step::Part {
        name: part.name,
        brep: &part.brep,
        measures: &part.measures,
        colour: [0.5; 3],
    };
    let header = step::Header {
        file_name: "edge.step",
        description: part.name,
        date: None,
    };
    step::step_file(&step_part, &header).map_err(|fault| fault.to_string())?;
    stl::stl_file(&part.printed).map_err(|fault| fault.to_string())?;
    Ok(())
}
