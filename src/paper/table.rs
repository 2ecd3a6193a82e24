//! A plain table of texts: a heading, a row a line, columns as wide as their widest text.

use glam::DVec2;

use super::measure::text_width;
use super::{Anchor, Item, Layer, LineKind, Sheet, Text, Weight};

/// To which side a column's texts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lean {
    /// Words.
    Left,
    /// Numbers, whose points then stand under one another.
    Right,
    /// Short marks.
    Middle,
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    columns: Vec<(String, Lean, f64)>,
    rows: Vec<Vec<String>>,
    height: f64,
    strong: Vec<usize>,
}

/// Row height in heights of capitals.
const ROW: f64 = 2.0;
/// Space at both sides of a text in heights of capitals.
const PAD: f64 = 0.6;

impl Table {
    /// An empty table with capitals `height` mm high; a heading that is empty for every column is
    /// not drawn.
    #[must_use]
    pub fn new(height: f64, columns: &[(&str, Lean)]) -> Table {
        let columns = columns
            .iter()
            .map(|(heading, lean)| ((*heading).to_owned(), *lean, 0.0))
            .collect();
        Table {
            columns,
            rows: Vec::new(),
            height,
            strong: Vec::new(),
        }
    }

    /// Makes a column at least `width` mm wide, for a box to write in.
    #[must_use]
    pub fn at_least(mut self, column: usize, width: f64) -> Table {
        if let Some(column) = self.columns.get_mut(column) {
            column.2 = width;
        }
        self
    }

    /// Sets a column in bold.
    #[must_use]
    pub fn strong(mut self, column: usize) -> Table {
        self.strong.push(column);
        self
    }

    /// Adds a row; missing cells stay empty.
    pub fn row<T: Into<String>>(&mut self, cells: impl IntoIterator<Item = T>) {
        self.rows.push(cells.into_iter().map(Into::into).collect());
    }

    /// Puts another text into a cell that is there.
    pub fn put(&mut self, row: usize, column: usize, text: impl Into<String>) {
        let cell = self.rows.get_mut(row).and_then(|row| row.get_mut(column));
        if let Some(cell) = cell {
            *cell = text.into();
        }
    }

    /// What a column is wider than its widest text, mm.
    #[must_use]
    pub fn padding(&self) -> f64 {
        2.0 * PAD * self.height
    }

    /// Width of each column, mm.
    #[must_use]
    pub fn widths(&self) -> Vec<f64> {
        let pad = self.padding();
        let cell = |text: &str, weight| text_width(text, self.height, weight) + pad;
        self.columns
            .iter()
            .enumerate()
            .map(|(index, (heading, _, least))| {
                let weight = self.weight(index);
                self.rows
                    .iter()
                    .filter_map(|row| row.get(index))
                    .map(|text| cell(text, weight))
                    .fold(cell(heading, Weight::Strong), f64::max)
                    .max(*least)
            })
            .collect()
    }

    /// Width and height, mm.
    #[must_use]
    pub fn size(&self) -> DVec2 {
        let rows = self.rows.len() + usize::from(self.headed());
        DVec2::new(self.widths().iter().sum(), rows as f64 * ROW * self.height)
    }

    /// Draws it with its upper left corner there; returns its size.
    pub fn draw(&self, sheet: &mut Sheet, layer: Layer, corner: DVec2) -> DVec2 {
        let (widths, size, step) = (self.widths(), self.size(), ROW * self.height);
        let mut rule = |a: DVec2, b: DVec2| {
            sheet.line(layer, LineKind::Narrow, corner + a, corner + b);
        };
        let rows = (size.y / step).round() as usize;
        for row in 0..=rows {
            let y = -(row as f64) * step;
            rule(DVec2::new(0.0, y), DVec2::new(size.x, y));
        }
        let mut x = 0.0;
        for width in std::iter::once(&0.0).chain(&widths) {
            x += width;
            rule(DVec2::new(x, 0.0), DVec2::new(x, -size.y));
        }
        let headings: Vec<String> = self.columns.iter().map(|column| column.0.clone()).collect();
        let heading = self.headed().then_some((&headings, true));
        let rows = heading
            .into_iter()
            .chain(self.rows.iter().map(|row| (row, false)));
        for (index, (cells, heading)) in rows.enumerate() {
            let y = corner.y - (index as f64 + 0.5) * step - self.height / 2.0;
            let mut left = corner.x;
            for (column, (cell, width)) in cells.iter().zip(&widths).enumerate() {
                let (at, anchor) = self.place(column, left, *width);
                left += width;
                if cell.is_empty() {
                    continue;
                }
                sheet.items.push(Item::Text(Text {
                    layer,
                    at: DVec2::new(at, y),
                    height: self.height,
                    anchor,
                    turn: 0.0,
                    weight: if heading {
                        Weight::Strong
                    } else {
                        self.weight(column)
                    },
                    text: cell.clone(),
                }));
            }
        }
        size
    }

    fn place(&self, column: usize, left: f64, width: f64) -> (f64, Anchor) {
        let pad = PAD * self.height;
        match self.columns.get(column).map(|column| column.1) {
            Some(Lean::Right) => (left + width - pad, Anchor::End),
            Some(Lean::Middle) => (left + width / 2.0, Anchor::Middle),
            Some(Lean::Left) | None => (left + pad, Anchor::Start),
        }
    }

    fn headed(&self) -> bool {
        self.columns.iter().any(|column| !column.0.is_empty())
    }

    fn weight(&self, column: usize) -> Weight {
        if self.strong.contains(&column) {
            Weight::Strong
        } else {
            Weight::Plain
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_text_stays_within_its_column() {
        let mut table =
            Table::new(2.5, &[("No.", Lean::Right), ("What", Lean::Left)]).at_least(1, 40.0);
        table.row(["1", "first"]);
        table.row(["2"]);
        let mut sheet = Sheet::new("", 100.0, 100.0);
        let corner = DVec2::new(10.0, 90.0);
        let size = table.draw(&mut sheet, Layer::Notes, corner);
        assert_eq!(size, table.size());
        assert!((size.y - 15.0).abs() < 1e-12);
        assert!((table.widths()[1] - 40.0).abs() < 1e-12);
        for item in &sheet.items {
            let Item::Text(text) = item else { continue };
            let width = text_width(&text.text, text.height, text.weight);
            let left = text.at.x + text.anchor.start(width);
            assert!(left >= corner.x && left + width <= corner.x + size.x);
            assert!(text.at.y > corner.y - size.y && text.at.y + 2.5 < corner.y);
        }
    }
}
