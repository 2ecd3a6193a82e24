//! Clearance holes for metric threads: ISO 273 (edition not known to us), all three series. Every
//! row confirmed on two public pages ("Clearance Hole Sizes (ISO 273)" and "Metric threads:
//! practical standards notes"); no original was at hand.

use super::Mark;

/// Designation for people.
pub const DESIGNATION: &str = "ISO 273, clearance holes";

/// One thread with its holes, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Thread, as it is asked for over the counter.
    pub thread: &'static str,
    /// Nominal diameter of the thread.
    pub nominal: f64,
    /// Fine series (H12).
    pub fine: f64,
    /// Medium series (H13).
    pub medium: f64,
    /// Coarse series (H14).
    pub coarse: f64,
    /// How it was read.
    pub mark: Mark,
}

const fn row(thread: &'static str, nominal: f64, holes: [f64; 3]) -> Row {
    let [fine, medium, coarse] = holes;
    Row {
        thread,
        nominal,
        fine,
        medium,
        coarse,
        mark: Mark::Confirmed,
    }
}

/// The rows, smallest thread first.
pub const ROWS: &[Row] = &[
    row("M3", 3.0, [3.2, 3.4, 3.6]),
    row("M3.5", 3.5, [3.7, 3.9, 4.2]),
    row("M4", 4.0, [4.3, 4.5, 4.8]),
    row("M5", 5.0, [5.3, 5.5, 5.8]),
    row("M6", 6.0, [6.4, 6.6, 7.0]),
    row("M7", 7.0, [7.4, 7.6, 8.0]),
    row("M8", 8.0, [8.4, 9.0, 10.0]),
    row("M10", 10.0, [10.5, 11.0, 12.0]),
];

/// Names of all threads, for the reader of the parameter file.
pub const THREADS: &[&str] = &["M3", "M3.5", "M4", "M5", "M6", "M7", "M8", "M10"];

/// The row of a thread, `"M5"`.
#[must_use]
pub fn thread(name: &str) -> Option<&'static Row> {
    ROWS.iter().find(|row| row.thread == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_rise_and_every_name_finds_its_row() {
        for (row, name) in ROWS.iter().zip(THREADS) {
            assert_eq!(row.thread, *name);
            assert_eq!(thread(name), Some(row));
            assert_eq!(name.trim_start_matches('M').parse(), Ok(row.nominal));
            assert!(row.nominal < row.fine && row.fine < row.medium && row.medium < row.coarse);
        }
        assert_eq!(ROWS.len(), THREADS.len());
        assert!(ROWS.windows(2).all(|pair| pair[0].medium < pair[1].fine));
        assert_eq!(thread("M5").map(|row| row.medium), Some(5.5));
        assert_eq!(thread("M5 "), None);
    }
}
