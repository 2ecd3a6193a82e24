//! Lengths measured more than once: `{ repeats = [..] }` for any length of what is measured, and
//! `{ over = [..], between = [..] }` for a pitch. The mean is what the design is worked out from;
//! the readings stay with it, so that their spread can be told and followed through the checks.

use std::sync::Arc;

use super::again::Again;
use super::design::Place;
use crate::statistics::mean;

/// Readings of one length.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// Key path; in a list with its place there counted from 1, for a pitch with what was read:
    /// `machines.barrel_diameter`, `machines.overhang[1]`, `machines.pitches[2].over`.
    pub key: String,
    /// As typed, in mm; one where a pitch is given by a single reading.
    pub values: Vec<f64>,
    /// Where they stand.
    pub place: Option<Place>,
}

impl Readings {
    /// The mean, mm: the number the design takes. The same whatever the order.
    #[must_use]
    pub fn mean(&self) -> f64 {
        mean(&self.values)
    }
}

/// What a design knows of its readings.
#[derive(Debug, Clone, Default)]
pub struct Measurements {
    /// In the order of the file.
    pub readings: Vec<Readings>,
    /// Mean barrel diameter by the pitches that were read over and between, mm; `None` without one.
    pub diameter_of_pairs: Option<f64>,
    /// The files as they were read, for reading them again; `None` without readings.
    pub(super) again: Option<Arc<Again>>,
}

impl PartialEq for Measurements {
    /// What was read; not the text it was read from.
    fn eq(&self, other: &Measurements) -> bool {
        self.readings == other.readings && self.diameter_of_pairs == other.diameter_of_pairs
    }
}

/// A pitch as it was given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Gap {
    /// The pitch itself.
    Pitch(f64),
    /// Outside to outside of two neighbours.
    Over(f64),
    /// Inside to inside.
    Between(f64),
    /// Both.
    Both { over: f64, between: f64 },
}

impl Gap {
    /// The pitch, for barrels of this diameter.
    pub fn pitch(self, diameter: Option<f64>) -> Option<f64> {
        match self {
            Gap::Pitch(pitch) => Some(pitch),
            Gap::Both { over, between } => Some(f64::midpoint(over, between)),
            Gap::Over(over) => Some(over - diameter?),
            Gap::Between(between) => Some(between + diameter?),
        }
    }

    /// The barrels' diameter, where it follows.
    pub fn diameter(self) -> Option<f64> {
        match self {
            Gap::Both { over, between } => Some((over - between) / 2.0),
            _ => None,
        }
    }
}
