//! The head's outline in plan and its back plane.

use glam::DVec2;

use crate::input::{Crest, Head, PerSide, Side};
use crate::plane::moments::Linear;
use crate::plane::{Piece, Region, arc_through};

/// What a piece of the outline is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutlinePart {
    /// The nut line, y = 0.
    Nut,
    /// Straight shoulder of a side, from the nut line to the side's start.
    Shoulder(Side),
    /// Straight side.
    Side(Side),
    /// Crest, flat or arched.
    Crest,
}

/// The outline, anticlockwise seen from the front, beginning with the nut line from bass to
/// treble; and the thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Pieces with their meaning, in order.
    pub pieces: Vec<(OutlinePart, Piece)>,
    /// Thickness as a function of (x, y); the back plane lies at z = −thickness.
    pub thickness: Linear,
    /// Head length on the centre line.
    pub length: f64,
}

impl Outline {
    /// Works out the outline of a head.
    #[must_use]
    pub fn new(head: &Head) -> Outline {
        let ends = |side: Side| {
            let (start, end) = (
                *head.half_width_at_start.get(side),
                *head.half_width_at_end.get(side),
            );
            let rise = (end - start) / (head.side_end - head.side_start);
            let at_nut = match head.shoulder_width {
                Some(width) if head.side_start > 0.0 => width / 2.0,
                _ => start - rise * head.side_start,
            };
            let shouldered = head.shoulder_width.is_some() && head.side_start > 0.0;
            let sign = side.sign();
            (
                DVec2::new(sign * at_nut, 0.0),
                shouldered.then(|| DVec2::new(sign * start, head.side_start)),
                DVec2::new(sign * end, head.side_end),
            )
        };
        let corners = PerSide::from_fn(ends);
        let (treble_nut, treble_start, treble_end) = corners.treble;
        let (bass_nut, bass_start, bass_end) = corners.bass;
        let mut pieces = vec![(
            OutlinePart::Nut,
            Piece::Line {
                a: bass_nut,
                b: treble_nut,
            },
        )];
        let mut from = treble_nut;
        if let Some(start) = treble_start {
            pieces.push((
                OutlinePart::Shoulder(Side::Treble),
                Piece::Line { a: from, b: start },
            ));
            from = start;
        }
        pieces.push((
            OutlinePart::Side(Side::Treble),
            Piece::Line {
                a: from,
                b: treble_end,
            },
        ));
        let top = DVec2::new(0.0, head.length);
        let crest = match head.crest {
            Crest::Arch => arc_through(treble_end, top, bass_end),
            Crest::Flat => None,
        };
        let crest = crest.unwrap_or(Piece::Line {
            a: treble_end,
            b: bass_end,
        });
        pieces.push((OutlinePart::Crest, crest));
        let to = bass_start.unwrap_or(bass_nut);
        pieces.push((
            OutlinePart::Side(Side::Bass),
            Piece::Line { a: bass_end, b: to },
        ));
        if bass_start.is_some() {
            pieces.push((
                OutlinePart::Shoulder(Side::Bass),
                Piece::Line { a: to, b: bass_nut },
            ));
        }
        let slope = (head.thickness_at_crest - head.thickness) / head.length;
        Outline {
            pieces,
            thickness: Linear {
                at_origin: head.thickness,
                slope: DVec2::new(0.0, slope),
            },
            length: head.length,
        }
    }

    /// The outline as a region.
    #[must_use]
    pub fn region(&self) -> Region {
        Region {
            boundary: self.pieces.iter().map(|(_, piece)| *piece).collect(),
        }
    }

    /// Finished thickness at y.
    #[must_use]
    pub fn thickness_at(&self, y: f64) -> f64 {
        self.thickness.at(DVec2::new(0.0, y))
    }

    /// Slope of the back plane against the face, radians: positive where the head thickens to the
    /// crest.
    #[must_use]
    pub fn back_slope(&self) -> f64 {
        self.thickness.slope.y.atan()
    }

    /// The piece that is the given part.
    #[must_use]
    pub fn part(&self, part: OutlinePart) -> Option<Piece> {
        self.pieces
            .iter()
            .find(|(name, _)| *name == part)
            .map(|(_, piece)| *piece)
    }
}
