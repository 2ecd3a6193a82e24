//! The guide block, in its own frame: +z out of the upright, +y away from the head's side, +x
//! from nut to crest on the treble side and from crest to nut on the bass side.

use crate::input::{Design, Scribe, Side};
use crate::tolerance::MERGE;

use super::Copy;

/// Which sides a block drills.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Serves {
    /// Both: their holes fall alike.
    Both,
    /// One only.
    Only(Side),
}

impl Serves {
    /// Word of the report: "both", "treble" or "bass".
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Serves::Both => "both",
            Serves::Only(side) => side.name(),
        }
    }
}

/// A guide hole, right through along y.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// 1-based, along x.
    pub number: usize,
    /// Axis.
    pub x: f64,
    /// Axis, above the upright.
    pub z: f64,
    /// Diameter.
    pub diameter: f64,
}

/// A scribe groove of triangular section along y in the face z = height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Groove {
    /// Middle.
    pub x: f64,
    /// Width at the surface.
    pub width: f64,
    /// Depth.
    pub depth: f64,
}

/// One guide block.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Which sides it drills.
    pub serves: Serves,
    /// Extent along x.
    pub length: f64,
    /// Extent along y, the bores' direction.
    pub depth: f64,
    /// Extent along z, from the upright.
    pub height: f64,
    /// Height of the holes' axes above the upright.
    pub axis_height: f64,
    /// Height the head asks for (contract, 3.6: h).
    pub axis_wanted: f64,
    /// axis_wanted − axis_height: above zero between block and upright, below zero between head
    /// and upright.
    pub shim: f64,
    /// Holes along x.
    pub holes: Vec<Hole>,
    /// Grooves over the holes, where asked for.
    pub grooves: Vec<Groove>,
}

/// A shim thinner than this is none, mm: it would print as 0.00, and nothing so thin is laid at a bench.
const LEAST_SHIM: f64 = 0.005;

impl Block {
    /// The shim to lay at the press: its thickness, mm, and what it lies between; `None` where none is
    /// needed.
    #[must_use]
    pub fn shim_to_lay(&self) -> Option<(f64, &'static str)> {
        let between = if self.shim > 0.0 {
            "the block and the upright"
        } else {
            "the head's face and the upright"
        };
        (self.shim.abs() >= LEAST_SHIM).then_some((self.shim.abs(), between))
    }

    /// Thickness of a shim that lies behind the block itself, mm: it goes in before the block is fixed.
    /// `None` where there is none, or where it lies behind the head.
    #[must_use]
    pub fn shim_behind_block(&self) -> Option<f64> {
        self.shim_to_lay()
            .filter(|_| self.shim > 0.0)
            .map(|(thick, _)| thick)
    }

    /// File stem and name in `report.json`.
    #[must_use]
    pub fn file_stem(&self) -> &'static str {
        match self.serves {
            Serves::Both => "guide-block",
            Serves::Only(Side::Treble) => "guide-block-treble",
            Serves::Only(Side::Bass) => "guide-block-bass",
        }
    }

    /// Name for people.
    #[must_use]
    pub fn title(&self) -> &'static str {
        match self.serves {
            Serves::Both => "guide block",
            Serves::Only(Side::Treble) => "guide block, treble",
            Serves::Only(Side::Bass) => "guide block, bass",
        }
    }

    /// The block's hole over bore `number` of `side` (both 1-based); `None` where the block does
    /// not serve that side.
    #[must_use]
    pub fn hole_for(&self, side: Side, number: usize) -> Option<&Hole> {
        let serves = match self.serves {
            Serves::Both => true,
            Serves::Only(own) => own == side,
        };
        let index = match side {
            Side::Treble => number.checked_sub(1)?,
            Side::Bass => self.holes.len().checked_sub(number)?,
        };
        self.holes.get(index).filter(|_| serves)
    }
}

/// The block or blocks of a design.
pub(super) fn blocks(design: &Design, copy: Copy, axis_below_face: f64) -> Vec<Block> {
    let treble = &design.machines.pitches.treble;
    let bass: Vec<f64> = design.machines.pitches.bass.iter().rev().copied().collect();
    let (at_treble, at_bass) = (hole_places(design, treble), hole_places(design, &bass));
    let alike = at_treble.len() == at_bass.len()
        && at_treble
            .iter()
            .zip(&at_bass)
            .all(|(a, b)| (a - b).abs() <= MERGE);
    if alike {
        vec![block(
            design,
            copy,
            axis_below_face,
            Serves::Both,
            &at_treble,
            treble,
        )]
    } else {
        vec![
            block(
                design,
                copy,
                axis_below_face,
                Serves::Only(Side::Treble),
                &at_treble,
                treble,
            ),
            block(
                design,
                copy,
                axis_below_face,
                Serves::Only(Side::Bass),
                &at_bass,
                &bass,
            ),
        ]
    }
}

/// x of every hole for these pitches.
fn hole_places(design: &Design, pitches: &[f64]) -> Vec<f64> {
    let mut places = vec![design.guide.end_margin];
    let mut x = design.guide.end_margin;
    for pitch in pitches {
        x += pitch;
        places.push(x);
    }
    places
}

fn block(
    design: &Design,
    copy: Copy,
    axis_below_face: f64,
    serves: Serves,
    places: &[f64],
    pitches: &[f64],
) -> Block {
    let guide = &design.guide;
    // With the veneers still to come, the core's face lies against the upright.
    let axis_wanted = if design.head.veneers_on {
        axis_below_face
    } else {
        axis_below_face - design.head.face_veneer
    };
    let axis_height = guide.axis_height.unwrap_or(axis_wanted);
    let (nominal, allowance) = match guide.bush_diameter {
        Some(bush) => (bush, design.print.bush_allowance),
        None => (guide.bore_diameter, design.print.block_allowance),
    };
    let diameter = match copy {
        Copy::Finished => nominal,
        Copy::Printed => nominal + allowance,
    };
    let holes = places
        .iter()
        .enumerate()
        .map(|(index, &x)| Hole {
            number: index + 1,
            x,
            z: axis_height,
            diameter,
        })
        .collect();
    let groove = |scribe: Scribe| {
        places.iter().map(move |&x| Groove {
            x,
            width: scribe.width,
            depth: scribe.depth,
        })
    };
    Block {
        serves,
        length: 2.0 * guide.end_margin + pitches.iter().sum::<f64>(),
        depth: guide.depth,
        height: guide.height,
        axis_height,
        axis_wanted,
        shim: axis_wanted - axis_height,
        holes,
        grooves: guide
            .scribe
            .map(|scribe| groove(scribe).collect())
            .unwrap_or_default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Layout;

    /// The sample asks for an axis 10.2 mm high; a shim that would print as 0.00 is none.
    #[test]
    fn a_shim_is_named_from_where_it_would_print() {
        let shim = |axis_height: f64| {
            let mut design = six_string();
            design.guide.axis_height = Some(axis_height);
            let layout = Layout::new(&design, Copy::Finished);
            let shim = layout.blocks[0].shim_to_lay();
            shim.map(|(thick, between)| (format!("{thick:.3}"), between))
        };
        assert_eq!(shim(10.2), None);
        assert_eq!(shim(10.2 - 0.0049), None);
        assert_eq!(shim(10.2 + 0.0049), None);
        let block = Some(("0.006".to_owned(), "the block and the upright"));
        assert_eq!(shim(10.2 - 0.006), block);
        let head = Some(("2.000".to_owned(), "the head's face and the upright"));
        assert_eq!(shim(12.2), head);
        let behind = |axis_height| {
            let mut design = six_string();
            design.guide.axis_height = Some(axis_height);
            Layout::new(&design, Copy::Finished).blocks[0].shim_behind_block()
        };
        assert!((behind(9.0).unwrap() - 1.2).abs() < 1e-9);
        assert_eq!((behind(10.2), behind(12.2)), (None, None));
    }
}
