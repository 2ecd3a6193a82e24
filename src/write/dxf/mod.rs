//! DXF in its release 2000 (AC1015), millimetres, for cutters and shop software.
//!
//! True arcs and circles, closed outlines as closed polylines, a layer a purpose, texts only on
//! the layers of notes. Fills are not written: a cutter has no use for them. Nothing depends on a
//! clock or on chance.

mod entities;
mod objects;
mod tables;
mod tags;

use std::collections::BTreeSet;

use glam::DVec2;

use crate::paper::{Item, Layer};
use crate::plane::Piece;

use tables::Handles;
use tags::Tags;

/// The items as a DXF file, at the coordinates they have. Items with a coordinate that is not
/// finite are left out.
#[must_use]
pub fn dxf(items: &[Item]) -> String {
    let written: Vec<&Item> = items
        .iter()
        .filter(|item| entities::is_written(item))
        .collect();
    let layers: BTreeSet<Layer> = written
        .iter()
        .map(|item| entities::layer_of(item))
        .collect();
    let (lower, upper) = extent(&written);
    let (middle, size) = ((lower + upper) / 2.0, upper - lower);

    let mut handles = Handles::new();
    let mut body = tables::tables(
        &layers,
        middle,
        size.y.max(size.x / 1.5).max(1.0),
        &mut handles,
    );
    body.append(&objects::blocks(&mut handles));
    body.section("ENTITIES");
    for item in written {
        entities::write(&mut body, item, &mut handles);
    }
    body.end_section();
    body.append(&objects::objects(lower, upper));

    let mut whole: Tags = tables::header(lower, upper, handles.seed());
    whole.append(&body).text(0, "EOF");
    whole.finish()
}

/// Lower left and upper right corner of all lines and the places of all texts.
fn extent(items: &[&Item]) -> (DVec2, DVec2) {
    let mut points = Vec::new();
    for item in items {
        match item {
            Item::Path(path) => path.pieces.iter().for_each(|p| reach(p, &mut points)),
            Item::Text(text) => points.push(text.at),
            Item::Circle { center, radius, .. } => {
                let radius = DVec2::splat(*radius);
                points.extend([*center - radius, *center + radius]);
            }
        }
    }
    let Some(&first) = points.first() else {
        return (DVec2::ZERO, DVec2::ZERO);
    };
    points
        .iter()
        .fold((first, first), |(l, u), &p| (l.min(p), u.max(p)))
}

/// A piece's ends, and where an arc is farthest along an axis.
fn reach(piece: &Piece, points: &mut Vec<DVec2>) {
    points.extend([piece.start(), piece.end()]);
    if let Piece::Arc { from, sweep, .. } = *piece {
        let quarter = std::f64::consts::FRAC_PI_2;
        let (low, high) = (from.min(from + sweep), from.max(from + sweep));
        let mut angle = (low / quarter).ceil() * quarter;
        // No arc passes more than five quarters.
        for _ in 0..5 {
            if angle <= high {
                points.push(piece.at((angle - from) / sweep));
            }
            angle += quarter;
        }
    }
}
