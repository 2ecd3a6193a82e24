//! The drawn set of machines and the drawn head of the measuring card: no design's, not to scale.

use glam::DVec2;

use crate::paper::dimension::{LeaderEnd, Linear, Style, leader};
use crate::paper::{Anchor, Fill, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region, arc_through};

const STYLE: Style = Style {
    text: 3.2,
    arrow: 2.2,
    weight: Weight::Strong,
};
const METAL: Fill = Fill::Grey(0.85);
const WOOD: Fill = Fill::Grey(0.93);

fn bar(a: DVec2, b: DVec2) -> Region {
    Region::polygon(&[a, DVec2::new(b.x, a.y), b, DVec2::new(a.x, b.y)])
}

/// Letters of what has a default or a starting value.
const LESS: Style = Style { text: 2.5, ..STYLE };

/// Draws all above and to the right of `corner`, 186 mm wide.
pub(super) fn draw(sheet: &mut Sheet, corner: DVec2) {
    machines(sheet, corner + DVec2::new(8.0, 0.0));
    head(sheet, corner + DVec2::new(87.0, 0.0));
    side(sheet, corner + DVec2::new(142.0, 16.0));
    shoulders(sheet, corner + DVec2::new(174.0, 34.0));
}

fn caption(sheet: &mut Sheet, at: DVec2, text: &str) {
    sheet.text(Layer::Notes, at, 2.0, Anchor::Start, text);
}

/// Barrels of the drawn set, from the plate's crest end: its nut end lies to the right, for seen
/// from the barrels with the head's face up, a treble set runs that way.
const BARRELS: [f64; 3] = [11.0, 33.0, 55.0];

/// The treble set: as it lies on the head's side, and from the edge with its barrels.
fn machines(sheet: &mut Sheet, at: DVec2) {
    // Plate 66 long, 11 wide; three barrels of diameter 6 at pitch 22, above the mid-width by 1.4.
    let plate = at + DVec2::new(0.0, 60.0);
    let middle = plate + DVec2::Y * 5.5;
    let axes = BARRELS.map(|x| middle + DVec2::new(x, 1.4));
    let [last, second, first] = axes;
    sheet.area(
        Layer::Adjacent,
        Some(LineKind::Wide),
        &bar(plate, plate + DVec2::new(66.0, 11.0)),
        METAL,
    );
    for axis in axes {
        sheet.circle(Layer::Bores, LineKind::Wide, axis, 3.0);
        let reach = DVec2::X * 4.5;
        sheet.line(Layer::Axes, LineKind::Axis, axis - reach, axis + reach);
    }
    let right = plate + DVec2::X * 66.0;
    for x in [22.0, 62.5] {
        sheet.circle(Layer::Bores, LineKind::Narrow, middle + DVec2::X * x, 1.1);
    }
    let screw = middle + DVec2::X * 22.0;
    let knee = DVec2::new(screw.x - 1.0, plate.y - 2.6);
    leader(sheet, screw, knee, LeaderEnd::Dot, LESS, &["V"]);
    let half = DVec2::X * 3.0;
    Linear::level(last - half, first + half, plate.y + 20.5, "D").draw(sheet, STYLE);
    Linear::level(second, first, plate.y + 14.5, "W").draw(sheet, LESS);
    let between = Style { text: 2.2, ..STYLE };
    Linear::level(last + half, first - half, plate.y - 7.0, "d, between").draw(sheet, between);
    Linear::level(plate, last, plate.y - 7.0, "S").draw(sheet, LESS);
    Linear::level(first, right, plate.y - 7.0, "R").draw(sheet, LESS);
    Linear::level(plate, right, plate.y - 13.0, "F").draw(sheet, STYLE);
    Linear::upright(right, right + DVec2::Y * 11.0, right.x + 7.0, "E").draw(sheet, STYLE);
    sheet.line(
        Layer::Axes,
        LineKind::Axis,
        middle - DVec2::X * 2.0,
        middle + DVec2::X * 7.0,
    );
    let edge = DVec2::new(plate.x, middle.y);
    Linear::upright(edge, edge + DVec2::Y * 1.4, plate.x - 4.0, "T").draw(sheet, LESS);
    caption(
        sheet,
        plate + DVec2::new(-4.0, 28.0),
        "the treble set, from the barrels' side: face up, nut end right",
    );

    // From the edge: underside of the plate up, barrels downwards.
    let foot = at + DVec2::new(0.0, 36.0);
    sheet.area(
        Layer::Adjacent,
        Some(LineKind::Wide),
        &bar(foot, foot + DVec2::new(66.0, 1.8)),
        METAL,
    );
    for x in BARRELS {
        let (a, b) = (
            foot + DVec2::new(x - 3.0, -24.0),
            foot + DVec2::new(x + 3.0, 0.0),
        );
        sheet.area(
            Layer::Bores,
            Some(LineKind::Wide),
            &bar(a, b),
            Fill::Grey(1.0),
        );
        sheet.circle(
            Layer::Strings,
            LineKind::Narrow,
            foot + DVec2::new(x, -14.0),
            0.9,
        );
    }
    let end = foot + DVec2::new(8.0, -24.0);
    Linear::level(end, end + DVec2::X * 6.0, end.y - 5.0, "A").draw(sheet, STYLE);
    let outer = foot + DVec2::X * 58.0;
    Linear::upright(outer, outer - DVec2::Y * 24.0, outer.x + 13.0, "B").draw(sheet, STYLE);
    let hole = foot + DVec2::new(33.9, -14.0);
    Linear::upright(foot + DVec2::X * 36.0, hole, foot.x + 43.0, "C").draw(sheet, STYLE);
    Linear::upright(foot, foot + DVec2::Y * 1.8, foot.x - 4.0, "U").draw(sheet, LESS);
    caption(
        sheet,
        foot + DVec2::new(-4.0, -34.0),
        "from the edge; B and C from the underside of the plate",
    );
}

/// The head from the front.
fn head(sheet: &mut Sheet, at: DVec2) {
    // 30 wide at the nut, 34 at the crest end, sides 58 long, crest 4 more.
    let nut = at + DVec2::new(28.0, 12.0);
    let (nut_left, nut_right) = (nut - DVec2::X * 15.0, nut + DVec2::X * 15.0);
    let (left, right) = (nut + DVec2::new(-17.0, 58.0), nut + DVec2::new(17.0, 58.0));
    let top = nut + DVec2::Y * 62.0;
    let mut boundary = polyline(&[left, nut_left, nut_right, right]);
    boundary.extend(arc_through(right, top, left));
    sheet.area(
        Layer::Outline,
        Some(LineKind::Wide),
        &Region { boundary },
        WOOD,
    );
    for x in [-10.0, 4.0] {
        let slot = bar(nut + DVec2::new(x, 16.0), nut + DVec2::new(x + 6.0, 48.0));
        sheet.area(Layer::Slots, Some(LineKind::Narrow), &slot, Fill::Grey(1.0));
    }
    sheet.line(Layer::Axes, LineKind::Axis, nut, top + DVec2::Y * 2.0);
    for x in [-9.0, 9.0] {
        let from = nut + DVec2::X * x;
        sheet.line(
            Layer::Strings,
            LineKind::Narrow,
            from,
            from + DVec2::new(-0.1 * x, 18.0),
        );
    }
    Linear::level(nut_left, nut_right, nut.y - 10.5, "H").draw(sheet, STYLE);
    let (outer, other) = (nut - DVec2::X * 9.0, nut + DVec2::X * 9.0);
    Linear::level(outer, other, nut.y - 4.5, "L").draw(sheet, LESS);
    Linear::level(left, right, top.y + 5.0, "I").draw(sheet, STYLE);
    Linear::upright(nut_left, left, nut.x - 21.0, "J").draw(sheet, STYLE);
    Linear::upright(nut_left, top, nut.x - 26.5, "K").draw(sheet, LESS);
    caption(
        sheet,
        at + DVec2::new(8.0, 88.0),
        "the head, from the front",
    );
}

/// The head's side, its face to the left; `at` is the face at the nut line.
fn side(sheet: &mut Sheet, at: DVec2) {
    let up = |x: f64, y: f64| at + DVec2::new(x, y);
    sheet.area(
        Layer::Outline,
        Some(LineKind::Wide),
        &bar(at, up(11.0, 58.0)),
        WOOD,
    );
    for x in [1.6, 10.0] {
        sheet.line(Layer::Outline, LineKind::Narrow, up(x, 0.0), up(x, 58.0));
    }
    Linear::level(at, up(11.0, 0.0), at.y + 20.0, "G").draw(sheet, STYLE);
    Linear::level(up(0.0, 58.0), up(11.0, 58.0), at.y + 63.0, "X").draw(sheet, LESS);
    leader(
        sheet,
        up(0.8, 44.0),
        up(-3.5, 47.0),
        LeaderEnd::Dot,
        LESS,
        &["P"],
    );
    leader(
        sheet,
        up(10.5, 44.0),
        up(14.0, 47.0),
        LeaderEnd::Dot,
        LESS,
        &["Q"],
    );
    // The string comes over the nut and runs down to the face.
    let string = up(-4.0, 0.0);
    sheet.line(Layer::Strings, LineKind::Narrow, string, up(-0.6, 30.0));
    Linear::level(at, string, at.y - 3.5, "M").draw(sheet, LESS);
    // The playing surface leaves the plane of the face by the head's angle.
    let lean = 18f64.to_radians();
    let below = at - DVec2::Y * 15.0;
    sheet.line(Layer::Axes, LineKind::Axis, at, below);
    let along = |length: f64| at + DVec2::new(lean.sin(), -lean.cos()) * length;
    sheet.line(Layer::Outline, LineKind::Wide, at, along(15.0));
    let arc = Piece::Arc {
        center: at,
        radius: 12.0,
        from: -std::f64::consts::FRAC_PI_2,
        sweep: lean,
    };
    sheet.path(Layer::Dimensions, LineKind::Narrow, vec![arc], false);
    let letter = at + DVec2::new(5.5, -13.0);
    sheet.strong(Layer::Notes, letter, LESS.text, Anchor::Start, "N");
    caption(sheet, up(9.5, -10.0), "playing");
    caption(sheet, up(9.5, -13.2), "surface");
    caption(sheet, up(-6.0, 72.0), "its side, face left");
}

/// The nut end of a head with shoulders; `at` is the middle of its nut line.
fn shoulders(sheet: &mut Sheet, at: DVec2) {
    let p = |x: f64, y: f64| at + DVec2::new(x, y);
    let corners = [
        p(-8.5, 24.0),
        p(-8.0, 8.0),
        p(-5.0, 0.0),
        p(5.0, 0.0),
        p(8.0, 8.0),
        p(8.5, 24.0),
    ];
    sheet.area(Layer::Outline, None, &Region::polygon(&corners), WOOD);
    // Open above, where the head goes on.
    sheet.path(Layer::Outline, LineKind::Wide, polyline(&corners), false);
    Linear::level(p(-5.0, 0.0), p(5.0, 0.0), at.y - 5.0, "Z").draw(sheet, LESS);
    Linear::level(p(-8.0, 8.0), p(8.0, 8.0), at.y + 14.0, "H").draw(sheet, LESS);
    Linear::upright(p(5.0, 0.0), p(8.0, 8.0), at.x + 12.0, "Y").draw(sheet, LESS);
    caption(sheet, p(-8.5, 27.0), "with shoulders");
}

/// Lines from each point to the next.
fn polyline(points: &[DVec2]) -> Vec<Piece> {
    let pairs = points.iter().zip(points.iter().skip(1));
    pairs.map(|(&a, &b)| Piece::Line { a, b }).collect()
}
