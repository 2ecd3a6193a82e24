//! What stands round the head in the view from the front: the wedge under it, the neck beside it.

use glam::DVec2;

use super::{NUMBER, Stand, WEDGE};
use crate::layout::{Layout, OutlinePart, Standing};
use crate::paper::dimension::{arrow, clear_for_text, put};
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::plane::{Piece, Region};

/// The neck goes on so far on paper before it is broken off, mm: the word fits inside.
const NECK: f64 = 15.0;

/// The wedge between the lower side and the table; a plain packing where the sides are parallel.
pub(super) fn wedge(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, stand: &Stand) {
    let lower = &layout.sides.get(standing.side.other()).line;
    let local = |s: f64| standing.frame.local(lower.at(s).extend(0.0)).truncate();
    let (a, b) = (local(lower.start_s), local(lower.end_s));
    let foot = |p: DVec2| DVec2::new(p.x, stand.table);
    let region = Region::polygon(&[a, b, foot(b), foot(a)].map(|p| stand.at(p)));
    sheet.area(Layer::Adjacent, Some(LineKind::Narrow), &region, WEDGE);
}

/// The neck goes on beyond the nut line, towards the person; an arrow tells the way.
pub(super) fn neck(sheet: &mut Sheet, layout: &Layout, standing: &Standing<'_>, stand: &Stand) {
    let Some(Piece::Line { a, b }) = layout.outline.part(OutlinePart::Nut) else {
        return;
    };
    let local = |p: DVec2| stand.at(standing.frame.local(p.extend(0.0)).truncate());
    let (a, b) = (local(a), local(b));
    let out = if stand.nut_at_left {
        DVec2::NEG_X
    } else {
        DVec2::X
    };
    // A fifth narrower at the break than at the nut.
    let middle = (a + b) / 2.0;
    let (far_a, far_b) = (
        middle + (a - middle) * 0.85 + out * NECK,
        middle + (b - middle) * 0.85 + out * NECK,
    );
    sheet.line(Layer::Adjacent, LineKind::Narrow, a, far_a);
    sheet.line(Layer::Adjacent, LineKind::Narrow, b, far_b);
    // A break line, freehand.
    let step = (far_b - far_a) / 6.0;
    let mut from = far_a;
    for index in 1..=6 {
        let swing = match index {
            6 => 0.0,
            i if i % 2 == 0 => -1.0,
            _ => 1.0,
        };
        let to = far_a + step * f64::from(index) + out * swing;
        sheet.line(Layer::Adjacent, LineKind::Narrow, from, to);
        from = to;
    }
    let tip = middle + out * 12.5;
    sheet.line(
        Layer::Notes,
        LineKind::Wide,
        tip - out * 3.0,
        tip - out * 10.5,
    );
    arrow(sheet, Layer::Notes, tip, -out, 4.0);
    let at = middle + out * 7.2 + DVec2::Y * 2.2;
    clear_for_text(sheet, Layer::Notes, at, 0.0, Anchor::Middle, NUMBER, "NUT");
    put(sheet, Layer::Notes, at, 0.0, Anchor::Middle, NUMBER, "NUT");
}
