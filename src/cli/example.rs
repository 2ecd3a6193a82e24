//! The six-string sample and a finding, for the tests of this folder.

use crate::check::{Basis, Finding, Limit, Verdict};
use crate::input::Place;

pub use crate::input::sample::six_string;

/// A finding in millimetres; a margin below zero makes it a caution with advice.
pub fn finding(code: &'static str, value: f64, limit: Limit, margin: f64) -> Finding {
    Finding {
        code,
        title: "Some title",
        verdict: if margin < 0.0 {
            Verdict::Caution
        } else {
            Verdict::Clear
        },
        value,
        limit,
        margin,
        unit: "mm",
        basis: Basis::Assumed,
        at: "treble bore 2".into(),
        advice: (margin < 0.0).then(|| "make it thicker by 0.50 mm".into()),
        place: Some(Place {
            file: "a.toml".into(),
            line: 7,
        }),
    }
}
