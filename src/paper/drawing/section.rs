//! Section along a bore's axis, square to the face; through both bores of a pair, each plane along
//! its own axis as far as the centre line. Seen towards the crest: treble side to the right.

use glam::DVec2;

use super::figure::{Figures, degrees};
use super::hatch::hatch;
use super::profile::{clipped, profile};
use super::view::{Scale, View, note};
use crate::input::{Point, Side};
use crate::layout::{Bore, Layout};
use crate::paper::dimension::{LeaderEnd, Linear, Style};
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::tolerance::NOISE;

/// The bores that the section follows: the middle one of the treble side and its partner, else the
/// first pair, else that bore alone.
pub(super) fn chosen(layout: &Layout) -> Vec<&Bore> {
    let treble = &layout.sides.treble.bores;
    let middle = treble.len() / 2;
    let of_middle = layout.pairs.iter().find(|pair| pair.treble == middle);
    match of_middle.or(layout.pairs.first()) {
        Some(pair) => [
            treble.get(pair.treble),
            layout.sides.bass.bores.get(pair.bass),
        ]
        .into_iter()
        .flatten()
        .collect(),
        None => treble.get(middle).into_iter().collect(),
    }
}

/// The section.
pub(super) struct Section<'a> {
    pub layout: &'a Layout,
    pub bores: &'a [&'a Bore],
    pub view: View,
    pub figures: Figures,
}

/// Wood left beyond a single bore's end before the section breaks off, mm.
pub(super) const BREAK: f64 = 6.0;

impl Section<'_> {
    /// How far the section reaches to both sides of the centre line, mm.
    pub fn extent(bores: &[&Bore]) -> (f64, f64) {
        match bores {
            [one] => (
                one.depth + one.point_height + BREAK - one.depth_at_plane(0.0),
                one.depth_at_plane(0.0),
            ),
            [one, other, ..] => (other.depth_at_plane(0.0), one.depth_at_plane(0.0)),
            [] => (0.0, 0.0),
        }
    }

    pub fn view(origin: DVec2, scale: Scale) -> View {
        View::new(origin, scale, 0.0)
    }

    pub fn draw(&self, sheet: &mut Sheet) {
        for bore in self.bores {
            self.half(sheet, bore);
        }
        let style = Style::default();
        let Some(bore) = self.bores.first() else {
            return;
        };
        let paper = |depth: f64, z: f64| self.place(bore, depth, z);
        let side = paper(0.0, 0.0);
        let axis = paper(0.0, bore.entry.z);
        let text = self.figures.length(self.layout.axis_below_face);
        Linear::upright(side, axis, side.x + 9.0, text).draw(sheet, style);
        // Depth, below the back.
        let back = self.back(bore, 0.0);
        let (a, b) = (
            paper(0.0, back),
            paper(bore.depth, bore.entry.z - bore.radius()),
        );
        let text = format!("D {}", self.figures.length(bore.depth));
        Linear::level(a, b, a.y - 9.0, text).draw(sheet, style);
        self.callouts(sheet, bore);
        for bore in self.bores {
            let middle = bore.depth_at_plane(0.0) * if bore.slot.is_some() { 0.5 } else { 0.72 };
            let at = self.place(bore, middle, 0.0) + DVec2::new(0.0, 1.5);
            let name = format!("{} half, face up", bore.side.name());
            sheet.text(Layer::Notes, at, 2.5, Anchor::Middle, name);
        }
        let axis_past = 4.0 / self.view.scale;
        let top = self.view.xy(0.0, axis_past * 1.5);
        let bottom = self
            .view
            .xy(0.0, self.back(bore, bore.depth_at_plane(0.0)) - axis_past);
        sheet.line(Layer::Axes, LineKind::Axis, top, bottom);
    }

    /// Bore, point and counterbore in words.
    fn callouts(&self, sheet: &mut Sheet, bore: &Bore) {
        let count = self.layout.bores().count();
        let allowed = self.layout.design.tolerances.bore_diameter;
        let end = match bore.point {
            Point::Flat => "flat end".to_owned(),
            Point::Angle(angle) => format!("point {}", degrees(angle)),
        };
        let alike = |other: &Bore| (other.depth - bore.depth).abs() <= NOISE;
        let full = if self.layout.bores().all(alike) {
            "full to D"
        } else {
            "each full to its D in the table"
        };
        let first = format!(
            "{count}× {} +{}/0, {full}, {end}",
            self.figures.diameter(bore.diameter),
            self.figures.length(allowed)
        );
        let shallow = bore.slot.map_or(bore.depth / 2.0, |slot| slot.outer);
        let start = bore.counterbore.map_or(0.0, |mouth| mouth.depth);
        let tip = self.place(bore, (start + shallow) / 2.0, bore.entry.z + bore.radius());
        let knee = DVec2::new(tip.x + 5.0, self.place(bore, 0.0, 0.0).y + 8.0);
        note(sheet, tip, knee, LeaderEnd::Arrow, &[&first]);
        if let Some(mouth) = bore.counterbore {
            let tip = self.place(bore, mouth.depth / 2.0, bore.entry.z - mouth.diameter / 2.0);
            let back = self.place(bore, 0.0, self.back(bore, 0.0));
            let knee = DVec2::new(back.x + 3.0, back.y - 15.0);
            let text = format!(
                "{count}× {} × {} deep, flat",
                self.figures.diameter(mouth.diameter),
                self.figures.length(mouth.depth)
            );
            note(sheet, tip, knee, LeaderEnd::Arrow, &[&text]);
        }
    }

    /// One bore with the wood round it, from its side to the centre line or its own end.
    fn half(&self, sheet: &mut Sheet, bore: &Bore) {
        let alone = self.bores.len() == 1;
        let centre = bore.depth_at_plane(0.0);
        let far = if alone {
            bore.depth + bore.point_height + BREAK
        } else {
            centre
        };
        let paper = |depth: f64, z: f64| self.place(bore, depth, z);
        let wide = |sheet: &mut Sheet, a: DVec2, b: DVec2| {
            sheet.line(Layer::Outline, LineKind::Wide, a, b);
        };
        let back = |depth: f64| self.back(bore, depth);
        wide(sheet, paper(0.0, 0.0), paper(far, 0.0));
        wide(sheet, paper(0.0, back(0.0)), paper(far, back(far)));
        wide(sheet, paper(0.0, 0.0), paper(0.0, back(0.0)));
        let profile = profile(bore, far);
        let mut pieces = vec![(0.0, far)];
        if let Some(slot) = bore.slot {
            pieces = vec![(0.0, slot.outer), (slot.inner, far)];
            for depth in [slot.outer, slot.inner] {
                wide(sheet, paper(depth, 0.0), paper(depth, back(depth)));
            }
        }
        let z = bore.entry.z;
        for (from, to) in pieces {
            let steps = clipped(&profile, from, to);
            for (upper, edge) in [(true, 0.0), (false, 1.0)] {
                let wall = |depth: f64| if edge > 0.0 { back(depth) } else { 0.0 };
                let rim = |height: f64| if upper { z + height } else { z - height };
                let mut corners = vec![paper(from, wall(from)), paper(to, wall(to))];
                corners.extend(steps.iter().rev().map(|(depth, h)| paper(*depth, rim(*h))));
                hatch(sheet, &corners);
                for pair in steps.windows(2) {
                    let ((a, high), (b, low)) = (pair[0], pair[1]);
                    if high > 0.0 || low > 0.0 {
                        sheet.line(
                            Layer::Bores,
                            LineKind::Wide,
                            paper(a, rim(high)),
                            paper(b, rim(low)),
                        );
                    }
                }
            }
            // Rims seen from within: where the full diameter ends, and the opening.
            for pair in steps.windows(2) {
                let (depth, height) = pair[0];
                let falls = pair[1].1 < height - NOISE;
                if falls && height > 0.0 {
                    sheet.line(
                        Layer::Bores,
                        LineKind::Wide,
                        paper(depth, z + height),
                        paper(depth, z - height),
                    );
                }
            }
            if let Some((depth, height)) = steps.last().filter(|last| last.1 > 0.0) {
                let (a, b) = (paper(*depth, z + height), paper(*depth, z - height));
                sheet.line(Layer::Bores, LineKind::Wide, a, b);
            }
        }
        for veneer in self.veneers() {
            let runs: Vec<(f64, f64)> = match bore.slot {
                Some(slot) => vec![(0.0, slot.outer), (slot.inner, far)],
                None => vec![(0.0, far)],
            };
            for (from, to) in runs {
                let at = |depth: f64| {
                    paper(
                        depth,
                        if veneer > 0.0 {
                            -veneer
                        } else {
                            back(depth) - veneer
                        },
                    )
                };
                sheet.line(Layer::Outline, LineKind::Narrow, at(from), at(to));
            }
        }
        let past = 4.0 / self.view.scale;
        let inner = bore.depth.min(far);
        sheet.line(
            Layer::Axes,
            LineKind::Axis,
            paper(-past, z),
            paper((inner + past).min(far.max(inner)), z),
        );
        if alone {
            break_line(sheet, paper(far, 0.0), paper(far, back(far)));
        }
    }

    /// Face veneer (above zero) and back veneer (below zero), where they are on the wood as drawn.
    fn veneers(&self) -> impl Iterator<Item = f64> + use<> {
        let head = &self.layout.design.head;
        [head.face_veneer, -head.back_veneer]
            .into_iter()
            .filter(|veneer| veneer.abs() > 0.0)
    }

    /// z of the back plane under a depth along the axis.
    fn back(&self, bore: &Bore, depth: f64) -> f64 {
        -self.layout.outline.thickness_at(bore.axis_at(depth).y)
    }

    /// On the paper, a depth along a bore's axis and a height.
    fn place(&self, bore: &Bore, depth: f64, z: f64) -> DVec2 {
        let from_centre = bore.depth_at_plane(0.0) - depth;
        let sign = match bore.side {
            Side::Treble => 1.0,
            Side::Bass => -1.0,
        };
        self.view.xy(sign * from_centre, z)
    }
}

/// A break in the part: a narrow line with a zigzag.
fn break_line(sheet: &mut Sheet, a: DVec2, b: DVec2) {
    let (along, length) = ((b - a).normalize_or(DVec2::Y), a.distance(b));
    let across = along.perp();
    let middle = a + along * (length / 2.0);
    let points = [
        a - along * 3.0,
        middle - along * 2.0,
        middle - along + across * 1.5,
        middle + along - across * 1.5,
        middle + along * 2.0,
        b + along * 3.0,
    ];
    for pair in points.windows(2) {
        sheet.line(Layer::Outline, LineKind::Narrow, pair[0], pair[1]);
    }
}
