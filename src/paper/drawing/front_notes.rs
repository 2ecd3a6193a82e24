//! What is pointed at in the front view: angles, radii and ramps by leaders, the section's course and
//! the directions of the other views by arrows.

use glam::DVec2;

use super::figure::degrees;
use super::front::Front;
use super::section::BREAK;
use super::view::{clear_text, note};
use crate::input::{Lie, Side};
use crate::layout::{Layout, OutlinePart, SideLayout, Slot};
use crate::paper::dimension::{LeaderEnd, Style, arrow, line_step};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::plane::Piece;

impl Front<'_> {
    /// Leaders: side's angle, crest, corners, ramps, lie of the slots.
    pub(super) fn notes(&self, sheet: &mut Sheet) {
        let layout = self.layout;
        let bass = &layout.sides.bass;
        if let Some(arc @ Piece::Arc { radius, .. }) = layout.outline.part(OutlinePart::Crest) {
            // It follows from length and widths, so it stands in brackets.
            let text = format!("({})", self.figures.radius(radius));
            let style = Style::default();
            let long = text_width(&text, style.text, style.weight) + 4.0;
            let to_knee = DVec2::new(-5.0, 3.0);
            // Beside the slot's end, or where a long text would lie over it, beside the cheek.
            let clear = |tip: &DVec2| {
                let knee = *tip + to_knee;
                layout.sides.treble.slot.as_ref().is_none_or(|slot| {
                    let half = slot.width / 2.0;
                    let corners = [-half, half].map(|q| self.view.at(slot.at(slot.length, q)));
                    let end = corners[0].x.max(corners[1].x);
                    let lowest = corners[0].y.min(corners[1].y);
                    knee.x - long > end || knee.y + style.text < lowest
                })
            };
            let tips = [0.27, 0.18, 0.1].map(|share| self.view.at(arc.at(share)));
            let tip = tips.into_iter().find(clear).unwrap_or(tips[0]);
            note(sheet, tip, tip + to_knee, LeaderEnd::Arrow, &[&text]);
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
    pub(super) fn pointers(&self, sheet: &mut Sheet) {
        let bold = Style {
            text: 3.5,
            arrow: 3.5,
            weight: Weight::Strong,
        };
        for bore in self.cut {
            let out = self.view.direction(-bore.direction.truncate()).normalize();
            let mouth = self.view.at(bore.entry.truncate());
            let mut ends = vec![(mouth + out * 5.5, out)];
            if self.cut.len() == 1 {
                // The plane ends within the head: there it has its other letter.
                let inner = bore.axis_at(bore.depth + bore.point_height + BREAK);
                ends.push((self.view.at(inner.truncate()), -out));
            }
            for (near, out) in ends {
                let far = near + out * 5.0;
                sheet.line(Layer::Dimensions, LineKind::Wide, near, far);
                let head = far + DVec2::X * 7.0;
                sheet.line(Layer::Dimensions, LineKind::Narrow, far, head);
                arrow(sheet, Layer::Dimensions, head, -DVec2::X, bold.arrow);
                let down = if out.y < 0.0 { -1.0 - bold.text } else { 1.0 };
                let at = far + DVec2::new(3.5, down);
                clear_text(sheet, at, Anchor::Middle, bold, "C");
            }
        }
        for (side, letter) in [(Side::Treble, "A"), (Side::Bass, "B")] {
            let one = self.layout.sides.get(side);
            let at = pointer_place(one);
            let out = self.view.direction(-one.line.inward).normalize();
            let edge = self.view.at(one.line.at(at));
            let (tip, tail) = (edge + out * 1.5, edge + out * 10.0);
            sheet.line(Layer::Dimensions, LineKind::Narrow, tip, tail);
            arrow(sheet, Layer::Dimensions, tip, out, bold.arrow);
            // Towards the crest: on the other side stands the cheek's figure, with inches under it.
            let beside = tail + DVec2::new(3.5, -out.y * 3.0 - bold.text / 2.0);
            clear_text(sheet, beside, Anchor::Middle, bold, letter);
        }
    }
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
