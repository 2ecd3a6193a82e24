//! A picture is painted in bands of rows, each by itself: a band stays in the processor's cache, bands
//! share the cores, and the fine pixels of a whole picture are never there at once.

use std::cell::Cell;
use std::ops::Range;

use super::PAPER;

thread_local! {
    /// Room for the next band: clean memory costs as much as painting it.
    static LEFT: Cell<(Vec<u8>, Vec<f64>)> = const { Cell::new((Vec::new(), Vec::new())) };
}

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
    /// Blank rows of a picture of this size.
    pub fn blank(width: usize, height: usize, rows: Range<usize>) -> Band {
        let (mut tones, mut near) = LEFT.take();
        let count = rows.len() * width;
        tones.clear();
        tones.resize(count, PAPER);
        near.clear();
        near.resize(count, f64::NEG_INFINITY);
        Band {
            width,
            height,
            rows,
            tones,
            near,
        }
    }

    /// Leaves the room for the next band.
    pub fn done(self) {
        LEFT.set((self.tones, self.near));
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
