//! Running text down a column: wrapped lines, headings, numbered steps.

use glam::DVec2;

use super::dimension::line_step;
use super::measure::text_width;
use super::{Anchor, Item, Layer, LineKind, Sheet, Text, Weight};

/// Words of a text, a figure and its unit being one.
fn words(text: &str) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = word.trim_end_matches(|c: char| c.is_ascii_punctuation());
        match list.last_mut() {
            Some(last)
                if matches!(unit, "mm" | "in") && last.ends_with(|c: char| c.is_ascii_digit()) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => list.push(word.to_owned()),
        }
    }
    list
}

/// Words filled into lines no wider than `width` mm; a word wider than that stands alone, whole,
/// and a figure stays with its unit.
#[must_use]
pub fn wrap(text: &str, height: f64, weight: Weight, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words(text) {
        if line.is_empty() {
            line = word;
            continue;
        }
        let longer = format!("{line} {word}");
        if text_width(&longer, height, weight) <= width {
            line = longer;
        } else {
            lines.push(std::mem::replace(&mut line, word));
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// A column of text that grows downwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// Left edge, mm.
    pub left: f64,
    /// Width, mm.
    pub width: f64,
    /// Upper edge of what comes next, mm.
    pub top: f64,
    /// Height of capitals in running text, mm.
    pub height: f64,
}

impl Column {
    /// Leaves a space, mm.
    pub fn space(&mut self, mm: f64) {
        self.top -= mm;
    }

    /// A heading in bold over a narrow rule.
    pub fn heading(&mut self, sheet: &mut Sheet, text: &str) {
        let height = self.height * 1.2;
        self.put(sheet, self.left, height, Weight::Strong, text);
        let y = self.top + height * 0.2;
        let right = self.left + self.width;
        sheet.line(
            Layer::Notes,
            LineKind::Narrow,
            DVec2::new(self.left, y),
            DVec2::new(right, y),
        );
        self.top -= height * 0.4;
    }

    /// A paragraph.
    pub fn paragraph(&mut self, sheet: &mut Sheet, weight: Weight, text: &str) {
        for line in wrap(text, self.height, weight, self.width) {
            self.put(sheet, self.left, self.height, weight, &line);
        }
        self.top -= self.height * 0.3;
    }

    /// A paragraph hung on a mark, such as a step's number or a dash, `indent` mm wide.
    pub fn hung(&mut self, sheet: &mut Sheet, mark: &str, indent: f64, text: &str) {
        let at = DVec2::new(self.left, self.top - self.height);
        sheet.strong(Layer::Notes, at, self.height, Anchor::Start, mark);
        let lines = wrap(text, self.height, Weight::Plain, self.width - indent);
        for line in lines {
            self.put(sheet, self.left + indent, self.height, Weight::Plain, &line);
        }
        self.top -= self.height * 0.4;
    }

    /// Numbered steps, the next number given back.
    pub fn steps(&mut self, sheet: &mut Sheet, first: usize, steps: &[String]) -> usize {
        let indent = text_width("00 ", self.height, Weight::Strong);
        for (index, step) in steps.iter().enumerate() {
            self.hung(sheet, &(first + index).to_string(), indent, step);
        }
        first + steps.len()
    }

    /// One line of text of its own height, and the step to the next.
    fn put(&mut self, sheet: &mut Sheet, left: f64, height: f64, weight: Weight, text: &str) {
        sheet.items.push(Item::Text(Text {
            layer: Layer::Notes,
            at: DVec2::new(left, self.top - height),
            height,
            anchor: Anchor::Start,
            turn: 0.0,
            weight,
            text: text.to_owned(),
        }));
        self.top -= line_step(height);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_its_column_and_no_word_is_lost() {
        let text = "Lower the still bit into the hole, then start the machine ".repeat(5);
        let lines = wrap(&text, 3.0, Weight::Plain, 60.0);
        assert!(lines.len() > 5);
        for line in &lines {
            assert!(text_width(line, 3.0, Weight::Plain) <= 60.0, "{line}");
        }
        assert_eq!(lines.join(" "), text.trim());
        let long = "x".repeat(90);
        assert_eq!(wrap(&long, 3.0, Weight::Plain, 60.0), [long]);
    }

    #[test]
    fn a_figure_stays_with_its_unit() {
        let text = "stop 43.99 mm (1.732 in), then 3 in. of room";
        for width in 1..60 {
            for line in wrap(text, 3.0, Weight::Plain, f64::from(width)) {
                assert!(!line.starts_with("mm") && !line.starts_with("in"), "{line}");
            }
        }
    }

    #[test]
    fn a_column_grows_downwards() {
        let mut sheet = Sheet::new("", 100.0, 100.0);
        let mut column = Column {
            left: 10.0,
            width: 80.0,
            top: 90.0,
            height: 3.0,
        };
        column.heading(&mut sheet, "First");
        let next = column.steps(&mut sheet, 1, &["One.".into(), "Two.".into()]);
        assert_eq!(next, 3);
        let mut last = f64::INFINITY;
        for item in &sheet.items {
            if let Item::Text(text) = item {
                assert!(text.at.y <= last && text.at.y + text.height <= 90.0);
                last = text.at.y;
            }
        }
        assert!(column.top < last);
    }
}
