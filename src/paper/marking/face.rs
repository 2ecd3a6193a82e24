//! The front face, in the head's own frame.

use glam::DVec2;

use crate::input::Side;
use crate::layout::{Layout, SideLayout, Slot};
use crate::paper::dimension::{Style, arrow, put, spread};
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;

use super::marks::{NUMBERS, height_of, mark, numbers, prick, write};

/// The centre line stands out of the outline by this much, mm.
const PAST: f64 = 4.0;
/// From the head's widest place to the numbers, mm.
const TO_NUMBERS: f64 = 3.0;
/// A bore's axis is drawn this far out of the side, mm.
const AXIS_OUT: f64 = 3.0;
/// A mouth shorter than this has no room for the arrow that tells which way the ramp falls, mm.
const LEAST_MOUTH: f64 = 6.0;

/// Front face with everything to be marked on it, numbers to both sides.
pub(super) fn face(layout: &Layout) -> Sheet {
    let mut sheet = Sheet::new("face", 0.0, 0.0);
    let outline = layout.outline.region();
    for string in &layout.strings {
        sheet.line(
            Layer::Strings,
            LineKind::Narrow,
            string.at_nut,
            string.at_hole,
        );
    }
    for side in layout.each_side() {
        if let Some(slot) = &side.slot {
            opening(layout, &mut sheet, slot);
        }
    }
    let (low, high) = (-PAST, layout.outline.length + PAST);
    let (nut, crest) = (DVec2::new(0.0, low), DVec2::new(0.0, high));
    sheet.line(Layer::Axes, LineKind::Axis, nut, crest);
    for side in layout.each_side() {
        side_line(layout, &mut sheet, side);
        bores(layout, side, &mut sheet);
    }
    sheet.region(Layer::Outline, LineKind::Wide, &outline);
    let style = Style::default();
    let mut say = |at: DVec2, anchor, text: &str| {
        put(&mut sheet, Layer::Notes, at, 0.0, anchor, style, text);
    };
    say(DVec2::new(1.5, low), Anchor::Start, "nut line, y = 0");
    say(DVec2::new(-1.5, low), Anchor::End, "centre line");
    say(DVec2::new(1.5, high - 2.5), Anchor::Start, "crest");
    sheet
}

/// Slot with its ramp, down which an arrow points.
fn opening(layout: &Layout, sheet: &mut Sheet, slot: &Slot) {
    sheet.region(Layer::Slots, LineKind::Wide, &slot.region());
    if let Some(ramp) = slot.ramp {
        // Mouth and walls only: where the walls meet the slot there is no edge across it.
        let [walls_end, _] = slot.straight();
        let half = slot.width / 2.0;
        let corners = [
            slot.at(walls_end, -half),
            slot.at(-ramp.mouth, -half),
            slot.at(-ramp.mouth, half),
            slot.at(walls_end, half),
        ];
        let pieces = corners.windows(2).map(|ends| Piece::Line {
            a: ends[0],
            b: ends[1],
        });
        sheet.path(Layer::Ramps, LineKind::Narrow, pieces.collect(), false);
        if ramp.mouth > LEAST_MOUTH {
            let [mouth, slot_end] = clear_of_strings(layout, slot, ramp.mouth);
            downhill(sheet, mouth, slot_end);
        }
    }
    // Where the ends are half-round, the cutter or a bit starts in the middle of the round.
    if slot.width / 2.0 - slot.corner_radius < NOISE {
        for tau in slot.straight() {
            prick(sheet, Layer::Slots, slot.at(tau, 0.0));
        }
    }
}

/// The way down a ramp, of several across its width the one farthest from any string.
fn clear_of_strings(layout: &Layout, slot: &Slot, mouth: f64) -> [DVec2; 2] {
    let way = |share: f64| [-mouth, 0.0].map(|tau| slot.at(tau, share * slot.width));
    let room = |share: f64| {
        let [from, to] = way(share);
        let along_the_way = (0..=4).map(|quarter| from.lerp(to, f64::from(quarter) / 4.0));
        let to_strings = along_the_way.flat_map(|point| {
            let strings = layout.strings.iter();
            strings.map(move |string| {
                let run = string.at_hole - string.at_nut;
                let along = (point - string.at_nut).dot(run) / run.length_squared();
                point.distance(string.at_nut + run * along.clamp(0.0, 1.0))
            })
        });
        to_strings.fold(f64::INFINITY, f64::min)
    };
    let shares = [0.0, -0.12, 0.12, -0.24, 0.24, -0.36, 0.36];
    let best = shares
        .into_iter()
        .max_by(|a, b| room(*a).total_cmp(&room(*b)));
    way(best.unwrap_or(0.0))
}

/// An arrow down a ramp, from where it starts at the face to where the slot begins.
pub(super) fn downhill(sheet: &mut Sheet, from: DVec2, to: DVec2) {
    let (tail, tip) = (from.lerp(to, 0.15), from.lerp(to, 0.85));
    let head = (tip.distance(tail) / 2.0).min(3.0);
    let along = (tip - tail).normalize_or_zero();
    sheet.line(Layer::Ramps, LineKind::Wide, tail, tip - along * head);
    arrow(sheet, Layer::Ramps, tip, -along, head);
}

/// Where shoulders come first, the side line goes on to the nut line, from which s counts.
fn side_line(layout: &Layout, sheet: &mut Sheet, side: &SideLayout) {
    let line = &side.line;
    let start = layout.straight_from(side.side);
    if start > NOISE {
        let (a, b) = (line.at(0.0), line.at(start));
        sheet.line(Layer::Marks, LineKind::Hidden, a, b);
    }
}

fn bores(layout: &Layout, side: &SideLayout, sheet: &mut Sheet) {
    let knife = may_be_cut(layout, side);
    let sign = side.side.sign();
    let widest = layout.outline.region().reach(DVec2::X * sign);
    let column = sign * (widest + TO_NUMBERS);
    let texts: Vec<_> = side
        .bores
        .iter()
        .map(|bore| numbers(layout, bore))
        .collect();
    let tallest = texts
        .iter()
        .map(|lines| height_of(lines))
        .fold(0.0, f64::max);
    let places: Vec<f64> = side
        .bores
        .iter()
        .map(crate::layout::Bore::squares_across_at)
        .collect();
    let heights = spread(&places, tallest + NUMBERS);
    for ((bore, lines), y) in side.bores.iter().zip(&texts).zip(heights) {
        let entry = bore.entry.truncate();
        let axis_out = bore.axis_at(-AXIS_OUT).truncate();
        let axis_in = bore.axis_at(bore.depth_at_plane(0.0)).truncate();
        sheet.line(Layer::Axes, LineKind::Dotted, axis_out, axis_in);
        let centre = DVec2::new(0.0, bore.squares_across_at());
        mark(sheet, centre, entry, &knife);
        let text = DVec2::new(column, y);
        let elbow = text - DVec2::X * sign;
        sheet.line(Layer::Dimensions, LineKind::Narrow, entry, elbow);
        let anchor = match side.side {
            Side::Treble => Anchor::Start,
            Side::Bass => Anchor::End,
        };
        write(sheet, text, anchor, lines);
    }
    let name = match side.side {
        Side::Treble => "TREBLE",
        Side::Bass => "BASS",
    };
    let style = Style {
        text: 3.0,
        weight: Weight::Strong,
        ..Style::default()
    };
    let at = DVec2::new(sign * (widest + TO_NUMBERS - 1.5), 2.0);
    let turn = std::f64::consts::FRAC_PI_2;
    let anchor = Anchor::Start;
    let at = at + DVec2::X * (if sign > 0.0 { style.text } else { 0.0 });
    put(sheet, Layer::Notes, at, turn, anchor, style, name);
}

/// Where a knife line on the face goes with the wood: the slot with its ramp, and what the later
/// rounding takes along the side.
fn may_be_cut(layout: &Layout, side: &SideLayout) -> Vec<Region> {
    let mut regions: Vec<Region> = side.slot.iter().map(Slot::opening).collect();
    let radius = layout.design.head.edge_radius;
    if radius > 0.0 {
        let line = &side.line;
        let (a, b) = (
            line.at(layout.straight_from(side.side)),
            line.at(line.end_s),
        );
        let inward = line.inward * radius;
        regions.push(Region::polygon(&[a, b, b + inward, a + inward]));
    }
    regions
}
