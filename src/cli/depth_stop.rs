//! Where the press's depth stop is set.

use crate::layout::{Layout, SideLayout};
use crate::tolerance::NOISE;

/// Where the depth stop is set for one side, or for both.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthStop {
    /// "treble", "bass" or "both".
    pub sides: &'static str,
    /// From the block's top to the tip of the bit at full depth, mm.
    pub figure: f64,
    /// Deepest D of the side, mm.
    pub deepest: f64,
    /// Length of the bit's point, mm.
    pub point: f64,
}

/// The depth stop of each side: block, deepest bore and point together.
pub fn depth_stops(layout: &Layout) -> Vec<DepthStop> {
    let of = |side: &SideLayout| {
        let deepest = side.bores.iter().map(|bore| bore.depth).fold(0.0, f64::max);
        let point = side
            .bores
            .iter()
            .map(|bore| bore.point_height)
            .fold(0.0, f64::max);
        DepthStop {
            sides: side.side.name(),
            figure: layout.design.guide.depth + deepest + point,
            deepest,
            point,
        }
    };
    let (treble, bass) = (of(&layout.sides.treble), of(&layout.sides.bass));
    if (treble.figure - bass.figure).abs() <= NOISE {
        vec![DepthStop {
            sides: "both",
            ..treble
        }]
    } else {
        vec![treble, bass]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::example;
    use crate::layout::Copy;

    #[test]
    fn the_stop_figure_is_block_and_bore_and_point() {
        // By hand: 24 + 32.5 + 5.25/tan 59 = 59.6545...
        let mut design = example::six_string();
        let stops = depth_stops(&Layout::new(&design, Copy::Finished));
        assert_eq!(stops.len(), 1);
        assert_eq!(stops[0].sides, "both");
        assert!((stops[0].figure - 59.6545).abs() < 1e-4, "{stops:?}");
        // A longer bass side alone: its bores go as deep, so one stop still serves both.
        design.machines.pitches.bass.push(35.0);
        assert_eq!(depth_stops(&Layout::new(&design, Copy::Finished)).len(), 1);
    }
}
