//! A side of the head, seen from outside and square to it, nut to the left.
//!
//! So the treble side has its face upwards and the bass side its face downwards, as when the head of
//! the front view is rolled over on the table to either side.

use glam::DVec2;

use super::figure::{Figures, degrees};
use super::front::origin_mark;
use super::view::{View, note};
use crate::input::Side;
use crate::layout::{Layout, Pilot, SideLayout};
use crate::paper::dimension::{LeaderEnd, Linear, Style, ordinate, spread};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::plane::Piece;
use crate::tolerance::MERGE;

/// Running dimensions stand at least so far apart, mm on the paper.
const APART: f64 = 4.5;
/// From the part to the end of running dimensions, mm on the paper.
pub(super) const ROW: f64 = 11.0;

/// One side in its view.
pub(super) struct SideView<'a> {
    pub layout: &'a Layout,
    pub side: Side,
    pub view: View,
    pub figures: Figures,
}

impl SideView<'_> {
    pub fn draw(&self, sheet: &mut Sheet) {
        let one = self.layout.sides.get(self.side);
        self.body(sheet, one);
        self.holes(sheet, one);
        self.plate(sheet, one);
        self.running(sheet, one);
        self.thickness(sheet);
    }

    /// Title of the view.
    pub fn title(&self) -> String {
        let (letter, name) = match self.side {
            Side::Treble => ("A", "treble"),
            Side::Bass => ("B", "bass"),
        };
        let taper = degrees(self.layout.sides.get(self.side).line.taper.abs());
        format!("{letter}: {name} side, seen square to it ({taper} to the centre line)")
    }

    /// On the paper: s along the side, z from the face.
    fn at(&self, s: f64, z: f64) -> DVec2 {
        self.view.xy(s, z * self.side.sign())
    }

    /// Least and greatest s of the head as seen in this view.
    fn reach(&self, one: &SideLayout) -> (f64, f64) {
        let outline = self.layout.outline.region();
        let origin = one.line.origin.dot(one.line.along);
        (
            -outline.reach(-one.line.along) - origin,
            outline.reach(one.line.along) - origin,
        )
    }

    fn body(&self, sheet: &mut Sheet, one: &SideLayout) {
        let line = &one.line;
        let (low, high) = self.reach(one);
        let back = |s: f64| -self.layout.outline.thickness_at(line.at(s).y);
        let wide = |sheet: &mut Sheet, a: DVec2, b: DVec2| {
            sheet.line(Layer::Outline, LineKind::Wide, a, b);
        };
        wide(sheet, self.at(low, 0.0), self.at(high, 0.0));
        wide(sheet, self.at(low, back(low)), self.at(high, back(high)));
        let mut edges = vec![low, high, line.end_s];
        // The side's own beginning, and the corner of the nut line where shoulders run out to it.
        edges.push(self.layout.straight_from(self.side));
        for (_, piece) in &self.layout.outline.pieces {
            if let Piece::Line { a, b } = *piece {
                for corner in [a, b] {
                    if corner.x * self.side.sign() > 0.0 {
                        edges.push(line.s_of(corner));
                    }
                }
            }
        }
        edges.sort_by(f64::total_cmp);
        edges.dedup_by(|a, b| (*a - *b).abs() < MERGE);
        for s in edges {
            wide(sheet, self.at(s, 0.0), self.at(s, back(s)));
        }
    }

    fn holes(&self, sheet: &mut Sheet, one: &SideLayout) {
        let scale = self.view.scale;
        let mut circle = |layer: Layer, s: f64, z: f64, diameter: f64| {
            let radius = diameter / 2.0 * scale;
            sheet.circle(layer, LineKind::Wide, self.at(s, z), radius);
        };
        for bore in &one.bores {
            circle(Layer::Bores, bore.s, bore.entry.z, bore.diameter);
            if let Some(mouth) = bore.counterbore {
                circle(Layer::Counterbores, bore.s, bore.entry.z, mouth.diameter);
            }
        }
        for pilot in &one.pilots {
            circle(Layer::Pilots, pilot.s, pilot.entry.z, pilot.diameter);
        }
        let axis = -self.layout.axis_below_face;
        let past = 4.0 / scale;
        let (a, b) = (
            self.at(one.plate.start_s - past, axis),
            self.at(one.plate.end_s + past, axis),
        );
        sheet.line(Layer::Axes, LineKind::Axis, a, b);
        for bore in &one.bores {
            let half = bore.counterbore.map_or(bore.diameter, |m| m.diameter) / 2.0 + 2.0 / scale;
            let (a, b) = (self.at(bore.s, axis - half), self.at(bore.s, axis + half));
            sheet.line(Layer::Axes, LineKind::Axis, a, b);
            let number = format!("{}{}", letter(self.side), bore.number);
            let out = half * scale - 0.5;
            // On the far side of the bore where a pilot's line or the plate's end would run through it.
            let room = out + text_width(&number, 2.5, Weight::Plain) + 1.0;
            let taken = |pilot: &Pilot| {
                let beyond = (pilot.s - bore.s) * scale;
                beyond > 0.0 && beyond - pilot.diameter / 2.0 * scale < room
            };
            let plate_end = (one.plate.end_s - bore.s) * scale;
            let at_end = plate_end > 0.0 && plate_end < room;
            let (out, anchor) = if at_end || one.pilots.iter().any(taken) {
                (-out, Anchor::End)
            } else {
                (out, Anchor::Start)
            };
            let at = self.at(bore.s, axis) + DVec2::new(out, 1.2);
            sheet.text(Layer::Notes, at, 2.5, anchor, number);
        }
    }

    fn plate(&self, sheet: &mut Sheet, one: &SideLayout) {
        let plate = &one.plate;
        let (top, bottom) = (
            plate.width / 2.0 - plate.middle_below_face,
            -plate.width / 2.0 - plate.middle_below_face,
        );
        let corners = [
            self.at(plate.start_s, bottom),
            self.at(plate.end_s, bottom),
            self.at(plate.end_s, top),
            self.at(plate.start_s, top),
        ];
        let region = crate::plane::Region::polygon(&corners);
        sheet.region(Layer::Adjacent, LineKind::Adjacent, &region);
    }

    /// Running dimensions along the side: bores and the side's ends below, pilots above.
    fn running(&self, sheet: &mut Sheet, one: &SideLayout) {
        let line = &one.line;
        let below = self
            .layout
            .outline
            .thickness_at(0.0)
            .max(self.layout.outline.thickness_at(self.layout.outline.length));
        let edge = |lower: bool| {
            let face = self.at(0.0, 0.0).y;
            let back = self.at(0.0, -below).y;
            if lower {
                face.min(back)
            } else {
                face.max(back)
            }
        };
        let mut marks: Vec<(f64, f64)> = one.bores.iter().map(|b| (b.s, b.entry.z)).collect();
        let low_z = if self.side == Side::Treble {
            -below
        } else {
            0.0
        };
        marks.push((0.0, low_z));
        marks.push((self.layout.straight_from(self.side), low_z));
        marks.push((line.end_s, low_z));
        self.row(sheet, marks, edge(true) - ROW, 1.0);
        let y = edge(false) + ROW;
        let high_z = if self.side == Side::Treble {
            0.0
        } else {
            -below
        };
        if !one.pilots.is_empty() {
            let mut marks: Vec<(f64, f64)> = one.pilots.iter().map(|p| (p.s, p.entry.z)).collect();
            marks.push((0.0, high_z));
            self.row(sheet, marks, y, -1.0);
            self.pilot_note(sheet, &one.pilots, edge(false));
        }
    }

    fn row(&self, sheet: &mut Sheet, mut marks: Vec<(f64, f64)>, y: f64, inward: f64) {
        marks.sort_by(|a, b| a.0.total_cmp(&b.0));
        marks.dedup_by(|a, b| (a.0 - b.0).abs() < MERGE);
        let places: Vec<f64> = marks.iter().map(|(s, _)| self.at(*s, 0.0).x).collect();
        for ((s, z), x) in marks.iter().zip(spread(&places, APART)) {
            let to = DVec2::new(x, y);
            let text = self.figures.length(*s);
            ordinate(sheet, self.at(*s, *z), to, Style::default(), &text);
        }
        let origin = DVec2::new(self.at(0.0, 0.0).x, y + 2.0 * inward);
        origin_mark(sheet, origin);
    }

    fn pilot_note(&self, sheet: &mut Sheet, pilots: &[Pilot], top: f64) {
        // From the last one: over any other the note would run through the lines of those beyond.
        let Some(last) = pilots.iter().max_by(|a, b| a.s.total_cmp(&b.s)) else {
            return;
        };
        let axis = -self.layout.axis_below_face;
        let off = pilots
            .iter()
            .find(|pilot| (pilot.entry.z - axis).abs() > MERGE);
        let place = match off {
            None => "on the bores' axis",
            Some(_) => "below the face: see table",
        };
        let text = format!(
            "{}× {} × {} deep, flat, {place}",
            pilots.len(),
            self.figures.diameter(last.diameter),
            self.figures.length(last.depth)
        );
        let tip = self.at(last.s, last.entry.z)
            + DVec2::new(0.5, 0.87) * (last.diameter / 2.0 * self.view.scale);
        // Over the word "face", under the figures of the running dimensions.
        let knee = DVec2::new(tip.x + 6.0, top + 8.0);
        note(sheet, tip, knee, LeaderEnd::Arrow, &[&text]);
    }

    /// Thickness at the nut line, and at the crest where it differs.
    fn thickness(&self, sheet: &mut Sheet) {
        if self.side == Side::Bass {
            return;
        }
        let one = self.layout.sides.get(self.side);
        let (low, high) = self.reach(one);
        let outline = &self.layout.outline;
        let style = Style::default();
        let (nut, crest) = (
            outline.thickness_at(0.0),
            outline.thickness_at(outline.length),
        );
        let at = |s: f64, thickness: f64| (self.at(s, 0.0), self.at(s, -thickness));
        let (a, b) = at(low, nut);
        Linear::upright(a, b, a.x - 9.0, self.figures.length(nut)).draw(sheet, style);
        if (nut - crest).abs() > MERGE {
            let (a, b) = at(high, crest);
            Linear::upright(a, b, a.x + 9.0, self.figures.length(crest)).draw(sheet, style);
        }
    }
}

/// First letter of a side's bores.
pub(super) fn letter(side: Side) -> &'static str {
    match side {
        Side::Treble => "T",
        Side::Bass => "B",
    }
}
