//! What is said of a side of the head, of a unit, of a place in the file.

use std::path::PathBuf;

use crate::units::{on_step, plain};

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

    /// The steps in one of it to which a number is rounded that somebody is to type: hundredths of a
    /// millimetre, thousandths of an inch.
    const fn steps(self) -> f64 {
        match self {
            Unit::Mm => 100.0,
            Unit::Inch => 1000.0,
        }
    }

    /// A length as a bare number of this unit, rounded to be typed.
    #[must_use]
    pub fn typed(self, mm: f64) -> String {
        let steps = (mm / self.millimetres() * self.steps()).round();
        plain(steps / self.steps())
    }

    /// The same, rounded up, for a limit that must not be missed.
    #[must_use]
    pub fn typed_up(self, mm: f64) -> String {
        let steps = on_step(mm / self.millimetres() * self.steps(), 1.0, true, 1e-6);
        plain(steps / self.steps())
    }

    /// The same, rounded down.
    #[must_use]
    pub fn typed_down(self, mm: f64) -> String {
        let steps = on_step(mm / self.millimetres() * self.steps(), 1.0, false, 1e-6);
        plain(steps / self.steps())
    }

    /// Its name as it is typed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Unit::Mm => super::words::MM,
            Unit::Inch => super::words::IN,
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
