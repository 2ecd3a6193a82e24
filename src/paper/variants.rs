//! A map of variants: a box a variant, its letter and its tone the check that decides it.

use glam::DVec2;

use super::{Anchor, Fill, Item, Layer, LineKind, Path, Sheet};
use crate::plane::Region;
use crate::study::trial::Grade;
use crate::study::vary::{Axis, Legend, Variant, typed};
use crate::units::plain;

/// Margin round everything, mm.
const MARGIN: f64 = 10.0;
/// Height of capitals, mm.
const TEXT: f64 = 2.5;
/// Room for the values at the left, mm.
const LABELS: f64 = 18.0;
/// Largest box, mm; a map of many variants has smaller ones.
const LARGEST: f64 = 7.0;
/// Width of the largest map, mm.
const WIDTH: f64 = 250.0;
/// No letter is drawn in a box below this, mm.
const LETTERED: f64 = 3.0;

/// The map: the first number runs upwards, the last to the right; one number alone makes one row. The
/// present values are marked at the edges where the map holds them.
#[must_use]
pub fn variants_map(title: &str, axes: &[Axis], variants: &[Variant]) -> Sheet {
    let legend = Legend::of(variants);
    let wide = axes.last().map_or(1, |axis| axis.values.len()).max(1);
    let high = variants.len().div_ceil(wide).max(1);
    #[allow(clippy::cast_precision_loss)]
    let size = (WIDTH / wide.max(high) as f64).min(LARGEST);
    #[allow(clippy::cast_precision_loss)]
    let map = DVec2::new(wide as f64, high as f64) * size;
    let words = 7.0 + TEXT * 2.0 * (legend.codes.len() + 3) as f64;
    let low = DVec2::new(MARGIN + LABELS, MARGIN + words + 12.0);
    let height = low.y + map.y + 18.0 + MARGIN;
    let mut sheet = Sheet::new(
        format!("Variants: {title}"),
        (low.x + map.x + MARGIN + 5.0).max(130.0),
        height,
    );
    let top = DVec2::new(MARGIN, height - MARGIN - 4.0);
    sheet.strong(
        Layer::Notes,
        top,
        4.0,
        Anchor::Start,
        format!("Variants: {title}"),
    );
    for (row, list) in variants.chunks(wide).enumerate() {
        for (column, variant) in list.iter().enumerate() {
            #[allow(clippy::cast_precision_loss)]
            let corner = low + DVec2::new(column as f64, row as f64) * size;
            one(&mut sheet, variant, &legend, corner, size);
        }
    }
    if let Some(across) = axes.last() {
        scale(
            &mut sheet,
            across,
            low - DVec2::new(0.0, TEXT + 2.5),
            DVec2::X,
            size,
        );
        let at = DVec2::new(low.x, low.y - 2.0 * TEXT - 7.0);
        sheet.text(
            Layer::Notes,
            at,
            TEXT,
            Anchor::Start,
            format!("{} to the right", name(across)),
        );
    }
    if let [up, _] = axes {
        scale(&mut sheet, up, low - DVec2::new(2.5, 0.0), DVec2::Y, size);
        let at = DVec2::new(MARGIN, low.y + map.y + 4.0);
        sheet.text(
            Layer::Notes,
            at,
            TEXT,
            Anchor::Start,
            format!("{} upwards", name(up)),
        );
    }
    words_below(&mut sheet, &legend, low.y - 2.0 * TEXT - 13.0);
    sheet
}

fn name(axis: &Axis) -> String {
    let unit = match axis.number.kind {
        crate::input::NumberKind::Length => match axis.number.unit {
            crate::input::Unit::Mm => ", mm",
            crate::input::Unit::Inch => ", in",
        },
        crate::input::NumberKind::Degrees => ", degrees",
        _ => "",
    };
    format!("{}{unit}", axis.number.key)
}

/// One variant's box: white clear, light caution, dark stop, a cross where refused.
fn one(sheet: &mut Sheet, variant: &Variant, legend: &Legend, corner: DVec2, size: f64) {
    let grade = variant.grade();
    let tone = match grade {
        Grade::Clear => 1.0,
        Grade::Caution => 0.82,
        Grade::Stop | Grade::Refused => 0.55,
    };
    let ends = [
        corner,
        corner + DVec2::X * size,
        corner + DVec2::splat(size),
        corner + DVec2::Y * size,
    ];
    sheet.items.push(Item::Path(Path {
        layer: Layer::Notes,
        line: (size >= LETTERED).then_some(LineKind::Narrow),
        pieces: Region::polygon(&ends).boundary,
        closed: true,
        fill: Fill::Grey(tone),
    }));
    if size < LETTERED {
        return;
    }
    let height = (size * 0.4).min(TEXT);
    let at = corner + DVec2::new(size / 2.0, (size - height) / 2.0);
    let mark = match grade {
        Grade::Clear => return,
        Grade::Refused => "×".to_owned(),
        Grade::Caution | Grade::Stop => legend.mark(variant).to_string(),
    };
    sheet.text(Layer::Notes, at, height, Anchor::Middle, mark);
}

/// Values along an edge, as many as have room, and a triangle's stroke at the present value.
fn scale(sheet: &mut Sheet, axis: &Axis, from: DVec2, along: DVec2, size: f64) {
    let room = if along.x > 0.0 { 14.0 } else { 4.5 };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let every = (room / size).ceil().max(1.0) as usize;
    for (index, value) in axis.values.iter().enumerate().step_by(every) {
        #[allow(clippy::cast_precision_loss)]
        let at = from + along * ((index as f64 + 0.5) * size);
        let text = plain(typed(&axis.number, *value));
        if along.x > 0.0 {
            sheet.text(Layer::Notes, at, TEXT * 0.9, Anchor::Middle, text);
        } else {
            let at = at - DVec2::Y * (TEXT * 0.45);
            sheet.text(Layer::Notes, at, TEXT * 0.9, Anchor::End, text);
        }
    }
    let (Some(first), Some(last)) = (axis.values.first(), axis.values.last()) else {
        return;
    };
    let steps = (axis.values.len() - 1).max(1);
    let now = axis.number.value;
    if axis.values.len() > 1 && (*first..=*last).contains(&now) {
        #[allow(clippy::cast_precision_loss)]
        let share = (now - first) / (last - first) * steps as f64 + 0.5;
        let edge = if along.x > 0.0 { TEXT + 2.5 } else { 2.5 };
        let at = from + along * (share * size) + DVec2::new(along.y, along.x) * edge;
        let tail = at - DVec2::new(along.y, along.x) * 1.8;
        sheet.line(Layer::Notes, LineKind::Wide, at, tail);
    }
}

fn words_below(sheet: &mut Sheet, legend: &Legend, top: f64) {
    let mut y = top;
    let mut put = |text: String| {
        sheet.text(
            Layer::Notes,
            DVec2::new(MARGIN, y),
            TEXT,
            Anchor::Start,
            text,
        );
        y -= TEXT * 1.9;
    };
    put(
        "White: clear. Light, small letter: caution. Dark, capital: stop. ×: the file is refused."
            .to_owned(),
    );
    put("The strokes at the edges stand at the values of the file as it is.".to_owned());
    for code in &legend.codes {
        put(format!("{}  {code}", legend.letter(code)));
    }
}
