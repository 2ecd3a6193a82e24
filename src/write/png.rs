//! PNG pictures of sheets, for a page that shows what the program makes.

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use crate::paper::Sheet;

use super::svg::svg_outlined;

/// Why a sheet has no picture.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    /// The sheet has no size, or a size no picture can have.
    #[error("a picture of {width:.0} by {height:.0} dots cannot be made")]
    Size {
        /// Dots across.
        width: f64,
        /// Dots down.
        height: f64,
    },
    /// The renderer refused the drawing.
    #[error("the drawing could not be read for a picture: {0}")]
    Drawing(String),
    /// The picture could not be packed.
    #[error("the picture could not be packed: {0}")]
    Packing(String),
}

/// Most dots along one edge of a picture: 400 megabytes of memory.
const MOST_DOTS: f64 = 10_000.0;

/// The sheet as a PNG with `dots_per_mm` dots to a millimetre.
///
/// # Errors
/// [`PngError`] for a sheet without size, or one that would be more than 10 000 dots wide or high.
pub fn png(sheet: &Sheet, dots_per_mm: f64) -> Result<Vec<u8>, PngError> {
    let width = (sheet.width * dots_per_mm).ceil();
    let height = (sheet.height * dots_per_mm).ceil();
    let sound = |dots: f64| (1.0..=MOST_DOTS).contains(&dots);
    if !sound(width) || !sound(height) {
        return Err(PngError::Size { width, height });
    }
    let tree = Tree::from_str(&svg_outlined(sheet), &Options::default())
        .map_err(|error| PngError::Drawing(error.to_string()))?;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let dots = (width as u32, height as u32);
    let mut picture = Pixmap::new(dots.0, dots.1).ok_or(PngError::Size { width, height })?;
    // The tree's own size is in CSS pixels of the physical size; scale from that.
    let size = tree.size();
    #[allow(clippy::cast_possible_truncation)]
    let scale = (
        (sheet.width * dots_per_mm) as f32 / size.width(),
        (sheet.height * dots_per_mm) as f32 / size.height(),
    );
    resvg::render(
        &tree,
        Transform::from_scale(scale.0, scale.1),
        &mut picture.as_mut(),
    );
    picture
        .encode_png()
        .map_err(|error| PngError::Packing(error.to_string()))
}
