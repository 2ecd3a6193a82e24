//! Cutting a part that is larger than the paper into pieces that overlap, and the marks by which
//! they are laid on one another again.

use glam::DVec2;

use crate::paper::dimension::{Style, clear_for_text, put};
use crate::paper::place::Window;
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::tolerance::NOISE;

/// By how much neighbouring pieces overlap, mm.
const OVERLAP: f64 = 16.0;
/// Arms and circle of a mark, mm.
const ARM: f64 = 4.0;
const RING: f64 = 2.0;

/// One piece of a part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cutting {
    /// Index of the part.
    pub part: usize,
    /// Row from below, column from the left.
    pub cell: [usize; 2],
    /// What it shows of the part.
    pub window: Window,
}

/// Pieces of a part no larger than `most`, in rows and columns as even as overlap allows.
pub(super) fn cut_up(part: usize, whole: &Window, most: DVec2) -> Vec<Cutting> {
    let rows = runs(whole.min.y, whole.max.y, most.y);
    let columns = runs(whole.min.x, whole.max.x, most.x);
    let mut pieces = Vec::new();
    for (row, [bottom, top]) in rows.iter().enumerate() {
        for (column, [left, right]) in columns.iter().enumerate() {
            pieces.push(Cutting {
                part,
                cell: [row, column],
                window: Window {
                    min: DVec2::new(*left, *bottom),
                    max: DVec2::new(*right, *top),
                },
            });
        }
    }
    pieces
}

/// Overlapping runs of even length that cover from `low` to `high`, none longer than `most`.
fn runs(low: f64, high: f64, most: f64) -> Vec<[f64; 2]> {
    // Paper that an overlap fills would never get on; such paper is not sold.
    let step = (most - OVERLAP).max(OVERLAP);
    let count = ((high - low - OVERLAP - NOISE) / step).ceil().max(1.0);
    let even = (high - low - OVERLAP).max(0.0) / count;
    let mut runs = Vec::new();
    let mut from = low;
    while (runs.len() as f64) + 1.5 < count {
        runs.push([from, from + even + OVERLAP]);
        from += even;
    }
    runs.push([from, high]);
    runs
}

/// The marks of a piece on page `here` towards its neighbours, with the page the neighbour is on.
///
/// Lines and targets go `under` what the part shows, the words `over` it. Targets keep clear of the
/// part's `texts`, in the same places on both pages.
pub(super) fn marks(
    [under, over]: [&mut Sheet; 2],
    texts: &[Window],
    piece: &Cutting,
    all: &[Cutting],
    here: usize,
    page_of: impl Fn(&Cutting) -> Option<usize>,
) {
    let [row, column] = piece.cell;
    for other in all.iter().filter(|other| other.part == piece.part) {
        let [r, c] = other.cell;
        let upright = c == column && r.abs_diff(row) == 1;
        let level = r == row && c.abs_diff(column) == 1;
        if !(upright || level) {
            continue;
        }
        let shared = Window {
            min: piece.window.min.max(other.window.min),
            max: piece.window.max.min(other.window.max),
        };
        let (a, b) = if upright {
            let y = (shared.min.y + shared.max.y) / 2.0;
            (DVec2::new(shared.min.x, y), DVec2::new(shared.max.x, y))
        } else {
            let x = (shared.min.x + shared.max.x) / 2.0;
            (DVec2::new(x, shared.min.y), DVec2::new(x, shared.max.y))
        };
        let along = (b - a).try_normalize().unwrap_or(DVec2::X);
        under.line(Layer::Frame, LineKind::Adjacent, a, b);
        let half = a.distance(b) / 2.0;
        for at in [
            target_place(a, along, half, texts),
            target_place(b, -along, half, texts),
        ] {
            target(under, at);
        }
        if let Some(page) = page_of(other) {
            // Beyond the join both pages show the same; there the words hide nothing.
            let style = Style::default();
            let text = if page == here {
                "join, this page".to_owned()
            } else {
                format!("join page {page}")
            };
            let outward = if other.cell > piece.cell { 1.0 } else { -1.0 };
            let away = if upright { DVec2::Y } else { DVec2::X } * outward;
            let turn = along.to_angle();
            let up = along.perp();
            let at = (a + b) / 2.0 + away * (OVERLAP / 4.0) - up * (style.text / 2.0);
            let layer = Layer::Frame;
            clear_for_text(over, layer, at, turn, Anchor::Middle, style, &text);
            put(over, layer, at, turn, Anchor::Middle, style, &text);
        }
    }
}

/// The first place from `end` of a join inwards where a target lies over no text; near the end if
/// there is none in this half.
fn target_place(end: DVec2, inwards: DVec2, half: f64, texts: &[Window]) -> DVec2 {
    let reach = DVec2::splat(ARM);
    let clear = |at: &DVec2| {
        !texts
            .iter()
            .any(|text| text.min.cmplt(*at + reach).all() && text.max.cmpgt(*at - reach).all())
    };
    let places = (1..).map(|step| (f64::from(step) * ARM, step));
    let mut places = places
        .take_while(|(along, step)| *step == 1 || *along < half - ARM)
        .map(|(along, _)| end + inwards * along);
    places.find(clear).unwrap_or(end + inwards * ARM)
}

/// The mark by which two pages are laid on one another.
pub(super) fn target(sheet: &mut Sheet, at: DVec2) {
    for arm in [DVec2::X, DVec2::Y] {
        let (from, to) = (at - arm * ARM, at + arm * ARM);
        sheet.line(Layer::Frame, LineKind::Narrow, from, to);
    }
    sheet.circle(Layer::Frame, LineKind::Narrow, at, RING);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_cover_the_whole_and_overlap() {
        let whole = Window {
            min: DVec2::new(-10.0, -5.0),
            max: DVec2::new(90.0, 495.0),
        };
        let pieces = cut_up(0, &whole, DVec2::new(180.0, 200.0));
        assert_eq!(pieces.len(), 3);
        assert_eq!(pieces[0].window.min, whole.min);
        assert_eq!(pieces[2].window.max, whole.max);
        for pair in pieces.windows(2) {
            let overlap = pair[0].window.max.y - pair[1].window.min.y;
            assert!((overlap - OVERLAP).abs() < 1e-9, "{overlap}");
            assert!(pair[0].window.size().y <= 200.0 + 1e-9);
        }
        assert_eq!(cut_up(0, &whole, DVec2::new(180.0, 500.0)).len(), 1);
        assert_eq!(cut_up(0, &whole, DVec2::new(70.0, 500.0)).len(), 2);
    }
}
