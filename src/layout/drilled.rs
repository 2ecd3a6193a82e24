//! Bores as they are in the wood: the records of the file, and as designed what they leave out.

use glam::DVec2;

use super::Layout;
use crate::input::{DrilledAlong, Side};

/// One bore as it is in the wood, in the side's plane: along it from the nut line, across it from
/// the design's axis towards the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OldBore {
    /// 1-based, from the nut.
    pub number: usize,
    /// Whether the file has a record of it; else it is as designed.
    pub recorded: bool,
    /// Centre of its mouth, mm.
    pub centre: DVec2,
    /// Where the design has it, mm.
    pub designed: DVec2,
    /// Drift of its axis for each mm of depth.
    pub slope: DVec2,
    /// Diameter, mm.
    pub diameter: f64,
    /// Depth of the full diameter, mm: the design's, for no record gives it.
    pub depth: f64,
}

impl Layout {
    /// The bores of one side as they are in the wood, from the nut.
    #[must_use]
    pub fn as_drilled(&self, side: Side) -> Vec<OldBore> {
        let mut found: Vec<OldBore> = Vec::new();
        for bore in &self.sides.get(side).bores {
            let designed = DVec2::new(bore.s, 0.0);
            let mut old = OldBore {
                number: bore.number,
                recorded: false,
                centre: designed,
                designed,
                slope: DVec2::ZERO,
                diameter: bore.diameter,
                depth: bore.depth,
            };
            let mut records = self.design.drilled.iter();
            if let Some(record) = records.find(|r| r.side == side && r.number == bore.number) {
                old.recorded = true;
                old.diameter = record.diameter.unwrap_or(bore.diameter);
                old.centre.x = match (record.along, found.last()) {
                    (DrilledAlong::FromNutLine(s), _) => s,
                    (DrilledAlong::FromPrevious(gap), Some(before)) => {
                        before.centre.x + before.diameter / 2.0 + gap
                    }
                    (DrilledAlong::FromPrevious(_), None) | (DrilledAlong::AsDesigned, _) => bore.s,
                };
                if let Some(below) = record.below_face {
                    old.centre.y = self.axis_below_face - below;
                }
                old.slope = DVec2::new(record.lean_along.tan(), record.lean_across.tan());
            }
            found.push(old);
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::{
        Drilled,
        sample::{record, six_string},
    };
    use crate::layout::Copy;

    #[test]
    fn a_record_moves_its_own_bore_and_one_from_the_bore_before_it_follows_that() {
        let mut design = six_string();
        let record = |number, along| Drilled {
            along,
            ..record(Side::Treble, number)
        };
        let axis = Layout::new(&design, Copy::Finished).axis_below_face;
        design.drilled = vec![
            Drilled {
                below_face: Some(axis - 0.3),
                diameter: Some(11.0),
                ..record(2, DrilledAlong::FromNutLine(90.0))
            },
            // 90 + 5.5 to the edge, and 29.6 on.
            record(3, DrilledAlong::FromPrevious(29.6)),
        ];
        let layout = Layout::new(&design, Copy::Finished);
        let old = layout.as_drilled(Side::Treble);
        assert!(!old[0].recorded && old[0].centre == old[0].designed);
        assert!((old[1].centre - DVec2::new(90.0, 0.3)).length() < 1e-12);
        assert!((old[2].centre - DVec2::new(125.1, 0.0)).length() < 1e-12);
        assert!(
            layout
                .as_drilled(Side::Bass)
                .iter()
                .all(|bore| !bore.recorded)
        );
    }
}
