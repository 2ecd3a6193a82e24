//! The head seen square to its face: nut to the left, crest to the right, treble side below.

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

use super::figure::{Figures, degrees};
use super::view::{Scale, View, clear_text, note};
use crate::input::{Lie, Side};
use crate::layout::{Bore, Layout, OutlinePart, SideLayout, Slot};
use crate::paper::dimension::{
    LeaderEnd, Linear, Style, arrow, clear_for_text, dot, line_step, ordinate, spread,
};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::plane::Piece;
use crate::tolerance::MERGE;

/// Running dimensions stand at least so far apart, mm on the paper.
const APART: f64 = 4.5;
/// Running dimensions end so far from the head's widest place, mm on the paper.
pub(super) const ROW: f64 = 13.0;
/// From one dimension line to the next, mm on the paper.
const STEP: f64 = 8.0;

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
        let crest = self.layout.outline.length + past;
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
    fn nut_corner(&self, side: Side) -> f64 {
        let nut = self.layout.outline.part(OutlinePart::Nut);
        nut.map_or(0.0, |piece| match side {
            Side::Treble => piece.end().x,
            Side::Bass => piece.start().x,
        })
    }

    /// Widths across the head: slots and rib next to the nut line, then the head's own.
    fn widths(&self, sheet: &mut Sheet) {
        let layout = self.layout;
        let style = Style::default();
        let upright = |sheet: &mut Sheet, a: DVec2, b: DVec2, x: f64, text: String| {
            Linear::upright(self.view.at(a), self.view.at(b), x, text).draw(sheet, style);
        };
        let slots = self.slot_rows();
        let first = self.view.origin.x - STEP;
        let x = slots.as_ref().map_or(first, |rows| rows.slot_x - STEP);
        let place = |side: Side, start: bool| {
            let line = &layout.sides.get(side).line;
            line.at(if start {
                layout.straight_from(side)
            } else {
                line.end_s
            })
        };
        let right = self.view.xy(0.0, layout.outline.length).x + 9.0;
        for (start, x) in [(true, x), (false, right)] {
            let (bass, treble) = (place(Side::Bass, start), place(Side::Treble, start));
            if (bass.x + treble.x).abs() <= MERGE {
                let text = self.figures.length(treble.x - bass.x);
                upright(sheet, bass, treble, x, text);
            } else {
                let middle = DVec2::new(0.0, treble.y);
                upright(sheet, bass, middle, x, self.figures.length(-bass.x));
                upright(sheet, middle, treble, x, self.figures.length(treble.x));
            }
        }
        let head = &layout.design.head;
        if let Some(width) = head.shoulder_width.filter(|_| head.side_start > 0.0) {
            let (a, b) = (self.nut_corner(Side::Bass), self.nut_corner(Side::Treble));
            let text = self.figures.length(width);
            upright(
                sheet,
                DVec2::new(a, 0.0),
                DVec2::new(b, 0.0),
                x - STEP,
                text,
            );
        }
        if let Some(rows) = slots {
            // The centre line's own extension may run through the rib's figure.
            let (turn, middle) = (FRAC_PI_2, Anchor::Middle);
            let at = DVec2::new(
                rows.rib_x - 0.8,
                self.view.at((rows.bass + rows.treble) / 2.0).y,
            );
            if rows.fits {
                clear_for_text(sheet, Layer::Dimensions, at, turn, middle, style, &rows.rib);
            }
            upright(sheet, rows.bass, rows.treble, rows.rib_x, rows.rib);
            upright(sheet, rows.treble, rows.outer, rows.slot_x, rows.slot);
        }
    }

    /// Where rib and slot width are dimensioned, for slots that leave a rib.
    fn slot_rows(&self) -> Option<SlotRows> {
        let sides = &self.layout.sides;
        let (treble, bass) = (sides.treble.slot.as_ref()?, sides.bass.slot.as_ref()?);
        let Lie::Rib(rib) = self.layout.design.slots.as_ref()?.lie else {
            return None;
        };
        let tau = |slot: &Slot| slot.ramp.map_or(slot.corner_radius, |ramp| -ramp.mouth);
        let wall = |slot: &Slot, q: f64| slot.at(tau(slot), q * slot.width / 2.0);
        let (rib_text, slot_text) = (self.figures.length(rib), self.figures.length(treble.width));
        let style = Style::default();
        let fits = |text: &str, span: f64| {
            text_width(text, style.text, style.weight) + 2.0 <= span * self.view.scale
        };
        let rib_fits = fits(&rib_text, rib);
        let rib_x = self.view.origin.x - STEP;
        // In one line where both texts stand between their arrows.
        let one_line = rib_fits && fits(&slot_text, treble.width);
        Some(SlotRows {
            rib_x,
            slot_x: if one_line { rib_x } else { rib_x - STEP },
            bass: wall(bass, -1.0),
            treble: wall(treble, -1.0),
            outer: wall(treble, 1.0),
            rib: rib_text,
            slot: slot_text,
            fits: rib_fits,
        })
    }

    /// Leaders: side's angle, crest, corners, ramps, lie of the slots.
    fn notes(&self, sheet: &mut Sheet) {
        let layout = self.layout;
        let bass = &layout.sides.bass;
        if let Some(arc @ Piece::Arc { radius, .. }) = layout.outline.part(OutlinePart::Crest) {
            let tip = self.view.at(arc.at(0.27));
            // It follows from length and widths, so it stands in brackets.
            let text = format!("({})", self.figures.radius(radius));
            let knee = tip + DVec2::new(-5.0, 3.0);
            note(sheet, tip, knee, LeaderEnd::Arrow, &[&text]);
        }
        let mut texts: Vec<(DVec2, LeaderEnd, Vec<String>)> = Vec::new();
        if let (Some(slot), Some(slots)) = (&bass.slot, &layout.design.slots) {
            if let Some(ramp) = slot.ramp {
                let place = slot.at(-ramp.mouth * 0.6, slot.width * 0.25);
                let text = format!("2× ramp {}", degrees(ramp.angle));
                texts.push((place, LeaderEnd::Dot, vec![text]));
            }
            if let Lie::Cheek(cheek) = slots.lie {
                self.cheek(sheet, slot, cheek);
            }
            let s = bass.line.s_of(slot.at(slot.length, 0.0));
            texts.push((
                bass.line.at((s + bass.line.end_s) / 2.0),
                LeaderEnd::Arrow,
                angles(layout),
            ));
            self.corner_note(sheet, slot);
        } else {
            let place = bass.line.at(bass.line.end_s * 0.8);
            texts.push((place, LeaderEnd::Arrow, angles(layout)));
        }
        let top = self
            .view
            .xy(-layout.outline.region().reach(-DVec2::X), 0.0)
            .y;
        let nut = self.view.xy(self.nut_corner(Side::Bass), 0.0);
        let style = Style::default();
        clear_text(
            sheet,
            nut + DVec2::new(-1.5, 2.0),
            Anchor::End,
            style,
            "nut line",
        );
        let crest = self.view.xy(0.0, layout.outline.length) + DVec2::new(11.0, -1.25);
        if crest.x < sheet.width - 130.0 {
            clear_text(sheet, crest, Anchor::Start, style, "centre line");
        }
        for (tip, end, lines) in texts {
            let tip = self.view.at(tip);
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let rise = 5.0 + (lines.len() as f64 - 1.0) * line_step(2.5);
            note(sheet, tip, DVec2::new(tip.x + 4.0, top + rise), end, &lines);
        }
    }

    /// Width of a slot parallel to its side, and its distance from that side.
    fn cheek(&self, sheet: &mut Sheet, slot: &Slot, cheek: f64) {
        let line = &self.layout.sides.get(slot.side).line;
        // Between bores, clear of their hidden edges.
        let bores = &self.layout.sides.get(slot.side).bores;
        let tau = match bores.as_slice() {
            [.., before, last] => {
                let s = before.s + (last.s - before.s) * 0.35;
                slot.coordinates(line.at(s)).0
            }
            _ => slot.length * 0.25,
        };
        let wall = |q: f64| slot.at(tau, q * slot.width / 2.0);
        let foot = line.at(line.s_of(wall(1.0)));
        let mut between = |a: DVec2, b: DVec2, text: String| {
            let (a, b) = (self.view.at(a), self.view.at(b));
            Linear::aligned(a, b, 0.0, text).draw(sheet, Style::default());
        };
        between(wall(1.0), foot, self.figures.length(cheek));
        between(wall(1.0), wall(-1.0), self.figures.length(slot.width));
    }

    fn corner_note(&self, sheet: &mut Sheet, slot: &Slot) {
        if slot.corner_radius <= 0.0 {
            return;
        }
        // On the corner at the outer wall, half way round.
        let r = slot.corner_radius;
        let out = r * std::f64::consts::FRAC_1_SQRT_2;
        let center = slot.at(slot.length - r, slot.width / 2.0 - r);
        let tip = center + (slot.along + slot.outward) * out;
        let tip = self.view.at(tip);
        let text = self.figures.radius(r);
        note(
            sheet,
            tip,
            tip + DVec2::new(4.0, 4.5),
            LeaderEnd::Arrow,
            &[&text],
        );
    }

    /// Where the section runs and from where the sides are seen.
    fn pointers(&self, sheet: &mut Sheet) {
        let bold = Style {
            text: 3.5,
            arrow: 3.5,
            weight: Weight::Strong,
        };
        for bore in self.cut {
            let out = self.view.direction(-bore.direction.truncate()).normalize();
            let mouth = self.view.at(bore.entry.truncate());
            let (near, far) = (mouth + out * 5.5, mouth + out * 10.5);
            sheet.line(Layer::Dimensions, LineKind::Wide, near, far);
            let head = far + DVec2::X * 7.0;
            sheet.line(Layer::Dimensions, LineKind::Narrow, far, head);
            arrow(sheet, Layer::Dimensions, head, -DVec2::X, bold.arrow);
            let down = if out.y < 0.0 { -1.0 - bold.text } else { 1.0 };
            clear_text(
                sheet,
                far + DVec2::new(3.5, down),
                Anchor::Middle,
                bold,
                "C",
            );
        }
        for (side, letter) in [(Side::Treble, "A"), (Side::Bass, "B")] {
            let one = self.layout.sides.get(side);
            let at = pointer_place(one);
            let out = self.view.direction(-one.line.inward).normalize();
            let edge = self.view.at(one.line.at(at));
            let (tip, tail) = (edge + out * 1.5, edge + out * 10.0);
            sheet.line(Layer::Dimensions, LineKind::Narrow, tip, tail);
            arrow(sheet, Layer::Dimensions, tip, out, bold.arrow);
            let beside = tail + DVec2::new(-3.5, -out.y * 3.0 - bold.text / 2.0);
            clear_text(sheet, beside, Anchor::Middle, bold, letter);
        }
    }
}

/// Dimension lines of rib and slot width.
struct SlotRows {
    /// Where the rib's line stands on the paper.
    rib_x: f64,
    /// Where the slot's line stands.
    slot_x: f64,
    /// Inner walls and the treble slot's outer wall.
    bass: DVec2,
    treble: DVec2,
    outer: DVec2,
    rib: String,
    slot: String,
    /// Whether the rib's text stands between its arrows.
    fits: bool,
}

/// s at which the arrow of a side's view points: between bores, else before the only one.
fn pointer_place(one: &SideLayout) -> f64 {
    match one.bores.as_slice() {
        [.., before, last] => before.s + (last.s - before.s) * 0.55,
        [only] => only.s - 2.0 * only.diameter,
        [] => (one.line.start_s + one.line.end_s) / 2.0,
    }
}

/// The sides' angle to the centre line: it follows from the widths.
fn angles(layout: &Layout) -> Vec<String> {
    let of = |side: Side| degrees(layout.sides.get(side).line.taper.abs());
    let (bass, treble) = (of(Side::Bass), of(Side::Treble));
    if bass == treble {
        vec![format!("(sides {bass} to"), "centre line)".to_owned()]
    } else {
        vec![
            format!("(bass {bass}, treble"),
            format!("{treble} to centre line)"),
        ]
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
