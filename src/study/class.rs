//! A teaching day: many heads, one set of machines, one guide block.

use std::path::PathBuf;

use crate::check::{Finding, Report, Verdict};
use crate::input::Machines;
use crate::layout::{Block, DepthStop, Layout};
use crate::tolerance::MERGE;

/// One head that was checked.
#[derive(Debug, Clone)]
pub struct Head {
    /// Its file.
    pub file: PathBuf,
    /// Its title.
    pub title: String,
    /// Its verdict.
    pub verdict: Verdict,
    /// The check that says most, if one is not clear.
    pub worst: Option<Finding>,
    /// Number of checks that stop and that caution.
    pub counts: (usize, usize),
    /// Where the depth stop is set, each side or both.
    pub stops: Vec<DepthStop>,
    /// The block's shim, each block, mm; above zero packs the block up, as `block-axis` has it.
    pub shims: Vec<f64>,
    /// Whether its machines are those of the first head.
    pub same_set: bool,
    /// Whether the first head's block drills it.
    pub same_block: bool,
}

impl Head {
    /// The deepest setting of the depth stop, mm.
    #[must_use]
    pub fn deepest_stop(&self) -> f64 {
        self.stops
            .iter()
            .map(|stop| stop.figure)
            .fold(0.0, f64::max)
    }
}

/// The heads in the order given; set and block are compared with the first head's.
#[must_use]
pub fn class(checked: &[(PathBuf, Layout, Report)]) -> Vec<Head> {
    let first = checked.first().map(|(_, layout, _)| layout);
    let heads = checked.iter().map(|(file, layout, report)| {
        let count = |verdict| {
            let alike = |finding: &&Finding| finding.verdict == verdict;
            report.findings.iter().filter(alike).count()
        };
        let verdict = report.verdict();
        let loud = |finding: &&&Finding| finding.verdict != Verdict::Clear;
        Head {
            file: file.clone(),
            title: layout.design.title.clone(),
            verdict,
            worst: report
                .worst_first()
                .iter()
                .find(loud)
                .map(|worst| (*worst).clone()),
            counts: (count(Verdict::Stop), count(Verdict::Caution)),
            stops: layout.stops(),
            shims: layout.blocks.iter().map(|block| block.shim).collect(),
            same_set: first
                .is_none_or(|first| alike_sets(&first.design.machines, &layout.design.machines)),
            same_block: first.is_none_or(|first| alike_blocks(&first.blocks, &layout.blocks)),
        }
    });
    heads.collect()
}

/// Whether two heads take the same set. Screws are left out: they are drilled without the block.
fn alike_sets(a: &Machines, b: &Machines) -> bool {
    let screws = b.screws.clone();
    Machines {
        screws,
        ..a.clone()
    } == *b
}

/// Whether the same blocks drill both heads: all that is made, not how it is packed up.
fn alike_blocks(a: &[Block], b: &[Block]) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= MERGE;
    let alike = |(a, b): (&Block, &Block)| {
        let holes = a.holes.iter().zip(&b.holes);
        a.holes.len() == b.holes.len()
            && near(a.depth, b.depth)
            && near(a.height, b.height)
            && near(a.length, b.length)
            && near(a.axis_height, b.axis_height)
            && holes
                .into_iter()
                .all(|(a, b)| near(a.x, b.x) && near(a.z, b.z) && near(a.diameter, b.diameter))
    };
    a.len() == b.len() && a.iter().zip(b).all(alike)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;

    fn of(change: impl Fn(&mut crate::input::Design)) -> (PathBuf, Layout, Report) {
        let mut design = six_string();
        change(&mut design);
        let layout = Layout::new(&design, crate::layout::Copy::Finished);
        let (report, _) = crate::check::run(&design);
        (PathBuf::from("x.toml"), layout, report)
    }

    #[test]
    fn set_and_block_are_compared_and_the_shim_is_no_difference() {
        let heads = class(&[
            of(|d| d.guide.axis_height = Some(9.0)),
            of(|d| {
                d.guide.axis_height = Some(9.0);
                d.head.thickness += 1.0;
                d.head.thickness_at_crest += 1.0;
            }),
            of(|d| {
                d.guide.axis_height = Some(9.0);
                d.machines.pitches.treble[0] += 0.5;
                d.machines.pitches.bass[0] += 0.5;
            }),
            of(|d| d.guide.axis_height = Some(8.0)),
        ]);
        let flags: Vec<_> = heads
            .iter()
            .map(|head| (head.same_set, head.same_block))
            .collect();
        assert_eq!(
            flags,
            [(true, true), (true, true), (false, false), (true, false)]
        );
        // Half a millimetre thicker to the axis: the axis lies in the middle of the thickness.
        let by = heads[1].shims[0] - heads[0].shims[0];
        assert!((by.abs() - 0.5).abs() < 1e-9, "{by}");
    }

    #[test]
    fn the_stop_is_the_deeper_side() {
        let heads = class(&[of(|d| d.head.half_width_at_end.bass += 3.0)]);
        let all = heads[0].stops.iter().map(|stop| stop.figure);
        assert!(
            all.into_iter()
                .all(|figure| figure <= heads[0].deepest_stop())
        );
    }
}
