//! From the coordinates of a view to the paper.

use glam::DVec2;

use crate::paper::dimension::{LeaderEnd, Style, clear_for_text, leader, line_step, put};
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::plane::{Piece, Region};

/// Scales of ISO 5455 (from memory), largest first, that a view of a head may have.
const SCALES: [(f64, &str); 7] = [
    (2.0, "2:1"),
    (1.0, "1:1"),
    (0.5, "1:2"),
    (0.2, "1:5"),
    (0.1, "1:10"),
    (0.05, "1:20"),
    (0.02, "1:50"),
];

/// A standard scale with its written form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    pub factor: f64,
    pub name: &'static str,
}

impl Scale {
    /// The largest standard scale, of at most `most`, at which a thing so large fits into a room so large.
    pub fn fitting(size: DVec2, room: DVec2, most: f64) -> Scale {
        let fits = |factor: f64| size.x * factor <= room.x && size.y * factor <= room.y;
        let (factor, name) = SCALES
            .into_iter()
            .find(|(factor, _)| *factor <= most && fits(*factor))
            .unwrap_or(SCALES[SCALES.len() - 1]);
        Scale { factor, name }
    }
}

/// A view: its coordinates turned, scaled and set down on the paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct View {
    /// Where the view's origin falls on the paper.
    pub origin: DVec2,
    pub scale: f64,
    /// Turn of the view's x axis on the paper, radians, anticlockwise.
    pub turn: f64,
}

impl View {
    pub fn new(origin: DVec2, scale: Scale, turn: f64) -> View {
        View {
            origin,
            scale: scale.factor,
            turn,
        }
    }

    /// A point on the paper.
    pub fn at(&self, point: DVec2) -> DVec2 {
        self.origin + self.direction(point)
    }

    /// A point on the paper.
    pub fn xy(&self, x: f64, y: f64) -> DVec2 {
        self.at(DVec2::new(x, y))
    }

    /// A step on the paper.
    pub fn direction(&self, step: DVec2) -> DVec2 {
        DVec2::from_angle(self.turn).rotate(step) * self.scale
    }

    pub fn piece(&self, piece: &Piece) -> Piece {
        piece.placed(|point| self.at(point), self.scale, self.turn)
    }

    pub fn region(&self, region: &Region) -> Region {
        Region {
            boundary: region.boundary.iter().map(|p| self.piece(p)).collect(),
        }
    }

    /// A straight line between two points of the view.
    pub fn line(&self, sheet: &mut Sheet, layer: Layer, line: LineKind, a: DVec2, b: DVec2) {
        sheet.line(layer, line, self.at(a), self.at(b));
    }
}

/// A leader whose text lies on white paper, over whatever lines run there.
pub(super) fn note(sheet: &mut Sheet, tip: DVec2, knee: DVec2, end: LeaderEnd, lines: &[&str]) {
    let style = Style::default();
    let right = knee.x >= tip.x;
    let anchor = if right { Anchor::Start } else { Anchor::End };
    let out = if right { 2.8 } else { -2.8 };
    for (index, text) in lines.iter().enumerate() {
        let down = style.text / 2.0 + index as f64 * line_step(style.text);
        let at = knee + DVec2::new(out, -down);
        clear_for_text(sheet, Layer::Dimensions, at, 0.0, anchor, style, text);
    }
    leader(sheet, tip, knee, end, style, lines);
}

/// A text that reads from the left on white paper.
pub(super) fn clear_text(sheet: &mut Sheet, at: DVec2, anchor: Anchor, style: Style, text: &str) {
    clear_for_text(sheet, Layer::Notes, at, 0.0, anchor, style, text);
    put(sheet, Layer::Notes, at, 0.0, anchor, style, text);
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn the_largest_scale_that_fits() {
        let room = DVec2::new(260.0, 100.0);
        for (length, name) in [
            (120.0, "1:1"),
            (260.0, "1:1"),
            (260.1, "1:2"),
            (2000.0, "1:10"),
        ] {
            let size = DVec2::new(length, 20.0);
            assert_eq!(Scale::fitting(size, room, 1.0).name, name);
        }
        assert_eq!(
            Scale::fitting(DVec2::new(70.0, 20.0), room, 2.0).name,
            "2:1"
        );
    }

    #[test]
    fn a_turned_view_keeps_arcs_on_their_points() {
        let view = View {
            origin: DVec2::new(50.0, 60.0),
            scale: 2.0,
            turn: -FRAC_PI_2,
        };
        // The crest, y, runs to the right; the treble side, x, downwards.
        assert!((view.xy(3.0, 10.0) - DVec2::new(70.0, 54.0)).length() < 1e-12);
        let arc = Piece::Arc {
            center: DVec2::new(1.0, 2.0),
            radius: 4.0,
            from: 0.3,
            sweep: 1.0,
        };
        let turned = view.piece(&arc);
        for t in [0.0, 0.4, 1.0] {
            assert!((turned.at(t) - view.at(arc.at(t))).length() < 1e-12);
        }
    }
}
