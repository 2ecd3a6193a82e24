//! Widths across the head in its front view: rib and slots, the head at both ends, cheeks.

use glam::DVec2;

use super::front::Front;
use crate::input::{Lie, Side};
use crate::layout::Slot;
use crate::paper::Sheet;
use crate::paper::dimension::{Linear, Style, stands_between};
use crate::tolerance::MERGE;

/// From one dimension line to the next, mm on the paper.
const STEP: f64 = 8.0;

impl Front<'_> {
    /// Widths across the head: slots and rib next to the nut line, then the head's own.
    pub(super) fn widths(&self, sheet: &mut Sheet) {
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
            // The centre line's own extension may run through the rib's figure. One too long for its place
            // stands above, where no extension line runs.
            let (a, b) = (self.view.at(rows.treble), self.view.at(rows.bass));
            Linear::upright(a, b, rows.rib_x, rows.rib).draw_over_lines(sheet, style);
            upright(sheet, rows.outer, rows.treble, rows.slot_x, rows.slot);
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
        let fits = |text: &str, span: f64| stands_between(text, span * self.view.scale, style);
        let rib_x = self.view.origin.x - STEP;
        // In one line where both texts stand between their arrows.
        let one_line = fits(&rib_text, rib) && fits(&slot_text, treble.width);
        Some(SlotRows {
            rib_x,
            slot_x: if one_line { rib_x } else { rib_x - STEP },
            bass: wall(bass, -1.0),
            treble: wall(treble, -1.0),
            outer: wall(treble, 1.0),
            rib: rib_text,
            slot: slot_text,
        })
    }

    /// Width of a slot parallel to its side, and its distance from that side.
    pub(super) fn cheek(&self, sheet: &mut Sheet, slot: &Slot, cheek: f64) {
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
}
