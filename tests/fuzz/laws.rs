//! What must hold whatever bytes stand in a parameter file or in a length: shared by the fuzz
//! targets and by the test that replays their corpus.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a law that does not hold ends the run"
)]

use std::path::Path;

use barrelhead::check::{Checked, judge, verdicts};
use barrelhead::diagnostic::render::render;
use barrelhead::input::{Design, Side, read_str};
use barrelhead::layout::{Copy, Layout, faults};
use barrelhead::solid;
use barrelhead::units::{parse_length, plain};

/// How far an input got; the tests of the corpus count these.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reached {
    /// No UTF-8.
    Bytes,
    /// Refused with findings.
    Refused,
    /// Read, but positions cannot be worked out or a check stops it.
    Stopped,
    /// Passed its checks; too large to be built in passing, or not its turn.
    Passed,
    /// Built and proved.
    Built,
}

/// What is done with a design that reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pains {
    /// Everything.
    All,
    /// Advice and building, nine tenths of the time, for one in eight: told by the bytes, so that the
    /// same input takes the same way.
    #[allow(dead_code, reason = "the fuzz target's alone")]
    NowAndThen,
}

/// Reads, judges and, where it is small, builds. `base` is where a `from` starts.
pub fn parameter_file(bytes: &[u8], base: &Path, pains: Pains) -> Reached {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Reached::Bytes;
    };
    let design = match read_str(text, Path::new("any.toml"), base) {
        Ok(design) => design,
        Err(findings) => {
            assert!(!findings.is_empty());
            for finding in &findings {
                assert!(!finding.message.is_empty());
                let own = finding.file.as_deref() == Some(Path::new("any.toml"));
                if let Some((line, column)) = finding.at.filter(|_| own) {
                    let whole = text.strip_prefix('\u{feff}').unwrap_or(text);
                    let source = whole.split('\n').nth(line - 1);
                    let length = source.map(|source| source.chars().count());
                    assert!(
                        length.is_some_and(|length| column >= 1 && column <= length + 1),
                        "line {line}, column {column}: {}",
                        finding.message
                    );
                }
            }
            let drawn = render(&findings);
            assert!(!drawn.is_empty());
            let steering = |c: char| c.is_control() && !matches!(c, '\n' | '\u{1b}');
            assert!(!drawn.contains(steering), "{drawn:?}");
            return Reached::Refused;
        }
    };
    positive(&design);
    let finished = Layout::new(&design, Copy::Finished);
    let printed = Layout::new(&design, Copy::Printed);
    if !faults(&finished).is_empty() || !faults(&printed).is_empty() {
        return Reached::Stopped;
    }
    let sum = bytes.iter().fold(0u8, |sum, byte| sum.wrapping_add(*byte));
    let (advised, tried) = match pains {
        Pains::All => (true, true),
        Pains::NowAndThen => (sum % 8 == 0, sum % 8 == 1),
    };
    let judged = if advised {
        judge(finished, printed)
    } else {
        verdicts(finished, printed)
    };
    let (report, checked) = judged;
    for finding in &report.findings {
        assert!(
            finding.value.is_finite() && finding.margin.is_finite(),
            "{}: {} {}",
            finding.code,
            finding.value,
            finding.margin
        );
    }
    match checked {
        None => Reached::Stopped,
        Some(checked) if tried && small(&design) => built(&checked),
        Some(_) => Reached::Passed,
    }
}

/// What passed its checks is built, and proves itself.
fn built(checked: &Checked) -> Reached {
    if let Err(fault) = solid::build(checked) {
        panic!("a design that passed its checks: {fault}");
    }
    Reached::Built
}

/// Small enough to be built in a few milliseconds.
fn small(design: &Design) -> bool {
    let barrels =
        [Side::Treble, Side::Bass].map(|side| design.machines.pitches.get(side).len() + 1);
    let screws = design.machines.screws.as_ref();
    design.print.chord >= 0.01
        && barrels.iter().sum::<usize>() <= 12
        && screws.is_none_or(|screws| screws.points.len() <= 4)
        && design.head.length <= 400.0
}

fn positive(design: &Design) {
    let (head, machines) = (&design.head, &design.machines);
    let mut all = vec![
        head.length,
        head.side_end,
        head.thickness,
        head.thickness_at_crest,
        machines.barrel_length,
        design.bores.diameter,
        design.guide.height,
        design.guide.depth,
        design.print.chord,
    ];
    for side in [Side::Treble, Side::Bass] {
        all.push(*head.half_width_at_start.get(side));
        all.push(*head.half_width_at_end.get(side));
        all.extend(machines.pitches.get(side));
    }
    assert!(all.iter().all(|v| v.is_finite() && *v > 0.0), "{all:?}");
}

/// Reads a length. What reads is printed and read again to the same bits; what does not says why and
/// what to write. Returns whether it reads.
pub fn length(bytes: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return false;
    };
    match parse_length(text) {
        Ok(mm) => {
            assert!(mm.is_finite(), "{text:?}: {mm}");
            let shown = format!("{} mm", plain(mm));
            // A length of more digits than any measurement has does not read back.
            if let Ok(again) = parse_length(&shown) {
                assert!(
                    again.to_bits() == (mm + 0.0).to_bits(),
                    "{text:?}: {mm} is printed as {shown}"
                );
            } else {
                assert!(shown.len() > 18, "{text:?}: {shown} does not read");
            }
            true
        }
        Err(error) => {
            assert!(!error.message.is_empty() && !error.hint.is_empty());
            assert!(error.message.chars().count() < 200, "{}", error.message);
            false
        }
    }
}
