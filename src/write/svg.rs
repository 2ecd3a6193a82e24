//! SVG at true size: one user unit is one millimetre.
//!
//! Lines carry their style as plain attributes, for readers that know nothing of style sheets. A
//! text names a sans-serif face and the length it has in our own, so another face is squeezed to fit.

use std::fmt::Write as _;

use glam::DVec2;

use crate::paper::font::{Letter, Typeface, legible};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Fill, Item, Layer, LineKind, Path, Sheet, Text, Weight};
use crate::plane::Piece;
use crate::tolerance::NOISE;
use crate::write::markup::escaped;

/// A quarter turn.
const QUARTER: f64 = std::f64::consts::FRAC_PI_2;

/// How texts are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Texts {
    /// As text.
    Real,
    /// As outlines of their letters, for a raster without fonts.
    Outlined,
}

/// The sheet as an SVG file of its physical size. Items with a coordinate that is not finite are
/// left out.
#[must_use]
pub fn svg(sheet: &Sheet) -> String {
    whole(sheet, Texts::Real)
}

/// The same with every letter as an outline: it looks alike everywhere but holds no text.
#[must_use]
pub fn svg_outlined(sheet: &Sheet) -> String {
    whole(sheet, Texts::Outlined)
}

fn whole(sheet: &Sheet, texts: Texts) -> String {
    let (width, height) = (number(sheet.width), number(sheet.height));
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\">"
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&sheet.title));
    let _ = writeln!(
        out,
        "<rect class=\"paper\" width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>"
    );
    let mut open: Option<Layer> = None;
    for item in &sheet.items {
        let Some(drawn) = drawn(item, sheet.height, texts) else {
            continue;
        };
        let layer = layer_of(item);
        if open != Some(layer) {
            if open.is_some() {
                out.push_str("</g>\n");
            }
            let _ = writeln!(
                out,
                "<g class=\"{}\" fill=\"none\" stroke-linejoin=\"round\">",
                class(layer)
            );
            open = Some(layer);
        }
        out.push_str(&drawn);
        out.push('\n');
    }
    if open.is_some() {
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn layer_of(item: &Item) -> Layer {
    match item {
        Item::Path(path) => path.layer,
        Item::Text(text) => text.layer,
        Item::Circle { layer, .. } => *layer,
    }
}

/// A layer's class.
fn class(layer: Layer) -> &'static str {
    match layer {
        Layer::Outline => "outline",
        Layer::Bores => "bores",
        Layer::Counterbores => "counterbores",
        Layer::Slots => "slots",
        Layer::Ramps => "ramps",
        Layer::Pilots => "pilots",
        Layer::Marks => "marks",
        Layer::Axes => "axes",
        Layer::Strings => "strings",
        Layer::Dimensions => "dimensions",
        Layer::Notes => "notes",
        Layer::Frame => "frame",
        Layer::CheckBar => "check-bar",
        Layer::Adjacent => "adjacent",
    }
}

fn drawn(item: &Item, paper: f64, texts: Texts) -> Option<String> {
    match item {
        Item::Path(path) => path_element(path, paper),
        Item::Text(text) => match texts {
            Texts::Real => text_element(text, paper),
            Texts::Outlined => text_outlines(text, paper),
        },
        Item::Circle {
            line,
            center,
            radius,
            fill,
            ..
        } => {
            let sound = center.is_finite() && radius.is_finite();
            sound.then(|| {
                format!(
                    "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}{}/>",
                    number(center.x),
                    number(paper - center.y),
                    number(*radius),
                    fill_attribute(*fill),
                    stroke(Some(*line))
                )
            })
        }
    }
}

fn path_element(path: &Path, paper: f64) -> Option<String> {
    let data = path_data(&path.pieces, path.closed, paper)?;
    Some(format!(
        "<path d=\"{data}\"{}{}/>",
        fill_attribute(path.fill),
        stroke(path.line)
    ))
}

/// The path in SVG's own words; `None` where it is empty or not finite.
fn path_data(pieces: &[Piece], closed: bool, paper: f64) -> Option<String> {
    let place = |p: DVec2| format!("{} {}", number(p.x), number(paper - p.y));
    let mut data = format!("M{}", place(pieces.first()?.start()));
    for piece in pieces {
        if !piece.start().is_finite() || !piece.end().is_finite() {
            return None;
        }
        match *piece {
            Piece::Line { b, .. } => {
                let _ = write!(data, " L{}", place(b));
            }
            Piece::Arc { radius, sweep, .. } => {
                // No arc command can say a full turn, and near half a turn the centre hangs on the
                // last digit of the ends: quarter turns at most.
                let parts = (sweep.abs() / QUARTER - NOISE).ceil().clamp(1.0, 4.0);
                let radius = number(radius);
                let turn = u8::from(sweep < 0.0);
                for part in [1.0, 2.0, 3.0, 4.0]
                    .into_iter()
                    .filter(|&part| part <= parts)
                {
                    let end = piece.at(part / parts);
                    let _ = write!(data, " A{radius} {radius} 0 0 {turn} {}", place(end));
                }
            }
        }
    }
    if closed {
        data.push('Z');
    }
    Some(data)
}

fn fill_attribute(fill: Fill) -> String {
    match fill {
        Fill::None => String::new(),
        Fill::Grey(grey) => format!(" fill=\"{}\"", shade(grey)),
    }
}

/// A grey as SVG's colour.
fn shade(grey: f64) -> String {
    let level = (grey.clamp(0.0, 1.0) * 255.0).round();
    format!("rgb({level},{level},{level})")
}

fn stroke(line: Option<LineKind>) -> String {
    let Some(line) = line else {
        return String::new();
    };
    let width = line.width();
    let mut out = format!(" stroke=\"#000\" stroke-width=\"{}\"", number(width));
    if !line.pattern().is_empty() {
        let dashes: Vec<String> = line.pattern().iter().map(|&d| number(d * width)).collect();
        let _ = write!(out, " stroke-dasharray=\"{}\"", dashes.join(" "));
    }
    out
}

fn text_element(text: &Text, paper: f64) -> Option<String> {
    let face = Typeface::of(text.weight)?;
    let seen = legible(&text.text, text.weight);
    if !is_sound(text) || seen.trim().is_empty() {
        return None;
    }
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let (x, y) = (number(text.at.x), number(paper - text.at.y));
    let mut out = format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" text-anchor=\"{anchor}\" textLength=\"{}\" \
         lengthAdjust=\"spacingAndGlyphs\" fill=\"#000\" \
         font-family=\"'DejaVu Sans Condensed', 'DejaVu Sans', sans-serif\"",
        number(face.size(text.height)),
        number(text_width(&text.text, text.height, text.weight)),
    );
    if text.weight == Weight::Strong {
        out.push_str(" font-weight=\"bold\"");
    }
    if text.turn != 0.0 {
        let _ = write!(
            out,
            " transform=\"rotate({} {x} {y})\"",
            number(-text.turn.to_degrees())
        );
    }
    let _ = write!(out, " xml:space=\"preserve\">{}</text>", escaped(&seen));
    Some(out)
}

fn is_sound(text: &Text) -> bool {
    text.at.is_finite() && text.height.is_finite() && text.turn.is_finite()
}

/// The letters as one filled path.
fn text_outlines(text: &Text, paper: f64) -> Option<String> {
    let face = Typeface::of(text.weight)?;
    if !is_sound(text) {
        return None;
    }
    let width = text_width(&text.text, text.height, text.weight);
    let start = text.anchor.start(width);
    let along = DVec2::from_angle(text.turn);
    let mut pen = Outline {
        data: String::new(),
        origin: text.at + along * start,
        along,
        scale: text.height / face.capitals,
        paper,
    };
    for letter in face.letters(&text.text) {
        let Letter { advance, .. } = letter;
        face.outline(letter, &mut pen);
        pen.origin += along * f64::from(advance) * pen.scale;
    }
    let data = pen.data;
    (!data.is_empty()).then(|| format!("<path d=\"{data}\" fill=\"#000\"/>"))
}

/// Writes a letter's outline where it stands on the sheet.
struct Outline {
    data: String,
    origin: DVec2,
    along: DVec2,
    scale: f64,
    paper: f64,
}

impl Outline {
    fn place(&self, x: f32, y: f32) -> String {
        let point = DVec2::new(f64::from(x), f64::from(y)) * self.scale;
        let point = self.origin + self.along.rotate(point);
        format!("{} {}", number(point.x), number(self.paper - point.y))
    }
}

impl ttf_parser::OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.data, "M{}", self.place(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.data, "L{}", self.place(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let _ = write!(self.data, "Q{} {}", self.place(x1, y1), self.place(x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let (a, b, end) = (self.place(x1, y1), self.place(x2, y2), self.place(x, y));
        let _ = write!(self.data, "C{a} {b} {end}");
    }

    fn close(&mut self) {
        self.data.push('Z');
    }
}

/// A length to a millionth of a millimetre, without noughts at its end.
fn number(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".into()
    } else {
        text.into()
    }
}
