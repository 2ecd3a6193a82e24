//! A page as dots of grey, and where its lines are.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

use std::path::Path;

use glam::{DVec2, dvec2};

use super::poppler::poppler;

/// A page rendered in grey.
pub struct Raster {
    width: usize,
    height: usize,
    dots: Vec<u8>,
    dots_per_mm: f64,
}

impl Raster {
    /// Renders a page (from 1) of a PDF with pdftoppm.
    pub fn of(file: &Path, page: u32, dots_per_inch: u32) -> Raster {
        let (page, resolution) = (page.to_string(), dots_per_inch.to_string());
        let arguments = ["-gray", "-r", &resolution, "-f", &page, "-l", &page];
        let bytes = poppler("pdftoppm", &arguments, file);
        Raster::read(&bytes, f64::from(dots_per_inch) / 25.4)
    }

    /// Reads a binary grey map: three numbers after its mark, one blank, the dots by rows.
    fn read(bytes: &[u8], dots_per_mm: f64) -> Raster {
        assert_eq!(&bytes[..2], b"P5", "no binary grey map");
        let (mut numbers, mut at) = (vec![], 2);
        while numbers.len() < 3 {
            at += 1;
            let length = bytes[at..]
                .iter()
                .take_while(|b| b.is_ascii_digit())
                .count();
            let text = std::str::from_utf8(&bytes[at..at + length]).unwrap();
            numbers.push(text.parse::<usize>().unwrap());
            at += length;
        }
        assert_eq!(numbers[2], 255);
        let dots = bytes[at + 1..].to_vec();
        assert_eq!(dots.len(), numbers[0] * numbers[1]);
        Raster {
            width: numbers[0],
            height: numbers[1],
            dots,
            dots_per_mm,
        }
    }

    /// Width and height, mm.
    #[allow(clippy::cast_precision_loss, reason = "a page has few dots")]
    pub fn size(&self) -> DVec2 {
        dvec2(self.width as f64, self.height as f64) / self.dots_per_mm
    }

    /// Darkness (0 to 1) at a place in mm from the lower left corner; paper outside the page.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a page has few dots"
    )]
    pub fn dark(&self, at: DVec2) -> f64 {
        let x = (at.x * self.dots_per_mm).floor();
        let y = (self.height as f64 - at.y * self.dots_per_mm).floor();
        if x < 0.0 || y < 0.0 || x >= self.width as f64 || y >= self.height as f64 {
            return 0.0;
        }
        1.0 - f64::from(self.dots[y as usize * self.width + x as usize]) / 255.0
    }

    /// Where the first ink begins and the last ends on the way from one place to another; a dot at
    /// the rim that is covered in part counts for that part.
    pub fn ink(&self, from: DVec2, to: DVec2) -> Option<[DVec2; 2]> {
        let dot = 1.0 / self.dots_per_mm;
        let length = from.distance(to);
        let along = (to - from) / length;
        let steps = (0..)
            .map(|n| (f64::from(n) + 0.5) * dot)
            .take_while(|&way| way < length);
        let seen: Vec<(f64, f64)> = steps
            .map(|way| (way, self.dark(from + along * way)))
            .collect();
        let first = seen.iter().position(|&(_, dark)| dark > 0.02)?;
        let last = seen.iter().rposition(|&(_, dark)| dark > 0.02)?;
        let edge = |(way, dark): (f64, f64), sign: f64| way + sign * dot * (dark - 0.5);
        let start = edge(seen[first], -1.0);
        let end = edge(seen[last], 1.0);
        Some([from + along * start, from + along * end])
    }
}
