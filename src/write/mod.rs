//! Bytes out. No position is computed here.

pub mod step;

pub mod entries;
