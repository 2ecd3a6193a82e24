//! A sheet with one of everything, for the writers' tests.

use barrelhead::paper::{Anchor, Fill, Item, Layer, LineKind, Path, Sheet, Text, Weight};
use barrelhead::plane::{Piece, Region};
use glam::{DVec2, dvec2};

/// Ends of the check bar, mm from the lower left corner.
pub const BAR: [DVec2; 2] = [dvec2(30.0, 20.0), dvec2(130.0, 20.0)];

/// A title that tries every writer's marks, quotes and letters.
pub const AWKWARD: &str =
    "Ear <wig> & \"Son's\" ; 50%%d \\U+0041 ^I {x} (open \u{1F3B8} \u{639}\u{648}\u{62F} \u{7}end";

/// A stadium of straight sides and half-round ends, 40 by 10 mm, anticlockwise.
pub fn stadium(center: DVec2) -> Vec<Piece> {
    let (half, radius) = (15.0, 5.0);
    let at = |x: f64, y: f64| center + dvec2(x, y);
    let turn = std::f64::consts::PI;
    vec![
        Piece::Line {
            a: at(-half, -radius),
            b: at(half, -radius),
        },
        Piece::Arc {
            center: at(half, 0.0),
            radius,
            from: -turn / 2.0,
            sweep: turn,
        },
        Piece::Line {
            a: at(half, radius),
            b: at(-half, radius),
        },
        Piece::Arc {
            center: at(-half, 0.0),
            radius,
            from: turn / 2.0,
            sweep: turn,
        },
    ]
}

/// One of everything on a sheet of `width` by `height` mm.
pub fn sheet(width: f64, height: f64) -> Sheet {
    let mut sheet = Sheet::new(AWKWARD, width, height);
    sheet.line(Layer::CheckBar, LineKind::Wide, BAR[0], BAR[1]);
    sheet.text(
        Layer::CheckBar,
        dvec2(80.0, 23.0),
        3.5,
        Anchor::Middle,
        "100 mm",
    );
    sheet.path(
        Layer::Slots,
        LineKind::Wide,
        stadium(dvec2(70.0, 60.0)),
        true,
    );
    let square = Region::polygon(&[
        dvec2(20.0, 80.0),
        dvec2(60.0, 80.0),
        dvec2(60.0, 110.0),
        dvec2(20.0, 110.0),
    ]);
    sheet.area(
        Layer::Outline,
        Some(LineKind::Narrow),
        &square,
        Fill::Grey(0.85),
    );
    sheet.area(
        Layer::Adjacent,
        None,
        &Region {
            boundary: stadium(dvec2(40.0, 95.0)),
        },
        Fill::Grey(0.6),
    );
    sheet.circle(Layer::Bores, LineKind::Wide, dvec2(100.123_456, 95.5), 5.25);
    sheet.line(
        Layer::Axes,
        LineKind::Axis,
        dvec2(80.0, 95.5),
        dvec2(125.0, 95.5),
    );
    sheet.line(
        Layer::Outline,
        LineKind::Hidden,
        dvec2(80.0, 85.0),
        dvec2(125.0, 85.0),
    );
    sheet.line(
        Layer::Adjacent,
        LineKind::Adjacent,
        dvec2(80.0, 80.0),
        dvec2(125.0, 80.0),
    );
    sheet.path(
        Layer::Outline,
        LineKind::Wide,
        vec![Piece::Arc {
            center: dvec2(70.0, 120.0),
            radius: 20.0,
            from: 0.3,
            sweep: -2.0,
        }],
        false,
    );
    sheet.text(
        Layer::Notes,
        dvec2(20.0, 130.0),
        3.5,
        Anchor::Start,
        AWKWARD,
    );
    sheet.strong(
        Layer::Notes,
        dvec2(20.0, 140.0),
        5.0,
        Anchor::Start,
        "Bore ⌀10.50 − Ёлка Ύψος",
    );
    sheet.text(Layer::Bores, dvec2(125.0, 97.0), 2.5, Anchor::End, "bore 1");
    sheet.items.push(Item::Text(Text {
        layer: Layer::Dimensions,
        at: dvec2(15.0, 95.0),
        height: 2.5,
        anchor: Anchor::Middle,
        turn: std::f64::consts::FRAC_PI_2,
        weight: Weight::Plain,
        text: "30.00".into(),
    }));
    sheet.items.push(Item::Path(Path {
        layer: Layer::Marks,
        line: Some(LineKind::Narrow),
        pieces: vec![],
        closed: false,
        fill: Fill::None,
    }));
    sheet
}
