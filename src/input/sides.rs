//! What is said of a side of the head, of a unit, of a place in the file.

use std::path::PathBuf;

/// Unit of the parameter file; also the unit a person is answered in where both are possible.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unit {
    /// Millimetres (default).
    #[default]
    Mm,
    /// Inches.
    Inch,
}

impl Unit {
    /// Millimetres in one of it.
    #[must_use]
    pub const fn millimetres(self) -> f64 {
        match self {
            Unit::Mm => 1.0,
            Unit::Inch => crate::units::MM_PER_INCH,
        }
    }
}

/// One of the two sides of the head, looking at the front face with the crest up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Right-hand side, x > 0.
    Treble,
    /// Left-hand side, x < 0.
    Bass,
}

impl Side {
    /// Both sides, treble first, as in every list of the output.
    pub const BOTH: [Side; 2] = [Side::Treble, Side::Bass];

    /// +1 for treble, −1 for bass: the sign of x.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Side::Treble => 1.0,
            Side::Bass => -1.0,
        }
    }

    /// The opposite side.
    #[must_use]
    pub const fn other(self) -> Side {
        match self {
            Side::Treble => Side::Bass,
            Side::Bass => Side::Treble,
        }
    }

    /// Lower-case name, as in `report.json`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Side::Treble => "treble",
            Side::Bass => "bass",
        }
    }
}

/// One value for each side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PerSide<T> {
    /// Treble side.
    pub treble: T,
    /// Bass side.
    pub bass: T,
}

impl<T> PerSide<T> {
    /// The value of one side.
    pub fn get(&self, side: Side) -> &T {
        match side {
            Side::Treble => &self.treble,
            Side::Bass => &self.bass,
        }
    }

    /// Builds both sides from one function.
    pub fn from_fn(mut make: impl FnMut(Side) -> T) -> Self {
        PerSide {
            treble: make(Side::Treble),
            bass: make(Side::Bass),
        }
    }
}

/// Where in the input a value came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The file as the user named it.
    pub file: PathBuf,
    /// 1-based line.
    pub line: usize,
}
