//! The head seen square to its face: nut to the left, crest to the right, treble side below.

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

use super::figure::Figures;
use super::view::{Scale, View};
use crate::input::Side;
use crate::layout::{Bore, Layout, OutlinePart, Slot};
use crate::paper::dimension::{Style, dot, ordinate, spread};
use crate::paper::{Layer, LineKind, Sheet};
use crate::tolerance::MERGE;

/// Running dimensions stand at least so far apart, mm on the paper.
const APART: f64 = 4.5;
/// Running dimensions end so far from the head's widest place, mm on the paper.
pub(super) const ROW: f64 = 13.0;

/// The head in front view.
pub(super) struct Front<'a> {
    pub layout: &'a Layout,
    pub view: View,
    pub figures: Figures,
    /// Bores whose axes the section follows.
    pub cut: &'a [&'a Bore],
}

impl Front<'_> {
    /// The view with the origin there.
    pub fn view(origin: DVec2, scale: Scale) -> View {
        View::new(origin, scale, -FRAC_PI_2)
    }

    pub fn draw(&self, sheet: &mut Sheet) {
        self.bodies(sheet);
        self.axes(sheet);
        self.running(sheet, Side::Treble);
        if !self.layout.is_mirrored() {
            self.running(sheet, Side::Bass);
        }
        self.widths(sheet);
        self.notes(sheet);
        self.pointers(sheet);
    }

    fn bodies(&self, sheet: &mut Sheet) {
        let (layout, view) = (self.layout, &self.view);
        let outline = view.region(&layout.outline.region());
        sheet.region(Layer::Outline, LineKind::Wide, &outline);
        for side in layout.each_side() {
            if let Some(slot) = &side.slot {
                sheet.region(Layer::Slots, LineKind::Wide, &view.region(&slot.region()));
                if slot.ramp.is_some() {
                    let opening = view.region(&slot.opening());
                    sheet.region(Layer::Ramps, LineKind::Wide, &opening);
                }
            }
            for bore in &side.bores {
                let corners = bore.section();
                self.hidden(sheet, &corners, side.slot.as_ref());
                if let Some(mouth) = bore.counterbore {
                    let across = side.line.along * (mouth.diameter / 2.0);
                    let at = |depth: f64| bore.axis_at(depth).truncate();
                    let (rim, floor) = (at(0.0), at(mouth.depth));
                    let corners = [rim + across, floor + across, floor - across, rim - across];
                    self.hidden(sheet, &corners, side.slot.as_ref());
                }
            }
            for pilot in &side.pilots {
                let across = side.line.along * (pilot.diameter / 2.0);
                let rim = pilot.entry.truncate();
                let floor = (pilot.entry + pilot.direction * pilot.depth).truncate();
                let corners = [rim + across, floor + across, floor - across, rim - across];
                self.hidden(sheet, &corners, side.slot.as_ref());
            }
        }
    }

    /// Hidden edges round these corners, but for those in a side, which are seen, and those inside the
    /// slot, where there is no wood.
    fn hidden(&self, sheet: &mut Sheet, corners: &[DVec2], slot: Option<&Slot>) {
        let in_side = |point: DVec2| {
            let mut sides = self.layout.each_side();
            sides.any(|side| side.line.depth_of(point).abs() < MERGE)
        };
        let next = corners.iter().cycle().skip(1);
        for (a, b) in corners.iter().zip(next) {
            for (a, b) in outside(slot, *a, *b) {
                if !(in_side(a) && in_side(b)) {
                    self.view.line(sheet, Layer::Bores, LineKind::Hidden, a, b);
                }
            }
        }
    }

    fn axes(&self, sheet: &mut Sheet) {
        let past = 5.0 / self.view.scale;
        // Short of the figure of the head's width there.
        let crest = self.layout.outline.length + past / 2.0;
        let axis = |sheet: &mut Sheet, a: DVec2, b: DVec2| {
            self.view.line(sheet, Layer::Axes, LineKind::Axis, a, b);
        };
        axis(sheet, DVec2::new(0.0, -past), DVec2::new(0.0, crest));
        for bore in self.layout.bores() {
            let end = bore
                .length_in_model
                .max(bore.depth_at_plane(0.0))
                .min(bore.depth);
            let end = end + bore.point_height;
            axis(
                sheet,
                bore.axis_at(-past).truncate(),
                bore.axis_at(end.min(bore.depth_at_plane(0.0)) + past / 2.0)
                    .truncate(),
            );
        }
    }

    /// Running dimensions from the nut line along the centre line, on one side of the head.
    fn running(&self, sheet: &mut Sheet, side: Side) {
        let layout = self.layout;
        let mut marks = self.marks(side);
        if side == Side::Bass {
            // What stands level with the treble side's is dimensioned there.
            let treble = self.marks(Side::Treble);
            let level = |y: f64| treble.iter().any(|mark| (mark.1 - y).abs() <= MERGE);
            marks.retain(|mark| !level(mark.1));
            if marks.is_empty() {
                return;
            }
            marks.push((DVec2::new(self.nut_corner(side), 0.0), 0.0));
        }
        marks.sort_by(|a, b| a.1.total_cmp(&b.1));
        let outward = DVec2::X * side.sign();
        let widest = layout.outline.region().reach(outward) * side.sign();
        let down = DVec2::new(0.0, -side.sign());
        let end = |y: f64| self.view.xy(widest, y) + down * ROW;
        let places: Vec<f64> = marks.iter().map(|(_, y)| end(*y).x).collect();
        for ((from, y), x) in marks.iter().zip(spread(&places, APART)) {
            let to = DVec2::new(x, end(*y).y);
            let text = self.figures.length(*y);
            ordinate(sheet, self.view.at(*from), to, Style::default(), &text);
        }
        origin_mark(sheet, end(0.0) - down * 2.0);
    }

    /// What the running dimensions of one side measure: a point of the part and its y.
    fn marks(&self, side: Side) -> Vec<(DVec2, f64)> {
        let layout = self.layout;
        let one = layout.sides.get(side);
        let head = &layout.design.head;
        let mut marks = vec![(DVec2::new(self.nut_corner(side), 0.0), 0.0)];
        if let Some(slot) = &one.slot {
            let half = slot.width / 2.0;
            if let Some(ramp) = slot.ramp {
                let y = slot.at(-ramp.mouth, 0.0).y;
                marks.push((DVec2::new(slot.at(-ramp.mouth, half).x, y), y));
            }
            for tau in [0.0, slot.length] {
                let at = slot.at(tau, 0.0);
                marks.push((at, at.y));
            }
        }
        let start = layout.straight_from(side);
        if start > 0.0 {
            let at = one.line.at(start);
            marks.push((at, at.y));
        }
        let at = one.line.at(one.line.end_s);
        marks.push((at, at.y));
        if head.length - head.side_end > MERGE && side == Side::Treble {
            marks.push((DVec2::new(0.0, head.length), head.length));
        }
        marks
    }

    /// x of the outline's corner on the nut line.
    pub(super) fn nut_corner(&self, side: Side) -> f64 {
        let nut = self.layout.outline.part(OutlinePart::Nut);
        nut.map_or(0.0, |piece| match side {
            Side::Treble => piece.end().x,
            Side::Bass => piece.start().x,
        })
    }
}

/// The parts of a straight piece that lie outside a slot's walls.
fn outside(slot: Option<&Slot>, a: DVec2, b: DVec2) -> Vec<(DVec2, DVec2)> {
    let Some(slot) = slot else {
        return vec![(a, b)];
    };
    let half = slot.width / 2.0;
    let (qa, qb) = (slot.coordinates(a).1, slot.coordinates(b).1);
    let mut stops = vec![0.0, 1.0];
    for wall in [-half, half] {
        if (qa - wall) * (qb - wall) < 0.0 {
            stops.push((wall - qa) / (qb - qa));
        }
    }
    stops.sort_by(f64::total_cmp);
    stops
        .windows(2)
        .filter(|pair| {
            let q = qa + (qb - qa) * (pair[0] + pair[1]) / 2.0;
            q.abs() > half
        })
        .map(|pair| (a.lerp(b, pair[0]), a.lerp(b, pair[1])))
        .collect()
}

/// The origin of running dimensions.
pub(super) fn origin_mark(sheet: &mut Sheet, at: DVec2) {
    sheet.circle(Layer::Dimensions, LineKind::Narrow, at, 1.0);
    dot(sheet, Layer::Dimensions, at, 0.3);
}
