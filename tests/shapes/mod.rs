//! Small solids written out by hand, with volume, area and centroid from closed forms.

#![allow(dead_code, reason = "each test file uses a part of it")]

mod bored;
mod hand;
mod plain;

pub use bored::{blind_hole, oblique_bore, through_hole};
pub use plain::{obround, slab};

use barrelhead::solid::brep::{Brep, Measures};

/// A solid and what a reader should measure.
pub struct Shape {
    pub name: &'static str,
    pub brep: Brep,
    pub measures: Measures,
    /// Passages right through.
    pub genus: usize,
}

/// All of them.
pub fn all() -> Vec<Shape> {
    vec![
        slab(),
        obround(),
        through_hole(),
        blind_hole(),
        oblique_bore(),
    ]
}
