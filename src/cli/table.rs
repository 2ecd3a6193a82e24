//! Columns that line up, whatever the width of the letters in them.

use super::style::{QUIET, paint, width};

/// Which way a column leans.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lean {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A table: a heading and a lean for each column, then rows.
#[derive(Debug)]
pub struct Table {
    columns: Vec<(&'static str, Lean)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// An empty table.
    pub fn new(columns: &[(&'static str, Lean)]) -> Table {
        Table {
            columns: columns.to_vec(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; missing cells stay empty, cells beyond the last column are not shown.
    pub fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// The table as text, two spaces between columns. A column with no entry at all is left
    /// out, and so is the heading where every heading is empty.
    pub fn draw(&self) -> String {
        let cell = |row: &[String], index: usize| row.get(index).cloned().unwrap_or_default();
        let shown: Vec<(usize, &'static str, Lean, usize)> = self
            .columns
            .iter()
            .enumerate()
            .filter_map(|(index, &(heading, lean))| {
                let widest = self.rows.iter().map(|row| width(&cell(row, index))).max()?;
                (widest > 0).then(|| (index, heading, lean, widest.max(width(heading))))
            })
            .collect();
        let line = |text: &dyn Fn(usize, &'static str) -> String| {
            let mut out = String::new();
            for &(index, heading, lean, wide) in &shown {
                let text = text(index, heading);
                let gap = " ".repeat(wide.saturating_sub(width(&text)));
                if !out.is_empty() {
                    out.push_str("  ");
                }
                match lean {
                    Lean::Left => out.push_str(&format!("{text}{gap}")),
                    Lean::Right => out.push_str(&format!("{gap}{text}")),
                }
            }
            out.trim_end().to_owned()
        };
        let mut out = String::new();
        if shown.iter().any(|(_, heading, ..)| !heading.is_empty()) {
            out.push_str(&paint(QUIET, &line(&|_, heading| heading.to_owned())));
            out.push('\n');
        }
        for row in &self.rows {
            out.push_str(&line(&|index, _| cell(row, index)));
            out.push('\n');
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_line_up_and_empty_ones_go() {
        let mut table = Table::new(&[
            ("side", Lean::Left),
            ("note", Lean::Left),
            ("D", Lean::Right),
        ]);
        table.row(vec!["treble".into(), String::new(), "7.5".into()]);
        table.row(vec!["鷸".into(), String::new(), "32.50".into()]);
        let plain = anstream::adapter::strip_str(&table.draw()).to_string();
        assert_eq!(plain, "side        D\ntreble    7.5\n鷸      32.50\n");
    }

    #[test]
    fn an_empty_table_is_nothing() {
        assert_eq!(Table::new(&[("a", Lean::Left)]).draw(), "");
    }
}
