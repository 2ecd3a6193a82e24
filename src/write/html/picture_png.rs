//! A shaded picture as the bytes of a PNG: indexed, one tint from ink over the material to paper.

use png::{BitDepth, ColorType, Compression, Encoder, EncodingError, Filter};

use crate::paper::picture::Picture;

/// Colours of a material: ink, its shade, its light.
#[derive(Debug, Clone, Copy)]
pub struct Tint {
    pub ink: [f64; 3],
    pub shade: [f64; 3],
    pub light: [f64; 3],
}

/// Wood of the head, and the cooler grey-green of the block.
pub const WOOD: Tint = Tint {
    ink: [43.0, 32.0, 22.0],
    shade: [150.0, 104.0, 62.0],
    light: [236.0, 205.0, 164.0],
};
pub const BLOCK: Tint = Tint {
    ink: [26.0, 35.0, 33.0],
    shade: [92.0, 120.0, 112.0],
    light: [198.0, 218.0, 210.0],
};

/// Tones of the palette: enough that no step shows, few enough that the file stays small.
const TONES: usize = 64;
/// Where shade and light lie between ink (0) and paper (1).
const SHADE_AT: f64 = 0.40;
const LIGHT_AT: f64 = 0.92;

/// The bytes.
///
/// # Errors
/// The encoder's own; a picture has at least one pixel, so none is expected.
pub fn png(picture: &Picture, tint: &Tint) -> Result<Vec<u8>, EncodingError> {
    let mut bytes = Vec::new();
    let size = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
    let mut encoder = Encoder::new(&mut bytes, size(picture.width), size(picture.height));
    encoder.set_color(ColorType::Indexed);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_palette(palette(tint));
    encoder.set_compression(Compression::High);
    // Long runs of one index: filters only break them up.
    encoder.set_filter(Filter::NoFilter);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&indices(picture))?;
    writer.finish()?;
    Ok(bytes)
}

fn indices(picture: &Picture) -> Vec<u8> {
    let last = TONES - 1;
    picture
        .tones
        .iter()
        .map(|tone| ((usize::from(*tone) * last + 127) / 255) as u8)
        .collect()
}

fn palette(tint: &Tint) -> Vec<u8> {
    let paper = [255.0; 3];
    let stops = [
        (0.0, tint.ink),
        (SHADE_AT, tint.shade),
        (LIGHT_AT, tint.light),
        (1.0, paper),
    ];
    let mut bytes = Vec::with_capacity(TONES * 3);
    for index in 0..TONES {
        let at = index as f64 / (TONES - 1) as f64;
        let pair = stops
            .windows(2)
            .find(|pair| at <= pair[1].0)
            .map_or((stops[2], stops[3]), |pair| (pair[0], pair[1]));
        let ((from, a), (to, b)) = pair;
        let share = (at - from) / (to - from);
        bytes.extend((0..3).map(|i| (a[i] + (b[i] - a[i]) * share).round() as u8));
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::picture::{INK, PAPER};

    #[test]
    fn reads_back_with_ink_black_and_paper_white() {
        let picture = Picture {
            width: 2,
            height: 1,
            tones: vec![INK, PAPER],
        };
        let bytes = png(&picture, &WOOD).unwrap();
        let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
        decoder.set_transformations(png::Transformations::EXPAND);
        let mut reader = decoder.read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut pixels).unwrap();
        assert_eq!((info.width, info.height), (2, 1));
        assert_eq!(pixels[..6], [43, 32, 22, 255, 255, 255]);
    }
}
