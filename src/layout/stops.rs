//! Where the depth stop is set.

use crate::input::Side;
use crate::tolerance::NOISE;

use super::{Layout, Serves, SideLayout};

/// Where the depth stop is set for one side, or for both.
///
/// One figure serves two ways of stopping. At a press it is the travel of the quill from the place
/// where the tip of the bit is level with the block's top. On a bit in a hand drill it is the
/// distance from the tip to the collar, which comes to rest on the block's top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthStop {
    /// Which sides it serves.
    pub serves: Serves,
    /// From the block's top to the tip of the bit at full depth: block, deepest bore and point, mm.
    pub figure: f64,
    /// Depth of the block along the bores, mm.
    pub block: f64,
    /// Deepest D of the side, mm.
    pub deepest: f64,
    /// Length of the bit's point, mm; 0 for a flat end.
    pub point: f64,
}

impl Layout {
    /// The depth stop of one side: its deepest bore decides.
    #[must_use]
    pub fn stop(&self, side: Side) -> DepthStop {
        let of: &SideLayout = self.sides.get(side);
        let deepest = of.bores.iter().map(|bore| bore.depth).fold(0.0, f64::max);
        let point = of
            .bores
            .iter()
            .map(|bore| bore.point_height)
            .fold(0.0, f64::max);
        let block = self.design.guide.depth;
        DepthStop {
            serves: Serves::Only(side),
            figure: block + deepest + point,
            block,
            deepest,
            point,
        }
    }

    /// The depth stops: one where both sides stop alike, else treble and bass.
    #[must_use]
    pub fn stops(&self) -> Vec<DepthStop> {
        let (treble, bass) = (self.stop(Side::Treble), self.stop(Side::Bass));
        if (treble.figure - bass.figure).abs() <= NOISE {
            vec![DepthStop {
                serves: Serves::Both,
                ..treble
            }]
        } else {
            vec![treble, bass]
        }
    }

    /// The greatest stop figure: what the press and the bit must reach, mm.
    #[must_use]
    pub fn longest_stop(&self) -> f64 {
        Side::BOTH
            .into_iter()
            .map(|side| self.stop(side).figure)
            .fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::input::{BoreDepth, Point};
    use crate::layout::Copy;

    #[test]
    fn the_stop_figure_is_block_and_bore_and_point() {
        // By hand: 24 + 32.5 + 5.25/tan 59 = 59.6545...
        let mut design = six_string();
        let layout = Layout::new(&design, Copy::Finished);
        let stops = layout.stops();
        assert_eq!(stops.len(), 1);
        assert_eq!(stops[0].serves, Serves::Both);
        assert!((stops[0].figure - 59.6545).abs() < 1e-4, "{stops:?}");
        assert!((layout.longest_stop() - 59.6545).abs() < 1e-4);
        // A longer bass side alone: its bores go as deep, so one stop still serves both.
        design.machines.pitches.bass.push(35.0);
        assert_eq!(Layout::new(&design, Copy::Finished).stops().len(), 1);
        // A flat bit has no point to let through.
        design.bores.point = Point::Flat;
        let flat = Layout::new(&design, Copy::Finished).stop(Side::Bass);
        assert!((flat.figure - 56.5).abs() < 1e-12 && flat.point.abs() < 1e-12);
    }

    #[test]
    fn sides_of_different_widths_stop_apart_where_the_centre_line_counts() {
        let mut design = six_string();
        design.bores.depth = BoreDepth::BeyondCentre(2.0);
        design.head.half_width_at_start.bass += 1.5;
        design.head.half_width_at_end.bass += 1.5;
        let layout = Layout::new(&design, Copy::Finished);
        let stops = layout.stops();
        assert_eq!(stops.len(), 2, "{stops:?}");
        assert!(stops[1].figure > stops[0].figure + 1.0);
        assert!((layout.longest_stop() - stops[1].figure).abs() < 1e-12);
    }
}
