//! The side seen square from outside, face up, with old bores, new ones and plugs to scale; and the
//! bores that change once more, larger.

use glam::DVec2;

use crate::input::Side;
use crate::layout::Layout;
use crate::paper::measure::text_width;
use crate::paper::prose::Column;
use crate::paper::{Anchor, Fill, Item, Layer, LineKind, Sheet, Weight};
use crate::plane::Region;
use crate::study::drilled::{Plug, Remedy, Rescue};
use crate::units::plain;

/// Scales of the side's view, the first at which it fits across.
const SCALES: [f64; 5] = [2.0, 1.5, 1.0, 0.5, 0.2];
/// Scales of the details.
const DETAILS: [f64; 5] = [5.0, 4.0, 3.0, 2.0, 1.0];
/// Most details side by side.
const MOST: usize = 3;
/// Height of a detail, mm.
const DETAIL: f64 = 52.0;
/// Side shown beyond the plate, mm of the head.
const BEYOND: f64 = 6.0;
/// Reach of the cross at a new centre, mm.
const NEW_REACH: f64 = 3.0;
/// Crosses of a detail: reach, line, and whose centre it is.
const CROSSES: [(f64, LineKind, &str); 2] = [
    (
        1.5,
        LineKind::Narrow,
        "in the detail: centre of the bore as it is",
    ),
    (NEW_REACH, LineKind::Wide, "centre of the new bore"),
];
/// Height of the words, mm.
const SMALL: f64 = 2.2;

/// Where a point of the side (along, across) lies on the paper.
#[derive(Clone, Copy)]
struct View {
    origin: DVec2,
    scale: f64,
    /// +1: the crest to the right.
    hand: f64,
}

impl View {
    fn at(self, point: DVec2) -> DVec2 {
        self.origin + self.scale * DVec2::new(self.hand * point.x, point.y)
    }
}

/// Draws both and moves the column below them.
pub(super) fn draw(sheet: &mut Sheet, column: &mut Column, layout: &Layout, rescue: &Rescue) {
    whole(sheet, column, layout, rescue);
    if has_details(rescue) {
        details(sheet, column, rescue);
    }
    legend(sheet, column, rescue);
}

/// Whether bores that change are drawn once more, larger.
fn has_details(rescue: &Rescue) -> bool {
    rescue.remedy != Remedy::Nothing && !rescue.plugs.is_empty()
}

fn whole(sheet: &mut Sheet, column: &mut Column, layout: &Layout, rescue: &Rescue) {
    let side = layout.sides.get(rescue.side);
    let plate = &side.plate;
    let (from, to) = (plate.start_s - BEYOND, plate.end_s + BEYOND);
    let hand = match rescue.side {
        Side::Treble => 1.0,
        Side::Bass => -1.0,
    };
    let top = layout.axis_below_face;
    let bottom = |s: f64| top - layout.outline.thickness_at(side.line.at(s).y);
    let tall = top - bottom(from).min(bottom(to));
    let fits = |scale: &&f64| **scale * (to - from) <= column.width && **scale * tall <= 45.0;
    let scale = SCALES.iter().find(fits).copied().unwrap_or(0.1);
    let words = "Nut end";
    let label = SMALL + 1.5;
    column.space(label);
    // What breaks out of the wood is drawn whole, and keeps clear of the words.
    let [over_face, under_back] = beyond(rescue, [top, top - tall]).map(|mm| mm * scale);
    column.space(over_face);
    let middle = column.left + column.width / 2.0;
    let view = View {
        origin: DVec2::new(
            middle - scale * hand * (from + to) / 2.0,
            column.top - scale * top,
        ),
        scale,
        hand,
    };
    let corner = |s: f64, across: f64| view.at(DVec2::new(s, across));
    for (a, b) in [
        (corner(from, top), corner(to, top)),
        (corner(from, bottom(from)), corner(to, bottom(to))),
    ] {
        sheet.line(Layer::Outline, LineKind::Wide, a, b);
    }
    let edge = -layout.design.machines.axis_offset;
    let half = plate.width / 2.0;
    let outline = [
        corner(plate.start_s, edge - half),
        corner(plate.end_s, edge - half),
        corner(plate.end_s, edge + half),
        corner(plate.start_s, edge + half),
    ];
    sheet.region(
        Layer::Adjacent,
        LineKind::Dotted,
        &Region::polygon(&outline),
    );
    for bore in &rescue.bores {
        circles(sheet, view, rescue, bore.number, false);
        let at = view.at(bore.centre) + DVec2::new(0.0, -SMALL / 2.0);
        let name = bore.number.to_string();
        sheet.strong(Layer::Notes, at, SMALL, Anchor::Middle, name);
    }
    let ends = if hand > 0.0 { [from, to] } else { [to, from] };
    let names = if hand > 0.0 {
        [words, "Crest end"]
    } else {
        ["Crest end", words]
    };
    let over = DVec2::new(0.0, 1.2);
    let (left, right) = (corner(ends[0], top) + over, corner(ends[1], top) + over);
    sheet.text(Layer::Notes, left, SMALL, Anchor::Start, names[0]);
    sheet.text(Layer::Notes, right, SMALL, Anchor::End, names[1]);
    let face = DVec2::new(middle, column.top + over_face + 1.2);
    let about = format!("face of the head up; {}:1", plain(scale));
    sheet.text(Layer::Notes, face, SMALL, Anchor::Middle, about);
    column.space(scale * tall + under_back + 3.0);
}

/// How far bores and plugs reach over the face and under the back, mm of the head.
fn beyond(rescue: &Rescue, [face, back]: [f64; 2]) -> [f64; 2] {
    let bores = rescue.bores.iter().map(|bore| (bore.centre, bore.diameter));
    let plugs = rescue.plugs.iter();
    let plugs = plugs.map(|plug| (plug.centre(), plug.size.diameter));
    let all = bores
        .chain(plugs)
        .map(|(centre, wide)| (centre.y, wide / 2.0));
    all.fold([0.0, 0.0], |[over, under], (y, radius)| {
        [
            f64::max(over, y + radius - face),
            f64::max(under, back - (y - radius)),
        ]
    })
}

/// The circles of one bore: as it is, as it becomes, its plug.
fn circles(sheet: &mut Sheet, view: View, rescue: &Rescue, number: usize, large: bool) {
    let Some(bore) = rescue.bores.iter().find(|bore| bore.number == number) else {
        return;
    };
    // The bore as it is lies under all lines, grey: a line of its own would run into the new one's.
    sheet.items.push(Item::Circle {
        layer: Layer::Bores,
        line: LineKind::Narrow,
        center: view.at(bore.centre),
        radius: bore.diameter / 2.0 * view.scale,
        fill: Fill::Grey(0.82),
    });
    let mut circle = |line: LineKind, centre: DVec2, diameter: f64| {
        let radius = diameter / 2.0 * view.scale;
        sheet.circle(Layer::Bores, line, view.at(centre), radius);
    };
    let plug = rescue.plugs.iter().find(|plug| plug.old.number == number);
    let reaming = rescue
        .reaming
        .as_ref()
        .filter(|_| rescue.remedy == Remedy::Ream);
    let mut changed = false;
    match (reaming, plug) {
        (Some(reaming), plug) => {
            if reaming.numbers.contains(&number) {
                circle(LineKind::Wide, bore.centre, reaming.bit.diameter);
                changed = true;
            }
            if let Some(plug) = plug.filter(|_| large) {
                circle(LineKind::Dotted, plug.centre(), plug.size.diameter);
            }
        }
        (None, Some(plug)) if matches!(rescue.remedy, Remedy::Plug | Remedy::Neither) => {
            circle(LineKind::Adjacent, plug.centre(), plug.size.diameter);
            circle(LineKind::Wide, plug.new, plug.new_diameter);
            changed = true;
        }
        _ => {}
    }
    if !changed {
        circle(LineKind::Wide, bore.centre, bore.diameter);
    }
    if large {
        let new = plug.map_or(bore.designed, |plug| plug.new);
        for (centre, (reach, line, _)) in [bore.centre, new].into_iter().zip(CROSSES) {
            cross(sheet, view.at(centre), reach, line);
        }
    }
}

fn cross(sheet: &mut Sheet, at: DVec2, reach: f64, line: LineKind) {
    for toward in [DVec2::X, DVec2::Y] {
        sheet.line(Layer::Axes, line, at - toward * reach, at + toward * reach);
    }
}

/// The bores that change most, larger.
fn details(sheet: &mut Sheet, column: &mut Column, rescue: &Rescue) {
    let shown: Vec<&Plug> = rescue.plugs.iter().take(MOST).collect();
    if shown.is_empty() {
        return;
    }
    let room = column.width / shown.len() as f64;
    let widest = shown
        .iter()
        .map(|plug| {
            let reach = |centre: DVec2, wide: f64| wide / 2.0 + centre.distance(plug.centre());
            let old = reach(plug.old.centre, plug.old.diameter);
            let new = reach(plug.new, plug.new_diameter);
            2.0 * old.max(new).max(plug.size.diameter / 2.0)
        })
        .fold(0.0, f64::max);
    let fits = |scale: &&f64| **scale * widest <= (DETAIL - 6.0).min(room - 4.0);
    let scale = DETAILS.iter().find(fits).copied().unwrap_or(0.5);
    let hand = match rescue.side {
        Side::Treble => 1.0,
        Side::Bass => -1.0,
    };
    let tall = scale * widest + 5.0;
    let mut shown = shown;
    if hand < 0.0 {
        shown.reverse();
    }
    for (index, plug) in shown.into_iter().enumerate() {
        let at = DVec2::new(
            column.left + room * (index as f64 + 0.5),
            column.top - SMALL - 2.0 - scale * widest / 2.0,
        );
        let centre = plug.centre();
        let view = View {
            origin: at - scale * DVec2::new(hand * centre.x, centre.y),
            scale,
            hand,
        };
        circles(sheet, view, rescue, plug.old.number, true);
        let name = format!("Bore {}, {}:1", plug.old.number, plain(scale));
        let above = DVec2::new(at.x, column.top - SMALL);
        sheet.strong(Layer::Notes, above, SMALL, Anchor::Middle, name);
    }
    column.space(tall + 2.0);
}

/// What lines and grey mean.
fn legend(sheet: &mut Sheet, column: &mut Column, rescue: &Rescue) {
    let y = column.top - SMALL;
    let mut x = column.left;
    let middle = y + SMALL / 2.0;
    sheet.items.push(Item::Circle {
        layer: Layer::Notes,
        line: LineKind::Narrow,
        center: DVec2::new(x + 1.6, middle),
        radius: 1.6,
        fill: Fill::Grey(0.82),
    });
    x += 5.0;
    let words = |sheet: &mut Sheet, x: &mut f64, words: &str| {
        sheet.text(Layer::Notes, DVec2::new(*x, y), SMALL, Anchor::Start, words);
        *x += text_width(words, SMALL, Weight::Plain) + 5.0;
    };
    words(sheet, &mut x, "bore as it is");
    let list = match rescue.remedy {
        Remedy::Nothing => vec![(LineKind::Wide, "stays"), (LineKind::Dotted, "plate")],
        Remedy::Ream => vec![
            (LineKind::Wide, "reamed, or stays"),
            (
                LineKind::Dotted,
                "plate; in the detail the plug, if you plug instead",
            ),
        ],
        Remedy::Plug | Remedy::Neither => vec![
            (LineKind::Wide, "new bore, or stays"),
            (LineKind::Adjacent, "plug"),
            (LineKind::Dotted, "plate"),
        ],
    };
    for (line, meaning) in list {
        let (a, b) = (DVec2::new(x, middle), DVec2::new(x + 12.0, middle));
        sheet.line(Layer::Notes, line, a, b);
        x += 13.5;
        words(sheet, &mut x, meaning);
    }
    column.space(SMALL + 3.0);
    if has_details(rescue) {
        column.space(1.0);
        crosses(sheet, column);
        column.space(SMALL + 4.0);
    }
}

/// What the crosses of the details mean, on a line of its own.
fn crosses(sheet: &mut Sheet, column: &Column) {
    let y = column.top - SMALL;
    let mut x = column.left;
    for (reach, line, meaning) in CROSSES {
        cross(
            sheet,
            DVec2::new(x + NEW_REACH, y + SMALL / 2.0),
            reach,
            line,
        );
        x += 2.0 * NEW_REACH + 1.5;
        sheet.text(
            Layer::Notes,
            DVec2::new(x, y),
            SMALL,
            Anchor::Start,
            meaning,
        );
        x += text_width(meaning, SMALL, Weight::Plain) + 5.0;
    }
}
