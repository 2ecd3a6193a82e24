//! What head a set of machines wants: between which numbers the checks are content.
//!
//! One number of the design is moved at a time, everything else stays as given or assumed. The checks
//! that this number can decide are asked on the moved layout, each by itself; the range is what
//! their own ranges have in common. Where they have nothing in common, both sides of the gap are
//! told. Checks on features that are themselves assumed (a ramp nobody asked for) do not count, nor do those
//! that hang on other numbers as much as on this one; which of them the number moves is told beside.

mod block;
mod head;
mod left_out;
mod range;
mod slots;

pub use range::{End, Range};

use crate::check::{self, RibWindow, Verdict};
use crate::input::{Assumed, AssumedValue, Design, Lie, Side};
use crate::layout::{Copy, Layout};

/// Which number a bound speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Number {
    /// Finished thickness of the head at the nut line; a back that slopes keeps its slope.
    Thickness,
    /// Width of the head, side to side, at the first barrels; the sides keep their taper.
    WidthAtFirst,
    /// The same at the last barrels that face one another.
    WidthAtLast,
    /// Wood between the slots, their width kept.
    Rib,
    /// Wood outside the slots, their width kept.
    Cheek,
    /// Width of the slots, their middle over the string holes.
    SlotWidth,
    /// y of the treble side's first barrel; the bass side's moves with it.
    FirstBarrel,
    /// The guide block along the bores.
    BlockDepth,
    /// Outside of bushes pressed into the block.
    Bush,
}

impl Number {
    /// Words for a person.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Number::Thickness => "Thickness of the head",
            Number::WidthAtFirst => "Width of the head at the first barrels, before they meet",
            Number::WidthAtLast => "Width of the head at the last barrels, before they meet",
            Number::Rib => "Rib between the slots, at the slot width of the files",
            Number::Cheek => "Cheek outside the slots, at the slot width of the files",
            Number::SlotWidth => "Slot width, its middle over the string holes",
            Number::FirstBarrel => "First barrel from the nut line, treble side",
            Number::BlockDepth => "Guide block along the bores",
            Number::Bush => "Bushes in the guide block, outside diameter",
        }
    }

    /// Name for a program.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Number::Thickness => "thickness",
            Number::WidthAtFirst => "width_at_first_barrel",
            Number::WidthAtLast => "width_at_last_barrel",
            Number::Rib => "rib",
            Number::Cheek => "cheek",
            Number::SlotWidth => "slot_width",
            Number::FirstBarrel => "first_barrel",
            Number::BlockDepth => "block_depth",
            Number::Bush => "bush_diameter",
        }
    }

    /// Keys of the file that set it; the first is the number itself.
    const fn keys(self) -> &'static [&'static str] {
        match self {
            Number::Thickness => &["head.thickness"],
            Number::WidthAtFirst | Number::WidthAtLast => {
                &["head.width_at_nut_end", "head.width_at_crest_end"]
            }
            Number::Rib => &["slots.rib"],
            Number::Cheek => &["slots.cheek"],
            Number::SlotWidth => &["slots.width"],
            Number::FirstBarrel => &["placement.along"],
            Number::BlockDepth => &["guide.depth"],
            Number::Bush => &[],
        }
    }
}

/// Between which values one number may lie.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// The number.
    pub number: Number,
    /// Its value as given or assumed, mm; `None` where the design has none (no bushes).
    pub here: Option<f64>,
    /// Whether that value is assumed.
    pub assumed: bool,
    /// Where no check that counts says stop.
    pub no_stop: Range,
    /// Where none says caution either.
    pub clear: Range,
    /// Codes of the checks that count.
    pub checks: Vec<&'static str>,
    /// Codes of checks that do not, and say more than now somewhere in the ranges.
    pub left_out: Vec<&'static str>,
}

/// What one set wants.
#[derive(Debug, Clone)]
pub struct Suit {
    /// The design asked about: what was given, and under it what was assumed.
    pub design: Design,
    /// Its layout.
    pub layout: Layout,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
    /// The bounds, in the order of a table.
    pub bounds: Vec<Bound>,
    /// Middle of the string holes: from the centre line where the slots run with it, else from the
    /// side, mm.
    pub slot_middle: f64,
    /// The rib window of the checks.
    pub rib_window: Option<RibWindow>,
    /// Codes of checks that are not clear now, and that no bound counts.
    pub no_bound: Vec<&'static str>,
}

/// A number with the designs that its values make.
struct Movable<'a> {
    number: Number,
    here: Option<f64>,
    /// Searched from and to, mm.
    span: [f64; 2],
    checks: Vec<&'static str>,
    change: Box<dyn Fn(f64) -> Design + 'a>,
}

/// Works out what a set wants. Where the rib is among the assumed values, the slots are first laid over
/// the string holes.
#[must_use]
pub fn suit(design: Design, assumed: Vec<Assumed>) -> Suit {
    let (mut design, mut assumed) = (design, assumed);
    slots::lay_over_holes(&mut design, &mut assumed);
    let layout = Layout::new(&design, Copy::Finished);
    let given = |key: &str| !assumed.iter().any(|assumed| assumed.key == key);
    let movable = [
        head::thickness(&layout, &given),
        head::width(&layout, Number::WidthAtFirst),
        head::width(&layout, Number::WidthAtLast),
        slots::wood(&layout),
        slots::width(&layout),
        head::first_barrel(&layout, &given),
        Some(block::depth(&layout)),
        Some(block::bush(&layout)),
    ];
    let now = left_out::verdicts(&design);
    let bounds: Vec<Bound> = movable
        .into_iter()
        .flatten()
        .map(|movable| {
            let [no_stop, clear] =
                range::ranges(&movable.checks, movable.span, movable.here, &movable.change);
            Bound {
                number: movable.number,
                here: movable.here,
                assumed: movable.number.keys().iter().any(|key| !given(key)),
                left_out: left_out::left_out(&movable, [no_stop, clear], &now),
                no_stop,
                clear,
                checks: movable.checks,
            }
        })
        .collect();
    let counted = |code: &str| bounds.iter().any(|bound| bound.checks.contains(&code));
    let no_bound = now
        .iter()
        .filter(|slack| slack.verdict != Verdict::Clear && !counted(slack.code))
        .map(|slack| slack.code)
        .collect();
    Suit {
        no_bound,
        bounds,
        slot_middle: slots::middle(&layout).unwrap_or(0.0),
        rib_window: check::rib_window(&layout),
        layout,
        design,
        assumed,
    }
}

/// The design as one bound's number would make it at a value; `None` for a number this design lacks.
#[must_use]
pub fn moved(suit: &Suit, number: Number, value: f64) -> Option<Design> {
    let layout = &suit.layout;
    let given = |_: &str| true;
    let movable = match number {
        Number::Thickness => head::thickness(layout, &given),
        Number::WidthAtFirst | Number::WidthAtLast => head::width(layout, number),
        Number::Rib | Number::Cheek => slots::wood(layout),
        Number::SlotWidth => slots::width(layout),
        Number::FirstBarrel => head::first_barrel(layout, &given),
        Number::BlockDepth => Some(block::depth(layout)),
        Number::Bush => Some(block::bush(layout)),
    }?;
    Some((movable.change)(value))
}

/// The assumed length of a key, to be replaced by a better one.
fn assume_length(assumed: &mut [Assumed], key: &str, mm: f64) {
    for own in assumed.iter_mut().filter(|own| own.key == key) {
        own.value = AssumedValue::Length(mm);
    }
}

/// The rib of slots that leave one.
fn rib(design: &Design) -> Option<f64> {
    match design.slots.as_ref()?.lie {
        Lie::Rib(rib) => Some(rib),
        Lie::Cheek(_) => None,
    }
}

/// Barrels on the side that has more.
fn most_barrels(layout: &Layout) -> usize {
    Side::BOTH
        .into_iter()
        .map(|side| layout.sides.get(side).bores.len())
        .max()
        .unwrap_or(0)
}
