//! A sheet as SVG inside the page: coloured by the page's style, so that it follows light, dark and
//! print; read aloud by its title and description.

use std::f64::consts::TAU;

use glam::DVec2;

use crate::paper::{Anchor, Fill, Item, LineKind, Sheet, Weight};
use crate::plane::Piece;

use super::escape::text;

/// Height of capitals over the size of the letters, in the usual sans-serif faces.
const CAPITALS: f64 = 0.72;

/// The sheet as an `svg` element; `id` names its title and description, so it must be the page's only
/// one of that name.
pub fn inline_svg(sheet: &Sheet, id: &str, title: &str, description: &str) -> String {
    let mut out = format!(
        "<svg class=\"sheet\" viewBox=\"0 0 {} {}\" role=\"img\" \
         aria-labelledby=\"{id}-title {id}-text\" xmlns=\"http://www.w3.org/2000/svg\">\n\
         <title id=\"{id}-title\">{}</title>\n<desc id=\"{id}-text\">{}</desc>\n",
        short(sheet.width),
        short(sheet.height),
        text(title),
        text(description)
    );
    // The sheet's y runs up, the picture's down.
    let place = |p: DVec2| DVec2::new(p.x, sheet.height - p.y);
    for item in &sheet.items {
        out.push_str(&match item {
            Item::Path(path) => format!(
                "<path d=\"{}\"{}{}/>\n",
                outline(&path.pieces, path.closed, place),
                stroke(path.line),
                fill(path.fill)
            ),
            Item::Circle {
                line,
                center,
                radius,
                fill: within,
                ..
            } => {
                let at = place(*center);
                format!(
                    "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}{}/>\n",
                    short(at.x),
                    short(at.y),
                    short(*radius),
                    stroke(Some(*line)),
                    fill(*within)
                )
            }
            Item::Text(words) => {
                let at = place(words.at);
                let anchor = match words.anchor {
                    Anchor::Start => "start",
                    Anchor::Middle => "middle",
                    Anchor::End => "end",
                };
                let weight = match words.weight {
                    Weight::Plain => "",
                    Weight::Strong => " font-weight=\"700\"",
                };
                let turn = if words.turn == 0.0 {
                    String::new()
                } else {
                    let degrees = short(-words.turn.to_degrees());
                    format!(
                        " transform=\"rotate({degrees} {} {})\"",
                        short(at.x),
                        short(at.y)
                    )
                };
                format!(
                    "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"{weight}{turn}>\
                     {}</text>\n",
                    short(at.x),
                    short(at.y),
                    short(words.height / CAPITALS),
                    text(&words.text)
                )
            }
        });
    }
    out.push_str("</svg>\n");
    out
}

/// To a thousandth of a millimetre, no more digits than that takes.
fn short(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

fn outline(pieces: &[Piece], closed: bool, place: impl Fn(DVec2) -> DVec2) -> String {
    let mut out = String::new();
    for (index, piece) in pieces.iter().enumerate() {
        let (start, end) = (place(piece.start()), place(piece.end()));
        if index == 0 {
            out.push_str(&format!("M{} {}", short(start.x), short(start.y)));
        }
        match *piece {
            Piece::Line { .. } => out.push_str(&format!("L{} {}", short(end.x), short(end.y))),
            Piece::Arc { radius, sweep, .. } => {
                // Anticlockwise on the sheet; the picture's y runs down, where SVG calls that 0. An
                // arc of a whole turn would vanish: it goes in two halves.
                let flag = u8::from(sweep < 0.0);
                let halves = if sweep.abs() > TAU * 0.99 { 2 } else { 1 };
                let large = u8::from(sweep.abs() / f64::from(halves) > TAU / 2.0);
                for half in 1..=halves {
                    let to = place(piece.at(f64::from(half) / f64::from(halves)));
                    out.push_str(&format!(
                        "A{} {} 0 {large} {flag} {} {}",
                        short(radius),
                        short(radius),
                        short(to.x),
                        short(to.y)
                    ));
                }
            }
        }
    }
    if closed {
        out.push('Z');
    }
    out
}

fn stroke(line: Option<LineKind>) -> String {
    let Some(line) = line else {
        return String::new();
    };
    let width = line.width();
    let dashes: Vec<String> = line
        .pattern()
        .iter()
        .map(|widths| short(widths * width))
        .collect();
    let dashes = if dashes.is_empty() {
        String::new()
    } else {
        format!(" stroke-dasharray=\"{}\"", dashes.join(" "))
    };
    format!(" stroke=\"currentColor\" stroke-width=\"{width}\"{dashes}")
}

/// Grey is the page's own ink, thinned, and white the page itself: so a dark page stays dark.
fn fill(fill: Fill) -> String {
    match fill {
        Fill::None => " fill=\"none\"".to_owned(),
        Fill::Grey(grey) if grey >= 1.0 => " class=\"paper\"".to_owned(),
        Fill::Grey(grey) => format!(
            " fill=\"currentColor\" fill-opacity=\"{}\"",
            short(1.0 - grey)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::Layer;

    #[test]
    fn paths_run_upside_down_and_arcs_the_right_way_round() {
        let mut sheet = Sheet::new("t", 10.0, 20.0);
        let quarter = Piece::Arc {
            center: DVec2::new(5.0, 5.0),
            radius: 2.0,
            from: 0.0,
            sweep: TAU / 4.0,
        };
        sheet.path(Layer::Outline, LineKind::Wide, vec![quarter], false);
        let svg = inline_svg(&sheet, "a", "b <", "c");
        // From (7, 5) anticlockwise to (5, 7) on the sheet: (7, 15) to (5, 13) on the screen.
        assert!(svg.contains("d=\"M7 15A2 2 0 0 0 5 13\""), "{svg}");
        assert!(svg.contains("b &lt;") && svg.contains("viewBox=\"0 0 10 20\""));
    }
}
