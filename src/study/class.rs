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
mod tests {
    use super::*;
    use crate::input::Design;
    use crate::input::sample::six_string;

    fn of(change: impl Fn(&mut Design)) -> (PathBuf, Layout, Report) {
        let mut design = six_string();
        change(&mut design);
        let layout = Layout::new(&design, crate::layout::Copy::Finished);
        let (report, _) = crate::check::run(&design);
        (PathBuf::from("x.toml"), layout, report)
    }

    fn thicker(by: f64) -> impl Fn(&mut Design) {
        move |design| {
            design.head.thickness += by;
            design.head.thickness_at_crest += by;
        }
    }

    fn wider_pitch(design: &mut Design) {
        design.machines.pitches.treble[0] += 0.5;
        design.machines.pitches.bass[0] += 0.5;
    }

    fn shown(class: &Class) -> Vec<(usize, Vec<usize>)> {
        let blocks = class.blocks.iter();
        blocks
            .map(|shared| (shared.made_for, shared.heads.clone()))
            .collect()
    }

    /// Bushes alike outside, made for two bits: neither guides the other's.
    #[test]
    fn bushes_for_another_bit_are_another_block() {
        let bushed = |bit: f64| {
            move |design: &mut Design| {
                design.bores.diameter = bit;
                design.guide.bore_diameter = bit;
                design.guide.bush_diameter = Some(15.0);
            }
        };
        let class = class(&[of(bushed(10.5)), of(bushed(10.3)), of(bushed(10.5))]);
        assert_eq!(shown(&class), [(0, vec![0, 2]), (1, vec![1])]);
    }

    /// 80.1 over three barrels of 9.9 are pitches of 35.1 but for the last bit.
    #[test]
    fn a_set_measured_another_way_is_the_same_set() {
        let pitch = |pitch: f64| {
            move |design: &mut Design| {
                design.machines.pitches = crate::input::PerSide::from_fn(|_| vec![pitch; 2]);
            }
        };
        let class = class(&[of(pitch(35.1)), of(pitch((80.1 - 9.9) / 2.0))]);
        assert_eq!(class.sets(), 1);
        assert_eq!(self::class(&[of(pitch(35.1)), of(pitch(35.2))]).sets(), 2);
    }

    #[test]
    fn every_head_is_compared_with_every_other() {
        let found = class(&[
            of(wider_pitch),
            of(|_| ()),
            of(thicker(1.0)),
            of(wider_pitch),
            of(|d| d.guide.depth += 1.0),
            of(thicker(1.0)),
        ]);
        // Two heads of thickness 1.0 more need no shim under a block of theirs, one would.
        assert_eq!(
            shown(&found),
            [(0, vec![0, 3]), (2, vec![1, 2, 5]), (4, vec![4])]
        );
        let of_each: Vec<_> = found.heads.iter().map(|h| (h.set, h.block)).collect();
        let wanted = [(0, 0), (1, 1), (1, 1), (0, 0), (1, 2), (1, 1)];
        assert_eq!(of_each, wanted.map(|(set, block)| (set, Some(block))));
        assert_eq!(found.sets(), 2);
        // The axis lies in the middle of the thickness: half a millimetre lower on the thinner head.
        let shims: Vec<f64> = found.heads.iter().map(|head| head.shims[0]).collect();
        for (shim, wanted) in shims.iter().zip([0.0, -0.5, 0.0, 0.0, 0.0, 0.0]) {
            assert!((shim - wanted).abs() < 1e-9, "{shims:?}");
        }
    }

    #[test]
    fn a_block_from_the_shelf_keeps_its_own_shim() {
        let found = class(&[
            of(|d| d.guide.axis_height = Some(9.0)),
            of(|d| {
                d.guide.axis_height = Some(9.0);
                thicker(1.0)(d);
            }),
        ]);
        assert_eq!(shown(&found), [(0, vec![0, 1])]);
        let wanted = six_string().head.thickness / 2.0 - 9.0;
        assert!((found.heads[0].shims[0] - wanted).abs() < 1e-9);
        assert!((found.heads[1].shims[0] - wanted - 0.5).abs() < 1e-9);
    }

    /// A block from the shelf, 1.2 mm too low for its own head, is not made where a thinner head's serves both.
    #[test]
    fn a_fault_of_its_own_block_does_not_hold_where_another_drills_the_head() {
        let low = |design: &mut Design| design.guide.axis_height = Some(9.0);
        let alone = class(&[of(low)]);
        assert_eq!(alone.heads[0].worst.as_ref().unwrap().code, "block-axis");
        assert_eq!(alone.heads[0].verdict, Verdict::Caution);
        let found = class(&[of(|_| ()), of(low)]);
        assert_eq!(shown(&found), [(0, vec![0, 1])]);
        let head = &found.heads[1];
        assert!(!is_felt(head.shims[0]));
        assert!(
            head.worst
                .as_ref()
                .is_none_or(|worst| worst.code != "block-axis")
        );
        assert_eq!(head.counts.1, found.heads[0].counts.1);
        assert_eq!(head.verdict, found.heads[0].verdict);
        // With a shim under the other block it holds.
        let found = class(&[
            of(|_| ()),
            of(|_| ()),
            of(|design| {
                thicker(1.0)(design);
                low(design);
            }),
        ]);
        assert!(is_felt(found.heads[2].shims[0]));
        assert_eq!(found.heads[2].worst.as_ref().unwrap().code, "block-axis");
    }

    #[test]
    fn no_block_is_that_of_a_stopped_head() {
        let stopped = |design: &mut Design| {
            thicker(1.0)(design);
            if let Some(slots) = &mut design.slots {
                slots.lie = crate::input::Lie::Rib(1.0);
            }
        };
        let heads = [of(stopped), of(stopped), of(|_| ())];
        assert_eq!(heads[0].2.verdict(), Verdict::Stop);
        let found = class(&heads);
        assert_eq!(shown(&found), [(2, vec![2])]);
        let head = &found.heads[0];
        assert_eq!((head.block, head.deepest_stop()), (None, None));
        assert!(head.shims.is_empty() && head.stops.is_empty());
        assert_eq!(found.heads[2].block, Some(0));
        assert_eq!(class(&heads[..2]).blocks, []);
    }

    #[test]
    fn the_stop_is_the_deeper_side() {
        let found = class(&[of(|d| d.head.half_width_at_end.bass += 3.0)]);
        let head = &found.heads[0];
        let all = head.stops.iter().map(|stop| stop.figure);
        let deepest = head.deepest_stop().unwrap();
        assert!(all.into_iter().all(|figure| figure <= deepest));
    }

    #[test]
    fn blocks_have_names() {
        let names: Vec<String> = [0, 25, 26].map(block_name).into();
        assert_eq!(names, ["A", "Z", "27"]);
    }
}
