//! How wide a text comes out.

use super::Weight;

/// Width of a text with capitals `height` mm high, mm.
#[must_use]
pub fn text_width(text: &str, height: f64, weight: Weight) -> f64 {
    // Average advance of a plain sans-serif face against the height of its capitals.
    let per_letter = match weight {
        Weight::Plain => 0.75,
        Weight::Strong => 0.82,
    };
    text.chars().count() as f64 * height * per_letter
}
