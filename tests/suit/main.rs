//! `suit`: its ranges against the checks of the designs they speak of, and the command as a person
//! or a script meets it.

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod command;
mod ends;
mod layers;
mod longhand;
#[path = "../support"]
mod support {
    pub mod program;
    pub mod project;
}

use std::path::{Path, PathBuf};

use barrelhead::check::{Report, Verdict};
use barrelhead::input::{Design, read_partial};
use barrelhead::pipeline::judge_design;
use barrelhead::study::suit::{Suit, suit};
use support::project::root;

/// How far inside and outside an end the checks are asked, mm: ends are found to 1e-7, and 0.01 is
/// what is printed.
const BESIDE: f64 = 0.01;

fn params(name: &str) -> PathBuf {
    root().join("params").join(name)
}

fn study(set: &Path, neck: Option<&Path>) -> Suit {
    let (design, assumed) = read_partial(set, neck).unwrap_or_else(|found| {
        panic!("{}: {}", set.display(), found[0].message);
    });
    suit(design, assumed)
}

fn sets() -> [PathBuf; 4] {
    ["slim-35", "broad-35", "long-39", "three-and-four-35"]
        .map(|name| params(&format!("sets/{name}.toml")))
}

/// What the checks say of a design, run as `check` runs them.
struct Verdicts(Report);

impl Verdicts {
    fn of(design: &Design) -> Verdicts {
        let judged = judge_design(design, Path::new("moved"));
        let (_, report, _) = judged.expect("no fault of the layout");
        Verdicts(report)
    }

    /// The verdict by one code; clear where the check does not apply.
    fn by(&self, code: &str) -> Verdict {
        self.0
            .finding(code)
            .map_or(Verdict::Clear, |finding| finding.verdict)
    }
}
