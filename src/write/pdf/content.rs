//! What is drawn on one page.

use glam::DVec2;
use pdf_writer::types::LineJoinStyle;
use pdf_writer::{Content, Str};

use crate::paper::measure::text_width;
use crate::paper::{Fill, Item, LineKind, Path, Sheet, Text};
use crate::plane::Piece;
use crate::tolerance::CURVE_STEP;
use crate::units::MM_PER_INCH;

use super::fonts::Fonts;
use super::{POINTS_PER_INCH, PdfError, single};

/// A page's content stream, all after its first matrix in millimetres.
pub fn content(sheet: &Sheet, number: usize, fonts: &Fonts) -> Result<Vec<u8>, PdfError> {
    if !sheet.items.iter().all(is_sound) {
        return Err(PdfError::NotFinite { sheet: number });
    }
    let scale = single(POINTS_PER_INCH / MM_PER_INCH);
    let mut page = Page {
        out: Content::new(),
        line: None,
        grey: None,
    };
    page.out.transform([scale, 0.0, 0.0, scale, 0.0, 0.0]);
    page.out.set_line_join(LineJoinStyle::RoundJoin);
    for item in &sheet.items {
        match item {
            Item::Path(path) => page.path(path),
            Item::Text(text) => page.text(text, fonts),
            Item::Circle {
                line,
                center,
                radius,
                fill,
                ..
            } => {
                let piece = Piece::Arc {
                    center: *center,
                    radius: *radius,
                    from: 0.0,
                    sweep: std::f64::consts::TAU,
                };
                page.pieces(&[piece], true, Some(*line), *fill);
            }
        }
    }
    Ok(page.out.finish().into_vec())
}

fn is_sound(item: &Item) -> bool {
    match item {
        Item::Path(path) => path
            .pieces
            .iter()
            .all(|piece| piece.start().is_finite() && piece.end().is_finite()),
        Item::Text(text) => text.at.is_finite() && text.height.is_finite() && text.turn.is_finite(),
        Item::Circle { center, radius, .. } => center.is_finite() && radius.is_finite(),
    }
}

/// A page in the making, with what was last set.
struct Page {
    out: Content,
    line: Option<LineKind>,
    grey: Option<f64>,
}

impl Page {
    fn path(&mut self, path: &Path) {
        self.pieces(&path.pieces, path.closed, path.line, path.fill);
    }

    fn pieces(&mut self, pieces: &[Piece], closed: bool, line: Option<LineKind>, fill: Fill) {
        let Some(first) = pieces.first() else {
            return;
        };
        if let Some(line) = line {
            self.set_line(line);
        }
        if let Fill::Grey(grey) = fill {
            self.set_grey(grey);
        }
        let start = first.start();
        self.out.move_to(single(start.x), single(start.y));
        for piece in pieces {
            self.piece(piece);
        }
        if closed {
            self.out.close_path();
        }
        match (line, fill) {
            (Some(_), Fill::None) => self.out.stroke(),
            (Some(_), Fill::Grey(_)) => self.out.fill_nonzero_and_stroke(),
            (None, Fill::Grey(_)) => self.out.fill_nonzero(),
            (None, Fill::None) => self.out.end_path(),
        };
    }

    fn piece(&mut self, piece: &Piece) {
        match *piece {
            Piece::Line { b, .. } => {
                self.out.line_to(single(b.x), single(b.y));
            }
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => {
                let steps = (sweep.abs() / CURVE_STEP).ceil().max(1.0);
                let step = sweep / steps;
                // Tangents this long make a cubic curve pass through the arc's middle too.
                let tangent = radius * (4.0 / 3.0) * (step / 4.0).tan();
                let mut angle = from;
                for _ in 0..whole(steps) {
                    let (a, b) = (DVec2::from_angle(angle), DVec2::from_angle(angle + step));
                    let first = center + a * radius + a.perp() * tangent;
                    let second = center + b * radius - b.perp() * tangent;
                    let end = center + b * radius;
                    self.out.cubic_to(
                        single(first.x),
                        single(first.y),
                        single(second.x),
                        single(second.y),
                        single(end.x),
                        single(end.y),
                    );
                    angle += step;
                }
            }
        }
    }

    fn set_line(&mut self, line: LineKind) {
        if self.line == Some(line) {
            return;
        }
        self.line = Some(line);
        let width = line.width();
        self.out.set_line_width(single(width));
        let dashes = line.pattern().iter().map(|&dash| single(dash * width));
        self.out.set_dash_pattern(dashes, 0.0);
    }

    #[allow(clippy::float_cmp, reason = "the same grey need not be set again")]
    fn set_grey(&mut self, grey: f64) {
        if self.grey != Some(grey) {
            self.grey = Some(grey);
            self.out.set_fill_gray(single(grey.clamp(0.0, 1.0)));
        }
    }

    fn text(&mut self, text: &Text, fonts: &Fonts) {
        let font = fonts.of(text.weight);
        let bytes = font.encode(&text.text);
        if bytes.is_empty() {
            return;
        }
        let width = text_width(&text.text, text.height, text.weight);
        let along = DVec2::from_angle(text.turn);
        let at = text.at + along * text.anchor.start(width);
        self.set_grey(0.0);
        let (c, s) = (single(along.x), single(along.y));
        self.out
            .begin_text()
            .set_font(font.name(), single(font.face().size(text.height)))
            .set_text_matrix([c, s, -s, c, single(at.x), single(at.y)])
            .show(Str(&bytes))
            .end_text();
    }
}

/// A small whole number of steps.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a full turn is a dozen steps"
)]
fn whole(steps: f64) -> u32 {
    steps as u32
}
