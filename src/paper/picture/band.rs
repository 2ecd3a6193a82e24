//! A picture is painted in bands of rows, each by itself: a band stays in the processor's cache, bands
//! share the cores, and the fine pixels of a whole picture are never there at once.

use std::ops::Range;

use super::PAPER;

/// Rows of fine pixels, with how near each of them is.
pub(super) struct Band {
    /// Pixels across, of the band as of the picture.
    pub width: usize,
    /// Rows of the whole picture.
    pub height: usize,
    /// The rows held here, of the picture's.
    pub rows: Range<usize>,
    pub tones: Vec<u8>,
    /// Towards the eye, mm; minus infinity where nothing is.
    pub near: Vec<f64>,
}

impl Band {
    /// A band that holds no rows yet, of a picture of this size.
    pub fn empty(width: usize, height: usize) -> Band {
        Band {
            width,
            height,
            rows: 0..0,
            tones: Vec::new(),
            near: Vec::new(),
        }
    }

    /// Takes blank rows in the place of those it holds.
    pub fn take(&mut self, rows: Range<usize>) {
        let count = rows.len() * self.width;
        self.rows = rows;
        self.tones.clear();
        self.tones.resize(count, PAPER);
        self.near.clear();
        self.near.resize(count, f64::NEG_INFINITY);
    }

    /// Blocks of `fine` by `fine` pixels averaged to one, into the picture's rows from `first` (fine) on.
    pub fn reduce(&self, fine: usize, first: usize, into: &mut [u8]) {
        let width = self.width / fine;
        let count = (fine * fine) as u32;
        let skipped = first.saturating_sub(self.rows.start);
        for (row, line) in into.chunks_exact_mut(width).enumerate() {
            let start = (skipped + row * fine) * self.width;
            let block = &self.tones[start..start + fine * self.width];
            for (column, tone) in line.iter_mut().enumerate() {
                let sum: u32 = block
                    .chunks_exact(self.width)
                    .flat_map(|line| &line[column * fine..(column + 1) * fine])
                    .map(|tone| u32::from(*tone))
                    .sum();
                *tone = ((sum + count / 2) / count).min(255) as u8;
            }
        }
    }
}
