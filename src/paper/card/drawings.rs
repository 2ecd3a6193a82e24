//! The drawn set of machines and the drawn head of the measuring card: no design's, not to scale.

use glam::DVec2;

use crate::paper::dimension::{Linear, Style};
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

/// Draws both into a band of this width above `corner`.
pub(super) fn draw(sheet: &mut Sheet, corner: DVec2, width: f64) {
    machines(sheet, corner + DVec2::new(6.0, 4.0));
    head(sheet, corner + DVec2::new(width - 90.0, 4.0));
}

/// The treble set: as it lies on the head's side, and from the edge with its barrels.
fn machines(sheet: &mut Sheet, at: DVec2) {
    let caption = |sheet: &mut Sheet, at: DVec2, text: &str| {
        sheet.text(Layer::Notes, at, 2.0, Anchor::Start, text);
    };
    // Plate 66 long, 11 wide; three barrels of diameter 6 at pitch 22.
    let plate = at + DVec2::new(0.0, 56.0);
    let axes = [11.0, 33.0, 55.0].map(|x| plate + DVec2::new(x, 5.5));
    sheet.area(
        Layer::Adjacent,
        Some(LineKind::Wide),
        &bar(plate, plate + DVec2::new(66.0, 11.0)),
        METAL,
    );
    for axis in axes {
        sheet.circle(Layer::Bores, LineKind::Wide, axis, 3.0);
        sheet.line(
            Layer::Axes,
            LineKind::Axis,
            axis - DVec2::X * 5.0,
            axis + DVec2::X * 5.0,
        );
    }
    let left = axes[0] - DVec2::X * 3.0;
    let right = axes[2] + DVec2::X * 3.0;
    Linear::level(left, right, plate.y + 16.5, "D").draw(sheet, STYLE);
    let (in_left, in_right) = (axes[0] + DVec2::X * 3.0, axes[2] - DVec2::X * 3.0);
    Linear::level(in_left, in_right, plate.y - 5.0, "d, between")
        .draw(sheet, Style { text: 2.2, ..STYLE });
    Linear::level(plate, plate + DVec2::X * 66.0, plate.y - 11.0, "F").draw(sheet, STYLE);
    let corner = plate + DVec2::X * 66.0;
    Linear::upright(corner, corner + DVec2::Y * 11.0, corner.x + 7.0, "E").draw(sheet, STYLE);
    caption(
        sheet,
        plate + DVec2::new(0.0, 20.5),
        "the treble set, from the barrels' side",
    );

    // From the edge: underside of the plate up, barrels downwards.
    let foot = at + DVec2::new(0.0, 34.0);
    sheet.area(
        Layer::Adjacent,
        Some(LineKind::Wide),
        &bar(foot, foot + DVec2::new(66.0, 1.8)),
        METAL,
    );
    for x in [11.0, 33.0, 55.0] {
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
    caption(
        sheet,
        foot + DVec2::new(0.0, -33.5),
        "from the edge; B and C from the underside of the plate",
    );
}

/// The head from the front, and its side.
fn head(sheet: &mut Sheet, at: DVec2) {
    // From the front: 30 wide at the nut, 34 at the crest end, sides 58 long, crest 4 more.
    let nut = at + DVec2::new(28.0, 8.0);
    let (nut_left, nut_right) = (nut - DVec2::X * 15.0, nut + DVec2::X * 15.0);
    let (left, right) = (nut + DVec2::new(-17.0, 58.0), nut + DVec2::new(17.0, 58.0));
    let top = nut + DVec2::Y * 62.0;
    let mut boundary = vec![
        Piece::Line {
            a: nut_left,
            b: nut_right,
        },
        Piece::Line {
            a: nut_right,
            b: right,
        },
    ];
    boundary.extend(arc_through(right, top, left));
    boundary.push(Piece::Line {
        a: left,
        b: nut_left,
    });
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
    sheet.line(
        Layer::Axes,
        LineKind::Axis,
        nut - DVec2::Y * 3.0,
        top + DVec2::Y * 3.0,
    );
    for x in [-9.0, 9.0] {
        let from = nut + DVec2::X * x;
        sheet.line(
            Layer::Strings,
            LineKind::Narrow,
            from,
            from + DVec2::new(-0.1 * x, 18.0),
        );
    }
    Linear::level(nut_left, nut_right, nut.y - 9.0, "H").draw(sheet, STYLE);
    let (outer, other) = (nut - DVec2::X * 9.0, nut + DVec2::X * 9.0);
    Linear::level(outer, other, nut.y - 4.0, "L").draw(sheet, Style { text: 2.5, ..STYLE });
    Linear::level(left, right, top.y + 5.0, "I").draw(sheet, STYLE);
    Linear::upright(nut_left, left, nut.x - 22.0, "J").draw(sheet, STYLE);
    Linear::upright(nut_left, top, nut.x - 28.0, "K").draw(sheet, Style { text: 2.5, ..STYLE });
    sheet.text(
        Layer::Notes,
        at + DVec2::new(19.0, 80.0),
        2.0,
        Anchor::Middle,
        "the head, from the front",
    );

    // Its side: face to the left.
    let side = at + DVec2::new(58.0, 8.0);
    sheet.area(
        Layer::Outline,
        Some(LineKind::Wide),
        &bar(side, side + DVec2::new(11.0, 58.0)),
        WOOD,
    );
    for x in [1.6, 10.0] {
        let a = side + DVec2::X * x;
        sheet.line(Layer::Outline, LineKind::Narrow, a, a + DVec2::Y * 58.0);
    }
    Linear::level(side, side + DVec2::X * 11.0, side.y - 9.0, "G").draw(sheet, STYLE);
    let string = side - DVec2::X * 4.0;
    sheet.line(
        Layer::Strings,
        LineKind::Narrow,
        string - DVec2::Y * 4.0,
        string + DVec2::new(3.4, 30.0),
    );
    Linear::level(string, side, side.y + 5.0, "M").draw(sheet, Style { text: 2.5, ..STYLE });
    let note = side + DVec2::new(12.5, 54.0);
    for (row, text) in ["its side,", "face left:", "P face veneer", "Q back veneer"]
        .iter()
        .enumerate()
    {
        let at = note - DVec2::Y * (row as f64 * 3.4);
        sheet.text(Layer::Notes, at, 2.0, Anchor::Start, *text);
    }
}
