//! The plate of one side's machines: where it lies along the side and across the thickness.

use crate::input::{Along, Design};

use super::{Outline, SideLine};

/// Plate and stations of one side.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// s of each barrel axis, from the nut.
    pub stations: Vec<f64>,
    /// s of the plate's nut end.
    pub start_s: f64,
    /// s of the plate's crest end.
    pub end_s: f64,
    /// Plate length.
    pub length: f64,
    /// Plate width, across the thickness of the head.
    pub width: f64,
    /// y of the plate's middle on the side line.
    pub middle_y: f64,
    /// Finished thickness of the head there.
    pub thickness_at_middle: f64,
    /// Mid-width of the plate below the face.
    pub middle_below_face: f64,
    /// Wood between the plate's edge and the face.
    pub to_face: f64,
    /// Wood between the plate's edge and the back: at the nut end, the middle, the crest end.
    pub to_back: [f64; 3],
    /// From the start of the straight side to the plate's nut end, along the side.
    pub to_side_start: f64,
    /// From the plate's crest end to the end of the straight side.
    pub to_side_end: f64,
    axis_offset: f64,
    thickness_at_ends: [f64; 2],
}

impl Plate {
    /// Lays the plate along its side; [`Plate::placed`] then sets it across the thickness.
    pub(super) fn new(design: &Design, line: &SideLine, outline: &Outline) -> Plate {
        let machines = &design.machines;
        let pitches = machines.pitches.get(line.side);
        let [nut_overhang, crest_overhang] = *machines.overhang.get(line.side);
        let span: f64 = pitches.iter().sum();
        let length = nut_overhang + span + crest_overhang;
        let first = match design.placement.along {
            Along::Centred => (line.start_s + line.end_s) / 2.0 - length / 2.0 + nut_overhang,
            Along::FirstBarrel(y) => y.get(line.side) / line.taper.cos(),
        };
        let mut stations = vec![first];
        let mut s = first;
        for pitch in pitches {
            s += pitch;
            stations.push(s);
        }
        let (start_s, end_s) = (first - nut_overhang, first - nut_overhang + length);
        let middle_y = line.at((start_s + end_s) / 2.0).y;
        let thickness = |s: f64| outline.thickness_at(line.at(s).y);
        Plate {
            stations,
            start_s,
            end_s,
            length,
            width: machines.plate_width,
            middle_y,
            thickness_at_middle: outline.thickness_at(middle_y),
            middle_below_face: 0.0,
            to_face: 0.0,
            to_back: [0.0; 3],
            to_side_start: start_s - line.start_s,
            to_side_end: line.end_s - end_s,
            axis_offset: machines.axis_offset,
            thickness_at_ends: [thickness(start_s), thickness(end_s)],
        }
    }

    /// The plate with its barrels' axes `axis_below_face` under the face.
    pub(super) fn placed(&self, axis_below_face: f64) -> Plate {
        let middle = axis_below_face + self.axis_offset;
        let back_edge = middle + self.width / 2.0;
        let [at_start, at_end] = self.thickness_at_ends;
        Plate {
            middle_below_face: middle,
            to_face: middle - self.width / 2.0,
            to_back: [
                at_start - back_edge,
                self.thickness_at_middle - back_edge,
                at_end - back_edge,
            ],
            ..self.clone()
        }
    }
}
