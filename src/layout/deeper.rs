//! Bores that are drilled deeper than asked, and why.

use crate::tolerance::NOISE;

use super::{Bore, EndCut, Layout};

/// A bore whose depth the rules of a pair have lengthened.
#[derive(Debug, Clone, Copy)]
pub struct Deeper<'a> {
    /// The bore.
    pub bore: &'a Bore,
    /// By how much, mm.
    pub by: f64,
    /// Why.
    pub why: &'static str,
}

impl Layout {
    /// The bores that go deeper than `beyond_barrel` or `beyond_centre` asks for (contract, 3.3).
    pub fn deeper(&self) -> impl Iterator<Item = Deeper<'_>> {
        self.bores().filter_map(|bore| {
            let by = bore.depth - bore.depth_asked;
            let why = match bore.end_plane {
                Some((_, EndCut::Point)) => "it opens into one that goes deeper",
                _ => "full diameter must be through the plane in which it ends",
            };
            (by > NOISE).then_some(Deeper { bore, by, why })
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::input::sample::six_string;
    use crate::input::{BoreDepth, Design};
    use crate::layout::{Copy, Layout};

    fn deeper(design: &Design) -> Vec<(String, usize, f64, &'static str)> {
        let layout = Layout::new(design, Copy::Finished);
        layout
            .deeper()
            .map(|one| {
                let side = one.bore.side.name().to_owned();
                (side, one.bore.number, one.by, one.why)
            })
            .collect()
    }

    /// A rim short of the web's plane by less than it is wide is carried past it, by the contract's formula.
    #[test]
    fn a_rim_is_carried_through_the_plane() {
        let mut design = six_string();
        assert!(deeper(&design).is_empty());
        // A pair that keeps its web: the bass side's pitches differ.
        design.machines.pitches.bass[0] += 0.2;
        let layout = Layout::new(&design, Copy::Finished);
        let bore = &layout.sides.bass.bores[1];
        let needed =
            (bore.half_width() - 0.25 + bore.radius() * bore.taper.sin().abs()) / bore.taper.cos();
        let asked = needed - 0.1;
        design.bores.depth = BoreDepth::BeyondBarrel(asked - design.machines.barrel_length);
        let found = deeper(&design);
        let own = found
            .iter()
            .find(|one| (one.0.as_str(), one.1) == ("bass", 2));
        let (_, _, by, why) = own.expect("bass bore 2");
        assert!((by - 0.1).abs() < 1e-9, "{found:?}");
        assert!(why.contains("full diameter"));
    }
}
