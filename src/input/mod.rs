//! The parameter file: read as typed with the place of every value, then made into a [`Design`].

mod design;

pub use design::*;

pub(crate) mod nearest;
