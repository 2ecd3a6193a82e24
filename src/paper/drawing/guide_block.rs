//! A guide block in three views, first angle: the scribed face in front; beneath it the view on the
//! face away from the head; to the right the view on the end x = 0.

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

use super::figure::Figures;
use super::front::origin_mark;
use super::view::{Scale, View, note};
use crate::layout::{Block, Layout};
use crate::paper::dimension::{LeaderEnd, Linear, Style, ordinate, spread};
use crate::paper::flat;
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::plane::Region;

/// Paper between the views, mm.
const BETWEEN: f64 = 30.0;
/// From the block's edge to the end of running dimensions, mm.
const ROW: f64 = 11.0;

/// A block on its sheet.
pub(super) struct BlockViews<'a> {
    pub layout: &'a Layout,
    pub block: &'a Block,
    pub figures: Figures,
    pub scale: Scale,
    /// Upper left corner of the front view on the paper.
    pub corner: DVec2,
}

impl BlockViews<'_> {
    pub fn draw(&self, sheet: &mut Sheet) {
        let (block, k) = (self.block, self.scale.factor);
        let front = View::new(self.corner - DVec2::Y * block.depth * k, self.scale, 0.0);
        let below = self.corner.y - (block.depth * k) - BETWEEN;
        // z runs down the paper: the view lies mirrored in height, the upright's face at the top.
        let top = Along {
            origin: DVec2::new(self.corner.x, below),
            scale: k,
        };
        let end_x = self.corner.x + block.length * k + BETWEEN;
        let end = View::new(DVec2::new(end_x, front.origin.y), self.scale, 0.0);
        self.front(sheet, &front);
        self.top(sheet, &top);
        self.end(sheet, &end);
    }

    fn front(&self, sheet: &mut Sheet, view: &View) {
        let block = self.block;
        rectangle(sheet, view, block.length, block.depth);
        for hole in &block.holes {
            let r = hole.diameter / 2.0;
            for x in [hole.x - r, hole.x + r] {
                let (a, b) = (DVec2::new(x, 0.0), DVec2::new(x, block.depth));
                view.line(sheet, Layer::Bores, LineKind::Hidden, a, b);
            }
            if block.grooves.is_empty() {
                axis(sheet, view.xy(hole.x, 0.0), view.xy(hole.x, block.depth));
            }
        }
        for groove in &block.grooves {
            let half = groove.width / 2.0;
            // Its two edges, where they can be told apart from its bottom.
            let edges = if half * view.scale >= 1.5 {
                vec![-half, 0.0, half]
            } else {
                vec![0.0]
            };
            for x in edges {
                let (a, b) = (
                    DVec2::new(groove.x + x, 0.0),
                    DVec2::new(groove.x + x, block.depth),
                );
                view.line(sheet, Layer::Marks, LineKind::Wide, a, b);
            }
        }
        let style = Style::default();
        let (a, b) = (view.xy(0.0, 0.0), view.xy(block.length, 0.0));
        let text = self.figures.length(block.length);
        Linear::level(a, b, a.y - 9.0, text).draw(sheet, style);
        let (a, b) = (view.xy(0.0, 0.0), view.xy(0.0, block.depth));
        let text = self.figures.length(block.depth);
        Linear::upright(a, b, a.x - 8.0, text).draw(sheet, style);
        // Over the end view's axis, which it may reach.
        let at = view.xy(0.0, block.depth) + DVec2::new(0.0, 4.2);
        let seen = if block.grooves.is_empty() {
            "Front: the face away from the upright; the foot, below, sits on the head's side"
        } else {
            "Front: the scribed face, away from the upright; the foot, below, sits on the head's side"
        };
        sheet.text(Layer::Notes, at, 2.5, Anchor::Start, seen);
    }

    fn top(&self, sheet: &mut Sheet, view: &Along) {
        let block = self.block;
        let corners: Vec<DVec2> = flat::profile(block).iter().map(|p| view.at(*p)).collect();
        let region = Region::polygon(&corners);
        sheet.region(Layer::Outline, LineKind::Wide, &region);
        let k = view.scale;
        for hole in &block.holes {
            let at = view.at(DVec2::new(hole.x, hole.z));
            sheet.circle(Layer::Bores, LineKind::Wide, at, hole.diameter / 2.0 * k);
            let half = DVec2::Y * (hole.diameter / 2.0 * k + 2.0);
            axis(sheet, at - half, at + half);
        }
        let (a, b) = (
            view.at(DVec2::new(0.0, block.axis_height)),
            view.at(DVec2::new(block.length, block.axis_height)),
        );
        axis(sheet, a, b);
        let style = Style::default();
        let lowest = view.at(DVec2::new(0.0, block.height));
        let places: Vec<f64> = block
            .holes
            .iter()
            .map(|hole| view.at(DVec2::new(hole.x, 0.0)).x)
            .collect();
        for (hole, x) in block.holes.iter().zip(spread(&places, 4.5)) {
            let from = view.at(DVec2::new(hole.x, hole.z));
            let to = DVec2::new(x, lowest.y - ROW);
            let text = self.figures.length(hole.x);
            ordinate(sheet, from, to, style, &text);
        }
        let to = DVec2::new(lowest.x, lowest.y - ROW);
        ordinate(sheet, lowest, to, style, "0");
        origin_mark(sheet, to + DVec2::Y * 2.0);
        let upright = view.at(DVec2::ZERO);
        let axis_at = view.at(DVec2::new(0.0, block.axis_height));
        let text = self.figures.length(block.axis_height);
        // A figure too long for its place stands above, where no extension line runs.
        Linear::upright(axis_at, upright, upright.x - 8.0, text).draw(sheet, style);
        let text = self.figures.length(block.height);
        Linear::upright(upright, lowest, upright.x - 17.0, text).draw(sheet, style);
        let at = upright + DVec2::new(0.0, 5.0);
        let name = "Along the holes, from the face away from the head; upper edge: the face on the upright (datum)";
        sheet.text(Layer::Notes, at, 2.5, Anchor::Start, name);
        self.callouts(sheet, view, lowest.y);
    }

    fn callouts(&self, sheet: &mut Sheet, view: &Along, lowest: f64) {
        let block = self.block;
        let guide = &self.layout.design.guide;
        let tolerances = &self.layout.design.tolerances;
        let Some(hole) = block.holes.last() else {
            return;
        };
        let count = block.holes.len();
        let hole_text = match guide.bush_diameter {
            Some(diameter) => format!(
                "{count}× {} {}, right through",
                self.figures.diameter(diameter),
                tolerances.bush_seat.name
            ),
            None => format!(
                "{count}× {}, right through",
                self.figures.diameter(hole.diameter)
            ),
        };
        let at = view.at(DVec2::new(hole.x, hole.z));
        let tip = at + DVec2::new(1.0, -1.0).normalize() * (hole.diameter / 2.0 * view.scale);
        let knee = DVec2::new(tip.x + 5.0, lowest - 5.0);
        note(sheet, tip, knee, LeaderEnd::Arrow, &[&hole_text]);
        if let Some(groove) = block.grooves.last() {
            let tip = view.at(DVec2::new(groove.x, block.height - groove.depth));
            let text = format!(
                "{}× groove {} wide × {} deep, over each hole's axis",
                block.grooves.len(),
                self.figures.length(groove.width),
                self.figures.length(groove.depth)
            );
            let knee = DVec2::new(tip.x + 5.0, lowest - 11.0);
            note(sheet, tip, knee, LeaderEnd::Arrow, &[&text]);
        }
    }

    fn end(&self, sheet: &mut Sheet, view: &View) {
        let block = self.block;
        rectangle(sheet, view, block.height, block.depth);
        if let Some(hole) = block.holes.first() {
            let r = hole.diameter / 2.0;
            for z in [hole.z - r, hole.z + r] {
                let (a, b) = (DVec2::new(z, 0.0), DVec2::new(z, block.depth));
                view.line(sheet, Layer::Bores, LineKind::Hidden, a, b);
            }
            axis(sheet, view.xy(hole.z, 0.0), view.xy(hole.z, block.depth));
        }
        if let Some(groove) = block.grooves.first() {
            let z = block.height - groove.depth;
            let (a, b) = (DVec2::new(z, 0.0), DVec2::new(z, block.depth));
            view.line(sheet, Layer::Marks, LineKind::Hidden, a, b);
        }
        let at = view.xy(0.0, 0.0) - DVec2::Y * 7.0;
        sheet.text(Layer::Notes, at, 2.5, Anchor::Start, "End x = 0");
        let at = view.xy(0.0, block.depth) + DVec2::new(-1.5, -block.depth * view.scale / 2.0);
        sheet
            .items
            .push(crate::paper::Item::Text(crate::paper::Text {
                layer: Layer::Notes,
                at,
                height: 2.5,
                anchor: Anchor::Middle,
                turn: FRAC_PI_2,
                weight: crate::paper::Weight::Plain,
                text: "upright".to_owned(),
            }));
    }
}

/// The view along the holes: x to the right, z down the paper.
struct Along {
    origin: DVec2,
    scale: f64,
}

impl Along {
    fn at(&self, point: DVec2) -> DVec2 {
        self.origin + DVec2::new(point.x, -point.y) * self.scale
    }
}

fn rectangle(sheet: &mut Sheet, view: &View, width: f64, height: f64) {
    let corners = [
        view.xy(0.0, 0.0),
        view.xy(width, 0.0),
        view.xy(width, height),
        view.xy(0.0, height),
    ];
    sheet.region(Layer::Outline, LineKind::Wide, &Region::polygon(&corners));
}

/// An axis that stands a little out at both ends.
fn axis(sheet: &mut Sheet, a: DVec2, b: DVec2) {
    let past = (b - a).normalize_or(DVec2::Y) * 3.0;
    sheet.line(Layer::Axes, LineKind::Axis, a - past, b + past);
}
