//! Moving, scaling and cutting out what is drawn.

use glam::DVec2;

use super::cut::within;
use super::measure::text_width;
use super::{Fill, Item, Path, Sheet, Text};
use crate::plane::{Piece, Region};

/// A rectangle on a sheet, edges along its axes, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Lower left corner.
    pub min: DVec2,
    /// Upper right corner.
    pub max: DVec2,
}

impl Window {
    /// Width and height.
    #[must_use]
    pub fn size(&self) -> DVec2 {
        self.max - self.min
    }

    /// Whether it holds a point, its edges included.
    #[must_use]
    pub fn holds(&self, point: DVec2) -> bool {
        point.cmpge(self.min).all() && point.cmple(self.max).all()
    }

    /// As a region.
    #[must_use]
    pub fn region(&self) -> Region {
        Region::polygon(&[
            self.min,
            DVec2::new(self.max.x, self.min.y),
            self.max,
            DVec2::new(self.min.x, self.max.y),
        ])
    }
}

/// The item scaled by `scale` about the origin, then moved by `by`. Heights of texts scale with it;
/// widths of lines do not.
#[must_use]
pub fn placed(item: &Item, scale: f64, by: DVec2) -> Item {
    let at = |point: DVec2| point * scale + by;
    match item {
        Item::Path(path) => Item::Path(Path {
            pieces: path
                .pieces
                .iter()
                .map(|piece| piece.placed(at, scale, 0.0))
                .collect(),
            ..path.clone()
        }),
        Item::Text(text) => Item::Text(Text {
            at: at(text.at),
            height: text.height * scale,
            ..text.clone()
        }),
        Item::Circle {
            layer,
            line,
            center,
            radius,
            fill,
        } => Item::Circle {
            layer: *layer,
            line: *line,
            center: at(*center),
            radius: radius * scale,
            fill: *fill,
        },
    }
}

/// The four corners of a text's box, from its descenders to the height of its capitals.
#[must_use]
pub fn text_box(text: &Text) -> [DVec2; 4] {
    let width = text_width(&text.text, text.height, text.weight);
    let start = text.anchor.start(width);
    let along = DVec2::from_angle(text.turn);
    let up = along.perp();
    let low = -0.25 * text.height;
    [
        (start, low),
        (start + width, low),
        (start + width, text.height),
        (start, text.height),
    ]
    .map(|(x, y)| text.at + along * x + up * y)
}

/// The window that holds everything on the sheet, texts included; `None` for an empty one.
#[must_use]
pub fn extent(sheet: &Sheet) -> Option<Window> {
    let mut window: Option<Window> = None;
    let mut take = |point: DVec2| {
        window = Some(window.map_or(
            Window {
                min: point,
                max: point,
            },
            |window| Window {
                min: window.min.min(point),
                max: window.max.max(point),
            },
        ));
    };
    for item in &sheet.items {
        match item {
            Item::Path(path) => {
                let region = Region {
                    boundary: path.pieces.clone(),
                };
                if !path.pieces.is_empty() {
                    let reach = |toward| region.reach(toward);
                    take(DVec2::new(reach(DVec2::X), reach(DVec2::Y)));
                    take(-DVec2::new(reach(-DVec2::X), reach(-DVec2::Y)));
                }
            }
            Item::Text(text) => text_box(text).into_iter().for_each(&mut take),
            Item::Circle { center, radius, .. } => {
                take(*center + DVec2::splat(*radius));
                take(*center - DVec2::splat(*radius));
            }
        }
    }
    window
}

/// What of the sheet's items lies within the window. Lines are cut at its edges; a text or a filled
/// area is kept or left whole: kept where it lies inside, and a text also where its middle does and
/// `else_lost` says that no other window shows it.
#[must_use]
pub fn cut_out(sheet: &Sheet, window: &Window, else_lost: impl Fn(&Text) -> bool) -> Vec<Item> {
    let region = window.region();
    let mut out = Vec::new();
    for item in &sheet.items {
        match item {
            Item::Text(text) => {
                let corners = text_box(text);
                let middle = (corners[0] + corners[2]) / 2.0;
                let whole = corners.iter().all(|corner| window.holds(*corner));
                if whole || (window.holds(middle) && else_lost(text)) {
                    out.push(item.clone());
                }
            }
            Item::Path(path) if path.fill == Fill::None => {
                let whole = path.pieces.iter().all(|piece| inside_whole(piece, window));
                if whole {
                    out.push(item.clone());
                    continue;
                }
                for piece in path.pieces.iter().flat_map(|p| within(p, &region)) {
                    out.push(Item::Path(Path {
                        pieces: vec![piece],
                        closed: false,
                        ..path.clone()
                    }));
                }
            }
            Item::Path(path) => {
                let count = path.pieces.len().max(1) as f64;
                let middle = path.pieces.iter().map(Piece::start).sum::<DVec2>() / count;
                if window.holds(middle) {
                    out.push(item.clone());
                }
            }
            Item::Circle {
                layer,
                line,
                center,
                radius,
                fill,
            } => {
                let reach = DVec2::splat(*radius);
                if window.holds(*center - reach) && window.holds(*center + reach) {
                    out.push(item.clone());
                    continue;
                }
                let circle = Piece::Arc {
                    center: *center,
                    radius: *radius,
                    from: 0.0,
                    sweep: std::f64::consts::TAU,
                };
                if *fill == Fill::None {
                    for piece in within(&circle, &region) {
                        out.push(Item::Path(Path {
                            layer: *layer,
                            line: Some(*line),
                            pieces: vec![piece],
                            closed: false,
                            fill: Fill::None,
                        }));
                    }
                }
            }
        }
    }
    out
}

fn inside_whole(piece: &Piece, window: &Window) -> bool {
    let region = Region {
        boundary: vec![*piece],
    };
    region.reach(DVec2::X) <= window.max.x
        && region.reach(DVec2::Y) <= window.max.y
        && -region.reach(-DVec2::X) >= window.min.x
        && -region.reach(-DVec2::Y) >= window.min.y
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{Anchor, Layer, LineKind};

    fn sheet() -> Sheet {
        let mut sheet = Sheet::new("", 100.0, 100.0);
        let (a, b) = (DVec2::new(0.0, 5.0), DVec2::new(50.0, 5.0));
        sheet.line(Layer::Outline, LineKind::Wide, a, b);
        sheet.circle(Layer::Bores, LineKind::Narrow, DVec2::new(20.0, 5.0), 4.0);
        sheet.text(
            Layer::Notes,
            DVec2::new(15.0, 5.0),
            2.0,
            Anchor::Middle,
            "here",
        );
        sheet
    }

    #[test]
    fn two_windows_share_the_lines_between_them() {
        let sheet = sheet();
        let window = |from: f64, to: f64| Window {
            min: DVec2::new(from, 0.0),
            max: DVec2::new(to, 20.0),
        };
        let lengths = |window: &Window| -> (f64, usize) {
            let items = cut_out(&sheet, window, |_| false);
            let texts = items.iter().filter(|i| matches!(i, Item::Text(_))).count();
            let length = items
                .iter()
                .map(|item| match item {
                    Item::Path(path) => path.pieces.iter().map(Piece::length).sum(),
                    _ => 0.0,
                })
                .sum();
            (length, texts)
        };
        let (left, left_texts) = lengths(&window(-1.0, 20.0));
        let (right, right_texts) = lengths(&window(20.0, 60.0));
        let circle = std::f64::consts::TAU * 4.0;
        assert!((left + right - 50.0 - circle).abs() < 1e-9);
        assert_eq!((left_texts, right_texts), (1, 0));
    }

    #[test]
    fn scaling_and_moving() {
        let sheet = sheet();
        let item = placed(&sheet.items[1], 2.0, DVec2::new(1.0, -1.0));
        let Item::Circle { center, radius, .. } = item else {
            panic!("no circle");
        };
        assert!((center - DVec2::new(41.0, 9.0)).length() < 1e-12 && (radius - 8.0).abs() < 1e-12);
        let window = extent(&sheet).unwrap();
        assert!(window.holds(DVec2::new(50.0, 1.0)) && !window.holds(DVec2::new(50.1, 1.0)));
    }
}
