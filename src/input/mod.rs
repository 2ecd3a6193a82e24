//! The parameter file: read as typed with the place of every value, then made into a [`Design`].

mod design;

pub use design::*;

mod nearest;
mod source;
mod syntax;
mod syntax_words;
mod tree;
