//! Dimensions, leaders and ordinate marks, drawn alike on every sheet.
//!
//! After ISO 129-1 (from memory): narrow lines, filled arrowheads of 15 degrees, text above the
//! dimension line and readable from below or from the right. Extension lines keep a small gap to
//! the part, which prints more legibly than the standard's touching ones.

use std::f64::consts::{FRAC_PI_2, PI};

use glam::DVec2;

use super::measure::{text_depth, text_width};
use super::{Anchor, Fill, Item, Layer, LineKind, Sheet, Text, Weight};
use crate::plane::Region;
use crate::tolerance::NOISE;
use crate::units::{Lengths, bare_inches, show_mm};

/// Included angle of an arrowhead, degrees.
const ARROW_DEGREES: f64 = 15.0;
/// Gap between the part and its extension line, mm.
const GAP: f64 = 1.0;
/// Extension line past the dimension line, mm.
const PAST: f64 = 2.0;
/// Clear paper between a line and its text, mm.
const TEXT_GAP: f64 = 0.8;
/// The least of it under a letter that reaches below the base line, mm.
const LEAST_GAP: f64 = 0.2;
/// Text on a line that leans this far past upright still reads from the right, radians.
const LEANING: f64 = 5.0 * PI / 180.0;
/// Clear paper round a text that lies over lines, mm.
const HALO: f64 = 0.6;

/// Sizes of a sheet's dimensions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// Height of capitals, mm.
    pub text: f64,
    /// Length of an arrowhead, mm.
    pub arrow: f64,
    /// Weight of the text.
    pub weight: Weight,
}

impl Default for Style {
    fn default() -> Self {
        Style {
            text: 2.5,
            arrow: 2.5,
            weight: Weight::Plain,
        }
    }
}

/// A linear dimension: the distance of two points, taken along `direction`.
#[derive(Debug, Clone, PartialEq)]
pub struct Linear {
    /// First point of the part.
    pub from: DVec2,
    /// Second point of the part.
    pub to: DVec2,
    /// Direction of the dimension line, any length but zero.
    pub direction: DVec2,
    /// A point the dimension line passes through.
    pub through: DVec2,
    /// Text; not computed here, so that it is the figure of the report.
    pub text: String,
}

impl Linear {
    /// Along the two points themselves, the dimension line `offset` mm to the left of the way from
    /// the first to the second (negative: to the right).
    #[must_use]
    pub fn aligned(from: DVec2, to: DVec2, offset: f64, text: impl Into<String>) -> Linear {
        let direction = unit(to - from);
        Linear {
            from,
            to,
            direction,
            through: from + direction.perp() * offset,
            text: text.into(),
        }
    }

    /// Across the sheet, the dimension line at height `y`.
    #[must_use]
    pub fn level(from: DVec2, to: DVec2, y: f64, text: impl Into<String>) -> Linear {
        Linear {
            from,
            to,
            direction: DVec2::X,
            through: DVec2::new(from.x, y),
            text: text.into(),
        }
    }

    /// Up the sheet, the dimension line at `x`.
    #[must_use]
    pub fn upright(from: DVec2, to: DVec2, x: f64, text: impl Into<String>) -> Linear {
        Linear {
            from,
            to,
            direction: DVec2::Y,
            through: DVec2::new(x, from.y),
            text: text.into(),
        }
    }

    /// Draws it. Where a text with inches in brackets finds no room between the arrows, they stand under the
    /// line; where arrows and text find none, the arrows come from outside and the text stands past the
    /// second extension line, inches in brackets under the line there too, so that it reaches no farther
    /// than it must.
    pub fn draw(&self, sheet: &mut Sheet, style: Style) {
        self.draw_on(sheet, style, false);
    }

    /// The same with its text on white paper where it stands between the arrows: over lines that may run there.
    pub fn draw_over_lines(&self, sheet: &mut Sheet, style: Style) {
        self.draw_on(sheet, style, true);
    }

    fn draw_on(&self, sheet: &mut Sheet, style: Style, over_lines: bool) {
        let along = unit(self.direction);
        let foot = |point: DVec2| self.through + along * (point - self.through).dot(along);
        let (a, b) = (foot(self.from), foot(self.to));
        let along = if (b - a).dot(along) < 0.0 {
            -along
        } else {
            along
        };
        let span = a.distance(b);
        let between = lines_between(&self.text, span, style);
        let turn = readable(along.to_angle());
        let up = DVec2::from_angle(turn).perp();
        let deep = text_depth(&self.text, style.text, style.weight);
        let over = TEXT_GAP.max(deep + LEAST_GAP);
        let offs = [up * over, -up * (TEXT_GAP + style.text)];
        let texts: Vec<(DVec2, &str)> = between
            .iter()
            .flatten()
            .zip(offs)
            .map(|(text, off)| ((a + b) / 2.0 + off, *text))
            .collect();
        let (layer, anchor) = (Layer::Dimensions, Anchor::Middle);
        for (at, text) in texts.iter().filter(|_| over_lines) {
            clear_for_text(sheet, layer, *at, turn, anchor, style, text);
        }
        extension(sheet, self.from, a);
        extension(sheet, self.to, b);
        let outside = over_and_under(&self.text);
        let widths = outside
            .iter()
            .map(|text| text_width(text, style.text, style.weight));
        let width = widths.fold(0.0, f64::max);
        let arrows_inside = span >= 2.0 * style.arrow + 1.0;
        if arrows_inside {
            line(sheet, a, b);
            arrow(sheet, layer, a, along, style.arrow);
            arrow(sheet, layer, b, -along, style.arrow);
        } else {
            let out = style.arrow + 2.0;
            let past = if between.is_some() {
                out
            } else {
                out.max(width + 2.0 * TEXT_GAP)
            };
            line(sheet, a - along * out, b + along * past);
            arrow(sheet, layer, a, -along, style.arrow);
            arrow(sheet, layer, b, along, style.arrow);
        }
        if between.is_some() {
            for (at, text) in texts {
                put(sheet, layer, at, turn, anchor, style, text);
            }
            return;
        }
        let from_line = if arrows_inside {
            line(sheet, b, b + along * (width + 2.0 * TEXT_GAP));
            TEXT_GAP
        } else {
            style.arrow.min(1.0) + TEXT_GAP
        };
        let middle = b + along * (width / 2.0 + from_line);
        for (text, off) in outside.into_iter().zip(offs) {
            put(sheet, layer, middle + off, turn, anchor, style, text);
        }
    }
}

/// What of a text stands over a line and what under it, where it is parted: inches in brackets stand under.
fn over_and_under(text: &str) -> Vec<&str> {
    match text.rfind(" [").filter(|_| text.ends_with(']')) {
        Some(bracket) => {
            let (over, under) = text.split_at(bracket);
            vec![over, under.trim_start()]
        }
        None => vec![text],
    }
}

/// A dimension's text as it stands over a line of so many mm between its arrows, and what of it stands
/// under it: inches in brackets, where both find no room over it. `None`: not even so.
fn lines_between(text: &str, span: f64, style: Style) -> Option<Vec<&str>> {
    let fits = |text: &str| text_width(text, style.text, style.weight) + 1.0 <= span;
    if fits(text) {
        return Some(vec![text]);
    }
    let parted = over_and_under(text);
    parted.iter().all(|text| fits(text)).then_some(parted)
}

/// Whether a dimension's text finds room between its arrows.
#[must_use]
pub fn stands_between(text: &str, span: f64, style: Style) -> bool {
    lines_between(text, span, style).is_some()
}

/// How a leader ends at the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeaderEnd {
    /// An arrowhead, on an outline.
    Arrow,
    /// A dot, within a surface.
    Dot,
}

/// A note with a leader from `tip` over `knee`; the text, a line a string, stands beside a short
/// shelf at the knee, on the side away from the tip.
pub fn leader(
    sheet: &mut Sheet,
    tip: DVec2,
    knee: DVec2,
    end: LeaderEnd,
    style: Style,
    lines: &[&str],
) {
    let right = knee.x >= tip.x;
    let shelf = DVec2::new(if right { 2.0 } else { -2.0 }, 0.0);
    line(sheet, tip, knee);
    line(sheet, knee, knee + shelf);
    match end {
        LeaderEnd::Arrow => arrow(sheet, Layer::Dimensions, tip, unit(knee - tip), style.arrow),
        LeaderEnd::Dot => dot(sheet, Layer::Dimensions, tip, 0.6),
    }
    let anchor = if right { Anchor::Start } else { Anchor::End };
    let first = knee + shelf + DVec2::new(shelf.x.signum() * TEXT_GAP, -style.text / 2.0);
    for (index, text) in lines.iter().enumerate() {
        let at = first - DVec2::Y * (index as f64 * line_step(style.text));
        put(sheet, Layer::Dimensions, at, 0.0, anchor, style, text);
    }
}

/// An ordinate mark: a narrow line from the part to `to`, and its number beyond the line's end,
/// read along it. Draw several with [`spread`] ends where they stand close.
pub fn ordinate(sheet: &mut Sheet, from: DVec2, to: DVec2, style: Style, text: &str) {
    let along = unit(to - from);
    line(sheet, from + along * GAP, to);
    let angle = along.to_angle();
    let turn = readable(angle);
    // Turned round for reading, the text ends where the line does.
    let anchor = if (turn - angle).abs() < FRAC_PI_2 {
        Anchor::Start
    } else {
        Anchor::End
    };
    let down = -DVec2::from_angle(turn).perp() * (style.text / 2.0);
    put(
        sheet,
        Layer::Dimensions,
        to + along * TEXT_GAP + down,
        turn,
        anchor,
        style,
        text,
    );
}

/// Moves ascending places apart until neighbours stand at least `least` mm from one another, each
/// as near to its own place as the others allow.
#[must_use]
pub fn spread(places: &[f64], least: f64) -> Vec<f64> {
    // Groups that had to be pushed together: sum of (place − offset), count, first offset.
    let mut groups: Vec<(f64, usize)> = Vec::new();
    let start = |(sum, count): (f64, usize)| sum / count as f64;
    for &place in places {
        groups.push((place, 1));
        while let [.., before, last] = groups[..] {
            if start(last) - start(before) >= before.1 as f64 * least - NOISE {
                break;
            }
            let moved = last.0 - (last.1 * before.1) as f64 * least;
            groups.pop();
            groups.pop();
            groups.push((before.0 + moved, before.1 + last.1));
        }
    }
    groups
        .into_iter()
        .flat_map(|group| (0..group.1).map(move |i| start(group) + i as f64 * least))
        .collect()
}

/// A filled arrowhead of 15 degrees with its point at `tip`, its shaft towards `shaft`.
pub fn arrow(sheet: &mut Sheet, layer: Layer, tip: DVec2, shaft: DVec2, length: f64) {
    let shaft = unit(shaft);
    let half = length * (ARROW_DEGREES / 2.0).to_radians().tan();
    let back = tip + shaft * length;
    let region = Region::polygon(&[tip, back + shaft.perp() * half, back - shaft.perp() * half]);
    sheet.area(layer, None, &region, Fill::Grey(0.0));
}

/// A filled dot.
pub fn dot(sheet: &mut Sheet, layer: Layer, center: DVec2, radius: f64) {
    sheet.items.push(Item::Circle {
        layer,
        line: LineKind::Narrow,
        center,
        radius,
        fill: Fill::Grey(0.0),
    });
}

/// White paper under a text that is about to be put over lines.
pub fn clear_for_text(
    sheet: &mut Sheet,
    layer: Layer,
    at: DVec2,
    turn: f64,
    anchor: Anchor,
    style: Style,
    text: &str,
) {
    let width = text_width(text, style.text, style.weight);
    let start = anchor.start(width);
    let along = DVec2::from_angle(turn);
    let corner = |x: f64, y: f64| at + along * x + along.perp() * y;
    let (left, right) = (start - HALO, start + width + HALO);
    let (low, high) = (-HALO, style.text + HALO);
    let region = Region::polygon(&[
        corner(left, low),
        corner(right, low),
        corner(right, high),
        corner(left, high),
    ]);
    sheet.area(layer, None, &region, Fill::Grey(1.0));
}

/// A text of this style at any turn.
pub fn put(
    sheet: &mut Sheet,
    layer: Layer,
    at: DVec2,
    turn: f64,
    anchor: Anchor,
    style: Style,
    text: &str,
) {
    sheet.items.push(Item::Text(Text {
        layer,
        at,
        height: style.text,
        anchor,
        turn,
        weight: style.weight,
        text: text.to_owned(),
    }));
}

/// A length as sheets print it beside a mark: millimetres to a hundredth, without the unit.
#[must_use]
pub fn figure(mm: f64) -> String {
    show_mm(mm).trim_end_matches(" mm").to_owned()
}

/// The same with inches in square brackets after it where they are asked for: `10.50 [0.413]`.
#[must_use]
pub fn figure_in(mm: f64, lengths: Lengths) -> String {
    if lengths.inches {
        format!("{} [{}]", figure(mm), bare_inches(mm))
    } else {
        figure(mm)
    }
}

/// Distance of the base lines of two lines of text, mm.
#[must_use]
pub fn line_step(height: f64) -> f64 {
    1.6 * height
}

/// The turn nearest to `angle` (or its reverse) at which a text is read from below or from the
/// right: above −85°, up to +95°, for a line that leans a little past upright still reads from the
/// right.
#[must_use]
pub fn readable(angle: f64) -> f64 {
    let half_turns = angle.rem_euclid(PI);
    if half_turns > FRAC_PI_2 + LEANING {
        half_turns - PI
    } else {
        half_turns
    }
}

fn line(sheet: &mut Sheet, a: DVec2, b: DVec2) {
    sheet.line(Layer::Dimensions, LineKind::Narrow, a, b);
}

fn extension(sheet: &mut Sheet, part: DVec2, foot: DVec2) {
    let out = foot - part;
    if out.length() > GAP {
        let along = unit(out);
        line(sheet, part + along * GAP, foot + along * PAST);
    }
}

/// Unit vector; +x for one without length.
fn unit(vector: DVec2) -> DVec2 {
    vector.try_normalize().unwrap_or(DVec2::X)
}

#[cfg(test)]
mod tests;
