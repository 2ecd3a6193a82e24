//! A teaching day: many heads, and as few sets of machines and guide blocks as will do.

use std::path::PathBuf;

use crate::check::limits::rule;
use crate::check::{Finding, Report, Verdict};
use crate::input::{Guide, Machines, Side};
use crate::layout::{Block, DepthStop, Layout};
use crate::study::drilled::words::needs_repair;
use crate::tolerance::MERGE;
use crate::units::{Lengths, bare_inches, number};

/// One head that was checked.
#[derive(Debug, Clone)]
pub struct Head {
    /// Its file.
    pub file: PathBuf,
    /// Its title.
    pub title: String,
    /// Its verdict, by the checks that hold for it as it is drilled here: see [`holds_here`].
    pub verdict: Verdict,
    /// The one of them that says most, if one is not clear.
    pub worst: Option<Finding>,
    /// Which sides are drilled already and do not take their machines as they are, in words.
    pub repair: Vec<String>,
    /// Number of checks that stop and that caution.
    pub counts: (usize, usize),
    /// Where the depth stop is set, each side or both; empty for a head that a check stops.
    pub stops: Vec<DepthStop>,
    /// Which of the sets it takes, counted from 0 in the order of the heads.
    pub set: usize,
    /// Which of [`Class::blocks`] drills it; `None` for a head that a check stops.
    pub block: Option<usize>,
    /// Shim under that block, each block of a pair, mm; above zero packs the block up, as `block-axis` has
    /// it. Empty without a block.
    pub shims: Vec<f64>,
}

impl Head {
    /// The deepest setting of the depth stop, mm; `None` for a head that is not drilled.
    #[must_use]
    pub fn deepest_stop(&self) -> Option<f64> {
        let figures = self.stops.iter().map(|stop| stop.figure);
        figures.reduce(f64::max)
    }
}

/// A guide block, or a pair of them, and the heads it drills.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shared {
    /// The head whose own block it is, as a place in [`Class::heads`].
    pub made_for: usize,
    /// All heads that it drills, that one among them.
    pub heads: Vec<usize>,
}

/// The heads of a class.
#[derive(Debug, Clone)]
pub struct Class {
    /// In the order given.
    pub heads: Vec<Head>,
    /// The fewest blocks that drill all those that no check stops.
    pub blocks: Vec<Shared>,
    /// How lengths are shown: inches too where a head's are.
    pub lengths: Lengths,
}

impl Class {
    /// Whether another head bears the same title, so that it alone does not say which is meant.
    #[must_use]
    pub fn title_repeats(&self, index: usize) -> bool {
        let mut others = self.heads.iter().enumerate();
        let title = self.heads.get(index).map(|head| head.title.trim());
        others.any(|(other, head)| other != index && Some(head.title.trim()) == title)
    }

    /// How many sets the heads take.
    #[must_use]
    pub fn sets(&self) -> usize {
        self.heads
            .iter()
            .map(|head| head.set + 1)
            .max()
            .unwrap_or(0)
    }
}

impl Class {
    /// A length in a table that names its unit, or its units, in the heading: `44.00`, or `44.00 (1.732)`.
    #[must_use]
    pub fn figure(&self, mm: f64) -> String {
        if self.lengths.inches {
            format!("{} ({})", number(mm), bare_inches(mm))
        } else {
            number(mm)
        }
    }
}

/// Name of a block: A to Z, then by number.
#[must_use]
pub fn block_name(index: usize) -> String {
    u8::try_from(index)
        .ok()
        .filter(|index| *index < 26)
        .map_or_else(
            || (index + 1).to_string(),
            |index| char::from(b'A' + index).to_string(),
        )
}

/// Every head against every other: those whose bores fall alike share a block, whatever their thickness,
/// since a shim makes up for that.
#[must_use]
pub fn class(checked: &[(PathBuf, Layout, Report)]) -> Class {
    let layouts: Vec<&Layout> = checked.iter().map(|(_, layout, _)| layout).collect();
    let sets = groups(&layouts, |a, b| {
        alike_sets(&a.design.machines, &b.design.machines)
    });
    let made = |index: &usize| {
        let head = checked.get(*index);
        head.is_some_and(|(_, _, report)| report.verdict() != Verdict::Stop)
    };
    let alike = groups(&layouts, |a, b| {
        alike_guiding(&a.design.guide, &b.design.guide) && alike_drilling(&a.blocks, &b.blocks)
    });
    let blocks: Vec<Shared> = alike
        .into_iter()
        .map(|heads| heads.into_iter().filter(made).collect::<Vec<usize>>())
        .filter(|heads| !heads.is_empty())
        .map(|heads| Shared {
            made_for: best_block(checked, &heads),
            heads,
        })
        .collect();
    let heads = checked.iter().enumerate().map(|(index, one)| {
        let (file, layout, report) = one;
        let block = blocks
            .iter()
            .position(|shared| shared.heads.contains(&index));
        let made_for = block.and_then(|block| Some(blocks.get(block)?.made_for));
        let own = made_for.and_then(|made_for| layouts.get(made_for));
        let shims = own.map_or_else(Vec::new, |own| shims(own, layout));
        let another = made_for.is_some_and(|made_for| made_for != index);
        let ranked = report.worst_first();
        let found: Vec<&Finding> = ranked
            .into_iter()
            .filter(|finding| !another || holds_here(finding, &shims))
            .collect();
        let count = |verdict| {
            let alike = |finding: &&&Finding| finding.verdict == verdict;
            found.iter().filter(alike).count()
        };
        let worst = found
            .first()
            .filter(|finding| finding.verdict != Verdict::Clear);
        Head {
            file: file.clone(),
            title: layout.design.title.clone(),
            verdict: worst.map_or(Verdict::Clear, |worst| worst.verdict),
            worst: worst.map(|worst| (*worst).clone()),
            repair: needs_repair(layout),
            counts: (count(Verdict::Stop), count(Verdict::Caution)),
            stops: if block.is_some() {
                layout.stops()
            } else {
                Vec::new()
            },
            set: sets
                .iter()
                .position(|group| group.contains(&index))
                .unwrap_or(0),
            block,
            shims,
        }
    });
    Class {
        heads: heads.collect(),
        blocks,
        lengths: Lengths {
            inches: layouts.iter().any(|layout| layout.design.lengths().inches),
        },
    }
}

/// Heads that are alike, each group in the order given.
fn groups(layouts: &[&Layout], alike: impl Fn(&Layout, &Layout) -> bool) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> = Vec::new();
    for (index, layout) in layouts.iter().enumerate() {
        let same = |group: &&mut Vec<usize>| {
            let first = group.first().and_then(|first| layouts.get(*first));
            first.is_some_and(|first| alike(first, layout))
        };
        match found.iter_mut().find(same) {
            Some(group) => group.push(index),
            None => found.push(vec![index]),
        }
    }
    found
}

/// Whose block drills most of them without a shim, the first of equals.
fn best_block(checked: &[(PathBuf, Layout, Report)], heads: &[usize]) -> usize {
    let unshimmed = |own: &usize| {
        let Some((_, own, _)) = checked.get(*own) else {
            return 0;
        };
        let plain = |index: &&usize| {
            let head = checked.get(**index);
            head.is_some_and(|(_, head, _)| shims(own, head).iter().all(|shim| !is_felt(*shim)))
        };
        heads.iter().filter(plain).count()
    };
    heads
        .iter()
        // The last of equals is taken.
        .rev()
        .max_by_key(|index| unshimmed(index))
        .copied()
        .unwrap_or(0)
}

/// Whether a finding holds for a head that another head's block drills with these shims. Blocks that drill alike
/// differ in their heights alone, so what hangs on the height of its own block, which is not made, does not.
fn holds_here(finding: &Finding, shims: &[f64]) -> bool {
    match finding.code {
        "block-wood" => false,
        "block-axis" => shims.iter().any(|shim| is_felt(*shim)),
        _ => true,
    }
}

/// What goes under `own`'s blocks to drill `head` with them, mm.
fn shims(own: &Layout, head: &Layout) -> Vec<f64> {
    let pairs = own.blocks.iter().zip(&head.blocks);
    pairs
        .map(|(block, head)| head.axis_wanted - block.axis_height)
        .collect()
}

/// Whether a shim is more than the check `block-axis` lets pass.
#[must_use]
pub fn is_felt(shim: f64) -> bool {
    let caution = rule("block-axis").and_then(|rule| rule.caution);
    caution.is_some_and(|bound| !bound.holds(shim.abs()))
}

/// Whether two heads take the same set. Screws are left out: they are drilled without the block.
fn alike_sets(a: &Machines, b: &Machines) -> bool {
    let lengths = |set: &Machines| {
        let one = [
            set.barrel_diameter,
            set.barrel_length,
            set.string_hole,
            set.plate_width,
            set.plate_thickness,
            set.axis_offset,
        ];
        let sides = Side::BOTH.into_iter().flat_map(|side| {
            let pitches = set.pitches.get(side).iter().copied();
            // How many, so that a pitch of one is never held against an overhang of the other.
            std::iter::once(set.pitches.get(side).len() as f64)
                .chain(pitches)
                .chain(*set.overhang.get(side))
        });
        one.into_iter().chain(sides).collect::<Vec<f64>>()
    };
    let (a, b) = (lengths(a), lengths(b));
    a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| near(*a, *b))
}

/// Sums of pitches come out a last bit apart, however the plate was measured.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= MERGE
}

/// Whether bushes, which are pressed in and stay, guide the same bit; without bushes the holes tell.
fn alike_guiding(a: &Guide, b: &Guide) -> bool {
    match (a.bush_diameter, b.bush_diameter) {
        (None, None) => true,
        (Some(_), Some(_)) => near(a.bore_diameter, b.bore_diameter),
        _ => false,
    }
}

/// Whether blocks drill alike: holes, their guided depth and where the ends lie. Heights are left out: a shim
/// makes up for them.
fn alike_drilling(a: &[Block], b: &[Block]) -> bool {
    let alike = |(a, b): (&Block, &Block)| {
        let holes = a.holes.iter().zip(&b.holes);
        a.serves == b.serves
            && a.holes.len() == b.holes.len()
            && near(a.depth, b.depth)
            && near(a.length, b.length)
            && holes
                .into_iter()
                .all(|(a, b)| near(a.x, b.x) && near(a.diameter, b.diameter))
    };
    a.len() == b.len() && a.iter().zip(b).all(alike)
}

#[cfg(test)]
mod tests;
