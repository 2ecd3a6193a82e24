//! A picture is painted in bands of rows, each by itself: a band stays in the processor's cache, bands
//! share the cores, and the fine pixels of a whole picture are never there at once.

use std::cell::Cell;
use std::ops::Range;

use super::{FINE, PAPER};

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

    /// Blocks of [`FINE`] by [`FINE`] pixels averaged to one, into the picture's rows from `first` (fine) on.
    pub fn reduce(&self, first: usize, into: &mut [u8]) {
        const COUNT: u32 = (FINE * FINE) as u32;
        let width = self.width / FINE;
        let skipped = first.saturating_sub(self.rows.start);
        let mut sums = vec![0_u32; width];
        for (row, line) in into.chunks_exact_mut(width).enumerate() {
            let start = (skipped + row * FINE) * self.width;
            sums.fill(0);
            for fine in self.tones[start..start + FINE * self.width].chunks_exact(self.width) {
                let (groups, _) = fine.as_chunks::<FINE>();
                for (sum, group) in sums.iter_mut().zip(groups) {
                    *sum += group.iter().map(|tone| u32::from(*tone)).sum::<u32>();
                }
            }
            for (tone, sum) in line.iter_mut().zip(&sums) {
                *tone = ((sum + COUNT / 2) / COUNT).min(255) as u8;
            }
        }
    }
}
