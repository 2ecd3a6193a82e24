//! Lines, arcs, circles, outlines and notes as DXF entities.

use glam::DVec2;

use crate::paper::font::legible;
use crate::paper::{Anchor, Item, Layer, LineKind, Path, Text};
use crate::plane::Piece;

use super::tables::{Handles, fixed, layer_name, line_type};
use super::tags::{Tags, safe_text};

/// The layer an item lands on. A text never lies where a cutter could take it for a line.
pub fn layer_of(item: &Item) -> Layer {
    match item {
        Item::Path(path) => path.layer,
        Item::Circle { layer, .. } => *layer,
        Item::Text(text) => match text.layer {
            layer @ (Layer::Dimensions | Layer::Notes | Layer::Frame) => layer,
            _ => Layer::Notes,
        },
    }
}

/// Whether an item has something to write: fills without a line, empty texts and coordinates that
/// are not finite have not.
pub fn is_written(item: &Item) -> bool {
    match item {
        Item::Path(path) => {
            let finite = |p: &Piece| p.start().is_finite() && p.end().is_finite();
            path.line.is_some() && !path.pieces.is_empty() && path.pieces.iter().all(finite)
        }
        Item::Circle { center, radius, .. } => center.is_finite() && radius.is_finite(),
        Item::Text(text) => {
            let finite = text.at.is_finite() && text.height.is_finite() && text.turn.is_finite();
            finite && !legible(&text.text, text.weight).trim().is_empty()
        }
    }
}

/// Writes an item.
pub fn write(t: &mut Tags, item: &Item, handles: &mut Handles) {
    let layer = layer_of(item);
    match item {
        Item::Path(path) => {
            if let Some(line) = path.line {
                write_path(t, path, layer, line, handles);
            }
        }
        Item::Circle {
            line,
            center,
            radius,
            ..
        } => circle(t, (layer, Some(*line)), *center, *radius, handles),
        Item::Text(text) => write_text(t, text, layer, handles),
    }
}

/// What every entity begins with.
fn begin(t: &mut Tags, kind: &str, look: (Layer, Option<LineKind>), handles: &mut Handles) {
    t.text(0, kind)
        .handle(5, handles.take())
        .handle(330, fixed::MODEL);
    t.text(100, "AcDbEntity").text(8, layer_name(look.0));
    if let Some(line) = look.1 {
        t.text(6, line_type(line));
        t.int(370, if line == LineKind::Wide { 50 } else { 25 });
    }
}

fn write_path(t: &mut Tags, path: &Path, layer: Layer, line: LineKind, handles: &mut Handles) {
    let look = (layer, Some(line));
    if path.closed {
        match path.pieces[..] {
            [Piece::Arc { center, radius, .. }] => circle(t, look, center, radius, handles),
            _ => outline(t, &path.pieces, look, handles),
        }
        return;
    }
    for piece in &path.pieces {
        match *piece {
            Piece::Line { a, b } => {
                begin(t, "LINE", look, handles);
                t.text(100, "AcDbLine").point(10, a).point(11, b);
            }
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => {
                if sweep.abs() >= std::f64::consts::TAU {
                    circle(t, look, center, radius, handles);
                    continue;
                }
                // An arc always runs anticlockwise.
                let (start, end) = if sweep >= 0.0 {
                    (from, from + sweep)
                } else {
                    (from + sweep, from)
                };
                begin(t, "ARC", look, handles);
                t.text(100, "AcDbCircle").point(10, center).real(40, radius);
                t.text(100, "AcDbArc");
                t.real(50, start.to_degrees().rem_euclid(360.0));
                t.real(51, end.to_degrees().rem_euclid(360.0));
            }
        }
    }
}

fn circle(
    t: &mut Tags,
    look: (Layer, Option<LineKind>),
    center: DVec2,
    radius: f64,
    handles: &mut Handles,
) {
    begin(t, "CIRCLE", look, handles);
    t.text(100, "AcDbCircle").point(10, center).real(40, radius);
}

/// A closed outline as one polyline: each corner with the bulge of the piece that leaves it, the
/// tangent of a quarter of its sweep.
fn outline(t: &mut Tags, pieces: &[Piece], look: (Layer, Option<LineKind>), handles: &mut Handles) {
    let corners: Vec<(DVec2, f64)> = pieces.iter().flat_map(corners_of).collect();
    begin(t, "LWPOLYLINE", look, handles);
    t.text(100, "AcDbPolyline");
    t.int(90, i64::try_from(corners.len()).unwrap_or(0))
        .int(70, 1)
        .real(43, 0.0);
    for (corner, bulge) in corners {
        t.flat(10, corner).real(42, bulge);
    }
}

/// A piece's corners. Arcs beyond half a turn go in two: their bulge would grow without end.
fn corners_of(piece: &Piece) -> Vec<(DVec2, f64)> {
    match *piece {
        Piece::Line { a, .. } => vec![(a, 0.0)],
        Piece::Arc { sweep, .. } if sweep.abs() > std::f64::consts::PI => {
            let bulge = (sweep / 8.0).tan();
            vec![(piece.start(), bulge), (piece.at(0.5), bulge)]
        }
        Piece::Arc { sweep, .. } => vec![(piece.start(), (sweep / 4.0).tan())],
    }
}

fn write_text(t: &mut Tags, text: &Text, layer: Layer, handles: &mut Handles) {
    begin(t, "TEXT", (layer, None), handles);
    t.text(100, "AcDbText")
        .point(10, text.at)
        .real(40, text.height);
    t.text(1, &safe_text(&legible(&text.text, text.weight)));
    t.real(50, text.turn.to_degrees()).text(7, "STANDARD");
    let across = match text.anchor {
        Anchor::Start => 0,
        Anchor::Middle => 1,
        Anchor::End => 2,
    };
    t.int(72, across);
    if across != 0 {
        t.point(11, text.at);
    }
    t.text(100, "AcDbText");
}
