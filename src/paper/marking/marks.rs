//! Marks of the bench: which stretches of a line may be cut with a knife, pricks, and the numbers
//! that stand beside a mark.

use glam::DVec2;

use crate::input::Unit;
use crate::layout::{Bore, Layout};
use crate::paper::cut::{inside, stretch};
use crate::paper::dimension::{Style, clear_for_text, figure, line_step, put};
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;
use crate::units::{Lengths, show_inches};

use super::short_name;

/// Height of the numbers beside a mark, mm.
pub(super) const NUMBERS: f64 = 2.5;
/// Half an arm of a prick's cross, mm.
const PRICK: f64 = 1.6;

/// A mark from `a` to `b`: wide where a knife may cut, narrow where a pencil must do.
pub(super) fn mark(sheet: &mut Sheet, a: DVec2, b: DVec2, knife: &[Region]) {
    let whole = Piece::Line { a, b };
    let mut cuts: Vec<[f64; 2]> = knife
        .iter()
        .flat_map(|region| inside(&whole, region))
        .collect();
    cuts.sort_by(|one, other| one[0].total_cmp(&other[0]));
    let mut done = 0.0;
    let mut draw = |from: f64, to: f64, line| {
        if to - from > NOISE {
            let pieces = vec![stretch(&whole, from, to)];
            sheet.path(Layer::Marks, line, pieces, false);
        }
    };
    for [from, to] in cuts {
        draw(done, from, LineKind::Narrow);
        draw(from.max(done), to, LineKind::Wide);
        done = done.max(to);
    }
    draw(done, 1.0, LineKind::Narrow);
}

/// A cross to prick in.
pub(super) fn prick(sheet: &mut Sheet, layer: Layer, at: DVec2) {
    for arm in [DVec2::X, DVec2::Y] {
        let (a, b) = (at - arm * PRICK, at + arm * PRICK);
        sheet.line(layer, LineKind::Narrow, a, b);
    }
}

/// What stands beside a bore's mark: its name, its distance along the side from the nut line and
/// the y at which it squares across; in inches as well for a design in inches, unless
/// millimetres alone were asked for. A maker in millimetres pricks the marks through and needs no other number here.
pub(super) fn numbers(layout: &Layout, bore: &Bore) -> Vec<(String, Weight)> {
    let both = [("s", bore.s), ("y", bore.squares_across_at())];
    lines_of(layout, bore, &both)
}

/// The same on a strip, which is laid along the side: without y, which runs along the centre line.
pub(super) fn strip_numbers(layout: &Layout, bore: &Bore) -> Vec<(String, Weight)> {
    lines_of(layout, bore, &[("s", bore.s)])
}

fn lines_of(layout: &Layout, bore: &Bore, told: &[(&str, f64)]) -> Vec<(String, Weight)> {
    let mut lines = vec![(short_name(bore.side, bore.number), Weight::Strong)];
    for &(what, mm) in told {
        lines.push((format!("{what} {}", figure(mm)), Weight::Plain));
        if lengths(layout).inches {
            lines.push((show_inches(mm), Weight::Plain));
        }
    }
    lines
}

/// How this sheet shows lengths: inches only for a file in inches, unless millimetres alone were asked for.
pub(super) fn lengths(layout: &Layout) -> Lengths {
    Lengths {
        inches: layout.design.unit == Unit::Inch && layout.design.lengths().inches,
    }
}

/// Height of a block of such lines.
pub(super) fn height_of(lines: &[(String, Weight)]) -> f64 {
    let steps = lines.len().saturating_sub(1) as f64;
    NUMBERS + steps * line_step(NUMBERS)
}

/// Writes a block of lines centred in height on `at`, over white paper.
pub(super) fn write(sheet: &mut Sheet, at: DVec2, anchor: Anchor, lines: &[(String, Weight)]) {
    let mut y = at.y + height_of(lines) / 2.0 - NUMBERS;
    for (text, weight) in lines {
        let style = Style {
            text: NUMBERS,
            weight: *weight,
            ..Style::default()
        };
        let place = DVec2::new(at.x, y);
        clear_for_text(sheet, Layer::Notes, place, 0.0, anchor, style, text);
        put(sheet, Layer::Notes, place, 0.0, anchor, style, text);
        y -= line_step(NUMBERS);
    }
}
