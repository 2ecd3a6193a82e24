//! How lengths and angles are written on the drawing.

use crate::paper::Weight;
use crate::paper::dimension::{Style, figure_in};
use crate::paper::measure::text_width;
use crate::units::{Lengths, bare_inches, show_degrees, show_mm};

/// Writes figures in millimetres, with inches in square brackets where both are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Figures {
    pub both: bool,
}

impl Figures {
    /// A length to a hundredth, without needless zeros: `35`, `10.5`, `35 [1.378]`.
    pub fn length(self, mm: f64) -> String {
        let metric = trimmed(show_mm(mm).trim_end_matches(" mm"));
        if self.both && metric != "0" {
            format!("{metric} [{}]", bare_inches(mm))
        } else {
            metric
        }
    }

    /// Width of the longest running dimension on a part so long, mm on the paper.
    pub fn widest(self, mm: f64) -> f64 {
        // Two decimals of the same size.
        let text = self.length(mm.floor() + 0.88);
        text_width(&text, Style::default().text, Weight::Plain)
    }

    /// A length for a column of a table, always two decimals.
    pub fn cell(self, mm: f64) -> String {
        let inches = self.both;
        figure_in(mm, Lengths { inches })
    }

    pub fn diameter(self, mm: f64) -> String {
        format!("Ø{}", self.length(mm))
    }

    pub fn radius(self, mm: f64) -> String {
        format!("R{}", self.length(mm))
    }
}

/// Degrees to a hundredth, without needless zeros, from radians.
pub(super) fn degrees(radians: f64) -> String {
    let shown = show_degrees(radians);
    format!("{}°", trimmed(shown.trim_end_matches('°')))
}

fn trimmed(number: &str) -> String {
    if number.contains('.') {
        number
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned()
    } else {
        number.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_a_shop_writes_them() {
        let mm = Figures { both: false };
        assert_eq!(mm.length(35.0), "35");
        assert_eq!(mm.length(100.0), "100");
        assert_eq!(mm.length(10.5), "10.5");
        assert_eq!(mm.length(-0.001), "0");
        assert_eq!(mm.cell(35.0), "35.00");
        let both = Figures { both: true };
        assert_eq!(both.length(35.0), "35 [1.378]");
        assert_eq!(both.radius(7.5), "R7.5 [0.295]");
        assert_eq!(degrees(14f64.to_radians()), "14°");
        assert_eq!(degrees(1.245_4f64.to_radians()), "1.25°");
    }
}
