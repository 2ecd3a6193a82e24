//! Keys of the parameter file that advice may turn, and what typing a number for one does to the
//! design, defaults that follow it included.

mod head;
mod work;

use crate::input::Design;
use crate::tolerance::NOISE;

pub(in crate::check) use head::*;
pub(in crate::check) use work::*;

/// How a lever's number is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::check) enum Kind {
    /// A length.
    Length,
    /// An angle, held in radians, written in degrees.
    Angle,
    /// A change of a length by so much, added to what is there.
    Change,
}

/// One key.
#[derive(Debug, Clone, Copy)]
pub(in crate::check) struct Lever {
    /// Dotted key, or words for a change of several keys.
    pub key: &'static str,
    pub kind: Kind,
    /// Present value; `None` where this design does not use the key.
    pub get: fn(&Design) -> Option<f64>,
    pub set: fn(&mut Design, f64),
}

const fn length(
    key: &'static str,
    get: fn(&Design) -> Option<f64>,
    set: fn(&mut Design, f64),
) -> Lever {
    Lever {
        key,
        kind: Kind::Length,
        get,
        set,
    }
}

const fn angle(
    key: &'static str,
    get: fn(&Design) -> Option<f64>,
    set: fn(&mut Design, f64),
) -> Lever {
    Lever {
        key,
        kind: Kind::Angle,
        get,
        set,
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= NOISE
}

/// Whether `key` was left to its default, so that it follows what the default is made of.
fn follows(design: &Design, key: &str, value: f64, default: f64) -> bool {
    !design.places.contains_key(key) && same(value, default)
}
